// Text questions: UTF-8, likeness of words, ids, dates.
#include <doctest/doctest.h>

#include "scene/text.h"
#include "support/random.h"

using namespace standpoint;

TEST_CASE("UTF-8: the boundaries of RFC 3629") {
    const auto good = [](const char* text) { return !find_bad_utf8(text).has_value(); };
    for (const char* text :
         {"", "plain", "\xC2\x80", "\xDF\xBF", "\xE0\xA0\x80", "\xED\x9F\xBF", "\xEE\x80\x80",
          "\xEF\xBF\xBF", "\xF0\x90\x80\x80", "\xF4\x8F\xBF\xBF"})
        CHECK(good(text));
    // Overlong, surrogate, beyond U+10FFFF, continuation alone, cut short, never in UTF-8.
    for (const char* text :
         {"\xC0\xAF", "\xC1\xBF", "\xE0\x9F\xBF", "\xED\xA0\x80", "\xF0\x8F\xBF\xBF",
          "\xF4\x90\x80\x80", "\xF5\x80\x80\x80", "\x80", "\xE2\x82", "\xFE"})
        CHECK(!good(text));
    CHECK(find_bad_utf8("abc\xFF") == 3);
    CHECK(find_bad_utf8("ab\xE2\x82") == 2);
}

TEST_CASE("edit distance") {
    // Wagner and Fischer (1974) give the recurrence; kitten and sitting, 3, is its usual example.
    CHECK(edit_distance("kitten", "sitting") == 3);
    CHECK(edit_distance("", "jetty") == 5);
    CHECK(edit_distance("jetty", "jetty") == 0);
    support::Random random(3);
    const auto word = [&] {
        std::string made;
        for (std::int64_t i = random.integer(0, 8); i > 0; --i)
            made += static_cast<char>('a' + random.integer(0, 2));
        return made;
    };
    for (int i = 0; i < 500; ++i) {
        const std::string a = word(), b = word(), c = word();
        CHECK(edit_distance(a, b) == edit_distance(b, a));
        CHECK(edit_distance(a, c) <= edit_distance(a, b) + edit_distance(b, c));
        CHECK((edit_distance(a, b) == 0) == (a == b));
    }
}

TEST_CASE("the nearest word, and none when nothing is near") {
    const std::vector<std::string> known = {"width", "depth", "height"};
    CHECK(nearest_word("widht", known) == "width");
    CHECK(nearest_word("heigth", known) == "height");
    CHECK(nearest_word("colour", known).empty());
    CHECK(nearest_word(std::string(100000, 'w'), known).empty());
}

TEST_CASE("ids") {
    CHECK(is_id("a"));
    CHECK(is_id("0-rope-12"));
    CHECK(is_id(std::string(64, 'a')));
    CHECK(!is_id(std::string(65, 'a')));
    for (const char* text : {"", "-a", "A", "a_b", "a b", "\xC3\xA4"})
        CHECK(!is_id(text));
    CHECK(is_label_id("R1"));
    CHECK(!is_label_id("R 1"));
}

TEST_CASE("colours and days") {
    CHECK(is_colour("#6f7F86"));
    for (const char* text : {"", "#6f7f8", "#6f7f867", "6f7f860", "#6f7f8g"})
        CHECK(!is_colour(text));
    for (const char* text : {"2026-11-25", "2024-02-29", "2000-02-29", "2026-12-31"})
        CHECK(is_date(text));
    for (const char* text : {"2026-02-29", "1900-02-29", "2026-13-01", "2026-00-10", "2026-04-31",
                             "2026-11-00", "26-11-25", "2026/11/25", "2026-11-2x"})
        CHECK(!is_date(text));
}
