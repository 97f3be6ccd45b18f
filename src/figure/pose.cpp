// Poses: reading and writing, angles by joint, mirroring, limits.
#include "figure/pose.h"

#include <cmath>
#include <map>
#include <set>

#include "figure/pose_file.h"
#include "scene/json_reader.h"
#include "scene/json_writer.h"
#include "scene/problem.h"

namespace standpoint {

namespace {

constexpr double largest_turn_deg = 360;
constexpr double limit_slack_deg = 0.01;

Trouble check(const Pose& pose) {
    std::set<std::pair<std::string_view, std::string_view>> seen;
    for (std::size_t i = 0; i < pose.angles.size(); ++i) {
        const JointTurn& turn = pose.angles[i];
        const std::string at = "/angles/" + std::to_string(i);
        if (!(std::abs(turn.angle.deg) <= largest_turn_deg))
            return trouble(at + "/angle", "found " + print_exact(turn.angle.deg) +
                                              " degrees, expected at most 360 either way");
        if (!seen.emplace(turn.joint, turn.axis).second)
            return trouble(at, "found " + in_quotes(turn.axis) + " of " + in_quotes(turn.joint) +
                                   " a second time, expected each axis once");
    }
    return std::nullopt;
}

std::string other_side(const std::string& name) {
    if (name.starts_with("left ")) return "right " + name.substr(5);
    if (name.starts_with("right ")) return "left " + name.substr(6);
    return name;
}

// Turned by a mirror: an axis that is not across the body, of a joint that has no other side.
bool changes_sign(const Skeleton& skeleton, const JointTurn& turn) {
    if (other_side(turn.joint) != turn.joint) return false;
    const int joint = joint_index(skeleton, turn.joint);
    if (joint < 0) return false;
    const int axis = axis_index(skeleton.joints[joint], turn.axis);
    return axis >= 0 && skeleton.joints[joint].axes[axis].about.x == 0;
}

} // namespace

Result<Pose> read_pose(std::string_view json, const std::string& file) {
    STANDPOINT_TRY(root, read_json_tree(json, file));
    FieldReader reader(json, file, root);
    Pose pose;
    if (!reader.read(root, pose)) return reader.error();
    if (const Trouble fault = check(pose)) {
        reader.fail(byte_of(root, fault->pointer), fault->message);
        return reader.error();
    }
    return pose;
}

std::string write_pose(const Pose& pose) {
    return lay_out(written(pose));
}

Pose mirrored(const Skeleton& skeleton, const Pose& pose) {
    Pose made = pose;
    for (JointTurn& turn : made.angles) {
        if (changes_sign(skeleton, turn)) turn.angle = Angle(-turn.angle.deg);
        turn.joint = other_side(turn.joint);
    }
    return made;
}

bool fits(const Skeleton& skeleton, const Pose& pose) {
    for (const JointTurn& turn : pose.angles) {
        const int joint = joint_index(skeleton, turn.joint);
        if (joint < 0 || axis_index(skeleton.joints[joint], turn.axis) < 0) return false;
    }
    return true;
}

std::vector<JointAngles> joint_angles(const Skeleton& skeleton, const Pose& pose,
                                      const std::vector<JointTurn>& turns) {
    std::map<std::string_view, std::size_t> joints;
    std::vector<JointAngles> angles;
    for (std::size_t i = 0; i < skeleton.joints.size(); ++i) {
        joints.emplace(skeleton.joints[i].name, i);
        angles.emplace_back(skeleton.joints[i].axes.size(), 0.0);
    }
    for (const auto* list : {&pose.angles, &turns})
        for (const JointTurn& turn : *list) {
            const auto found = joints.find(turn.joint);
            if (found == joints.end()) continue;
            const int axis = axis_index(skeleton.joints[found->second], turn.axis);
            if (axis >= 0) angles[found->second][axis] = turn.angle.deg;
        }
    return angles;
}

std::vector<BrokenLimit> broken_limits(const Skeleton& skeleton, const Pose& pose,
                                       const std::vector<JointTurn>& turns) {
    const std::vector<JointAngles> angles = joint_angles(skeleton, pose, turns);
    std::vector<BrokenLimit> broken;
    for (std::size_t i = 0; i < angles.size(); ++i)
        for (std::size_t k = 0; k < angles[i].size(); ++k) {
            const JointAxis& axis = skeleton.joints[i].axes[k];
            if (angles[i][k] < axis.least - limit_slack_deg ||
                angles[i][k] > axis.most + limit_slack_deg)
                broken.push_back(
                    {skeleton.joints[i].name, axis.name, angles[i][k], axis.least, axis.most});
        }
    return broken;
}

} // namespace standpoint
