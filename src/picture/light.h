// The light of the hall: a bright ceiling as a sky, one large soft lamp, and a display that is lit
// better than the room around it.
#pragma once

#include <functional>

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include "shape/staging.h"

namespace standpoint {

struct Light {
    // Radiance that arrives along a unit direction pointing away from the surface; below the
    // horizon it is what the floor sends back.
    std::function<glm::dvec3(const glm::dvec3& direction)> sky;
    glm::dvec3 sun_direction{0, 0, 1}; // towards it, unit
    double sun_half_angle_deg = 5;
    glm::dvec3 sun{0.0}; // irradiance square to it
    // Radiance of what stands in the way of the sky, before the surface's own colour is taken.
    glm::dvec3 bounce{0.0};
    // Light falls off around a lit circle on the plan: full inside, `dim` from twice its radius.
    glm::dvec2 lit_middle{0.0};
    double lit_radius = 0; // 0: the same everywhere
    double dim = 1;
    double exposure = 1; // a radiance of 1/exposure becomes middling bright
    bool floor = true;   // draw the hall's floor at z = 0
};

Light hall_light(const Staging& staging);

// Share of the full light that reaches a place.
double light_share(const Light& light, const glm::dvec3& place);

} // namespace standpoint
