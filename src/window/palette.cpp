// The two palettes: cool drawing-office paper by day, blue slate by night.
#include "window/palette.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace standpoint {

namespace {

constexpr Colour rgb(unsigned hex) {
    return {static_cast<std::uint8_t>(hex >> 16 & 255), static_cast<std::uint8_t>(hex >> 8 & 255),
            static_cast<std::uint8_t>(hex & 255), 255};
}

double linear(std::uint8_t channel) {
    const double c = channel / 255.0;
    return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}

std::uint8_t encoded(double value) {
    const double c = std::clamp(value, 0.0, 1.0);
    const double s = c <= 0.0031308 ? c * 12.92 : 1.055 * std::pow(c, 1 / 2.4) - 0.055;
    return static_cast<std::uint8_t>(std::lround(s * 255));
}

using Three = std::array<double, 3>;
using Matrix = std::array<Three, 3>;

Three times(const Matrix& m, const Three& v) {
    Three out{};
    for (std::size_t i = 0; i < 3; ++i)
        out[i] = m[i][0] * v[0] + m[i][1] * v[1] + m[i][2] * v[2];
    return out;
}

// Machado, Oliveira and Fernandes 2009, severity 1.0; from memory.
constexpr Matrix no_red = {{{0.152286, 1.052583, -0.204868},
                            {0.114503, 0.786281, 0.099216},
                            {-0.003882, -0.048116, 1.051998}}};
constexpr Matrix no_green = {{{0.367322, 0.860646, -0.227968},
                              {0.280085, 0.672501, 0.047413},
                              {-0.011820, 0.042940, 0.968881}}};
constexpr Matrix no_blue = {{{1.255528, -0.076749, -0.178779},
                             {-0.078411, 0.930809, 0.147602},
                             {0.004733, 0.691367, 0.303900}}};

Three lab(const Colour& colour) {
    const double r = linear(colour.r), g = linear(colour.g), b = linear(colour.b);
    // IEC 61966-2-1 primaries to CIE XYZ, divided by the D65 white.
    const Three xyz = {(0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505,
                       0.2126 * r + 0.7152 * g + 0.0722 * b,
                       (0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089};
    const auto f = [](double t) {
        constexpr double d = 6.0 / 29.0;
        return t > d * d * d ? std::cbrt(t) : t / (3 * d * d) + 4.0 / 29.0;
    };
    const double fx = f(xyz[0]), fy = f(xyz[1]), fz = f(xyz[2]);
    return {116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)};
}

} // namespace

const Palette& light_palette() {
    static const Palette palette = {.board = rgb(0xd9dfe4),
                                    .panel = rgb(0xf1f4f6),
                                    .field = rgb(0xffffff),
                                    .field_over = rgb(0xe2eaf1),
                                    .rule = rgb(0xc5ced6),
                                    .frame = rgb(0x798793),
                                    .ink = rgb(0x1b2733),
                                    .ink_quiet = rgb(0x4d5b68),
                                    .paper = rgb(0xfbfcfc),
                                    .line = rgb(0x22303c),
                                    .grid = rgb(0xe3e9ee),
                                    .grid_strong = rgb(0xcdd7df),
                                    .section = rgb(0x5b6b79),
                                    .path = rgb(0x2f6f8f),
                                    .picked = rgb(0x14609c),
                                    .over = rgb(0x3f87bd),
                                    .guide = rgb(0x5c1f57),
                                    .good = rgb(0x0b6e5b),
                                    .warn = rgb(0x8a5a00),
                                    .fail = rgb(0x8f1410),
                                    .on_picked = rgb(0xffffff),
                                    .horizon = rgb(0xe9eef1),
                                    .zenith = rgb(0xc9d6df),
                                    .floor = rgb(0xd4d8d8)};
    return palette;
}

const Palette& dark_palette() {
    static const Palette palette = {.board = rgb(0x12181e),
                                    .panel = rgb(0x1c242c),
                                    .field = rgb(0x27323c),
                                    .field_over = rgb(0x33424f),
                                    .rule = rgb(0x36434f),
                                    .frame = rgb(0x7b8b99),
                                    .ink = rgb(0xe6edf2),
                                    .ink_quiet = rgb(0xaab8c4),
                                    .paper = rgb(0x202a33),
                                    .line = rgb(0xd3dde5),
                                    .grid = rgb(0x28343e),
                                    .grid_strong = rgb(0x354450),
                                    .section = rgb(0x93a4b3),
                                    .path = rgb(0x6fb6d6),
                                    .picked = rgb(0x6bb8f0),
                                    .over = rgb(0x93c9f2),
                                    .guide = rgb(0xf3c8ec),
                                    .good = rgb(0x5fd0b4),
                                    .warn = rgb(0xe6b450),
                                    .fail = rgb(0xff8c78),
                                    .on_picked = rgb(0x0d1720),
                                    .horizon = rgb(0x3a4650),
                                    .zenith = rgb(0x222c35),
                                    .floor = rgb(0x4a525a)};
    return palette;
}

double relative_luminance(const Colour& colour) {
    return 0.2126 * linear(colour.r) + 0.7152 * linear(colour.g) + 0.0722 * linear(colour.b);
}

double contrast_ratio(const Colour& a, const Colour& b) {
    const double one = relative_luminance(a) + 0.05, other = relative_luminance(b) + 0.05;
    return std::max(one, other) / std::min(one, other);
}

Colour as_seen_by(ColourSight sight, const Colour& colour) {
    if (sight == ColourSight::full) return colour;
    const Matrix& matrix = sight == ColourSight::no_red     ? no_red
                           : sight == ColourSight::no_green ? no_green
                                                            : no_blue;
    const Three seen = times(matrix, {linear(colour.r), linear(colour.g), linear(colour.b)});
    return {encoded(seen[0]), encoded(seen[1]), encoded(seen[2]), colour.a};
}

double lightness(const Colour& colour) {
    return lab(colour)[0];
}

double colour_difference(const Colour& a, const Colour& b) {
    const Three one = lab(a), other = lab(b);
    return std::hypot(one[0] - other[0], one[1] - other[1], one[2] - other[2]);
}

Colour mixed(const Colour& a, const Colour& b, double share_of_b) {
    const auto mix = [&](std::uint8_t x, std::uint8_t y) {
        return static_cast<std::uint8_t>(std::lround(x + (y - x) * share_of_b));
    };
    return {mix(a.r, b.r), mix(a.g, b.g), mix(a.b, b.b), mix(a.a, b.a)};
}

Colour with_alpha(Colour colour, double alpha) {
    colour.a = static_cast<std::uint8_t>(std::lround(std::clamp(alpha, 0.0, 1.0) * 255));
    return colour;
}

} // namespace standpoint
