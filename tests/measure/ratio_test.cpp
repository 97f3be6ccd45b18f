// Ratios of enlargement.
#include "measure/ratio.h"

#include <cmath>

#include <doctest/doctest.h>

#include "support/random.h"

using namespace standpoint;

TEST_CASE("ratios are read as built size to original size") {
    CHECK(*parse_ratio("12:1") == 12);
    CHECK(*parse_ratio("12") == 12);
    CHECK(*parse_ratio("1:2") == 0.5);
    CHECK(*parse_ratio("7:2") == 3.5);
    CHECK(*parse_ratio(" 12 : 1 ") == 12);
    CHECK(*parse_ratio("12.5:1") == 12.5);
    CHECK(*parse_ratio("1:12.5") == 0.08);
    CHECK(*parse_ratio("10000:1") == 10000);
    CHECK(*parse_ratio("1:1000") == 0.001);
}

TEST_CASE("what is no ratio is refused") {
    for (const char* text :
         {"",      ":",      "12:",    ":1",      "0",         "0:1",      "1:0",
          "-12:1", "12:-1",  "12:1:1", "12/1",    "twelve",    "nan",      "inf",
          "1e400", "12:1 x", "12 mm",  "1.2.3:1", "10000.1:1", "1:1000.1", "1e300:1e-300"}) {
        CAPTURE(text);
        const auto result = parse_ratio(text);
        REQUIRE_FALSE(result.ok());
        CHECK(
            result.error().message.starts_with("found " + in_quotes(text) + ", expected a ratio"));
    }
}

TEST_CASE("ratios print as people write them") {
    CHECK(print_ratio(12) == "12:1");
    CHECK(print_ratio(12.5) == "12.5:1");
    CHECK(print_ratio(1) == "1:1");
    CHECK(print_ratio(0.5) == "1:2");
    CHECK(print_ratio(0.08) == "1:12.5");
    CHECK(print_ratio(1.0 / 12) == "1:12");
    CHECK(print_ratio(4.0 / 3) == "4:3");
    CHECK(print_ratio(2.0 / 3) == "1:1.5");
    CHECK(print_ratio(3.0 / 7) == "3:7");
    CHECK(print_ratio(1000.0 / 3) == "1000:3");
}

TEST_CASE("a printed ratio reads back as the same value") {
    support::Random random(41);
    for (int round = 0; round < 20000; ++round) {
        double value = std::exp(random.uniform(std::log(0.001), std::log(10000)));
        if (round % 3 == 1) value = std::round(value * 100) / 100;
        if (round % 3 == 2)
            value = static_cast<double>(random.integer(1, 99)) /
                    static_cast<double>(random.integer(1, 99));
        if (value < 0.001) continue;
        const std::string text = print_ratio(value);
        CAPTURE(text);
        const auto back = parse_ratio(text);
        REQUIRE(back.ok());
        CHECK(*back == value);
    }
}
