// The tests' own tools: reference rows and random numbers.
#include "support/reference.h"

#include <set>

#include <doctest/doctest.h>

#include "base/hash.h"
#include "support/random.h"

using namespace standpoint;

TEST_CASE("CSV is read as RFC 4180 says") {
    using Records = std::vector<std::vector<std::string>>;
    CHECK(support::parse_csv("a,b\r\nc,d\r\n") == Records{{"a", "b"}, {"c", "d"}});
    CHECK(support::parse_csv("a,b\nc,d") == Records{{"a", "b"}, {"c", "d"}});
    CHECK(support::parse_csv("\"a,b\",\"say \"\"ebb\"\"\"\n") == Records{{"a,b", "say \"ebb\""}});
    CHECK(support::parse_csv("\"two\nlines\",x\n") == Records{{"two\nlines", "x"}});
    CHECK(support::parse_csv(",\n\"\"\n") == Records{{"", ""}, {""}});
    CHECK(support::parse_csv("").empty());
    CHECK_THROWS(support::parse_csv("\"open"));
}

TEST_CASE("reference rows are found by id with value, unit and source") {
    const support::Reference reference("setting_out");
    const auto& inch = reference.row("conv_in");
    CHECK(inch.value == 25.4);
    CHECK(inch.unit == "mm");
    CHECK(inch.value_si == 0.0254);
    CHECK(inch.unit_si == "m");
    CHECK(inch.source == "NIST SP 811 (2008) App. B; ISO 80000-3 (2019)");
    CHECK(inch.evidence == "verified-lookup");
    CHECK_THROWS(reference.row("no such row"));
    CHECK_THROWS(support::Reference("no such file"));
}

TEST_CASE("random numbers repeat and keep to their limits") {
    support::Random a(7);
    support::Random b(7);
    std::set<std::int64_t> faces;
    for (int i = 0; i < 10000; ++i) {
        const double x = a.uniform(-2, 3);
        CHECK(x == b.uniform(-2, 3));
        CHECK(x >= -2);
        CHECK(x < 3);
        const auto face = a.integer(1, 6);
        CHECK(face == b.integer(1, 6));
        faces.insert(face);
    }
    CHECK(faces == std::set<std::int64_t>{1, 2, 3, 4, 5, 6});
    CHECK(support::Random(0).next() == mix(0)); // the same generator as the program's mixer
}
