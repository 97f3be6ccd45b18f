// Figures by name: the skeletons and poses that come with the program, those beside a scene, and
// what a window asks of a figure in a scene.
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "base/files.h"
#include "base/result.h"
#include "figure/kinematics.h"
#include "figure/pose.h"
#include "figure/skeleton.h"
#include "scene/form.h"

namespace standpoint {

// By name.
const std::vector<std::shared_ptr<const Skeleton>>& built_in_skeletons();
const std::vector<std::shared_ptr<const Pose>>& built_in_poses();

// A name ending in .json is a file beside `scene_file`, read anew each time; any other is built in.
// Errors (input): no such name, with the nearest one; path_beside's; those of the reader; io.
Result<std::shared_ptr<const Skeleton>>
find_skeleton(std::string_view name, const std::string& scene_file, const FileAccess& files);
// The empty name is the neutral stance.
Result<std::shared_ptr<const Pose>> find_pose(std::string_view name, const std::string& scene_file,
                                              const FileAccess& files);

// A figure of a scene with all it refers to.
struct Figure {
    std::shared_ptr<const Skeleton> skeleton;
    std::shared_ptr<const Pose> pose;
    std::vector<JointTurn> turns;  // of the form
    std::vector<JointTurn> solved; // likewise, over the turns
    double stature_mm = 0;
    FigureDress dress; // the form's, and where it is silent the skeleton's
};
// Errors: those of find_skeleton and find_pose; a turn of a joint or axis the skeleton lacks.
Result<Figure> find_figure(const FigureForm& form, const std::string& scene_file,
                           const FileAccess& files);
std::vector<JointTurn> all_turns(const Figure& figure); // with what was solved
Posed posed(const Figure& figure);
std::vector<BrokenLimit> broken_limits(const Figure& figure);

// Degrees; joint and axis must be there.
double angle_of(const Figure& figure, std::string_view joint, std::string_view axis);

// The form with one axis turned, held within the range of the skeleton; other turns are kept.
FigureForm with_turn(const FigureForm& form, const Skeleton& skeleton, std::string_view joint,
                     std::string_view axis, double angle_deg);
FigureForm without_turn(const FigureForm& form, std::string_view joint, std::string_view axis);
// 0 or less: not set, so that the skeleton's own is used.
FigureForm with_stature(const FigureForm& form, double stature_mm);

} // namespace standpoint
