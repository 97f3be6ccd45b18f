// Figures by name.
#include "figure/figures.h"

#include <algorithm>

#include "base/check.h"
#include "figure/built_in_data.h"
#include "scene/text.h"

namespace standpoint {

namespace {

template <class T, class Read>
std::vector<std::shared_ptr<const T>> read_all(const BuiltInFile* begin, const BuiltInFile* end,
                                               const Read& read) {
    std::vector<std::shared_ptr<const T>> all;
    for (const BuiltInFile* file = begin; file != end; ++file) {
        Result<T> made = read(file->text, std::string(file->name));
        STANDPOINT_CHECK(made.ok()); // the tests read every file that is built in
        all.push_back(std::make_shared<const T>(std::move(*made)));
    }
    return all;
}

template <class T, class Read>
Result<std::shared_ptr<const T>>
find(std::string_view name, const std::string& scene_file, const FileAccess& files,
     const char* what, const std::vector<std::shared_ptr<const T>>& built_in, const Read& read) {
    if (name.ends_with(".json")) {
        STANDPOINT_TRY(path, path_beside(scene_file, std::string(name)));
        STANDPOINT_TRY(text, files.read(path));
        STANDPOINT_TRY(made, read(text, path));
        return std::make_shared<const T>(std::move(made));
    }
    std::vector<std::string> names;
    for (const auto& known : built_in) {
        if (known->name == name) return known;
        names.push_back(known->name);
    }
    const std::string near = nearest_word(name, names);
    return input_error("", "found " + in_quotes(name) + ", expected the name of a built-in " +
                               what + (near.empty() ? "" : " such as " + in_quotes(near)));
}

void fill(std::string& colour, const std::string& own) {
    if (colour.empty()) colour = own;
}

FigureDress dressed(const FigureDress& wanted, const FigureDress& own) {
    FigureDress made = wanted;
    fill(made.skin, own.skin);
    fill(made.hair, own.hair);
    fill(made.coat, own.coat);
    fill(made.shoes, own.shoes);
    fill(made.hat, own.hat);
    if (made.trousers.empty()) fill(made.skirt, own.skirt);
    fill(made.trousers, own.trousers);
    // The own hem is that of the coat or skirt it comes with.
    if (!made.hem && made.skirt == own.skirt) made.hem = own.hem;
    return made;
}

Status check_turns(const std::vector<JointTurn>& turns, const Skeleton& skeleton) {
    for (const JointTurn& turn : turns) {
        std::vector<std::string> names;
        for (const Joint& joint : skeleton.joints)
            names.push_back(joint.name);
        const int joint = joint_index(skeleton, turn.joint);
        std::string near = nearest_word(turn.joint, names);
        if (joint < 0)
            return input_error("", "found a turn of " + in_quotes(turn.joint) +
                                       ", expected a joint of " + in_quotes(skeleton.name) +
                                       (near.empty() ? "" : " such as " + in_quotes(near)));
        if (axis_index(skeleton.joints[joint], turn.axis) >= 0) continue;
        names.clear();
        for (const JointAxis& axis : skeleton.joints[joint].axes)
            names.push_back(axis.name);
        near = names.empty() ? "" : names.front();
        return input_error("", "found a turn of " + in_quotes(turn.joint) + " about " +
                                   in_quotes(turn.axis) + ", expected one of its axes" +
                                   (near.empty() ? "" : " such as " + in_quotes(near)));
    }
    return Done{};
}

} // namespace

const std::vector<std::shared_ptr<const Skeleton>>& built_in_skeletons() {
    static const auto all = read_all<Skeleton>(
        built_in_skeleton_files, built_in_skeleton_files + built_in_skeleton_count, read_skeleton);
    return all;
}

const std::vector<std::shared_ptr<const Pose>>& built_in_poses() {
    static const auto all =
        read_all<Pose>(built_in_pose_files, built_in_pose_files + built_in_pose_count, read_pose);
    return all;
}

Result<std::shared_ptr<const Skeleton>>
find_skeleton(std::string_view name, const std::string& scene_file, const FileAccess& files) {
    return find(name, scene_file, files, "skeleton", built_in_skeletons(), read_skeleton);
}

Result<std::shared_ptr<const Pose>> find_pose(std::string_view name, const std::string& scene_file,
                                              const FileAccess& files) {
    if (name.empty()) return std::make_shared<const Pose>();
    return find(name, scene_file, files, "pose", built_in_poses(), read_pose);
}

Result<Figure> find_figure(const FigureForm& form, const std::string& scene_file,
                           const FileAccess& files) {
    STANDPOINT_TRY(skeleton, find_skeleton(form.skeleton, scene_file, files));
    STANDPOINT_TRY(pose, find_pose(form.pose, scene_file, files));
    STANDPOINT_TRY_STATUS(check_turns(form.turns, *skeleton));
    STANDPOINT_TRY_STATUS(check_turns(form.solved, *skeleton));
    return Figure{skeleton,
                  pose,
                  form.turns,
                  form.solved,
                  form.stature ? form.stature->mm : skeleton->stature,
                  dressed(form.dress, skeleton->dress)};
}

std::vector<JointTurn> all_turns(const Figure& figure) {
    std::vector<JointTurn> turns = figure.turns;
    turns.insert(turns.end(), figure.solved.begin(), figure.solved.end());
    return turns;
}

Posed posed(const Figure& figure) {
    return posed(*figure.skeleton, joint_angles(*figure.skeleton, *figure.pose, all_turns(figure)),
                 figure.pose->stance, figure.pose->seat_on_ground, figure.stature_mm);
}

std::vector<BrokenLimit> broken_limits(const Figure& figure) {
    return broken_limits(*figure.skeleton, *figure.pose, all_turns(figure));
}

double angle_of(const Figure& figure, std::string_view joint, std::string_view axis) {
    const int index = joint_index(*figure.skeleton, joint);
    STANDPOINT_CHECK(index >= 0);
    const int about = axis_index(figure.skeleton->joints[index], axis);
    STANDPOINT_CHECK(about >= 0);
    return joint_angles(*figure.skeleton, *figure.pose, all_turns(figure))[index][about];
}

FigureForm with_turn(const FigureForm& form, const Skeleton& skeleton, std::string_view joint,
                     std::string_view axis, double angle_deg) {
    const int index = joint_index(skeleton, joint);
    STANDPOINT_CHECK(index >= 0);
    const int about = axis_index(skeleton.joints[index], axis);
    STANDPOINT_CHECK(about >= 0);
    const JointAxis& range = skeleton.joints[index].axes[about];
    const Angle angle(std::clamp(angle_deg, range.least, range.most));
    FigureForm made = form;
    for (JointTurn& turn : made.turns)
        if (turn.joint == joint && turn.axis == axis) {
            turn.angle = angle;
            return made;
        }
    made.turns.push_back({std::string(joint), std::string(axis), angle});
    return made;
}

FigureForm without_turn(const FigureForm& form, std::string_view joint, std::string_view axis) {
    FigureForm made = form;
    std::erase_if(made.turns,
                  [&](const JointTurn& turn) { return turn.joint == joint && turn.axis == axis; });
    return made;
}

FigureForm with_stature(const FigureForm& form, double stature_mm) {
    FigureForm made = form;
    made.stature.reset();
    if (stature_mm > 0) made.stature = Length(stature_mm);
    return made;
}

} // namespace standpoint
