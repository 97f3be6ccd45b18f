// Where a thing is and which way it looks; the one place that states the order of turns.
//
// Axes: right-handed, Z up, X to the visitor's right along the front baseline, Y away from the
// visitor. A model's own front is -Y, its own right is -X. Facing turns clockwise seen from above,
// 0 = towards the front. Tilt leans towards the thing's own front, roll towards its own right.
// rotation = Rz(-facing) * Rx(tilt) * Ry(-roll): roll first, facing last.
#pragma once

#include <glm/mat3x3.hpp>
#include <glm/vec3.hpp>

namespace standpoint {

struct Frame {
    glm::dmat3 rotation{1.0}; // orthonormal, determinant +1
    glm::dvec3 origin{0.0};   // mm
};

glm::dmat3 rotation_of(double facing_deg, double tilt_deg, double roll_deg);
Frame compose(const Frame& outer, const Frame& inner); // inner is given in outer's axes
Frame inverse(const Frame& frame);
glm::dvec3 to_outer(const Frame& frame, const glm::dvec3& point_mm);
glm::dvec3 to_inner(const Frame& frame, const glm::dvec3& point_mm);

struct Turns {
    double facing_deg = 0; // [0, 360)
    double tilt_deg = 0;   // [-90, 90]
    double roll_deg = 0;   // (-180, 180]
};
Turns turns_of(const glm::dmat3& rotation); // inverse of rotation_of; roll is 0 at tilt +-90

glm::dvec3 front_of(const glm::dmat3& rotation); // unit vector the thing's front points along

} // namespace standpoint
