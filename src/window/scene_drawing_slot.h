// What is kept of a view between its pictures, and work on a still picture that is cut into pieces.
#pragma once

#include <chrono>
#include <optional>

#include "window/scene_drawing_camera.h"

namespace standpoint {

// One step of a still picture under way. A piece of it takes a few milliseconds, so that the window
// answers while pictures get better.
struct StepWork {
    enum class Stage { none, surfaces, light, glass, average };
    Stage stage = Stage::none;
    DrawList list;
    Scenery scenery;
    std::size_t item = 0;    // the next of the list
    int row = 0;             // the next of the light
    std::uint64_t round = 0; // it was last worked on
    double seconds = 0;      // that it took so far
};

struct ShadowWork {
    std::shared_ptr<const Staging> of; // null: none under way
    ShadowMap map;
    DrawList list;
    glm::mat4 projection{1.0f};
    std::size_t item = 0;
    std::uint64_t round = 0; // it was last worked on
};

// How a moving picture was drawn: one of nearly the same scene is drawn into it.
struct MovingMade {
    std::optional<DrawRequest> request; // none: there is no whole picture
    std::shared_ptr<const Staging> shadow_of;
    Scenery scenery;
    Box box; // that depths were made for
    glm::dmat4 view{1.0};
    double stray_pixels = 0;
    std::uint64_t details = 0;
};

struct Slot {
    std::optional<DrawRequest> shown;
    MovingMade made;
    std::vector<PieceTint> tinted;  // laid over the moving picture
    std::optional<glm::ivec4> part; // of the moving picture, that this call drew; none: all
    // What the last edition changed, and the texture the one before was in.
    glm::vec4 changed{0, 0, 1, 1};
    unsigned texture_before = 0;
    Targets still, moving;
    StepWork work;
    int steps = 0;                  // of the still picture; 0: the moving one is shown
    bool behind = false;            // the picture is of an earlier request
    bool lacking = false;           // meshes that were not on the GPU yet
    bool unsure = false;            // drawn before the details of its panes were there
    bool finished = false;          // asking again changes nothing
    std::uint64_t details = 0;      // of meshes, when it was drawn
    std::uint64_t round = 0;        // it was last asked for in
    std::uint64_t behind_since = 0; // round
    std::chrono::steady_clock::time_point changed_at{};

    const Targets& picture() const { return steps > 0 ? still : moving; }
};

} // namespace standpoint
