// What of a window's picture differs from the last one, told from the toolkit's lists of what to
// draw. No OpenGL here.
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include <glm/vec2.hpp>

struct ImDrawData;

namespace standpoint {

// Window pixels from the top left; high is beyond the last.
struct ScreenArea {
    glm::ivec2 low{0, 0}, high{0, 0};
    bool empty() const { return low.x >= high.x || low.y >= high.y; }
    friend bool operator==(const ScreenArea&, const ScreenArea&) = default;
};

struct DrawnCommand {
    std::uint64_t hash = 0; // of all that it draws, where, and the texture with its edition
    ScreenArea area;        // that it can touch
};

using Drawn = std::vector<DrawnCommand>; // in the order of drawing

// Tells of a texture: a number that is another when its texels are.
using EditionOf = std::function<std::uint64_t(std::uintptr_t texture)>;
// True when no texel lets anything through.
using IsSolid = std::function<bool(std::uintptr_t texture)>;

Drawn drawn_by(const ImDrawData& data, const EditionOf& edition_of);

// Areas in which the two can differ, few, none overlapping another; all of `page` when the order
// changed.
std::vector<ScreenArea> changed_areas(const Drawn& before, const Drawn& now,
                                      const ScreenArea& page);

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
