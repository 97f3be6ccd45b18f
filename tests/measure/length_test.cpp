// Lengths read in both systems: exact conversions, and everything that must be refused.
#include "measure/length.h"

#include <cmath>
#include <string>

#include <doctest/doctest.h>

#include "support/random.h"
#include "support/reference.h"

using namespace standpoint;

namespace {

double mm_of(std::string_view text) {
    const auto result = parse_length_mm(text);
    CAPTURE(text);
    REQUIRE(result.ok());
    return *result;
}

struct Reading {
    const char* text;
    double mm;
};

} // namespace

TEST_CASE("metric lengths are read to the nearest double") {
    constexpr Reading readings[] = {{"1600", 1600},
                                    {"1600 mm", 1600},
                                    {"1600mm", 1600},
                                    {"160 cm", 1600},
                                    {"1.6 m", 1600},
                                    {"1.6m", 1600},
                                    {"0.1 m", 100},
                                    {"0.07 m", 70},
                                    {"1.001 m", 1001},
                                    {"0.29 m", 290},
                                    {"16.1 cm", 161},
                                    {".5 m", 500},
                                    {"5. m", 5000},
                                    {"0", 0},
                                    {"-0", 0},
                                    {"-12.5", -12.5},
                                    {"+12.5", 12.5},
                                    {"- 12.5", -12.5},
                                    {"\u221212.5", -12.5},
                                    {"1e3", 1000},
                                    {"1.5E-1 mm", 0.15},
                                    {"  7 \t", 7},
                                    {"1\u00a0m", 1000},
                                    {"1600 MM", 1600},
                                    {"2 M", 2000},
                                    {"0.1", 0.1},
                                    {"1e-07", 1e-07},
                                    {"007", 7}};
    for (const Reading& reading : readings) {
        CAPTURE(reading.text);
        CHECK(mm_of(reading.text) == reading.mm);
    }
    CHECK_FALSE(std::signbit(mm_of("-0")));
}

TEST_CASE("feet and inches are read to the nearest double") {
    // 1 in = 25.4 mm exactly, NIST SP 811 (2008) App. B; the rest is arithmetic.
    constexpr Reading readings[] = {{"5' 3\"", 1600.2},
                                    {"5'3\"", 1600.2},
                                    {"5'-3\"", 1600.2},
                                    {"5' - 3\"", 1600.2},
                                    {"5 ft 3 in", 1600.2},
                                    {"5ft3in", 1600.2},
                                    {"5 FT 3 IN", 1600.2},
                                    {"5 feet 3 inches", 1600.2},
                                    {"1 foot 1 inch", 330.2},
                                    {"5' 3", 1600.2},
                                    {"5\u2032 3\u2033", 1600.2},
                                    {"5\u2019 3\u201d", 1600.2},
                                    {"63\"", 1600.2},
                                    {"63 in", 1600.2},
                                    {"63.5\"", 1612.9},
                                    {"63 1/2 in", 1612.9},
                                    {"63-1/2\"", 1612.9},
                                    {"127/2 in", 1612.9},
                                    {"63 1 / 2\"", 1612.9},
                                    {"63 1\u20442\"", 1612.9},
                                    {"5 ft 3 1/2 in", 1612.9},
                                    {"5'-3 1/2\"", 1612.9},
                                    {"5' 3-1/2\"", 1612.9},
                                    {"5' 3.5\"", 1612.9},
                                    {"5' 0 1/2\"", 1536.7},
                                    {"5' 1/2\"", 1536.7},
                                    {"5' 0\"", 1524},
                                    {"5'", 1524},
                                    {"5.5'", 1676.4},
                                    {"5 1/2 ft", 1676.4},
                                    {"0' 11 63/64\"", 304.403125},
                                    {"-2 in", -50.8},
                                    {"-5' 3\"", -1600.2},
                                    {"- 5' 3\"", -1600.2},
                                    {"\u22125' 3\"", -1600.2},
                                    {"+1/16\"", 1.5875},
                                    {"0.1 in", 2.54},
                                    {"0.01 ft", 3.048},
                                    {"5' 11.99\"", 1828.546}};
    for (const Reading& reading : readings) {
        CAPTURE(reading.text);
        CHECK(mm_of(reading.text) == reading.mm);
    }
}

TEST_CASE("conversions agree with the published factors") {
    const support::Reference reference("setting_out");
    CHECK(mm_of("1 in") == reference.row("conv_in").value);        // mm
    CHECK(mm_per_inch == reference.row("conv_in").value);          // mm
    CHECK(mm_of("1 ft") == reference.row("conv_ft").value * 1000); // m
    CHECK(mm_per_foot == reference.row("conv_ft").value * 1000);   // m
    CHECK(mm_of("3 ft") == reference.row("conv_yd").value * 1000); // m
    const double square_foot = mm_of("1 ft") * mm_of("1 ft") * 1e-6;
    CHECK(std::abs(square_foot - reference.row("conv_ft2").value) < 1e-15); // m2
    CHECK(mm_of("1/8\"") == reference.row("frac_8").value);
    CHECK(mm_of("1/16\"") == reference.row("frac_16").value);
    CHECK(mm_of("1/32\"") == reference.row("frac_32").value);
    // The survey foot is another one: 30 m differ by 0.06 mm.
    const double survey = 30000 / (reference.row("conv_sft").value * 1000) * mm_of("1 ft");
    CHECK(std::abs(30000 - survey - reference.row("conv_sft_diff").value) < 0.0005);
}

TEST_CASE("what is no length is refused, with what was found and what was expected") {
    const char* const refused[] = {"",
                                   " ",
                                   "-",
                                   "+",
                                   "--5",
                                   "-+5",
                                   "mm",
                                   "in",
                                   "'",
                                   "\"",
                                   ".",
                                   "-.",
                                   "nan",
                                   "NaN",
                                   "inf",
                                   "-inf",
                                   "infinity",
                                   "0x10",
                                   "1e400",
                                   "1e400 m",
                                   "-1e400",
                                   "1e",
                                   "1e+",
                                   "1e5e5",
                                   "1.2.3",
                                   "1..2",
                                   "1.2.3 in",
                                   "1,5",
                                   "1,600",
                                   "1 600",
                                   "16 00 mm",
                                   "5 km",
                                   "5 yd",
                                   "5 mmm",
                                   "5 mm x",
                                   "5 mm 3",
                                   "5 m 3 cm",
                                   "5x",
                                   "5;",
                                   "(5)",
                                   "five",
                                   "5 in 3 ft",
                                   "5\" 3'",
                                   "5' 3'",
                                   "5\" 3\"",
                                   "5' 12\"",
                                   "5' 13\"",
                                   "5' 12",
                                   "5' 11 12/12\"",
                                   "5.5' 3\"",
                                   "5 1/2 ft 3 in",
                                   "5' -",
                                   "5'--3\"",
                                   "5' +3\"",
                                   "5' 3 mm",
                                   "5' 3\" 2",
                                   "5' 3\" 1/2",
                                   "1/0\"",
                                   "1/0 in",
                                   "5 1/0 in",
                                   "1/2",
                                   "1/2 mm",
                                   "1/2 m",
                                   "3 1/2 cm",
                                   "3 1/2",
                                   "1/-2\"",
                                   "1/2/3\"",
                                   "1/\"",
                                   "/2\"",
                                   "3 5/2\"",
                                   "3 2/2\"",
                                   "3.5 1/2\"",
                                   "3 1.5/2\"",
                                   "1/2.5\"",
                                   "1.5/2\"",
                                   "3 4 1/2\"",
                                   "1e2' 3\"",
                                   "5' 1e0\"",
                                   "3 - 1/2",
                                   "1/9999999\"",
                                   "5\xff",
                                   "\xc2\xa0",
                                   "5 \u2033\u2033",
                                   "5''"};
    for (const char* text : refused) {
        CAPTURE(text);
        const auto result = parse_length_mm(text);
        REQUIRE_FALSE(result.ok());
        CHECK(result.error().code == ErrorCode::input);
        CHECK(result.error().message ==
              "found " + in_quotes(text) + ", expected a length such as 1600, 1.6 m or 5' 3\"");
    }
    CHECK_FALSE(parse_length_mm(std::string_view("5\0", 2)).ok());
    CHECK_FALSE(parse_length_mm(std::string(100000, '9')).ok());
    CHECK_FALSE(parse_length_mm(std::string(100000, '(')).ok());
}

TEST_CASE("inches after feet stay below twelve; alone they may be many") {
    CHECK(mm_of("5' 11.999\"") < mm_of("6'"));
    CHECK(mm_of("5' 11 15/16\"") < mm_of("6'"));
    CHECK_FALSE(parse_length_mm("5' 12\"").ok());
    CHECK(mm_of("13\"") == 330.2);
    CHECK(mm_of("1000 in") == 25400);
}

TEST_CASE("the largest length is a limit on both sides") {
    CHECK(mm_of("10000000") == largest_length_mm);
    CHECK(mm_of("-10000 m") == -largest_length_mm);
    for (const char* text : {"10000000.1", "-10000001", "10001 m", "32809 ft", "1e300",
                             "99999999999999999999999 ft"}) {
        CAPTURE(text);
        const auto result = parse_length_mm(text);
        REQUIRE_FALSE(result.ok());
        CHECK(result.error().message.ends_with("at most 10 km (10000000 mm)"));
    }
    CHECK(mm_of("32808 ft") < largest_length_mm);
}

TEST_CASE("a decimal converts to the double nearest to the exact product") {
    // The slow twin: the decimal point moved in the text, so that the library's own correctly
    // rounded reading of the millimetres is the answer.
    support::Random random(11);
    for (int round = 0; round < 20000; ++round) {
        const auto mantissa = random.integer(0, 9999999);
        const int places = static_cast<int>(random.integer(0, 6));
        std::string digits = std::to_string(mantissa);
        while (static_cast<int>(digits.size()) <= places)
            digits = "0" + digits;
        const std::size_t point = digits.size() - static_cast<std::size_t>(places);
        const std::string text = digits.substr(0, point) + "." + digits.substr(point);
        if (std::stod(text) > 9999) continue;
        CAPTURE(text);
        const std::string scale = "e-" + std::to_string(places);
        CHECK(mm_of(text) == std::stod(std::to_string(mantissa) + scale));
        CHECK(mm_of(text + " cm") == std::stod(std::to_string(mantissa * 10) + scale));
        CHECK(mm_of(text + " m") == std::stod(std::to_string(mantissa * 1000) + scale));
        const std::string tenth = "e-" + std::to_string(places + 1);
        CHECK(mm_of(text + " in") == std::stod(std::to_string(mantissa * 254) + tenth));
        CHECK(mm_of(text + " ft") == std::stod(std::to_string(mantissa * 3048) + tenth));
    }
}

TEST_CASE("random text is read or refused, never more") {
    const std::string alphabet = "0123456789 .'\"-+/einftmc\t\xe2\x80\xb2";
    support::Random random(12);
    int read = 0;
    for (int round = 0; round < 50000; ++round) {
        std::string text;
        const auto length = random.integer(0, 10);
        for (int i = 0; i < length; ++i)
            text += alphabet[static_cast<std::size_t>(random.integer(0, alphabet.size() - 1))];
        const auto result = parse_length_mm(text);
        if (!result.ok()) continue;
        ++read;
        CHECK(std::abs(*result) <= largest_length_mm);
    }
    CHECK(read > 1000);
}
