// A figure in the panel: body, pose, stature, dress, and every joint with a slider for each axis.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <imgui.h>

#include "desk/piece_fields.h"
#include "desk/typed.h"
#include "window/answers.h"
#include "window/piece_rows.h"

namespace standpoint {

namespace {

constexpr const char* plain_stance = "Plain stance"; // of a skeleton without a pose

std::string degrees_text(double deg) {
    return fmt::format("{:.4g}\xc2\xb0", std::abs(deg) < 0.005 ? 0.0 : deg);
}

void body_row(Shell& shell, const Ui& ui, const Piece& piece, const HeldFigure& held) {
    row_label(ui, "Body");
    ImGui::SetNextItemWidth(-1);
    const bool open = ImGui::BeginCombo("##body", title_of_name(held.form.skeleton).c_str());
    tag_item(ui, "figure/body");
    if (!open) return tip("The skeleton: how the figure is built. Its name: " + held.form.skeleton);
    for (const auto& skeleton : built_in_skeletons()) {
        const bool chosen = skeleton->name == held.form.skeleton;
        if (ImGui::Selectable(title_of_name(skeleton->name).c_str(), chosen))
            do_edit(shell, set_skeleton(shell.desk->history.now(), piece.id, *skeleton));
        tag_item(ui, "body/" + skeleton->name);
        tip(fmt::format("{}\n{:g} mm, {}", skeleton->description, skeleton->stature,
                        skeleton->measured));
    }
    ImGui::EndCombo();
}

void pose_row(Shell& shell, const Ui& ui, const Piece& piece, const HeldFigure& held) {
    row_label(ui, "Pose");
    ImGui::SetNextItemWidth(-1);
    const std::string now = held.form.pose.empty() ? plain_stance : title_of_name(held.form.pose);
    const bool open = ImGui::BeginCombo("##pose", now.c_str(), ImGuiComboFlags_HeightLarge);
    tag_item(ui, "figure/pose");
    if (!open) return tip("What the figure does. Joints turned by hand stay as they are.");
    const auto choose = [&](const std::string& name) {
        do_edit(shell, set_pose(shell.desk->history.now(), piece.id, name));
    };
    if (ImGui::Selectable(plain_stance, held.form.pose.empty())) choose("");
    tag_item(ui, "pose/");
    for (const PoseChoice& choice : pose_choices(*held.figure.skeleton)) {
        std::string label = title_of_name(choice.pose->name);
        if (!choice.fits()) label += " (in part)";
        if (ImGui::Selectable(label.c_str(), choice.pose->name == held.form.pose))
            choose(choice.pose->name);
        tag_item(ui, "pose/" + choice.pose->name);
        tip(choice.pose->description +
            (choice.fits()
                 ? ""
                 : fmt::format("\nThis body has {} of its {} turns.", choice.taken, choice.all)));
    }
    ImGui::EndCombo();
}

void stature_rows(Shell& shell, const Ui& ui, const Piece& piece, const HeldFigure& held) {
    const Document& document = shell.desk->history.now();
    const double ratio = ratio_of(document, piece), stature = held.figure.stature_mm;
    const auto take = [&](const char* name, const std::string& typed, double now, double over) {
        if (typed.empty())
            return take_typed(shell, name, typed, set_stature(document, piece.id, std::nullopt));
        const Result<Length> value = typed_length(typed, Length(now), document.settings->units);
        if (!value.ok()) {
            refuse(shell, name, typed, value.error());
            return false;
        }
        const Length original = over == 1 ? *value : Length(value->mm / over);
        return take_typed(shell, name, typed, set_stature(document, piece.id, original));
    };
    const char* own = held.form.stature ? "" : " The body's own.";
    if (const auto typed = typed_row(
            shell, ui,
            {"Original", "figure/stature", length_shown(document, stature),
             fmt::format("Stature of the original, {}; any unit.{} Empty: the body's own, {}.",
                         held.figure.skeleton->measured, own,
                         length_shown(document, held.figure.skeleton->stature))}))
        take("figure/stature", *typed, stature, 1);
    if (const auto typed = typed_row(
            shell, ui,
            {"Built", "figure/built", length_shown(document, stature * ratio),
             fmt::format("The stature as built, at {:.5g}:1; any unit. Typing here changes the "
                         "stature of the original, not the ratio.",
                         ratio)}))
        take("figure/built", *typed, stature * ratio, ratio);
}

void dress_rows(Shell& shell, const Ui& ui, const Piece& piece, const HeldFigure& held) {
    for (std::size_t i = 0; i < std::size(dress_part_names); ++i) {
        const auto part = static_cast<DressPart>(i);
        const std::string name = fmt::format("dress/{}", dress_part_names[i]);
        const std::string& own = dress_colour(held.figure.dress, part);
        const auto typed =
            typed_row(shell, ui,
                      {dress_part_names[i], name.c_str(), dress_colour(held.form.dress, part),
                       "Red, green and blue as #a0b1c2. Empty: as the body comes.",
                       own.empty() ? "none" : own.c_str()});
        const std::string& set = dress_colour(held.form.dress, part);
        paint_swatch(ui, name.c_str(), set.empty() ? own : set);
        if (!typed) continue;
        const Result<std::string> colour = typed_colour(*typed);
        if (!colour.ok())
            refuse(shell, name.c_str(), *typed, colour.error());
        else
            take_typed(shell, name.c_str(), *typed,
                       set_dress(shell.desk->history.now(), piece.id, part, *colour));
    }
}

// -- joints --

struct AxisPlace { // what a row of the joints is about
    const Piece& piece;
    const Skeleton& skeleton;
    const JointRow& joint;
    const AxisRow& axis;
};

std::string range_text(const AxisRow& axis) {
    return fmt::format("{} to {}", degrees_text(axis.least), degrees_text(axis.most));
}

void axis_slider(Shell& shell, const Ui& ui, const AxisPlace& at, const std::string& name) {
    auto value = static_cast<float>(at.axis.angle);
    const bool changed = ImGui::SliderFloat(
        "##slider", &value, static_cast<float>(at.axis.least), static_cast<float>(at.axis.most), "",
        ImGuiSliderFlags_AlwaysClamp | ImGuiSliderFlags_NoInput | ImGuiSliderFlags_NoRoundToFormat);
    // Whole degrees by hand; the field beside takes finer ones.
    const double wanted =
        std::clamp(std::round(static_cast<double>(value)), at.axis.least, at.axis.most);
    const Document now = shell.desk->history.now();
    hold_slider(shell, name + "/slider", changed, wanted, [&](double deg) {
        return set_joint(now, at.piece.id, at.skeleton, at.joint.joint, at.axis.axis, deg);
    });
    tag_item(ui, name + "/slider");
    if (!ImGui::IsItemActive())
        tip(fmt::format("{}: {}. From {}; the pose alone has {}.", at.joint.trade, at.axis.trade,
                        range_text(at.axis), degrees_text(at.axis.posed)));
}

void axis_field(Shell& shell, const Ui& ui, const AxisPlace& at, const std::string& name) {
    const std::string field = name + "/angle", shown = degrees_text(at.axis.angle);
    const auto typed = typed_row(
        shell, ui,
        {"", field.c_str(), shown, "Degrees from the upright stance. +5 adds, - 5 takes away."});
    if (!typed) return;
    const Result<Angle> angle = typed_angle(*typed, Angle(at.axis.angle));
    if (!angle.ok()) return refuse(shell, field.c_str(), *typed, angle.error());
    const bool done = take_typed(shell, field.c_str(), *typed,
                                 set_joint(shell.desk->history.now(), at.piece.id, at.skeleton,
                                           at.joint.joint, at.axis.axis, angle->deg));
    if (done && (angle->deg < at.axis.least || angle->deg > at.axis.most))
        say_done(shell,
                 fmt::format("{} is beyond the joint: held at {}", degrees_text(angle->deg),
                             degrees_text(std::clamp(angle->deg, at.axis.least, at.axis.most))));
}

void axis_rows(Shell& shell, const Ui& ui, const AxisPlace& at) {
    const std::string name = fmt::format("joint/{}/{}", at.joint.joint, at.axis.axis);
    ImGui::PushID(name.c_str());
    const std::string label = at.axis.trade + (at.axis.turned ? " *" : "") +
                              (at.axis.solved ? ", kept by touch or look" : "");
    if (at.axis.beyond())
        coloured_text(ui, ui.palette->warn, label + ", beyond its range");
    else
        quiet_text(ui, label);
    const std::string range = range_text(at.axis);
    const float right = ImGui::GetWindowContentRegionMax().x - ImGui::CalcTextSize(range.c_str()).x;
    const float end = ImGui::GetItemRectMax().x - ImGui::GetWindowPos().x;
    if (end + ui.em * 0.5f <= right) ImGui::SameLine(right);
    quiet_text(ui, range);
    const float number = ui.em * 4.2f, room = ImGui::GetContentRegionAvail().x;
    ImGui::SetNextItemWidth(std::max(ui.em * 3, room - number - ui.em * 0.5f));
    axis_slider(shell, ui, at, name);
    ImGui::SameLine(0, ui.em * 0.5f);
    axis_field(shell, ui, at, name);
    ImGui::PopID();
}

void joint_rows(Shell& shell, const Ui& ui, const Piece& piece, const Skeleton& skeleton,
                const JointRow& joint) {
    const std::string name = "joint/" + joint.joint;
    std::string title = joint.trade;
    title[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(title[0])));
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(title.c_str());
    if (joint.turned()) {
        flow_on(ui, "Reset");
        if (button(ui, (name + "/reset").c_str(), "Reset"))
            do_edit(shell, reset_joint(shell.desk->history.now(), piece.id, joint.joint));
        tip("Back to the angles of the pose");
    }
    for (const AxisRow& axis : joint.axes)
        axis_rows(shell, ui, {piece, skeleton, joint, axis});
}

void draw_joints(Shell& shell, const Ui& ui, const Piece& piece, const HeldFigure& held,
                 const std::vector<JointGroup>& groups) {
    int turned = 0;
    for (const JointGroup& group : groups)
        turned += group.turned();
    if (button(ui, "joint/reset-all", "Reset all joints", turned > 0))
        do_edit(shell, reset_joints(shell.desk->history.now(), piece.id));
    tip("Every joint back to the angles of the pose");
    for (const JointGroup& group : groups) {
        const int own = group.turned();
        const std::string title =
            own > 0 ? fmt::format("{}  ({} turned by hand)", group.name, own) : group.name;
        if (!fold(shell, ui, ("fold/" + group.name).c_str(), title, false)) continue;
        ImGui::Indent(ui.em * 0.6f);
        for (const JointRow& joint : group.joints)
            joint_rows(shell, ui, piece, *held.figure.skeleton, joint);
        ImGui::Unindent(ui.em * 0.6f);
    }
}

} // namespace

void draw_figure(Shell& shell, const Ui& ui, const Piece& piece) {
    const PieceFacts& facts = shell.panels.facts;
    if (!facts.figure_problem.empty())
        return coloured_text(ui, ui.palette->fail, facts.figure_problem);
    // Copies: an edit may work the facts out anew.
    const HeldFigure held = *facts.figure;
    const std::vector<JointGroup> groups = facts.joints;
    body_row(shell, ui, piece, held);
    pose_row(shell, ui, piece, held);
    stature_rows(shell, ui, piece, held);
    const auto inside = [&](auto&& draw) {
        ImGui::Indent(ui.em * 0.7f);
        draw();
        ImGui::Unindent(ui.em * 0.7f);
    };
    if (fold(shell, ui, "fold/contacts", "Touches and looks", true))
        inside([&] { draw_contacts(shell, ui, piece); });
    if (fold(shell, ui, "fold/dress", "Dress", false))
        inside([&] { dress_rows(shell, ui, piece, held); });
    if (fold(shell, ui, "fold/joints", "Joints", false))
        inside([&] { draw_joints(shell, ui, piece, held, groups); });
}

} // namespace standpoint
