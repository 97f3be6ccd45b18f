// Results, errors and the checks that stop the program.
#include "base/result.h"

#include <csignal>
#include <memory>

#include <doctest/doctest.h>

#include "base/sink.h"
#include "support/child.h"

using namespace standpoint;

namespace {

Result<int> half_of(int x) {
    if (x % 2 != 0) return input_error("here", "found an odd number, expected an even one");
    return x / 2;
}

Result<int> quarter_of(int x) {
    STANDPOINT_TRY(half, half_of(x));
    STANDPOINT_TRY(quarter, half_of(half));
    return quarter;
}

Status check_quarter(int x) {
    STANDPOINT_TRY_STATUS(quarter_of(x));
    return Done{};
}

} // namespace

TEST_CASE("a result holds a value or an error") {
    const auto good = half_of(8);
    REQUIRE(good.ok());
    CHECK(static_cast<bool>(good));
    CHECK(*good == 4);
    const auto bad = half_of(7);
    REQUIRE_FALSE(bad.ok());
    CHECK(bad.error().code == ErrorCode::input);
    CHECK(bad.error().where == "here");
}

TEST_CASE("the first error leaves the function") {
    CHECK(*quarter_of(12) == 3);
    CHECK_FALSE(quarter_of(7).ok());
    CHECK_FALSE(quarter_of(6).ok());
    CHECK(check_quarter(4).ok());
    CHECK_FALSE(check_quarter(2).ok());
}

TEST_CASE("a result of a type that only moves gives its value away") {
    Result<std::unique_ptr<int>> result(std::make_unique<int>(5));
    const std::unique_ptr<int> taken = std::move(result).value();
    CHECK(*taken == 5);
}

TEST_CASE("reading the wrong side of a result stops the program") {
    const auto value_of_error = support::run_child([] { return *half_of(7); });
    CHECK(value_of_error.signal == SIGABRT);
    const auto error_of_value =
        support::run_child([] { return static_cast<int>(half_of(8).error().message.size()); });
    CHECK(error_of_value.signal == SIGABRT);
}

TEST_CASE("a check lets a true condition pass and stops at a false one") {
    const auto passes = support::run_child([] {
        STANDPOINT_CHECK(1 + 1 == 2);
        return 7;
    });
    CHECK(passes.signal == 0);
    CHECK(passes.code == 7);
    const auto stops = support::run_child([] {
        STANDPOINT_CHECK(1 + 1 == 3);
        return 7;
    });
    CHECK(stops.signal == SIGABRT);
}

TEST_CASE("an error prints as one line") {
    CHECK(one_line(input_error("ferry.json:4:2", "found a, expected b")) ==
          "ferry.json:4:2: found a, expected b");
    CHECK(one_line(io_error("", "no room")) == "no room");
    CHECK(io_error("", "").code == ErrorCode::io);
    const std::string line = one_line(input_error("a\nb\r.json", "tab\there\x7f"));
    CHECK(line == "a\\x0ab\\x0d.json: tab\\x09here\\x7f");
}

TEST_CASE("a quoted text is short and printable") {
    CHECK(in_quotes("jetty") == "\"jetty\"");
    CHECK(in_quotes(std::string_view("a\0b", 3)) == "\"a\\x00b\"");
    CHECK(in_quotes(std::string(60, 'x')) == "\"" + std::string(60, 'x') + "\"");
    CHECK(in_quotes(std::string(61, 'x')) == "\"" + std::string(60, 'x') + "...\"");
    // The cut would fall inside the two bytes of the last letter: it goes whole.
    CHECK(in_quotes(std::string(59, 'x') + "ü!!") == "\"" + std::string(59, 'x') + "...\"");
    CHECK(in_quotes(std::string(58, 'x') + "ü!!") == "\"" + std::string(58, 'x') + "ü...\"");
}

TEST_CASE("the string sink keeps what it is given, in order") {
    StringSink sink;
    CHECK(sink.write("low ").ok());
    CHECK(sink.write("").ok());
    CHECK(sink.write(std::string_view("wa\0ter", 6)).ok());
    CHECK(sink.bytes == std::string("low wa\0ter", 10));
}
