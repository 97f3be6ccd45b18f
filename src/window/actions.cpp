// When each action can be done, and which keys ask for it.
#include "window/actions.h"

#include <imgui.h>

#include "window/action_kinds.h"

namespace standpoint {

namespace {

bool is_of(Action action, Action first, Action last) {
    return action >= first && action <= last;
}

} // namespace

bool can_do(const Shell& shell, Action action) {
    if (is_of(action, Action::keys, Action::settings) || action == Action::new_scene ||
        action == Action::open || action == Action::quit ||
        is_of(action, Action::light_dark, Action::smaller_text))
        return true;
    if (!shell.desk) return false;
    const bool dragging = shell.desk->history.dragging();
    if (dragging) return action == Action::select_none;
    const std::size_t count = picked(shell).size();
    switch (action) {
    case Action::undo:
        return shell.desk->history.can_undo();
    case Action::redo:
        return shell.desk->history.can_redo();
    case Action::paste:
        return !shell.clipboard.empty();
    case Action::copy:
    case Action::cut:
    case Action::duplicate:
    case Action::remove:
    case Action::ungroup:
    case Action::lock:
    case Action::unlock:
    case Action::switch_off:
    case Action::frame_picked:
    case Action::repeat:
        return count > 0;
    case Action::group:
        return count > 1;
    case Action::spread_across:
    case Action::spread_deep:
        return count > 2;
    default:
        break;
    }
    if (is_of(action, Action::align_left, Action::align_bottoms)) return count > 1;
    if (is_of(action, Action::move_left, Action::let_go)) return count > 0;
    return true;
}

void act(Shell& shell, Action action) {
    if (!can_do(shell, action)) return;
    if (is_of(action, Action::new_scene, Action::quit)) return act_on_file(shell, action);
    if (is_of(action, Action::undo, Action::find)) return act_on_edit(shell, action);
    if (is_of(action, Action::move_left, Action::repeat)) return act_on_place(shell, action);
    if (is_of(action, Action::plan, Action::smaller_text)) return act_on_view(shell, action);
    if (is_of(action, Action::check_now, Action::next_visitor)) return act_on_check(shell, action);
    open_dialog(shell, action == Action::keys ? Dialog::keys : Dialog::settings);
}

void act_on_keys(Shell& shell) {
    const ImGuiIO& io = ImGui::GetIO();
    if (shell.dialog != Dialog::none || io.WantTextInput) return;
    for (const ActionEntry& entry : all_actions()) {
        const Chord chord = chord_of(entry.keys);
        if (chord.key == 0 || !ImGui::IsKeyPressed(chord.key)) continue;
        if (chord.ctrl != io.KeyCtrl || chord.shift != io.KeyShift || chord.alt != io.KeyAlt)
            continue;
        act(shell, entry.action);
    }
}

} // namespace standpoint
