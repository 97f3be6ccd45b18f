// The sRGB curve against its standard, and the film curve's shape.
#include <cmath>

#include <doctest/doctest.h>

#include "picture/tone.h"

using namespace standpoint;

TEST_CASE("sRGB encoding and decoding") {
    // IEC 61966-2-1: 12.92 x below 0.0031308, 1.055 x^(1/2.4) - 0.055 above. Middle grey 18 % is
    // 118 of 255 when encoded: 255 * (1.055 * 0.18^(1/2.4) - 0.055) = 117.7, computed by hand.
    CHECK(std::abs(255 * srgb_of_linear(0.18) - 117.7) < 0.1);
    CHECK(srgb_of_linear(0) == 0);
    CHECK(std::abs(srgb_of_linear(1) - 1) < 1e-12);
    CHECK(std::abs(srgb_of_linear(0.0031307) - 12.92 * 0.0031307) < 1e-15);
    CHECK(std::abs(srgb_of_linear(0.0031309) - 12.92 * 0.0031309) < 1e-6); // the two parts meet
    for (double x = 0; x <= 1; x += 1.0 / 64) {
        CHECK(std::abs(linear_of_srgb(srgb_of_linear(x)) - x) < 1e-9);
    }
}

TEST_CASE("the film curve rises from black to white and never turns") {
    CHECK(film(0) == 0);
    CHECK(film(-1) == 0);
    double before = -1;
    for (double x = 0; x < 2.7; x += 0.01) {
        CHECK(film(x) > before);
        CHECK(film(x) < 1);
        before = film(x);
    }
    CHECK(std::abs(film(2.8) - 1) < 1e-12);
    CHECK(film(1000) == 1);
}

TEST_CASE("a developed grey stays grey, and exposure scales the light") {
    const Rgb8 grey = developed({0.3, 0.3, 0.3}, 1);
    CHECK((grey.r == grey.g && grey.g == grey.b));
    const Rgb8 twice = developed({0.15, 0.15, 0.15}, 2);
    CHECK(twice.r == grey.r);
    const Rgb8 white = developed({50, 50, 50}, 1), black = developed({0, 0, 0}, 1);
    CHECK((white.r == 255 && black.r == 0));
}
