// Setting what a figure is, and its joints in an order a person finds them in.
#include "desk/figure_fields.h"

#include <algorithm>
#include <functional>

#include "base/check.h"
#include "figure/contact.h"

namespace standpoint {

namespace {

// The edit that gives the figure of a piece another form.
Result<Edit> with_form(const Document& document, const std::string& id, const std::string& label,
                       const std::function<FigureForm(const FigureForm&)>& change) {
    STANDPOINT_TRY_STATUS(check_movable(document, {id}));
    Piece made = *find_piece(document, id);
    const FigureForm* now = figure_form(made);
    STANDPOINT_CHECK(now);
    FigureForm form = change(*now);
    if (form == *now) return Edit(label, std::vector<EditStep>{});
    for (Part& part : made.parts) {
        if (!std::holds_alternative<FigureForm>(part.form)) continue;
        part.form = std::move(form);
        break;
    }
    return Edit(label, ReplacePiece{id, std::make_shared<const Piece>(std::move(made))});
}

constexpr std::string FigureDress::*dress_members[] = {
    &FigureDress::skin,  &FigureDress::hair,  &FigureDress::coat, &FigureDress::trousers,
    &FigureDress::skirt, &FigureDress::shoes, &FigureDress::hat};

// -- groups of joints --

bool has_side(const Joint& joint) {
    return joint.name.starts_with("left ") || joint.name.starts_with("right ");
}

// The joint that each joint hangs from; -1: the ground.
std::vector<int> parents_of(const Skeleton& skeleton) {
    std::vector<int> mover(skeleton.segments.size(), -1);
    for (std::size_t i = 0; i < skeleton.joints.size(); ++i)
        mover[static_cast<std::size_t>(skeleton.joints[i].segment)] = static_cast<int>(i);
    std::vector<int> parents;
    for (const Joint& joint : skeleton.joints)
        parents.push_back(joint.parent < 0 ? -1 : mover[static_cast<std::size_t>(joint.parent)]);
    return parents;
}

// For each joint the topmost one of its chain, or -1 when it belongs to the body.
std::vector<int> chains_of(const Skeleton& skeleton) {
    const std::vector<int> parents = parents_of(skeleton);
    const std::size_t count = skeleton.joints.size();
    std::vector<bool> carries(count, false); // a limb of one side hangs below
    for (std::size_t i = count; i-- > 0;)
        if (parents[i] >= 0 && (carries[i] || has_side(skeleton.joints[i])))
            carries[static_cast<std::size_t>(parents[i])] = true;
    std::vector<int> chains(count, -1);
    for (std::size_t i = 0; i < count; ++i) {
        const bool body = !has_side(skeleton.joints[i]) && (carries[i] || parents[i] < 0);
        if (body) continue;
        const int above = parents[i] < 0 ? -1 : chains[static_cast<std::size_t>(parents[i])];
        chains[i] = above >= 0 ? above : static_cast<int>(i);
    }
    return chains;
}

std::string capital(std::string text) {
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z')
        text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

// What the chain from this joint on is called.
std::string chain_name(const Joint& first) {
    std::string name = first.name;
    const auto exchange = [&](const std::string& end, const char* part) {
        if (name.ends_with(end)) name.replace(name.size() - end.size(), end.size(), part);
    };
    exchange("shoulder", "arm");
    exchange("hip", "leg");
    exchange("neck", "head and neck");
    return capital(name);
}

JointRow row_of(const Figure& figure, const std::vector<JointAngles>& posed, std::size_t index) {
    const Joint& joint = figure.skeleton->joints[index];
    JointRow row{joint.name, joint.trade, {}};
    for (std::size_t i = 0; i < joint.axes.size(); ++i) {
        const JointAxis& axis = joint.axes[i];
        const auto turns = [&](const std::vector<JointTurn>& all) {
            return std::any_of(all.begin(), all.end(), [&](const JointTurn& turn) {
                return turn.joint == joint.name && turn.axis == axis.name;
            });
        };
        row.axes.push_back({axis.name, axis.trade, axis.least, axis.most,
                            angle_of(figure, joint.name, axis.name), posed[index][i],
                            turns(figure.turns), turns(figure.solved)});
    }
    return row;
}

// -- poses --

PoseChoice choice_of(const Skeleton& skeleton, const std::shared_ptr<const Pose>& pose) {
    PoseChoice choice{pose, 0, static_cast<int>(pose->angles.size())};
    for (const JointTurn& turn : pose->angles) {
        const int joint = joint_index(skeleton, turn.joint);
        if (joint >= 0 &&
            axis_index(skeleton.joints[static_cast<std::size_t>(joint)], turn.axis) >= 0)
            ++choice.taken;
    }
    return choice;
}

// A pose of another kind of body shares a neck or a waist with this one, and would hardly show.
bool is_offered(const PoseChoice& choice) {
    constexpr int fewest = 3;
    return choice.fits() || (choice.taken >= fewest && choice.taken * 4 >= choice.all);
}

} // namespace

const FigureForm* figure_form(const Piece& piece) {
    for (const Part& part : piece.parts)
        if (const auto* form = std::get_if<FigureForm>(&part.form)) return form;
    return nullptr;
}

Result<std::optional<HeldFigure>> held_figure(const Piece& piece, const std::string& scene_file,
                                              const FileAccess& files) {
    const FigureForm* form = figure_form(piece);
    if (!form) return std::optional<HeldFigure>();
    STANDPOINT_TRY(figure, find_figure(*form, scene_file, files));
    return std::optional<HeldFigure>(HeldFigure{*form, std::move(figure)});
}

bool JointRow::turned() const {
    return std::any_of(axes.begin(), axes.end(), [](const AxisRow& row) { return row.turned; });
}

int JointGroup::turned() const {
    return static_cast<int>(
        std::count_if(joints.begin(), joints.end(), [](const JointRow& j) { return j.turned(); }));
}

std::vector<JointGroup> joint_groups(const Figure& figure) {
    const Skeleton& skeleton = *figure.skeleton;
    const std::vector<int> chains = chains_of(skeleton);
    const std::vector<JointAngles> posed = joint_angles(skeleton, *figure.pose);
    std::vector<JointGroup> groups;
    for (std::size_t i = 0; i < skeleton.joints.size(); ++i) {
        if (skeleton.joints[i].axes.empty()) continue;
        const std::string name =
            chains[i] < 0 ? "Body"
                          : chain_name(skeleton.joints[static_cast<std::size_t>(chains[i])]);
        auto group = std::find_if(groups.begin(), groups.end(),
                                  [&](const JointGroup& g) { return g.name == name; });
        if (group == groups.end()) group = groups.insert(groups.end(), {name, {}});
        group->joints.push_back(row_of(figure, posed, i));
    }
    return groups;
}

std::vector<PoseChoice> pose_choices(const Skeleton& skeleton) {
    std::vector<PoseChoice> choices;
    for (const auto& pose : built_in_poses()) {
        const PoseChoice choice = choice_of(skeleton, pose);
        if (is_offered(choice)) choices.push_back(choice);
    }
    std::stable_sort(choices.begin(), choices.end(), [](const PoseChoice& a, const PoseChoice& b) {
        return a.fits() != b.fits() ? a.fits() : a.pose->name < b.pose->name;
    });
    return choices;
}

const std::string& dress_colour(const FigureDress& dress, DressPart part) {
    return dress.*dress_members[static_cast<int>(part)];
}

std::string title_of_name(const std::string& name) {
    std::string title = name;
    std::replace(title.begin(), title.end(), '-', ' ');
    return capital(title);
}

Result<Edit> set_skeleton(const Document& document, const std::string& id,
                          const Skeleton& skeleton) {
    const auto taken = [&](const FigureForm& now) {
        FigureForm made = now;
        made.skeleton = skeleton.name;
        made.solved.clear(); // what it touches is solved anew
        std::erase_if(made.turns, [&](const JointTurn& turn) {
            const int joint = joint_index(skeleton, turn.joint);
            return joint < 0 ||
                   axis_index(skeleton.joints[static_cast<std::size_t>(joint)], turn.axis) < 0;
        });
        for (const auto& pose : built_in_poses())
            if (pose->name == made.pose && !is_offered(choice_of(skeleton, pose)))
                made.pose.clear();
        return made;
    };
    STANDPOINT_TRY(edit, with_form(document, id, "Body of " + spoken(document, {id}), taken));
    for (EditStep& step : edit.steps) {
        auto& replaced = std::get<ReplacePiece>(step.what);
        Piece made = *replaced.piece;
        std::erase_if(made.touches, [&](const Touch& touch) {
            return contact_index(skeleton, touch.contact) < 0;
        });
        replaced.piece = std::make_shared<const Piece>(std::move(made));
    }
    return edit;
}

Result<Edit> set_pose(const Document& document, const std::string& id, const std::string& name) {
    return with_form(document, id, "Pose " + spoken(document, {id}), [&](const FigureForm& now) {
        FigureForm made = now;
        made.pose = name;
        return made;
    });
}

Result<Edit> set_stature(const Document& document, const std::string& id,
                         const std::optional<Length>& stature) {
    if (stature && !(stature->mm > 0))
        return input_error("", "found a stature of " + print_exact(stature->mm) +
                                   " mm, expected one above 0 mm");
    return with_form(document, id, "Stature of " + spoken(document, {id}),
                     [&](const FigureForm& now) {
                         FigureForm made = now;
                         made.stature = stature;
                         return made;
                     });
}

Result<Edit> set_joint(const Document& document, const std::string& id, const Skeleton& skeleton,
                       const std::string& joint, const std::string& axis, double angle_deg) {
    return with_form(
        document, id, "Turn the " + joint + " of " + spoken(document, {id}),
        [&](const FigureForm& now) { return with_turn(now, skeleton, joint, axis, angle_deg); });
}

Result<Edit> set_dress(const Document& document, const std::string& id, DressPart part,
                       const std::string& colour) {
    return with_form(document, id, "Dress " + spoken(document, {id}), [&](const FigureForm& now) {
        FigureForm made = now;
        made.dress.*dress_members[static_cast<int>(part)] = colour;
        return made;
    });
}

Result<Edit> reset_joint(const Document& document, const std::string& id,
                         const std::string& joint) {
    return with_form(document, id, "Reset the " + joint + " of " + spoken(document, {id}),
                     [&](const FigureForm& now) {
                         FigureForm made = now;
                         std::erase_if(made.turns,
                                       [&](const JointTurn& turn) { return turn.joint == joint; });
                         return made;
                     });
}

Result<Edit> reset_joints(const Document& document, const std::string& id) {
    return with_form(document, id, "Reset the joints of " + spoken(document, {id}),
                     [](const FigureForm& now) {
                         FigureForm made = now;
                         made.turns.clear();
                         return made;
                     });
}

} // namespace standpoint
