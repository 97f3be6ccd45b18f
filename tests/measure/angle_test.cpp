// Angles: reading, exact quarter turns, printing.
#include "measure/angle.h"

#include <cmath>
#include <numbers>

#include <doctest/doctest.h>

#include "support/random.h"

using namespace standpoint;

TEST_CASE("angles are read in degrees") {
    CHECK(*parse_angle_deg("90") == 90);
    CHECK(*parse_angle_deg("90 deg") == 90);
    CHECK(*parse_angle_deg("90°") == 90);
    CHECK(*parse_angle_deg(" -12.5 ° ") == -12.5);
    CHECK(*parse_angle_deg("+7 DEG") == 7);
    CHECK(*parse_angle_deg("7 degrees") == 7);
    CHECK(*parse_angle_deg("\u22127") == -7);
    CHECK(*parse_angle_deg("1e2") == 100);
    CHECK_FALSE(std::signbit(*parse_angle_deg("-0")));
    CHECK(*parse_angle_deg("36000") == 36000);
    CHECK(*parse_angle_deg("-36000") == -36000);
}

TEST_CASE("what is no angle is refused") {
    for (const char* text : {"", "-", "deg", "°", "90 rad", "90 mm", "90'", "90°°", "90 deg x",
                             "nan", "inf", "1e400", "1.2.3", "90 45", "1/2", "36000.1", "-36001"}) {
        CAPTURE(text);
        const auto result = parse_angle_deg(text);
        REQUIRE_FALSE(result.ok());
        CHECK(
            result.error().message.starts_with("found " + in_quotes(text) + ", expected an angle"));
    }
}

TEST_CASE("sine and cosine are exact at quarter turns, without negative zeros") {
    for (int quarter = -400; quarter <= 400; ++quarter) {
        const SinCos at = sin_cos_deg(quarter * 90.0);
        constexpr double sines[] = {0, 1, 0, -1};
        const int turn = ((quarter % 4) + 4) % 4;
        CHECK(at.sin == sines[turn]);
        CHECK(at.cos == sines[(turn + 1) % 4]);
        CHECK_FALSE((at.sin == 0 && std::signbit(at.sin)));
        CHECK_FALSE((at.cos == 0 && std::signbit(at.cos)));
    }
}

TEST_CASE("sine and cosine agree with the library's and with each other") {
    support::Random random(31);
    for (int round = 0; round < 20000; ++round) {
        const double deg = random.uniform(-720, 720);
        const SinCos at = sin_cos_deg(deg);
        CHECK(std::abs(at.sin - std::sin(deg * std::numbers::pi / 180)) < 1e-14);
        CHECK(std::abs(at.cos - std::cos(deg * std::numbers::pi / 180)) < 1e-14);
        CHECK(std::abs(at.sin * at.sin + at.cos * at.cos - 1) < 1e-15);
        const SinCos opposite = sin_cos_deg(-deg);
        CHECK(opposite.sin == -at.sin);
        CHECK(opposite.cos == at.cos);
    }
    CHECK(std::abs(sin_cos_deg(30).sin - 0.5) < 1e-15);
    CHECK(std::abs(sin_cos_deg(60).cos - 0.5) < 1e-15);
}

TEST_CASE("degrees and radians") {
    CHECK(std::abs(to_radians(180) - std::numbers::pi) < 1e-15);
    CHECK(std::abs(to_degrees(std::numbers::pi) - 180) < 1e-13);
    for (const double deg : {-720.0, -33.3, 0.0, 1.0, 57.0, 359.0})
        CHECK(std::abs(to_degrees(to_radians(deg)) - deg) < 1e-12);
}

TEST_CASE("the angle of a direction is exact on the axes") {
    CHECK(atan2_deg(0, 1) == 0);
    CHECK(atan2_deg(2, 0) == 90);
    CHECK(atan2_deg(0, -3) == 180);
    CHECK(atan2_deg(-0.0, -3) == 180);
    CHECK(atan2_deg(-4, 0) == -90);
    CHECK(atan2_deg(0, 0) == 0);
    CHECK(atan2_deg(-1e-300, -1) == 180); // never -180
    for (double deg = -179.5; deg < 180; deg += 0.5) {
        const SinCos at = sin_cos_deg(deg);
        CHECK(std::abs(atan2_deg(at.sin, at.cos) - deg) < 1e-12);
    }
}

TEST_CASE("a facing lies in [0, 360)") {
    CHECK(normalise_facing(0) == 0);
    CHECK_FALSE(std::signbit(normalise_facing(-0.0)));
    CHECK(normalise_facing(360) == 0);
    CHECK(normalise_facing(-90) == 270);
    CHECK(normalise_facing(725.5) == 5.5);
    CHECK(normalise_facing(-1e-20) == 0); // the nearest double is a whole turn
    CHECK(normalise_facing(359.5) == 359.5);
    support::Random random(32);
    for (int round = 0; round < 10000; ++round) {
        const double deg = random.uniform(-36000, 36000);
        const double facing = normalise_facing(deg);
        CHECK(facing >= 0);
        CHECK(facing < 360);
        CHECK(std::abs(std::remainder(facing - deg, 360)) < 1e-10);
        CHECK(normalise_facing(facing) == facing);
    }
}

TEST_CASE("angles print at their step") {
    CHECK(print_angle(90) == "90°");
    CHECK(print_angle(12.5) == "12.5°");
    CHECK(print_angle(12.25) == "12.5°");
    CHECK(print_angle(12.24) == "12°");
    CHECK(print_angle(-12.25) == "-12.5°");
    CHECK(print_angle(-0.2) == "0°");
    CHECK(print_angle(12.25, 1) == "12°");
    CHECK(print_angle(12.25, 0.1) == "12.3°");
    CHECK(print_angle(12.25, 15) == "15°");
    CHECK(print_angle(100, 10) == "100°");
    CHECK(print_angle(100, 0.01) == "100°");
    CHECK(print_facing(359.74) == "359.5°");
    CHECK(print_facing(359.75) == "0°");
    CHECK(print_facing(-90) == "270°");
    CHECK(print_facing(-0.1) == "0°");
    CHECK(print_facing(357, 7) == "357°");
}
