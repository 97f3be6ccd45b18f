// Outlines: exact turns, what is refused, and triangles that fill what they should.
#include "shape/primitives_outline.h"

#include <algorithm>
#include <cmath>

#include <doctest/doctest.h>

#include "measure/angle.h"
#include "support/random.h"

using namespace standpoint;

namespace {

using Points = std::vector<glm::dvec2>;
__extension__ typedef __int128 Wide;

// Exact for coordinates that are whole multiples of 2^-53 below 32.
int slow_orientation(const glm::dvec2& a, const glm::dvec2& b, const glm::dvec2& c) {
    const auto whole = [](double x) { return static_cast<Wide>(std::ldexp(x, 53)); };
    const Wide left = (whole(a.x) - whole(c.x)) * (whole(b.y) - whole(c.y));
    const Wide right = (whole(a.y) - whole(c.y)) * (whole(b.x) - whole(c.x));
    return left > right ? 1 : left < right ? -1 : 0;
}

void check_triangles(const Points& outline) {
    const std::vector<glm::uvec3> triangles = triangulate(outline);
    CHECK(triangles.size() == outline.size() - 2);
    double sum = 0;
    for (const glm::uvec3& t : triangles) {
        CHECK(orientation(outline[t.x], outline[t.y], outline[t.z]) == 1);
        sum += signed_area({outline[t.x], outline[t.y], outline[t.z]});
    }
    CHECK(std::abs(sum - signed_area(outline)) < 1e-9 * std::max(1.0, sum));
}

std::string refusal(const Points& points) {
    const auto outline = simple_outline(points, "an outline");
    REQUIRE(!outline.ok());
    return outline.error().message;
}

// No three points on one line, so that the plain crossing test decides.
bool in_general_position(const Points& points) {
    for (std::size_t i = 0; i < points.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) {
            for (std::size_t k = 0; k < j; ++k) {
                if (orientation(points[i], points[j], points[k]) == 0) return false;
            }
        }
    }
    return true;
}

bool slow_crosses(const Points& p) {
    const std::size_t n = p.size();
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t j = i + 2; j < n; ++j) {
            if (i == 0 && j == n - 1) continue;
            const glm::dvec2 &a = p[i], &b = p[i + 1], &c = p[j], &d = p[(j + 1) % n];
            if (orientation(a, b, c) != orientation(a, b, d) &&
                orientation(c, d, a) != orientation(c, d, b)) {
                return true;
            }
        }
    }
    return false;
}

} // namespace

TEST_CASE("turns are exact where plain arithmetic is lost") {
    // A grid of neighbouring doubles about a point on the line, the classic hard case.
    int on_line = 0;
    for (int i = 0; i < 64; ++i) {
        for (int j = 0; j < 64; ++j) {
            const glm::dvec2 a(0.5 + i * 0x1p-53, 0.5 + j * 0x1p-53), b(12, 12), c(24, 24);
            CHECK(orientation(a, b, c) == slow_orientation(a, b, c));
            CHECK(orientation(a, b, c) == -orientation(b, a, c));
            CHECK(orientation(a, b, c) == orientation(b, c, a));
            on_line += orientation(a, b, c) == 0 ? 1 : 0;
        }
    }
    CHECK(on_line > 0);
}

TEST_CASE("outlines are taken either way round and come back counter-clockwise") {
    const Points square{{0, 0}, {4, 0}, {4, 3}, {0, 3}};
    const Points clockwise(square.rbegin(), square.rend());
    for (const Points& points : {square, clockwise}) {
        const auto outline = simple_outline(points, "an outline");
        REQUIRE(outline.ok());
        CHECK(outline->size() == 4);
        CHECK(signed_area(*outline) == 12);
    }
}

TEST_CASE("repeated points and points on a straight side are left out") {
    const auto outline = simple_outline(
        {{0, 0}, {0, 0}, {1, 0}, {2, 0}, {4, 0}, {4, 3}, {4, 3}, {0, 3}, {0, 1}, {0, 0}}, "it");
    REQUIRE(outline.ok());
    CHECK(outline->size() == 4);
    CHECK(signed_area(*outline) == 12);
}

TEST_CASE("outlines that cross, touch, turn back or enclose nothing are refused") {
    CHECK(refusal({{0, 0}, {4, 4}, {4, 0}, {0, 4}})
              .find("crosses or touches itself: the side from "
                    "point 1 to 2 meets the side from point 3 "
                    "to 4") != std::string::npos);
    // A corner on another side.
    CHECK(refusal({{0, 0}, {8, 0}, {8, 4}, {4, 0}, {0, 4}}).find("touches") != std::string::npos);
    // The same corner twice, apart.
    CHECK(refusal({{0, 0}, {4, 4}, {8, 0}, {8, 8}, {4, 4}, {0, 8}}).find("touches") !=
          std::string::npos);
    CHECK(refusal({{0, 0}, {4, 0}, {8, 0}, {6, 0}, {6, 3}})
              .find("turns back on itself at point "
                    "3") != std::string::npos);
    CHECK(refusal({}).find("encloses nothing") != std::string::npos);
    CHECK(refusal({{1, 1}, {2, 2}}).find("encloses nothing") != std::string::npos);
    CHECK(refusal({{1, 1}, {1, 1}, {1, 1}}).find("encloses nothing") != std::string::npos);
}

TEST_CASE("a corner one step of a double off a side is allowed, on it refused") {
    const double above = std::nextafter(2.0, 3.0);
    CHECK(simple_outline({{0, 2}, {8, 2}, {8, 9}, {4, above}, {0, 9}}, "it").ok());
    CHECK(!simple_outline({{0, 2}, {8, 2}, {8, 9}, {4, 2}, {0, 9}}, "it").ok());
}

TEST_CASE("random outlines are refused exactly when the slow way finds a crossing") {
    support::Random random(3);
    int simple = 0, crossing = 0;
    while (simple + crossing < 3000) {
        Points points;
        for (int i = 0; i < 6; ++i) {
            points.emplace_back(random.integer(0, 60), random.integer(0, 60));
        }
        if (!in_general_position(points)) continue;
        const auto outline = simple_outline(points, "it");
        const bool crosses = slow_crosses(points);
        CHECK(outline.ok() == !crosses);
        if (outline.ok()) check_triangles(*outline);
        ++(crosses ? crossing : simple);
    }
    CHECK(simple > 200);
    CHECK(crossing > 200);
}

TEST_CASE("stars, combs and coils are filled without overlap") {
    support::Random random(5);
    for (int corners : {3, 4, 7, 50, 400}) {
        Points star;
        for (int i = 0; i < corners; ++i) {
            const SinCos angle = sin_cos_deg(360.0 * i / corners);
            star.push_back(random.uniform(1, 10) * glm::dvec2(angle.cos, angle.sin));
        }
        const auto outline = simple_outline(star, "it");
        REQUIRE(outline.ok());
        check_triangles(*outline);
    }
    Points comb{{200, -1}, {-1, -1}};
    for (int i = 0; i < 100; ++i) {
        comb.emplace_back(2 * i, 50);
        comb.emplace_back(2 * i + 1, 0);
    }
    const auto outline = simple_outline(comb, "it");
    REQUIRE(outline.ok());
    check_triangles(*outline);
    Points coil, inner;
    for (int i = 0; i <= 200; ++i) {
        const SinCos angle = sin_cos_deg(9.0 * i);
        coil.push_back((10.0 + i) * glm::dvec2(angle.cos, angle.sin));
        inner.push_back((7.0 + i) * glm::dvec2(angle.cos, angle.sin));
    }
    coil.insert(coil.end(), inner.rbegin(), inner.rend());
    const auto spiral = simple_outline(coil, "it");
    REQUIRE(spiral.ok());
    check_triangles(*spiral);
}
