// What of a window's picture differs from the last one, told from the toolkit's lists of what to
// draw. No OpenGL here.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <vector>

#include <glm/vec2.hpp>
#include <glm/vec4.hpp>

struct ImDrawData;

namespace standpoint {

// Window pixels from the top left; high is beyond the last.
struct ScreenArea {
    glm::ivec2 low{0, 0}, high{0, 0};
    bool empty() const { return low.x >= high.x || low.y >= high.y; }
    friend bool operator==(const ScreenArea&, const ScreenArea&) = default;
};

ScreenArea common(const ScreenArea& a, const ScreenArea& b);
// Around corners that need not be whole pixels.
ScreenArea area_around(const glm::vec2& low, const glm::vec2& high);

struct DrawnShape { // a triangle
    std::uint64_t hash = 0;
    ScreenArea area;
};

struct DrawnCommand {
    std::uint64_t hash = 0; // of all that it draws, where, and the texture with its edition
    ScreenArea area;        // that it can touch
    std::uint64_t form = 0; // the hash without the edition
    std::uintptr_t texture = 0;
    std::uint64_t edition = 0;
    glm::vec4 clip{0};    // as the toolkit gives it
    bool picture = false; // one rectangle that shows all of the texture, upright, first row below
    glm::vec4 place{0};   // of that: low and high corner
    std::shared_ptr<const std::vector<DrawnShape>> shapes{}; // in the order of drawing
};

using Drawn = std::vector<DrawnCommand>; // in the order of drawing

// Tells of a texture: a number that is another when its texels are.
using EditionOf = std::function<std::uint64_t(std::uintptr_t texture)>;
// True when no texel lets anything through.
using IsSolid = std::function<bool(std::uintptr_t texture)>;
// See SceneDrawing::changed_since().
using ChangedSince = std::function<glm::vec4(std::uintptr_t texture, std::uint64_t edition)>;

// What is as before shares its shapes with that.
Drawn drawn_by(const ImDrawData& data, const EditionOf& edition_of, const Drawn& before);

// Areas in which the two can differ, few, none overlapping another; all of `page` when the order
// changed.
std::vector<ScreenArea> changed_areas(const Drawn& before, const Drawn& now, const ScreenArea& page,
                                      const ChangedSince& changed_since = {});

// Where to begin drawing when only an area counts: at the last solid rectangle that covers it.
struct DrawStart {
    bool covered = false; // false: begin with everything, on a cleared ground
    int list = 0, command = 0;
    unsigned index = 0;       // of the command's indices, the first to draw
    bool plain = false;       // the rectangle is of one colour and comes before `index`
    std::uint32_t colour = 0; // as the toolkit packs it
};
DrawStart start_for(const ImDrawData& data, const ScreenArea& area, const IsSolid& is_solid);

} // namespace standpoint
