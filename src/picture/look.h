// What a surface looks like where a ray meets it: colour, normals and how much it lets through.
#pragma once

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include "shape/ray_index.h"
#include "shape/staging.h"

namespace standpoint {

struct Look {
    glm::dvec3 place{0.0};
    glm::dvec3 flat_normal{0.0}; // of the triangle, unit, towards the eye
    glm::dvec3 normal{0.0};      // smoothed, unit, towards the eye
    glm::dvec3 colour{0.0};      // linear reflectance
    double lets_through = 0;
    double gloss = 0; // mirrored share seen straight on
};

// `direction` is that of the ray, unit.
Look look_at_crossing(const Staging& staging, const Crossing& crossing, const glm::dvec3& origin,
                      const glm::dvec3& direction);

// The hall's floor of pale concrete at a place where z = 0.
Look look_at_floor(const glm::dvec3& place);

// Colour of a texture between texels, linear; white without an image.
glm::dvec3 smooth_texel(const Material& material, const glm::vec2& uv);

} // namespace standpoint
