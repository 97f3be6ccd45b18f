// OpenGL names that are given back when they go out of use, and programs built from text.
#pragma once

#include <string>

#include <glm/vec2.hpp>

#include "base/result.h"

namespace standpoint {

// Errors (io): what the driver says.
Result<unsigned> link_program(const std::string& vertex, const std::string& fragment);

// A picture that is drawn with several samples a pixel and read as a texture.
struct Canvas {
    unsigned frame = 0, colour = 0, depth = 0; // drawn into
    unsigned flat_frame = 0, texture = 0;      // what it is resolved to
    glm::ivec2 size{0, 0};
};
// Makes a canvas of that size, reusing what is there when it fits.
void fit_canvas(Canvas& canvas, const glm::ivec2& size, int samples);
void resolve(const Canvas& canvas);
void release(Canvas& canvas);

} // namespace standpoint
