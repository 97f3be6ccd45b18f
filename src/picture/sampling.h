// Numbers that look random and are the same every time: even sets of points, turned by a hash.
#pragma once

#include <cstdint>

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

namespace standpoint {

// Point `index` of an even set in the unit square, shifted by `scramble` with wrap-around.
glm::dvec2 even_point(std::uint32_t index, std::uint64_t scramble);

// A direction about a unit normal, as likely as the cosine to it.
glm::dvec3 cosine_direction(const glm::dvec3& normal, const glm::dvec2& square);

// A direction in the cone about a unit axis, evenly by solid angle.
glm::dvec3 cone_direction(const glm::dvec3& axis, double cosine_of_half_angle,
                          const glm::dvec2& square);

// Smooth noise in [0, 1] with one bump a unit of length.
double smooth_noise(double x, double y, std::uint64_t seed);

} // namespace standpoint
