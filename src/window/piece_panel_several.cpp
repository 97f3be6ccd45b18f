// The panel while several pieces are picked: their size together, lining up, groups.
#include <algorithm>

#include <fmt/format.h>
#include <imgui.h>

#include "desk/arrange.h"
#include "desk/piece_fields.h"
#include "window/actions.h"
#include "window/answers.h"
#include "window/overlay.h"
#include "window/piece_rows.h"

namespace standpoint {

namespace {

void action_buttons(Shell& shell, const Ui& ui, std::initializer_list<Action> actions) {
    bool first = true;
    for (const Action action : actions) {
        const ActionEntry& entry = entry_of(action);
        if (!first) flow_on(ui, entry.label);
        first = false;
        if (button(ui, fmt::format("several/{}", entry.name).c_str(), entry.label,
                   can_do(shell, action)))
            act(shell, action);
        tip(fmt::format("{}  {}", entry.tip, entry.keys));
    }
}

// A command that spreads, with the gap it would leave beside it.
void spread_button(Shell& shell, const Ui& ui, Action action, int axis) {
    action_buttons(shell, ui, {action});
    const Document& document = shell.desk->history.now();
    const Result<double> gap =
        gap_when_spread(document, *shell.desk->shown, shell.desk->selected, axis);
    if (!gap.ok()) return;
    const std::string text = *gap < 0
                                 ? fmt::format("{} over each other", length_text(document, -*gap))
                                 : length_text(document, *gap);
    flow_on(ui, text.c_str());
    ImGui::AlignTextToFramePadding();
    quiet_text(ui, text);
    tag_item(ui, axis == 0 ? "several/gap-across" : "several/gap-deep");
}

} // namespace

void group_row(Shell& shell, const Ui& ui) {
    const Document& document = shell.desk->history.now();
    const Ids ids = shell.desk->selected;
    const std::string first = find_piece(document, ids.front())->group;
    const bool same = std::all_of(ids.begin(), ids.end(), [&](const std::string& id) {
        return find_piece(document, id)->group == first;
    });
    const auto typed =
        typed_row(shell, ui,
                  {"Group", "piece/group", same ? first : "",
                   "Pieces of one group are picked and moved together. Empty: each by itself.",
                   same ? "none" : "several"});
    if (typed) take_typed(shell, "piece/group", *typed, set_group(document, ids, *typed));
}

void draw_several(Shell& shell, const Ui& ui) {
    const Document& document = shell.desk->history.now();
    quiet_text(ui, fmt::format("{} pieces picked; {} leads", shell.desk->selected.size(),
                               spoken(document, {shell.desk->selected.back()})));
    const Box box = selection_box(shell);
    if (!box.empty()) {
        const glm::dvec3 size = box.size();
        quiet_text(ui,
                   fmt::format("Together {} wide, {} deep, {} high", length_text(document, size.x),
                               length_text(document, size.y), length_text(document, size.z)));
    }
    heading(ui, "Line up with the one that leads");
    action_buttons(shell, ui, {Action::align_left, Action::align_right});
    action_buttons(shell, ui, {Action::align_front, Action::align_back});
    action_buttons(shell, ui, {Action::align_tops, Action::align_bottoms});
    action_buttons(shell, ui, {Action::centre_across, Action::centre_deep});
    heading(ui, "Equal gaps between the outermost");
    spread_button(shell, ui, Action::spread_across, 0);
    spread_button(shell, ui, Action::spread_deep, 1);
    heading(ui, "Together");
    group_row(shell, ui);
    carrier_row(shell, ui);
    action_buttons(shell, ui, {Action::group, Action::ungroup, Action::lock, Action::unlock});
}

} // namespace standpoint
