// Numbers as they are typed: plain, relative, in either system, and as ratios.
#include <doctest/doctest.h>

#include <string>

#include "desk/typed.h"

using namespace standpoint;

namespace {

double mm(const char* text, double now = 1000, UnitSystem units = UnitSystem::metric) {
    const auto length = typed_length(text, now, units);
    REQUIRE_MESSAGE(length.ok(), text);
    return length->mm;
}
bool refused(const char* text, UnitSystem units = UnitSystem::metric) {
    return !typed_length(text, 1000, units).ok();
}

} // namespace

TEST_CASE("a plain length is the new value in any unit") {
    CHECK(mm("1600") == 1600);
    CHECK(mm(" 1.6 m ") == 1600);
    CHECK(mm("5' 3\"") == doctest::Approx(1600.2));
    CHECK(mm("63 1/2 in") == doctest::Approx(1612.9));
    CHECK(mm("-50") == -50);
    CHECK(mm("-2 in") == doctest::Approx(-50.8));
}

TEST_CASE("a bare number follows the scene's system") {
    CHECK(mm("63", 0, UnitSystem::metric) == 63);
    CHECK(mm("63", 0, UnitSystem::imperial) == doctest::Approx(1600.2));
    CHECK(mm("63 1/2", 0, UnitSystem::imperial) == doctest::Approx(1612.9));
    CHECK(mm("5' 3", 0, UnitSystem::imperial) == doctest::Approx(1600.2));
    CHECK(mm("63 mm", 0, UnitSystem::imperial) == 63);
    CHECK(mm("+2", 0, UnitSystem::imperial) == doctest::Approx(50.8));
    CHECK(refused("63 1/2"));
}

TEST_CASE("relative values are worked out from what is there") {
    CHECK(mm("+50") == 1050);
    CHECK(mm("+ 2 in") == 1050.8);
    CHECK(mm("- 50") == 950);
    CHECK(mm("+-50") == 950);
    CHECK(mm("*1.1") == 1100);
    CHECK(mm("/4") == 250);
    CHECK(mm("\u00d7 2") == 2000);
    CHECK(mm("/3") == 333.3333);
    CHECK(typed_angle("+15", 350.0)->deg == 365);
    CHECK(typed_angle("- 15", 10.0)->deg == -5);
    CHECK(typed_ratio("*1.5", 12.0)->value == 18);
}

TEST_CASE("what is no number, or too much, is refused") {
    for (const std::string text : {"", "+", "*", "*0", "/0", "*-2", "* 2 in", "/ /2", "abc",
                                   "50 ell", "++5", "*1e9", "+1e7", "1/2 mm", "- ", "--5"})
        CHECK_MESSAGE(refused(text.c_str()), text);
    CHECK(mm("10000000") == 1e7);
    CHECK(refused("10000000.1"));
    CHECK(mm("*10000") == 1e7);
    CHECK(refused("*10001"));
    CHECK(typed_angle("36000", 0.0).ok());
    CHECK_FALSE(typed_angle("36000.1", 0.0).ok());
    CHECK_FALSE(typed_angle("+1", 36000.0).ok());
}

TEST_CASE("the text is kept as a scene file writes it, and only of plain values") {
    CHECK(typed_length("1600", 0.0, UnitSystem::metric)->as_read == "1600");
    CHECK(typed_length("1.6 m", 0.0, UnitSystem::metric)->as_read == "\"1.6 m\"");
    CHECK(typed_length("5' 3\"", 0.0, UnitSystem::metric)->as_read == "\"5' 3\\\"\"");
    CHECK(typed_length("63", 0.0, UnitSystem::imperial)->as_read == "\"63 in\"");
    CHECK(typed_length("007", 0.0, UnitSystem::metric)->as_read == "\"007\"");
    CHECK(typed_length("+5", 1.0, UnitSystem::metric)->as_read.empty());
    CHECK(typed_angle("90", 0.0)->as_read == "90");
    CHECK(typed_ratio("12:1", 1.0)->as_read == "\"12:1\"");
    CHECK(typed_ratio("125 %", 1.0)->as_read.empty());
}

TEST_CASE("ratios: built over original, per cent, scale to scale") {
    CHECK(typed_ratio("1:24", 1.0)->value == 1.0 / 24);
    CHECK(typed_ratio("24", 1.0)->value == 24);
    CHECK(typed_ratio("7:2", 1.0)->value == 3.5);
    CHECK(typed_ratio("1:24 to 1:6", 1.0)->value == 4);
    CHECK(typed_ratio("1:6 to 1:24", 1.0)->value == doctest::Approx(0.25));
    CHECK(typed_ratio("125 %", 12.0)->value == 1.25);
    CHECK(typed_ratio("10000", 1.0)->value == 10000);
    CHECK_FALSE(typed_ratio("10001", 1.0).ok());
    CHECK(typed_ratio("0.1 %", 1.0)->value == doctest::Approx(0.001));
    CHECK_FALSE(typed_ratio("0.09 %", 1.0).ok());
    for (const std::string text : {"", "to", "1:24 to", "%", "0", "1:0", "- 1"})
        CHECK_FALSE_MESSAGE(typed_ratio(text, 1.0).ok(), text);
}

TEST_CASE("shares run from nothing to all") {
    CHECK(typed_share("0.25", 0.0)->value == 0.25);
    CHECK(typed_share("25 %", 0.0)->value == 0.25);
    CHECK(typed_share("100%", 0.0)->value == 1);
    CHECK_FALSE(typed_share("101%", 0.0).ok());
    CHECK(typed_share("0", 0.5)->value == 0);
    CHECK_FALSE(typed_share("- 0.6", 0.5).ok());
    CHECK_FALSE(typed_share("clear", 0.5).ok());
}

TEST_CASE("colours are red, green and blue, and are kept in small letters") {
    CHECK(*typed_colour("#A0b1C2") == "#a0b1c2");
    CHECK(*typed_colour(" a0b1c2 ") == "#a0b1c2");
    CHECK(typed_colour("")->empty());
    for (const char* bad : {"blue", "#a0b1c", "#a0b1c2d", "#a0b1cg", "##a0b1c", "#"}) {
        CAPTURE(bad);
        const auto refused = typed_colour(bad);
        REQUIRE_FALSE(refused.ok());
        CHECK(one_line(refused.error()).find(bad) != std::string::npos);
    }
}

TEST_CASE("counts are whole numbers within their limits") {
    CHECK(*typed_count("2", 2, 1001) == 2);
    CHECK(*typed_count(" 1001 ", 2, 1001) == 1001);
    for (const char* bad : {"1", "1002", "", "3x", "3.5", "-3", "many", "99999999999"}) {
        CAPTURE(bad);
        CHECK_FALSE(typed_count(bad, 2, 1001).ok());
    }
}
