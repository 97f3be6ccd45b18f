// The pinhole: rays through a picture's pixels.
#pragma once

#include <glm/vec3.hpp>

#include "picture/picture.h"

namespace standpoint {

struct Pinhole {
    glm::dvec3 eye{0.0}, forward{0.0}, right{0.0}, up{0.0}; // unit vectors
    double half_width = 1;                                  // tangent of half the field of view
};

Pinhole pinhole_of(const Camera& camera);

// Unit direction through a place in the picture, pixels from its top left corner.
glm::dvec3 direction_through(const Pinhole& pinhole, int width, int height,
                             const glm::dvec2& pixel);

} // namespace standpoint
