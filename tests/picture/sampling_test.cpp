// Point sets and directions against their closed forms.
#include <array>
#include <cmath>

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include "measure/angle.h"
#include "picture/sampling.h"

using namespace standpoint;

TEST_CASE("even points fill every strip of the square alike") {
    constexpr int count = 1024, strips = 32;
    for (const std::uint64_t scramble : {1ULL, 77ULL, 123456789ULL}) {
        std::array<int, strips> by_x{}, by_y{};
        for (int i = 0; i < count; ++i) {
            const glm::dvec2 p = even_point(static_cast<std::uint32_t>(i), scramble);
            REQUIRE((p.x >= 0 && p.x < 1 && p.y >= 0 && p.y < 1));
            ++by_x[static_cast<std::size_t>(p.x * strips)];
            ++by_y[static_cast<std::size_t>(p.y * strips)];
        }
        // Random points would stray by 6 and more from 32 to a strip.
        for (int i = 0; i < strips; ++i) {
            CHECK(std::abs(by_x[static_cast<std::size_t>(i)] - count / strips) <= 3);
            CHECK(std::abs(by_y[static_cast<std::size_t>(i)] - count / strips) <= 3);
        }
    }
    CHECK(even_point(5, 1) != even_point(5, 2));
}

TEST_CASE("cosine directions have the mean cosine of Lambert's law") {
    // Mean of cos under the density cos/pi is 2/3, of cos^2 1/2 (closed form).
    for (const glm::dvec3 n :
         {glm::dvec3(0, 0, 1), glm::dvec3(0, 0, -1), glm::normalize(glm::dvec3(0.9, -0.3, 0.2))}) {
        double first = 0, second = 0;
        constexpr int count = 4096;
        for (int i = 0; i < count; ++i) {
            const glm::dvec3 d = cosine_direction(n, even_point(static_cast<std::uint32_t>(i), 9));
            CHECK(std::abs(glm::length(d) - 1) < 1e-12);
            const double c = glm::dot(d, n);
            CHECK(c >= -1e-12);
            first += c / count;
            second += c * c / count;
        }
        CHECK(std::abs(first - 2.0 / 3) < 1e-3);
        CHECK(std::abs(second - 0.5) < 1e-3);
    }
}

TEST_CASE("cone directions stay in the cone and fill it evenly by solid angle") {
    const glm::dvec3 axis = glm::normalize(glm::dvec3(-0.5, -0.6, 0.8));
    const double edge = sin_cos_deg(10).cos;
    double mean = 0;
    constexpr int count = 4096;
    for (int i = 0; i < count; ++i) {
        const glm::dvec3 d =
            cone_direction(axis, edge, even_point(static_cast<std::uint32_t>(i), 3));
        const double c = glm::dot(d, axis);
        CHECK(c >= edge - 1e-12);
        mean += c / count;
    }
    CHECK(std::abs(mean - (1 + edge) / 2) < 1e-5); // closed form
}

TEST_CASE("smooth noise is continuous, bounded and depends on its seed") {
    double change = 0;
    for (double x = -3; x < 3; x += 0.37) {
        const double here = smooth_noise(x, 1.7, 4);
        CHECK((here >= 0 && here <= 1));
        CHECK(std::abs(smooth_noise(x + 1e-7, 1.7, 4) - here) < 1e-6);
        change += std::abs(here - smooth_noise(x, 1.7, 5));
    }
    CHECK(change > 0.5);
    CHECK(std::abs(smooth_noise(2 - 1e-9, 0.3, 4) - smooth_noise(2, 0.3, 4)) < 1e-7);
}
