// Two triangles: whether they meet, how far one must move to clear the other, how far apart.
#pragma once

#include <array>
#include <cstddef>
#include <limits>

#include <glm/vec3.hpp>

#include "measure/box.h"

namespace standpoint {

struct Corners { // one triangle, scene mm
    std::array<glm::dvec3, 3> at;
    Box box;
};

// Closer than this is touching: an epsilon of the arithmetic, far below what anyone builds.
inline constexpr double contact_slack_mm = 1e-6;

struct Axis { // a direction that may part two triangles, and how far they overlap along it
    glm::dvec3 normal{0.0};
    double forward = 0, backward = 0; // b moved along +normal, -normal to be clear of a
};

struct Axes {
    std::array<Axis, 17> list; // two normals, nine of edge by edge, six within the planes
    std::size_t count = 0;
    double least = std::numeric_limits<double>::infinity();
};

// Stops as soon as an axis parts the two by more than touching; `least` is then below
// -contact_slack_mm, and otherwise the least way to clear, 0 or less where they only touch.
Axes axes_of(const Corners& a, const Corners& b);

// Most pairs whose boxes meet: b lies wholly to one side of a's plane.
bool apart_by_plane(const Corners& a, const Corners& b);

// How far b must move along a unit direction to be clear of a; infinite: that way never clears.
double exit_along(const Axes& axes, const glm::dvec3& direction);

double triangle_distance(const Corners& a, const Corners& b); // mm, 0 when they meet

} // namespace standpoint
