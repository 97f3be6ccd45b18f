// Simple outlines: which corners count, whether an outline crosses itself, and its triangles.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include "base/result.h"

namespace standpoint {

// Exact sign of twice the area of a, b, c: 1 counter-clockwise, -1 clockwise, 0 on one line.
int orientation(const glm::dvec2& a, const glm::dvec2& b, const glm::dvec2& c);

// The corners that shape the outline, counter-clockwise: repeated points and points in the middle
// of a straight side are left out. Errors (input): fewer than three corners, sides that cross,
// touch or turn back on each other. `what` names the outline in messages, which count from 1.
Result<std::vector<glm::dvec2>> simple_outline(const std::vector<glm::dvec2>& points,
                                               std::string_view what);

// Triangles of such an outline, counter-clockwise, by indices into it.
std::vector<glm::uvec3> triangulate(const std::vector<glm::dvec2>& outline);

double signed_area(const std::vector<glm::dvec2>& outline); // > 0 counter-clockwise

} // namespace standpoint
