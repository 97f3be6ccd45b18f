// Every colour of the window, light and dark, in one place, and the sums that check them.
#pragma once

#include <cstdint>

namespace standpoint {

struct Colour { // sRGB, opaque unless said
    std::uint8_t r = 0, g = 0, b = 0, a = 255;
    friend bool operator==(const Colour&, const Colour&) = default;
};

struct Palette {
    Colour board;      // behind all panels
    Colour panel;      // of a panel
    Colour field;      // of what can be typed in or pressed
    Colour field_over; // the same under the pointer
    Colour rule;       // thin lines that part things; carries no meaning
    Colour frame;      // the outline of what can be typed in or pressed: 3:1 on panel
    Colour ink;        // text
    Colour ink_quiet;  // second-rank text, still 4.5:1
    Colour paper;      // drawings: plan, front and side
    Colour line;       // edges of pieces in drawings
    Colour grid, grid_strong;
    Colour section; // outlines of the base's sections
    Colour path;    // the visitor path
    Colour picked;  // what is selected, and where the keyboard is
    Colour over;    // what the pointer is on
    Colour guide;   // snapping guides and the measuring line
    Colour good, warn, fail;
    Colour on_picked;              // text on `picked`
    Colour horizon, zenith, floor; // of round and eye views
};

const Palette& light_palette();
const Palette& dark_palette();

// WCAG 2.2, "relative luminance" and "contrast ratio": 0..1 and 1..21. Alpha is not looked at.
double relative_luminance(const Colour& colour);
double contrast_ratio(const Colour& a, const Colour& b);

enum class ColourSight { full, no_red, no_green, no_blue };
// What a colour becomes to an eye without one kind of cone (projection in linear RGB; see the
// source file for where its figures are from).
Colour as_seen_by(ColourSight sight, const Colour& colour);
// CIE 1976 lightness and colour difference under D65.
double lightness(const Colour& colour);
double colour_difference(const Colour& a, const Colour& b);

Colour mixed(const Colour& a, const Colour& b, double share_of_b);
Colour with_alpha(Colour colour, double alpha);

} // namespace standpoint
