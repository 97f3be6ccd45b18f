// Frames: the order of turns, what each turn does to a thing, and the way back.
#include "measure/frame.h"

#include <cmath>

#include <doctest/doctest.h>
#include <glm/geometric.hpp>
#include <glm/matrix.hpp>

#include "measure/angle.h"
#include "support/random.h"

using namespace standpoint;

namespace {

constexpr glm::dvec3 front{0, -1, 0};
constexpr glm::dvec3 right{-1, 0, 0};
constexpr glm::dvec3 up{0, 0, 1};

double gap(const glm::dmat3& a, const glm::dmat3& b) {
    double largest = 0;
    for (int column = 0; column < 3; ++column)
        for (int row = 0; row < 3; ++row)
            largest = std::max(largest, std::abs(a[column][row] - b[column][row]));
    return largest;
}

glm::dvec3 random_point(support::Random& random) {
    return {random.uniform(-5000, 5000), random.uniform(-5000, 5000), random.uniform(-5000, 5000)};
}

glm::dmat3 random_rotation(support::Random& random) {
    return rotation_of(random.uniform(0, 360), random.uniform(-90, 90), random.uniform(-180, 180));
}

} // namespace

TEST_CASE("facing turns clockwise seen from above, from the front") {
    // A plan has X to the right and Y up the page; facing 0 looks down the page to the visitor.
    CHECK(rotation_of(0, 0, 0) * front == glm::dvec3(0, -1, 0));
    CHECK(rotation_of(90, 0, 0) * front == glm::dvec3(-1, 0, 0)); // to the left of the page
    CHECK(rotation_of(180, 0, 0) * front == glm::dvec3(0, 1, 0));
    CHECK(rotation_of(270, 0, 0) * front == glm::dvec3(1, 0, 0));
    for (const double deg : {0.0, 90.0, 180.0, 270.0, 33.0})
        CHECK(front_of(rotation_of(deg, 0, 0)) == rotation_of(deg, 0, 0) * front);
}

TEST_CASE("tilt leans forward and roll leans to the thing's own right") {
    CHECK(rotation_of(0, 90, 0) * up == front);
    CHECK(rotation_of(0, -90, 0) * up == -front);
    CHECK(rotation_of(0, 0, 90) * up == right);
    CHECK(rotation_of(0, 0, -90) * up == -right);
    // Turned to face the left of the page, a lean forward still goes to its own front.
    CHECK(rotation_of(90, 90, 0) * up == glm::dvec3(-1, 0, 0));
    CHECK(rotation_of(90, 0, 90) * up == rotation_of(90, 0, 0) * right);
    const glm::dvec3 leaning = rotation_of(0, 10, 0) * up;
    CHECK(leaning.y < 0);
    CHECK(std::abs(leaning.y + std::sin(to_radians(10))) < 1e-15);
}

TEST_CASE("roll comes first and facing last") {
    support::Random random(51);
    for (int round = 0; round < 200; ++round) {
        const double facing = random.uniform(-360, 360);
        const double tilt = random.uniform(-90, 90);
        const double roll = random.uniform(-180, 180);
        const glm::dmat3 apart =
            rotation_of(facing, 0, 0) * rotation_of(0, tilt, 0) * rotation_of(0, 0, roll);
        CHECK(gap(rotation_of(facing, tilt, roll), apart) < 1e-15);
    }
    // A quarter of each: rolled, its top points right and its right side down; tipping forward
    // leaves the top and swings the side from below to the back.
    CHECK(rotation_of(0, 90, 90) * up == right);
    CHECK(rotation_of(0, 90, 90) * right == -front);
}

TEST_CASE("rotations are orthonormal and keep the hand") {
    support::Random random(52);
    for (int round = 0; round < 2000; ++round) {
        const glm::dmat3 r = random_rotation(random);
        CHECK(gap(glm::transpose(r) * r, glm::dmat3(1.0)) < 1e-15);
        CHECK(std::abs(glm::determinant(r) - 1) < 1e-15);
    }
}

TEST_CASE("quarter turns are exact and come back as they went in") {
    for (int facing = 0; facing < 360; facing += 90) {
        for (int roll = -90; roll <= 180; roll += 90) {
            const glm::dmat3 r = rotation_of(facing, 0, roll);
            for (int column = 0; column < 3; ++column)
                for (int row = 0; row < 3; ++row) {
                    const double size = std::abs(r[column][row]);
                    CHECK((size == 0 || size == 1));
                }
            const Turns turns = turns_of(r);
            CHECK(turns.facing_deg == facing);
            CHECK(turns.tilt_deg == 0);
            CHECK(turns.roll_deg == roll);
        }
    }
}

TEST_CASE("turns survive the way through a rotation") {
    support::Random random(53);
    for (int round = 0; round < 20000; ++round) {
        const double facing = random.uniform(0, 360);
        const double tilt = random.uniform(-89, 89);
        const double roll = random.uniform(-180, 180);
        const Turns turns = turns_of(rotation_of(facing, tilt, roll));
        CHECK(std::abs(std::remainder(turns.facing_deg - facing, 360)) < 1e-11);
        CHECK(std::abs(turns.tilt_deg - tilt) < 1e-11);
        CHECK(std::abs(std::remainder(turns.roll_deg - roll, 360)) < 1e-11);
        CHECK(turns.facing_deg >= 0);
        CHECK(turns.facing_deg < 360);
        CHECK(turns.roll_deg > -180);
        CHECK(turns.roll_deg <= 180);
    }
}

TEST_CASE("rotations survive the way through turns, upended ones too") {
    support::Random random(54);
    for (int round = 0; round < 20000; ++round) {
        double tilt = random.uniform(-180, 180); // past 90 the same rotation has other turns
        if (round % 4 == 1) tilt = 90;
        if (round % 4 == 2) tilt = -90;
        if (round % 4 == 3) tilt = 90 - std::exp(random.uniform(-30, 0));
        const glm::dmat3 r = rotation_of(random.uniform(0, 360), tilt, random.uniform(-180, 180));
        const Turns turns = turns_of(r);
        CHECK(turns.tilt_deg >= -90);
        CHECK(turns.tilt_deg <= 90);
        if (tilt == 90 || tilt == -90) {
            CHECK(turns.tilt_deg == tilt);
            CHECK(turns.roll_deg == 0);
        }
        const glm::dmat3 again = rotation_of(turns.facing_deg, turns.tilt_deg, turns.roll_deg);
        CAPTURE(tilt);
        CHECK(gap(again, r) < 2e-9);
    }
}

TEST_CASE("a frame and its inverse undo each other") {
    support::Random random(55);
    for (int round = 0; round < 2000; ++round) {
        const Frame frame{random_rotation(random), random_point(random)};
        const glm::dvec3 point = random_point(random);
        CHECK(glm::length(to_inner(frame, to_outer(frame, point)) - point) < 1e-10);
        CHECK(glm::length(to_outer(inverse(frame), point) - to_inner(frame, point)) < 1e-10);
        const Frame none = compose(frame, inverse(frame));
        CHECK(gap(none.rotation, glm::dmat3(1.0)) < 1e-14);
        CHECK(glm::length(none.origin) < 1e-10);
    }
}

TEST_CASE("frames compose as their points do, in any grouping") {
    support::Random random(56);
    for (int round = 0; round < 2000; ++round) {
        const Frame a{random_rotation(random), random_point(random)};
        const Frame b{random_rotation(random), random_point(random)};
        const Frame c{random_rotation(random), random_point(random)};
        const glm::dvec3 point = random_point(random);
        CHECK(glm::length(to_outer(compose(a, b), point) - to_outer(a, to_outer(b, point))) < 1e-9);
        const Frame left = compose(compose(a, b), c);
        const Frame right_first = compose(a, compose(b, c));
        CHECK(glm::length(left.origin - right_first.origin) < 1e-9);
        CHECK(gap(left.rotation, right_first.rotation) < 1e-14);
    }
    const Frame unit;
    const Frame a{random_rotation(random), random_point(random)};
    CHECK(compose(unit, a).origin == a.origin);
    CHECK(compose(a, unit).origin == a.origin);
}
