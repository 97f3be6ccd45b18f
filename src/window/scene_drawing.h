// Draws a staging into textures with OpenGL 3.3: shaded surfaces, edges, shadow, see-through
// things. Keeps meshes on the GPU by their hash and each view's last picture, so that a frame in
// which nothing changed costs nothing. All calls from the thread that owns the GL context.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>
#include <glm/vec4.hpp>

#include "base/result.h"
#include "desk/view_camera.h"
#include "shape/staging.h"

namespace standpoint {

// sRGB, 0..1.
struct DrawColours {
    glm::vec3 background{1, 1, 1}; // of drawings: plan, front, side
    glm::vec3 horizon{0.9f, 0.9f, 0.9f}, zenith{0.8f, 0.85f, 0.9f}; // behind round and eye views
    glm::vec3 floor{0.85f, 0.85f, 0.85f};                           // the hall's, in round and eye
    glm::vec3 edge{0.1f, 0.1f, 0.12f};
    friend bool operator==(const DrawColours&, const DrawColours&) = default;
};

struct PieceTint {           // over a piece's own colours
    std::uint32_t piece = 0; // index into Staging::pieces
    glm::vec3 colour{0.0f};  // sRGB
    float strength = 0;      // 0..1: share of the surface colour it replaces
    bool outline = false;    // a thick edge of that colour round the piece as well
    friend bool operator==(const PieceTint&, const PieceTint&) = default;
};

struct DrawRequest {
    std::shared_ptr<const Staging> staging; // not null; compared by pointer
    ViewCamera camera;
    glm::ivec2 size{1, 1};            // pixels of the picture, 1 to 8192 each
    std::optional<double> cut_height; // plan only, scene z; what is cut shows as a filled section
    std::vector<PieceTint> tints;
    DrawColours colours;
    bool shadows = true;
    bool leading = false; // the view that is worked in: others wait for it when time is short
    bool moving = false;  // camera or a piece is in motion: coarse meshes and fewer pixels will do
    bool hall_walls = true; // round and eye; walls that face away from the eye are never drawn
};

class SceneDrawing {
  public:
    // Errors (io): no OpenGL 3.3, a shader that does not compile (the driver's words).
    static Result<std::unique_ptr<SceneDrawing>> create();
    virtual ~SceneDrawing() = default;

    // The texture that holds the picture of `slot` (0..15; a view each): RGBA as a screen takes it
    // (sRGB, straight alpha), GL's own row order (bottom first). In plan, front and side alpha is 0
    // where nothing stands. The name stays valid until the next call for that slot, which may give
    // another. 0: nothing has been drawn yet, or the GPU has no memory for it.
    //
    // Asked for once a frame for each view that shows. What differs from the slot's last request is
    // drawn at once with coarse meshes and, where drawing is slow, fewer pixels; the texture covers
    // the same view. A picture that stays is then drawn finer in steps, a few milliseconds a call,
    // and is the average of them, which smooths edges and shadows. A GPU that is quick enough does
    // so in one call. Where time is short, views that do not lead keep their last picture for a few
    // frames, and meshes that are new come over several; see unfinished().
    virtual unsigned picture(int slot, const DrawRequest& request) = 0;

    // A picture shown in the last round of calls would get better by asking again.
    virtual bool unfinished() const = 0;

    // Grows whenever the picture in a texture that picture() gave has changed.
    virtual std::uint64_t edition(unsigned texture) const = 0;
    // Of such a texture: nothing behind the picture shows through it anywhere.
    virtual bool is_solid(unsigned texture) const = 0;
    // Of such a texture: the part that can differ from what it was in an earlier edition. Low and
    // high corner as shares of the picture, 0..1 from below; no size: it is the same.
    virtual glm::vec4 changed_since(unsigned texture, std::uint64_t edition) const = 0;

    // How the last picture() call was served.
    struct Facts {
        bool redrawn = false;
        bool finished = false;     // asking again changes nothing
        bool in_part = false;      // only what a piece's movement changed was drawn
        int steps = 0;             // in the picture now
        glm::ivec2 size{0, 0};     // of the texture
        std::size_t triangles = 0; // drawn by this call, all passes
        std::size_t uploads = 0;   // of meshes, since the drawing was made
        double seconds = 0;        // from call to glFinish
    };
    virtual Facts facts() const = 0;
};

} // namespace standpoint
