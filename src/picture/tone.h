// From radiance to what a screen shows.
#pragma once

#include <cstdint>

#include <glm/vec3.hpp>

namespace standpoint {

// IEC 61966-2-1 transfer curve and its inverse, both on [0, 1].
double srgb_of_linear(double linear);
double linear_of_srgb(double encoded);

// A gentle film curve: deep in the shadows, rolled off towards 1 in the lights, never turning.
double film(double radiance);

// The three bytes of a pixel.
struct Rgb8 {
    std::uint8_t r = 0, g = 0, b = 0;
};
Rgb8 developed(const glm::dvec3& radiance, double exposure);

} // namespace standpoint
