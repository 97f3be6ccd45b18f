// The palettes against WCAG 2.2 contrast figures and three kinds of colour-blind reading.
#include "window/palette.h"

#include <cmath>
#include <string>

#include <doctest/doctest.h>

using namespace standpoint;

TEST_CASE("contrast follows the WCAG 2.2 definition") {
    // WCAG 2.2, definition of contrast ratio: 21:1 for black on white, 1:1 for the same.
    CHECK(std::abs(contrast_ratio({0, 0, 0}, {255, 255, 255}) - 21) < 1e-9);
    CHECK(contrast_ratio({90, 20, 7}, {90, 20, 7}) == 1);
    // #767676 on white passes 4.5:1 and #777777 does not: common knowledge of the trade, from
    // memory.
    CHECK(contrast_ratio({0x76, 0x76, 0x76}, {255, 255, 255}) >= 4.5);
    CHECK(contrast_ratio({0x77, 0x77, 0x77}, {255, 255, 255}) < 4.5);
    // CIE: white has lightness 100, black 0.
    CHECK(std::abs(lightness({255, 255, 255}) - 100) < 0.01);
    CHECK(std::abs(lightness({0, 0, 0})) < 0.01);
}

TEST_CASE("texts and controls stand out from what they lie on") {
    for (const Palette* p : {&light_palette(), &dark_palette()}) {
        CAPTURE((p == &light_palette() ? "light" : "dark"));
        // WCAG 2.2 success criterion 1.4.3: text 4.5:1.
        for (const Colour& ground : {p->panel, p->field, p->paper, p->field_over}) {
            CHECK(contrast_ratio(p->ink, ground) >= 4.5);
            CHECK(contrast_ratio(p->ink_quiet, ground) >= 4.5);
        }
        for (const Colour& ground : {p->panel, p->paper, p->field})
            for (const Colour& text : {p->good, p->warn, p->fail, p->picked, p->guide})
                CHECK(contrast_ratio(text, ground) >= 4.5);
        CHECK(contrast_ratio(p->on_picked, p->picked) >= 4.5);
        // 1.4.11: parts of controls and drawings that carry meaning, 3:1.
        CHECK(contrast_ratio(p->frame, p->panel) >= 3);
        for (const Colour& line : {p->line, p->section, p->path, p->picked, p->over, p->guide})
            CHECK(contrast_ratio(line, p->paper) >= 3);
    }
}

TEST_CASE("colours with a meaning stay apart for colour-blind eyes") {
    for (const Palette* p : {&light_palette(), &dark_palette()}) {
        for (const ColourSight sight : {ColourSight::full, ColourSight::no_red,
                                        ColourSight::no_green, ColourSight::no_blue}) {
            CAPTURE(static_cast<int>(sight));
            const auto apart = [&](const Colour& a, const Colour& b) {
                return colour_difference(as_seen_by(sight, a), as_seen_by(sight, b));
            };
            // A difference of 2.3 is just noticeable side by side (from memory); four times that
            // is asked for, and marks carry a shape as well.
            CHECK(apart(p->good, p->fail) > 10);
            CHECK(apart(p->good, p->warn) > 10);
            CHECK(apart(p->warn, p->fail) > 10);
            CHECK(apart(p->picked, p->fail) > 10);
            CHECK(apart(p->guide, p->picked) > 10);
        }
    }
}

TEST_CASE("an eye with all cones sees a colour as it is, greys stay grey for every eye") {
    CHECK(as_seen_by(ColourSight::full, {12, 200, 3}) == Colour{12, 200, 3});
    for (const ColourSight sight :
         {ColourSight::no_red, ColourSight::no_green, ColourSight::no_blue}) {
        const Colour seen = as_seen_by(sight, {120, 120, 120});
        CHECK(std::abs(seen.r - 120) <= 1);
        CHECK(std::abs(seen.g - 120) <= 1);
        CHECK(std::abs(seen.b - 120) <= 1);
    }
}
