// A view of the staging: plan, front, side, round or eye, and the sums that carry pixels of the
// view into the scene and back. Values in, values out; nothing here draws.
//
// Pixels run right and down from the view's top left corner. Plan looks down with the front (-Y)
// at the bottom; front looks along +Y, X to the right; side looks along -X from the right-hand
// side (+X), the front to the left.
#pragma once

#include <optional>

#include <glm/mat4x4.hpp>
#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include "measure/box.h"
#include "shape/ray_index.h"

namespace standpoint {

enum class ViewKind { plan, front, side, round, eye };
inline constexpr const char* view_kind_names[] = {"Plan", "Front", "Side", "Round", "Eye"};
inline constexpr int view_kind_count = 5;

struct ViewCamera {
    ViewKind kind = ViewKind::plan;
    glm::dvec3 middle{0.0};   // scene mm, in the middle of the view; eye: what is looked at
    double mm_per_pixel = 10; // plan, front, side: everywhere; round: at `middle`; eye: unused
    double around_deg = 30;   // round: where the eye stands, anticlockwise from the front seen from
                              // above: 0 in front, 90 on the right-hand side (+X)
    double above_deg = 25;    // round: above the horizon, within lowest_ to highest_above_deg
    glm::dvec3 eye{0.0};      // eye: where the visitor's eye is
    double field_of_view_deg = 60; // eye: across the width; round uses round_field_of_view_deg

    friend bool operator==(const ViewCamera&, const ViewCamera&) = default;
};

inline constexpr double round_field_of_view_deg = 34;
inline constexpr double lowest_above_deg = -5, highest_above_deg = 89;
inline constexpr double finest_mm_per_pixel = 0.05, coarsest_mm_per_pixel = 500;

// OpenGL's clip space (depth -1 to 1), right-handed, columns as glm keeps them.
struct ViewMatrices {
    glm::dmat4 view{1.0}, projection{1.0};
    glm::dvec3 eye{0.0};     // perspective: where it stands
    glm::dvec3 forward{0.0}; // unit, into the picture
    bool perspective = false;
};

// `size` in pixels, both >= 1. Near and far enclose `scene` (an empty box: 10 m about the middle).
// `cut_height`: plan only, what lies above it (scene z, mm) is not drawn.
ViewMatrices matrices_of(const ViewCamera& camera, const glm::ivec2& size, const Box& scene,
                         std::optional<double> cut_height = std::nullopt);

// The line of sight through a pixel, from the near side of the scene to the far side.
Segment line_through(const ViewCamera& camera, const glm::ivec2& size, const glm::dvec2& pixel,
                     const Box& scene, std::optional<double> cut_height = std::nullopt);

// Where a scene point falls; nothing behind the eye.
std::optional<glm::dvec2> pixel_of(const ViewCamera& camera, const glm::ivec2& size,
                                   const glm::dvec3& point);

// Scene millimetres that one pixel covers at a point (perspective: square to the line of sight).
double mm_a_pixel_at(const ViewCamera& camera, const glm::ivec2& size, const glm::dvec3& point);

// What was under the pointer stays under it. An eye view turns its gaze instead of walking.
ViewCamera panned(const ViewCamera& camera, const glm::ivec2& size, const glm::dvec2& by_pixels);
// factor > 1 comes nearer; the point under `pixel` stays (round: at the depth of the middle).
ViewCamera zoomed(const ViewCamera& camera, const glm::ivec2& size, const glm::dvec2& pixel,
                  double factor);
ViewCamera orbited(const ViewCamera& camera, const glm::dvec2& by_pixels);
// All of a box with a little room around it, below the first `clear_top` pixels (fewer where that
// would take more than a third of the view); an eye view turns to its middle.
ViewCamera framed(const ViewCamera& camera, const glm::ivec2& size, const Box& box,
                  double clear_top = 0);

} // namespace standpoint
