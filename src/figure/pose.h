// How a figure holds itself: angles by joint role, on top of the neutral stance. Poses are JSON
// files (pose.schema.json) named by what the person does, and fit every skeleton that has their
// joints; a joint the skeleton lacks is passed over.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "figure/skeleton.h"
#include "scene/form.h"

namespace standpoint {

enum class Stance { standing, sitting };
inline constexpr const char* stance_names[] = {"standing", "sitting"};

struct Pose {
    std::string name, description;
    // Standing: the origin is between the soles. Sitting: under the pelvis. Both on the ground,
    // which is where the lowest sole is.
    Stance stance = Stance::standing;
    bool seat_on_ground = false; // what it sits on is the ground: the seat counts with the soles
    std::vector<JointTurn> angles;
};

// Errors (input), with line, column and pointer: as the schema says; an angle beyond 360 degrees
// either way; an axis given twice.
Result<Pose> read_pose(std::string_view json, const std::string& file);

// As a file's text; reads back as the same pose.
std::string write_pose(const Pose& pose);

// Left and right exchanged. Axes are given so that a mirrored joint has the same sign, but for
// turns and side bends in the middle of the body, which change theirs.
Pose mirrored(const Skeleton& skeleton, const Pose& pose);

// Whether the skeleton has every joint and axis the pose names.
bool fits(const Skeleton& skeleton, const Pose& pose);

// The angles of one joint, one for each of its axes.
using JointAngles = std::vector<double>;

// By joint. Later turns take the place of earlier ones; what the skeleton lacks is passed over.
std::vector<JointAngles> joint_angles(const Skeleton& skeleton, const Pose& pose,
                                      const std::vector<JointTurn>& turns = {});

struct BrokenLimit {
    std::string joint, axis;
    double found = 0, least = 0, most = 0; // degrees
};
// Angles outside their range are read and drawn as they are; this says which. A hundredth of a
// degree is let pass.
std::vector<BrokenLimit> broken_limits(const Skeleton& skeleton, const Pose& pose,
                                       const std::vector<JointTurn>& turns = {});

} // namespace standpoint
