// What a figure in a piece is, as a person sets it: skeleton, pose, stature and the turn of each
// joint. Angles are degrees from the neutral stance, statures millimetres of the original.
// Edits take the first part of the piece that is a figure; one without is a programmer error.
// Errors everywhere (input): unknown id, a locked piece, or a value that validate refuses.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "desk/piece_ids.h"
#include "figure/figures.h"
#include "scene/edit.h"

namespace standpoint {

const FigureForm* figure_form(const Piece& piece); // null: no part of it is a figure

struct HeldFigure { // with all it refers to
    FigureForm form;
    Figure figure;
};
// Nothing when no part of the piece is a figure. Errors: those of find_figure.
Result<std::optional<HeldFigure>> held_figure(const Piece& piece, const std::string& scene_file,
                                              const FileAccess& files);

// -- the joints, by part of the body --

struct AxisRow {
    std::string axis, trade;     // "flexion", "bend forward"
    double least = 0, most = 0;  // degrees
    double angle = 0, posed = 0; // now, and as the pose alone has it
    bool turned = false;         // by hand, over the pose
    bool solved = false;         // by what the figure touches or looks at, over both
    bool beyond() const { return angle < least - 0.01 || angle > most + 0.01; }
};
struct JointRow {
    std::string joint, trade; // "left elbow"
    std::vector<AxisRow> axes;
    bool turned() const;
};
struct JointGroup {
    std::string name; // "Body", "Head and neck", "Left arm"
    std::vector<JointRow> joints;
    int turned() const; // joints turned by hand
};
// Every joint that turns, each in one group: what carries limbs is the body, each chain of joints
// that hangs from it is a group of its own.
std::vector<JointGroup> joint_groups(const Figure& figure);

// -- the poses --

struct PoseChoice {
    std::shared_ptr<const Pose> pose;
    int taken = 0, all = 0; // angles the skeleton has, of those the pose gives
    bool fits() const { return taken == all; }
};
// The built-in poses worth offering: those that fit first, then those the skeleton takes a good
// part of; by name.
std::vector<PoseChoice> pose_choices(const Skeleton& skeleton);

std::string title_of_name(const std::string& name); // "standing-easy" -> "Standing easy"

// -- the dress --

enum class DressPart { skin, hair, coat, trousers, skirt, shoes, hat };
inline constexpr const char* dress_part_names[] = {"Skin",  "Hair",  "Coat", "Trousers",
                                                   "Skirt", "Shoes", "Hat"};
const std::string& dress_colour(const FigureDress& dress, DressPart part);

// -- edits, one undo step each --

// Turns of joints and axes and touches of contacts that the new one lacks are left out, and so is a
// pose it takes little of.
Result<Edit> set_skeleton(const Document& document, const std::string& id,
                          const Skeleton& skeleton);
Result<Edit> set_pose(const Document& document, const std::string& id, const std::string& name);
// Nothing: the skeleton's own.
Result<Edit> set_stature(const Document& document, const std::string& id,
                         const std::optional<Length>& stature);
// Held within the range of the joint.
Result<Edit> set_joint(const Document& document, const std::string& id, const Skeleton& skeleton,
                       const std::string& joint, const std::string& axis, double angle_deg);
// "#rrggbb"; "": the skeleton's own (skirt: trousers instead; hat: bare-headed).
Result<Edit> set_dress(const Document& document, const std::string& id, DressPart part,
                       const std::string& colour);
// Back to the pose.
Result<Edit> reset_joint(const Document& document, const std::string& id, const std::string& joint);
Result<Edit> reset_joints(const Document& document, const std::string& id);

} // namespace standpoint
