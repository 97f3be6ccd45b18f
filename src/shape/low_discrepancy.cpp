// Points of the unit square: Sobol's sequence in two dimensions with Owen scrambling by hash.
#include "shape/low_discrepancy.h"

#include "base/hash.h"

namespace standpoint {

SquarePoint sobol_point(std::uint32_t index) {
    SquarePoint point;
    std::uint32_t x_direction = 0x80000000u, y_direction = 0x80000000u;
    for (; index != 0; index >>= 1) {
        if (index & 1u) {
            point.x ^= x_direction;
            point.y ^= y_direction;
        }
        x_direction >>= 1;
        y_direction ^= y_direction >> 1; // primitive polynomial x + 1: rows of Pascal's triangle
    }
    return point;
}

std::uint32_t owen_scrambled(std::uint32_t fraction, std::uint64_t seed) {
    const std::uint64_t key = mix(seed);
    std::uint32_t scrambled = fraction;
    for (int bit = 31; bit >= 0; --bit) {
        // The bits before this one, told apart by a leading 1 from shorter runs of the same value.
        const std::uint64_t before = ((std::uint64_t{1} << 32 | fraction) >> (bit + 1)) ^ key;
        scrambled ^= static_cast<std::uint32_t>(mix(before) >> 63) << bit;
    }
    return scrambled;
}

glm::dvec2 scrambled_point(std::uint32_t index, std::uint64_t seed) {
    const SquarePoint point = sobol_point(index);
    const std::uint32_t x = owen_scrambled(point.x, seed);
    const std::uint32_t y = owen_scrambled(point.y, mix(seed + 1));
    return {(static_cast<double>(x) + 0.5) * 0x1p-32, (static_cast<double>(y) + 0.5) * 0x1p-32};
}

} // namespace standpoint
