// Points of the unit square spread more evenly than chance, differently for every seed.
#pragma once

#include <cstdint>

#include <glm/vec2.hpp>

namespace standpoint {

// The first two dimensions of Sobol's sequence as fractions of 2^32, for the index-th point.
struct SquarePoint {
    std::uint32_t x = 0, y = 0;
};
SquarePoint sobol_point(std::uint32_t index);

// Owen's nested scrambling: each bit is turned over or not by a hash of the bits before it, so that
// the points stay as evenly spread as they were and each alone is uniform over all seeds.
std::uint32_t owen_scrambled(std::uint32_t fraction, std::uint64_t seed);

// The index-th scrambled point of the set `seed`, inside (0, 1)^2.
glm::dvec2 scrambled_point(std::uint32_t index, std::uint64_t seed);

} // namespace standpoint
