// The even points of the square: nets before and after scrambling, and chance in the scrambling.
#include <doctest/doctest.h>

#include <cmath>
#include <set>

#include "shape/low_discrepancy.h"

namespace standpoint {

namespace {

constexpr double two_to_32 = 4294967296.0;

// Every box of 2^-a by 2^-(m-a) holds exactly one of the first 2^m points: a (0, m, 2)-net in base
// 2, as Sobol's first two dimensions are (H. Niederreiter 1992, chapter 4; from memory).
template <class Point> void is_net(int m, Point point_at) {
    for (int a = 0; a <= m; ++a) {
        std::set<std::pair<int, int>> boxes;
        for (std::uint32_t i = 0; i < (1u << m); ++i) {
            const glm::dvec2 p = point_at(i);
            boxes.emplace(static_cast<int>(std::ldexp(p.x, a)),
                          static_cast<int>(std::ldexp(p.y, m - a)));
        }
        CHECK(boxes.size() == (std::size_t{1} << m));
    }
}

} // namespace

TEST_CASE("the first points of the sequence are the published ones") {
    // Bratley and Fox 1988 (ACM Algorithm 659) in natural order, from memory; quarters by hand.
    const double expected[4][2] = {{0, 0}, {0.5, 0.5}, {0.25, 0.75}, {0.75, 0.25}};
    for (std::uint32_t i = 0; i < 4; ++i) {
        CHECK(sobol_point(i).x / two_to_32 == expected[i][0]);
        CHECK(sobol_point(i).y / two_to_32 == expected[i][1]);
    }
}

TEST_CASE("the points are nets, plain and scrambled") {
    for (const int m : {1, 4, 6, 9}) {
        is_net(m, [](std::uint32_t i) {
            return glm::dvec2(sobol_point(i).x, sobol_point(i).y) / two_to_32;
        });
        for (const std::uint64_t seed : {0u, 1u, 77u})
            is_net(m, [&](std::uint32_t i) { return scrambled_point(i, seed); });
    }
}

TEST_CASE("scrambling keeps what numbers have in common and turns the rest at random") {
    const std::uint32_t samples[] = {0u, 1u, 0x80000000u, 0x12345678u, 0xffffffffu};
    for (const std::uint32_t a : samples)
        for (int bit = 0; bit < 32; ++bit) {
            const std::uint32_t b = a ^ (1u << bit);
            const std::uint32_t changed = owen_scrambled(a, 5) ^ owen_scrambled(b, 5);
            CHECK((changed >> bit) == 1u); // alike above the bit, unlike at it
        }
    // Over many seeds each bit of one number is turned half of the time, and the bits below two
    // that differ are turned independently: 4000 trials, 5 standard deviations (158).
    const int trials = 4000, limit = 158;
    for (int bit = 0; bit < 32; bit += 5) {
        int turned = 0, together = 0;
        for (std::uint64_t seed = 0; seed < trials; ++seed) {
            const auto at = [&](std::uint32_t x) {
                return (owen_scrambled(x, seed) ^ x) >> bit & 1u;
            };
            turned += static_cast<int>(at(0x12345678u));
            together += bit < 31 && at(0x12345678u) == at(0x92345678u);
        }
        CHECK(std::abs(turned - trials / 2) < limit);
        if (bit < 31) CHECK(std::abs(together - trials / 2) < limit);
    }
}

TEST_CASE("points lie inside the square, never on its sides") {
    for (std::uint64_t seed = 0; seed < 50; ++seed)
        for (std::uint32_t i = 0; i < 64; ++i) {
            const glm::dvec2 p = scrambled_point(i, seed);
            CHECK((p.x > 0 && p.x < 1 && p.y > 0 && p.y < 1));
        }
}

} // namespace standpoint
