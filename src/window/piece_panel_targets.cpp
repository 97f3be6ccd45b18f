// What must be seen or hidden of a piece.
#include <fmt/format.h>
#include <imgui.h>

#include "desk/target_fields.h"
#include "desk/typed.h"
#include "window/answers.h"
#include "window/piece_rows.h"

namespace standpoint {

namespace {

constexpr const char* aim_titles[] = {"to be seen", "to be hidden"};

void aim_row(Shell& shell, const Ui& ui, const Target& target) {
    row_label(ui, "Aim");
    int aim = static_cast<int>(target.aim);
    ImGui::SetNextItemWidth(-1);
    if (ImGui::Combo("##aim", &aim, aim_titles, 2))
        do_edit(shell,
                set_target_aim(shell.desk->history.now(), target.id, static_cast<Aim>(aim)));
    tag_item(ui, "target/" + target.id + "/aim");
}

void patch_row(Shell& shell, const Ui& ui, const Target& target) {
    row_label(ui, "What of it");
    std::string shown = "the whole piece";
    if (!target.patch.parts.empty()) shown = target.patch.parts.front();
    if (target.patch.parts.size() > 1)
        shown += fmt::format(" and {} more", target.patch.parts.size() - 1);
    if (target.patch.low) shown += ", within a box";
    ImGui::SetNextItemWidth(-1);
    const bool open = ImGui::BeginCombo("##patch", shown.c_str());
    tag_item(ui, "target/" + target.id + "/patch");
    if (!open) return;
    const StagedPiece* staged = find_staged(*shell.desk->shown, target.piece);
    const auto choose = [&](const std::string& part, const char* label) {
        if (ImGui::Selectable(label, shown == label))
            do_edit(shell, set_target_part(shell.desk->history.now(), target.id, part));
        tag_item(ui, "patch/" + part);
    };
    choose("", "the whole piece");
    if (staged)
        for (const std::string& name : patch_names(*staged))
            choose(name, name.c_str());
    ImGui::EndCombo();
}

void facing_row(Shell& shell, const Ui& ui, const Target& target) {
    const std::string name = "target/" + target.id + "/facing";
    const auto typed = typed_row(
        shell, ui,
        {"Faces", name.c_str(),
         target.facing ? fmt::format("{:.4g}\xc2\xb0", target.facing->deg) : "",
         "Clockwise from the piece's own front, seen from above: who stands too far round sees it "
         "turned away. Empty: it can be seen from all round.",
         "all round"});
    if (!typed) return;
    std::optional<Angle> facing;
    if (!typed->empty()) {
        const Result<Angle> value = typed_angle(*typed, target.facing.value_or(Angle()));
        if (!value.ok()) return refuse(shell, name.c_str(), *typed, value.error());
        facing = *value;
    }
    take_typed(shell, name.c_str(), *typed,
               set_target_facing(shell.desk->history.now(), target.id, facing));
}

void share_row(Shell& shell, const Ui& ui, const Target& target) {
    const std::string name = "target/" + target.id + "/share";
    const auto typed = typed_row(
        shell, ui,
        {"Enough", name.c_str(),
         target.seen_share ? fmt::format("{:.4g} %", target.seen_share->value * 100) : "",
         "The share that must be in sight for it to count as seen: 0.7 or 70 %. Empty: the rule's.",
         "by the rule"});
    if (!typed) return;
    std::optional<Number> share;
    if (!typed->empty()) {
        const Result<Number> value = typed_share(*typed, target.seen_share.value_or(Number(0)));
        if (!value.ok()) return refuse(shell, name.c_str(), *typed, value.error());
        share = *value;
    }
    take_typed(shell, name.c_str(), *typed,
               set_target_share(shell.desk->history.now(), target.id, share));
}

void detail_row(Shell& shell, const Ui& ui, const Target& target) {
    const Document& document = shell.desk->history.now();
    const std::string name = "target/" + target.id + "/detail";
    const auto typed = typed_row(
        shell, ui,
        {"Finest part", name.c_str(),
         target.smallest_detail ? length_shown(document, target.smallest_detail->mm) : "",
         "The smallest thing that must be made out, in the size of the original: a letter's "
         "stroke, an eye. Empty: size does not matter.",
         "any size"});
    if (!typed) return;
    std::optional<Length> detail;
    if (!typed->empty()) {
        const Result<Length> value = typed_length(
            *typed, target.smallest_detail.value_or(Length(0)), document.settings->units);
        if (!value.ok()) return refuse(shell, name.c_str(), *typed, value.error());
        detail = *value;
    }
    take_typed(shell, name.c_str(), *typed, set_target_detail(document, target.id, detail));
}

void draw_target(Shell& shell, const Ui& ui, const Target& target) {
    ImGui::PushID(target.id.c_str());
    const std::string name = "target/" + target.id + "/name";
    if (const auto typed =
            typed_row(shell, ui,
                      {"Called", name.c_str(), target.name, "As the strip and the findings call it.",
                       target.id.c_str()}))
        take_typed(shell, name.c_str(), *typed,
                   set_target_name(shell.desk->history.now(), target.id, *typed));
    aim_row(shell, ui, target);
    patch_row(shell, ui, target);
    if (target.aim == Aim::see) {
        facing_row(shell, ui, target);
        share_row(shell, ui, target);
        detail_row(shell, ui, target);
    }
    if (button(ui, ("target/" + target.id + "/remove").c_str(), "Take away"))
        do_edit(shell, remove_target(shell.desk->history.now(), target.id));
    tip("It is neither to be seen nor to be hidden any more");
    ImGui::Dummy({1, ui.em * 0.2f});
    ImGui::PopID();
}

} // namespace

void draw_targets(Shell& shell, const Ui& ui, const Piece& piece) {
    const auto targets = targets_of(shell.desk->history.now(), piece.id);
    for (const auto& target : targets)
        draw_target(shell, ui, *target);
    const auto ask = [&](const char* name, const char* label, Aim aim, const char* about) {
        if (button(ui, name, label))
            do_edit(shell, add_target(shell.desk->history.now(), *shell.desk->shown, piece.id, aim,
                                      shell.desk->file, shell.files));
        tip(about);
    };
    ask("targets/see", targets.empty() ? "Must be seen" : "One more to be seen", Aim::see,
        "From the path, by every visitor: of a figure its face, of anything else the whole piece");
    flow_on(ui, targets.empty() ? "Must stay hidden" : "One more to be hidden");
    ask("targets/hide", targets.empty() ? "Must stay hidden" : "One more to be hidden", Aim::hide,
        "No visitor may see any of it, wherever on the path they stand or lean");
}

} // namespace standpoint
