// Where the segments of a posed figure are.
#pragma once

#include <vector>

#include <glm/vec3.hpp>

#include "figure/pose.h"
#include "figure/skeleton.h"
#include "measure/frame.h"

namespace standpoint {

struct PosedContact {
    glm::dvec3 place{0.0};  // middle of its points
    glm::dvec3 normal{0.0}; // unit
};

// All in the axes of the form, millimetres of a figure of the stature that was asked for.
struct Posed {
    double scale = 1;                   // stature over the skeleton's own
    std::vector<Frame> segments;        // by segment: axes and the place of its joint
    std::vector<PosedContact> contacts; // by contact
    glm::dvec3 eyes{0.0};               // between the eyes; the crown where there are none
    glm::dvec3 gaze{0, -1, 0};          // unit
    double seat_height = 0;             // of the seat over the ground; 0 when it has none
    glm::dvec3 centre_of_mass{0.0};
};

// `stature` > 0. `angles` as joint_angles gives them.
Posed posed(const Skeleton& skeleton, const std::vector<JointAngles>& angles, Stance stance,
            bool seat_on_ground, double stature_mm);

// Turns about the joint's axes, the first one outermost.
glm::dmat3 joint_rotation(const Joint& joint, const JointAngles& angles);

} // namespace standpoint
