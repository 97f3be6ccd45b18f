// What is under the pointer, and what is inside a rectangle drawn in a view.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include <glm/vec2.hpp>

#include "desk/view_camera.h"
#include "shape/ray_index.h"
#include "shape/staging.h"

namespace standpoint {

struct Picked {
    StagedKind kind = StagedKind::piece;
    std::string id;
    std::string part;           // the document's part that was met; empty: unnamed, or no piece
    glm::dvec3 at{0.0};         // scene mm
    glm::dvec3 normal{0, 0, 1}; // unit, towards where the line comes from
    double distance = 0;        // mm along the line
};
// The nearest thing that a line of sight meets; columns and walls count, so that nothing is picked
// through them, but for walls of the hall looked at from outside, which no view shows. Cut-out holes
// are seen through, clear panes are not.
std::optional<Picked> pick(const Staging& staging, const RayIndex& index, const Segment& line);
// Everything along the line, each once, nearest first: for cycling through what lies behind.
std::vector<Picked> pick_all(const Staging& staging, const RayIndex& index, const Segment& line);
// The next piece behind `now` on the line (the nearest when `now` is not on it, round again after
// the last); empty: no piece there.
std::string pick_next(const Staging& staging, const RayIndex& index, const Segment& line,
                      const std::string& now);

enum class Inside { touching, wholly };
// Where a scene point falls in the view; nothing: behind the eye.
using Projection = std::function<std::optional<glm::dvec2>(const glm::dvec3&)>;
// Pieces in document order; touching: some of their surface falls into the rectangle, its sides
// included; hidden ones count. What reaches behind the eye is never wholly inside.
std::vector<std::string> pick_inside(const Staging& staging, const Projection& project,
                                     const glm::dvec2& corner, const glm::dvec2& opposite,
                                     Inside how);
std::vector<std::string> pick_inside(const Staging& staging, const ViewCamera& camera,
                                     const glm::ivec2& size, const glm::dvec2& corner,
                                     const glm::dvec2& opposite, Inside how);

} // namespace standpoint
