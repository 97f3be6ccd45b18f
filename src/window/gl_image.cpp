// Means of light, looked up in tables.
#include "window/gl_image.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace standpoint {

namespace {

constexpr int steps = 4096; // of linear light

std::array<float, 256> linear_table() {
    std::array<float, 256> out{};
    for (std::size_t i = 0; i < out.size(); ++i)
        out[i] = linear_of_srgb(static_cast<std::uint8_t>(i));
    return out;
}

std::array<std::uint8_t, steps + 1> byte_table() { // IEC 61966-2-1
    std::array<std::uint8_t, steps + 1> out{};
    for (std::size_t i = 0; i < out.size(); ++i) {
        const double c = static_cast<double>(i) / steps;
        const double s = c <= 0.0031308 ? 12.92 * c : 1.055 * std::pow(c, 1 / 2.4) - 0.055;
        out[i] = static_cast<std::uint8_t>(std::lround(s * 255));
    }
    return out;
}

} // namespace

Image halved(const Image& image) {
    Image out;
    if (image.rgba.empty() || (image.width <= 1 && image.height <= 1)) return out;
    static const std::array<float, 256> linear = linear_table();
    static const std::array<std::uint8_t, steps + 1> bytes = byte_table();
    out.width = std::max(image.width / 2, 1);
    out.height = std::max(image.height / 2, 1);
    out.rgba.resize(static_cast<std::size_t>(out.width) * static_cast<std::size_t>(out.height) * 4);
    const auto texel_at = [&](int x, int y) {
        const int column = std::min(x, image.width - 1), row = std::min(y, image.height - 1);
        return image.rgba.data() +
               (static_cast<std::size_t>(row) * static_cast<std::size_t>(image.width) +
                static_cast<std::size_t>(column)) *
                   4;
    };
    std::uint8_t* to = out.rgba.data();
    for (int y = 0; y < out.height; ++y)
        for (int x = 0; x < out.width; ++x, to += 4) {
            const std::uint8_t* of[] = {texel_at(2 * x, 2 * y), texel_at(2 * x + 1, 2 * y),
                                        texel_at(2 * x, 2 * y + 1), texel_at(2 * x + 1, 2 * y + 1)};
            for (int c = 0; c < 3; ++c) {
                const float sum =
                    linear[of[0][c]] + linear[of[1][c]] + linear[of[2][c]] + linear[of[3][c]];
                to[c] = bytes[static_cast<std::size_t>(sum * (steps / 4.0f) + 0.5f)];
            }
            to[3] = static_cast<std::uint8_t>((of[0][3] + of[1][3] + of[2][3] + of[3][3] + 2) / 4);
        }
    return out;
}

} // namespace standpoint
