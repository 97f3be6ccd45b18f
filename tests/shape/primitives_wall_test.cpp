// Walls: one solid with the reveals of its openings, and openings that are refused.
#include <cmath>

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include "shape/mass_properties.h"
#include "shape/primitives.h"
#include "solid_check.h"
#include "support/random.h"

using namespace standpoint;
using solid_check::good_mesh;
using solid_check::refusal;

namespace {

constexpr double width = 120, thickness = 4, height = 80;

WallForm wall(std::vector<WallOpening> openings) {
    return {width, thickness, height, std::move(openings)};
}

WallOpening opening(double from_left, double sill, double across, double up) {
    return {from_left, sill, across, up};
}

} // namespace

TEST_CASE("a wall with windows has their reveals and no more") {
    const Mesh mesh =
        good_mesh(wall({opening(10, 30, 25, 20), opening(50, 30, 25, 20), opening(90, 5, 10, 60)}));
    const MassProperties m = mass_properties(mesh);
    const double open = 25 * 20 * 2 + 10 * 60;
    const double reveals = 2 * (2 * (25 + 20) + (10 + 60)) * thickness;
    CHECK(m.closed);
    CHECK(std::abs(m.volume - (width * height - open) * thickness) < 1e-8);
    CHECK(std::abs(m.area - (2 * (width * height - open) + 2 * (width + height) * thickness +
                             reveals)) < 1e-8);
    CHECK(solid_check::solids(mesh).size() == 1);
}

TEST_CASE("a doorway takes the foot of the wall with it") {
    const MassProperties m = mass_properties(good_mesh(wall({opening(40, 0, 30, 60)})));
    CHECK(m.closed);
    CHECK(std::abs(m.volume - (width * height - 30 * 60) * thickness) < 1e-8);
    // The head's reveal makes up for the missing foot; both sides are new.
    CHECK(std::abs(m.area - (2 * (width * height - 30 * 60) + 2 * (width + height) * thickness +
                             2 * 60 * thickness)) < 1e-8);
}

TEST_CASE("an opening from foot to top leaves two solids") {
    const Mesh mesh = good_mesh(wall({opening(40, 0, 30, height)}));
    CHECK(solid_check::solids(mesh).size() == 2);
    CHECK(refusal(wall({opening(0, 0, width, height)})).find("leaves no wall") !=
          std::string::npos);
}

TEST_CASE("from_left counts from the left end seen from the front") {
    // Open from foot to top at the left end: what is left lies to the visitor's right, +X.
    const Box box = bounds(good_mesh(wall({opening(0, 0, 100, height)})));
    CHECK(std::abs(box.low.x - 40) < 1e-9);
    CHECK(std::abs(box.high.x - 60) < 1e-9);
}

TEST_CASE("openings lie inside the wall") {
    good_mesh(wall({opening(100, 60, 20, 20)}));
    good_mesh(wall({opening(0.1 + 0.2, 0, 119.7, 20)})); // the sum misses 120 by its rounding
    CHECK(refusal(wall({opening(100, 10, 20.01, 20)})).find("inside the wall of 120 x 80") !=
          std::string::npos);
    CHECK(refusal(wall({opening(10, 60, 20, 20.01)})).find("opening 1") != std::string::npos);
    CHECK(refusal(wall({opening(-0.01, 10, 20, 20)})).find("from -0.01") != std::string::npos);
    CHECK(refusal(wall({opening(10, -0.01, 20, 20)})).find("-0.01 to") != std::string::npos);
    CHECK(refusal(wall({opening(10, 10, 0, 20)})).find("opening width 0") != std::string::npos);
}

TEST_CASE("openings keep wall between them") {
    good_mesh(wall({opening(10, 10, 20, 20), opening(30.01, 10, 20, 20)}));
    CHECK(refusal(wall({opening(10, 10, 20, 20), opening(30, 10, 20, 20)})) ==
          "found openings 1 and 2 that meet, expected wall between them");
    // Corner to corner is a meeting as well.
    CHECK(refusal(wall({opening(10, 10, 20, 20), opening(30, 30, 20, 20)})).find("that meet") !=
          std::string::npos);
    good_mesh(wall({opening(10, 10, 20, 20), opening(30, 30.01, 20, 20)}));
}

TEST_CASE("random walls lose exactly their openings") {
    support::Random random(21);
    for (int i = 0; i < 40; ++i) {
        // One opening at most in each cell of a grid, so that none meet.
        std::vector<WallOpening> openings;
        double open = 0;
        for (int column = 0; column < 4; ++column) {
            for (int row = 0; row < 3; ++row) {
                if (random.integer(0, 2) == 0) continue;
                const double across = random.uniform(3, 28), up = random.uniform(3, 24);
                openings.push_back(opening(30.0 * column + random.uniform(0.5, 29.5 - across),
                                           26.0 * row + random.uniform(0.5, 25.5 - up), across,
                                           up));
                open += across * up;
            }
        }
        const Mesh mesh = good_mesh(wall(openings));
        CHECK(std::abs(mass_properties(mesh).volume - (width * height - open) * thickness) < 1e-7);
        CHECK(solid_check::solids(mesh).size() == 1);
    }
}
