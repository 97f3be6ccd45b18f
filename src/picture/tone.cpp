// The film curve and the sRGB encoding.
#include "picture/tone.h"

#include <algorithm>
#include <cmath>

namespace standpoint {
namespace {

// Radiance that just becomes white.
constexpr double white = 2.8;
// A little over 1 deepens the shadows, as paper does.
constexpr double contrast = 1.22;

std::uint8_t byte_of(double linear) {
    return static_cast<std::uint8_t>(
        std::lround(255 * srgb_of_linear(std::clamp(linear, 0.0, 1.0))));
}

} // namespace

double srgb_of_linear(double linear) {
    return linear <= 0.0031308 ? 12.92 * linear : 1.055 * std::pow(linear, 1 / 2.4) - 0.055;
}

double linear_of_srgb(double encoded) {
    return encoded <= 0.04045 ? encoded / 12.92 : std::pow((encoded + 0.055) / 1.055, 2.4);
}

double film(double radiance) {
    const double x = std::max(0.0, radiance);
    // x(1 + x/w^2)/(1 + x) runs from slope 1 at 0 to exactly 1 at w, and never turns.
    return std::pow(std::min(1.0, x * (1 + x / (white * white)) / (1 + x)), contrast);
}

Rgb8 developed(const glm::dvec3& radiance, double exposure) {
    return {byte_of(film(radiance.x * exposure)), byte_of(film(radiance.y * exposure)),
            byte_of(film(radiance.z * exposure))};
}

} // namespace standpoint
