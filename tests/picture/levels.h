// How bright a picture is, and how much of it is lost at either end.
#pragma once

#include <cmath>

#include "shape/mesh.h"

namespace standpoint::test {

struct Levels { // of the green channel, 0 to 255
    double mean = 0, spread = 0, burnt_share = 0, black_share = 0;
};

inline Levels levels_of(const Image& image) {
    const double count = static_cast<double>(image.width) * image.height;
    Levels out;
    double squares = 0;
    for (std::size_t i = 1; i < image.rgba.size(); i += 4) {
        const double g = image.rgba[i];
        out.mean += g / count;
        squares += g * g / count;
        out.burnt_share += (g >= 253) / count;
        out.black_share += (g <= 3) / count;
    }
    out.spread = std::sqrt(squares - out.mean * out.mean);
    return out;
}

} // namespace standpoint::test
