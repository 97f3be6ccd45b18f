// Lengths and numbers printed: rounded once, and read back.
#include <cmath>
#include <cstring>
#include <limits>
#include <string>

#include <doctest/doctest.h>

#include "measure/length.h"
#include "measure/steps.h"
#include "support/random.h"
#include "support/reference.h"

using namespace standpoint;

namespace {

LengthStyle metric(double step) {
    LengthStyle style;
    style.metric_step_mm = step;
    return style;
}

LengthStyle imperial(int denominator) {
    LengthStyle style;
    style.system = UnitSystem::imperial;
    style.inch_denominator = denominator;
    return style;
}

constexpr int denominators[] = {1, 2, 4, 8, 16, 32, 64};

} // namespace

TEST_CASE("metric lengths print at their step") {
    CHECK(print_length(1600, metric(1)) == "1600 mm");
    CHECK(print_length(1600.2, metric(1)) == "1600 mm");
    CHECK(print_length(1600.2, metric(0.1)) == "1600.2 mm");
    CHECK(print_length(1600.2, metric(0.5)) == "1600.0 mm");
    CHECK(print_length(1600.2, metric(5)) == "1600 mm");
    CHECK(print_length(1602.5, metric(5)) == "1605 mm");
    CHECK(print_length(3.7, metric(2.5)) == "2.5 mm");
    CHECK(print_length(0.25, metric(0.25)) == "0.25 mm");
    CHECK(print_length(-0.4, metric(1)) == "0 mm");
    CHECK(print_length(-0.0, metric(0.1)) == "0.0 mm");
    CHECK(print_length(-12.5, metric(1)) == "-13 mm");
    LengthStyle bare = metric(1);
    bare.with_unit = false;
    CHECK(print_length(1600, bare) == "1600");
    CHECK(print_length(1e12, bare) == "1000000000000");
}

TEST_CASE("imperial lengths print in feet, inches and the least fraction") {
    CHECK(print_length(1600.2, imperial(16)) == "5' 3\"");
    CHECK(print_length(1612.9, imperial(16)) == "5' 3 1/2\"");
    CHECK(print_length(1524, imperial(16)) == "5' 0\"");
    CHECK(print_length(1536.7, imperial(16)) == "5' 0 1/2\"");
    CHECK(print_length(50.8, imperial(16)) == "2\"");
    CHECK(print_length(-50.8, imperial(16)) == "-2\"");
    CHECK(print_length(-1600.2, imperial(16)) == "-5' 3\"");
    CHECK(print_length(12.7, imperial(16)) == "1/2\"");
    CHECK(print_length(12.7, imperial(1)) == "1\"");
    CHECK(print_length(12.6, imperial(1)) == "0\"");
    CHECK(print_length(-0.1, imperial(16)) == "0\"");
    CHECK(print_length(0, imperial(64)) == "0\"");
    CHECK(print_length(304.403125, imperial(64)) == "11 63/64\"");
    CHECK(print_length(304.403125, imperial(32)) == "1' 0\""); // a half goes up, and carries
    CHECK(print_length(304.4, imperial(32)) == "11 31/32\"");
    LengthStyle bare = imperial(16);
    bare.with_unit = false; // the marks belong to the number
    CHECK(print_length(1600.2, bare) == "5' 3\"");
}

TEST_CASE("worked checks of rounding to fractions") {
    const support::Reference reference("setting_out");
    struct Check {
        const char* id;
        double mm;
        int denominator;
        const char* inches; // as the row's applies_to prints it, in this program's writing
    };
    constexpr Check checks[] = {{"ex_round_37p4_16", 37.4, 16, "1 1/2\""},
                                {"ex_round_37p4_8", 37.4, 8, "1 1/2\""},
                                {"ex_round_1234p0_16", 1234, 16, "4' 0 9/16\""},
                                {"ex_round_1234p0_8", 1234, 8, "4' 0 5/8\""},
                                {"ex_round_2997p0_16", 2997, 16, "9' 10\""},
                                {"ex_round_2997p0_8", 2997, 8, "9' 10\""},
                                {"ex_round_812p8_16", 812.8, 16, "2' 8\""},
                                {"ex_round_812p8_8", 812.8, 8, "2' 8\""}};
    for (const Check& check : checks) {
        CAPTURE(check.id);
        const LengthStyle style = imperial(check.denominator);
        const double expected = reference.row(check.id).value; // mm
        CHECK(std::abs(round_to_step(check.mm, style) - expected) < 1e-9);
        CHECK(print_length(check.mm, style) == check.inches);
    }
}

TEST_CASE("the largest and the mean rounding error are those of the fraction") {
    const support::Reference reference("setting_out");
    for (const int denominator : {8, 16, 32}) {
        const std::string id = "frac_" + std::to_string(denominator);
        const double step = reference.row(id).value;
        const double largest = reference.row(id + "_maxerr").value;
        const double deviation = reference.row(id + "_sd").value;
        double worst = 0;
        double squares = 0;
        constexpr int count = 10000;
        for (int i = 0; i < count; ++i) { // evenly over one step
            const double mm = 1000 + step * (i + 0.5) / count;
            const double error = round_to_step(mm, imperial(denominator)) - mm;
            worst = std::max(worst, std::abs(error));
            squares += error * error;
        }
        CHECK(worst <= largest + 1e-9);
        CHECK(worst > largest * 0.999);
        CHECK(std::abs(std::sqrt(squares / count) - deviation) < 1e-4);
    }
}

TEST_CASE("a length is rounded once") {
    // 1/16 in first would make this 1 1/16 in, and 1/8 in after it 1 1/8 in.
    const double mm = 25.4 * (1 + 1.0 / 32 + 0.001);
    CHECK(print_length(mm, imperial(16)) == "1 1/16\"");
    CHECK(print_length(mm, imperial(8)) == "1\"");
    // To 0.1 mm first would make this 0.5 and then 1.
    CHECK(print_length(0.46, metric(0.1)) == "0.5 mm");
    CHECK(print_length(0.46, metric(1)) == "0 mm");
}

TEST_CASE("halves go away from zero in every step, whatever binary makes of them") {
    for (const double step : {0.001, 0.01, 0.1, 0.25, 0.5, 1.0, 2.0, 5.0, 10.0}) {
        for (int i = 0; i < 2000; ++i) {
            const double half = (2 * i + 1) * 0.5;
            // The double nearest to the written half, from whole numbers alone.
            const double mm = step < 1 ? half / std::round(1 / step) : half * step;
            CAPTURE(step);
            CAPTURE(i);
            CHECK(steps_of(mm, step) == i + 1);
            CHECK(steps_of(-mm, step) == -(i + 1));
            CHECK(steps_of(mm - step * 1e-9, step) == i);
        }
    }
    for (const int denominator : denominators) {
        for (int i = 0; i < 2000; ++i) {
            const double mm = (2 * i + 1) * 254.0 / (20.0 * denominator);
            const double up = (i + 1) * 254.0 / (10.0 * denominator);
            CHECK(std::abs(round_to_step(mm, imperial(denominator)) - up) < 1e-9);
            CHECK(std::abs(round_to_step(-mm, imperial(denominator)) + up) < 1e-9);
        }
    }
}

TEST_CASE("what is printed reads back within half a step, and prints the same again") {
    support::Random random(21);
    for (int round = 0; round < 20000; ++round) {
        const double mm = random.uniform(-20000, 20000);
        CAPTURE(mm);
        for (const int denominator : denominators) {
            const LengthStyle style = imperial(denominator);
            const std::string text = print_length(mm, style);
            const auto back = parse_length_mm(text);
            REQUIRE(back.ok());
            CHECK(std::abs(*back - mm) <= mm_per_inch / denominator / 2 + 1e-9);
            CHECK(*back == round_to_step(mm, style));
            CHECK(print_length(*back, style) == text);
        }
        for (const double step : {0.1, 0.5, 1.0, 5.0}) {
            const LengthStyle style = metric(step);
            const std::string text = print_length(mm, style);
            const auto back = parse_length_mm(text);
            REQUIRE(back.ok());
            CHECK(std::abs(*back - mm) <= step / 2 + 1e-9);
            CHECK(*back == round_to_step(mm, style));
            CHECK(print_length(*back, style) == text);
        }
    }
}

TEST_CASE("every sixty-fourth of an inch survives the way through text and millimetres") {
    for (int parts = -64 * 40; parts <= 64 * 40; ++parts) {
        const double mm = parts * 254.0 / 640.0; // nearest double: one division
        const std::string text = print_length(mm, imperial(64));
        const auto back = parse_length_mm(text);
        REQUIRE(back.ok());
        CAPTURE(text);
        CHECK(*back == mm);
    }
}

TEST_CASE("trade facts: common practice, no source") {
    // A figure whose original is 1.5 in tall gains 6 in when its ratio goes from 20:1 to 24:1.
    const double original = *parse_length_mm("1.5 in");
    CHECK(print_length(original * 24 - original * 20, imperial(16)) == "6\"");
    CHECK(std::abs(original * 24 - original * 20 - 152.4) < 1e-9);
    // 17 ft x 10 ft x 7.5 ft converts and prints back exactly.
    CHECK(*parse_length_mm("17 ft") == 5181.6);
    CHECK(*parse_length_mm("10 ft") == 3048);
    CHECK(*parse_length_mm("7.5 ft") == 2286);
    CHECK(print_length(5181.6, imperial(16)) == "17' 0\"");
    CHECK(print_length(3048, imperial(16)) == "10' 0\"");
    CHECK(print_length(2286, imperial(16)) == "7' 6\"");
    for (const char* text : {"17' 0\"", "10' 0\"", "7' 6\""})
        CHECK(print_length(*parse_length_mm(text), imperial(64)) == text);
    CHECK(print_exact(*parse_length_mm("17 ft")) == "5181.6");
    CHECK(print_exact(*parse_length_mm("7.5 ft")) == "2286");
}

TEST_CASE("exact numbers are short, plain where people write them so, and read back") {
    CHECK(print_exact(1600) == "1600");
    CHECK(print_exact(-1600) == "-1600");
    CHECK(print_exact(0) == "0");
    CHECK(print_exact(-0.0) == "0");
    CHECK(print_exact(0.1) == "0.1");
    CHECK(print_exact(0.1 + 0.2) == "0.30000000000000004");
    CHECK(print_exact(100000) == "100000");
    CHECK(print_exact(1e15) == "1000000000000000");
    CHECK(print_exact(1e16) == "1e+16");
    CHECK(print_exact(0.0001) == "0.0001");
    CHECK(print_exact(1e-6) == "0.000001");
    CHECK(print_exact(1e-7) == "1e-07");
    CHECK(print_exact(std::numeric_limits<double>::max()) == "1.7976931348623157e+308");
    support::Random random(22);
    for (int round = 0; round < 200000; ++round) {
        std::uint64_t bits = random.next();
        double number = 0;
        std::memcpy(&number, &bits, sizeof number);
        if (round % 2 == 0) number = random.uniform(-1e7, 1e7);
        if (!std::isfinite(number) || std::fpclassify(number) == FP_SUBNORMAL) continue;
        const std::string text = print_exact(number);
        CAPTURE(text);
        CHECK(std::stod(text) == number);
        if (std::abs(number) <= largest_length_mm) CHECK(*parse_length_mm(text) == number);
    }
}
