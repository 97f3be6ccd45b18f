// What each action does, and when it can be done.
#include "window/actions.h"

#include <algorithm>
#include <cmath>

#include <imgui.h>

#include "desk/arrange.h"
#include "desk/drop.h"
#include "window/answers.h"
#include "window/overlay.h"
#include "window/view_input.h"

namespace standpoint {

namespace {

const Document& document_of(const Shell& shell) {
    return shell.desk->history.now();
}
const Ids& picked(const Shell& shell) {
    return shell.desk->selected;
}

void open_dialog(Shell& shell, Dialog dialog) {
    shell.dialog = dialog;
    shell.dialog_opens = true;
}

void act_on_file(Shell& shell, Action action) {
    switch (action) {
    case Action::new_scene:
        ask_then(shell, After::new_scene);
        break;
    case Action::open:
        ask_then(shell, After::open_dialog);
        break;
    case Action::save:
        save_now(shell);
        break;
    case Action::save_as:
        open_dialog(shell, Dialog::save_as);
        break;
    case Action::bring_in:
        open_dialog(shell, Dialog::bring_in);
        break;
    case Action::make_sheets:
        open_dialog(shell, Dialog::sheets);
        break;
    case Action::quit:
        ask_then(shell, After::quit);
        break;
    default:
        break;
    }
}

void step_back(Shell& shell, bool forward) {
    const std::string label =
        forward ? shell.desk->history.redo_label() : shell.desk->history.undo_label();
    const Result<bool> done =
        forward ? redo(*shell.desk, shell.files) : undo(*shell.desk, shell.files);
    if (!done.ok()) return say_error(shell, done.error());
    if (*done) say_done(shell, (forward ? "Done again: " : "Taken back: ") + label);
}

void remember(Shell& shell) {
    shell.clipboard.clear();
    for (const auto& piece : *document_of(shell).pieces)
        if (is_selected(*shell.desk, piece->id)) shell.clipboard.push_back(*piece);
    say_done(shell, "Copied " + spoken(document_of(shell), picked(shell)));
}

// What was remembered, under free ids; hosts that are gone or were not copied along keep their
// name when they are still there, else the piece stands free.
void paste(Shell& shell) {
    Edit edit{"Paste", std::vector<EditStep>{}};
    std::set<std::string> taken = taken_ids(document_of(shell));
    std::map<std::string, std::string> renamed;
    for (const Piece& piece : shell.clipboard) {
        const std::string id = unique_id(taken, piece.id);
        taken.insert(id);
        renamed[piece.id] = id;
    }
    int index = static_cast<int>(document_of(shell).pieces->size());
    std::vector<std::string> ids;
    for (Piece piece : shell.clipboard) {
        piece.id = renamed[piece.id];
        piece.locked = false;
        piece.group.clear();
        const bool carried = renamed.contains(piece.host);
        if (carried) {
            piece.host = renamed[piece.host];
        } else {
            if (!find_piece(document_of(shell), piece.host) &&
                !find_section(document_of(shell), piece.host)) {
                piece.support = Support::none;
                piece.host.clear();
            }
            piece.at.x = piece.at.x.mm + 200;
            piece.at.y = piece.at.y.mm - 200;
        }
        ids.push_back(piece.id);
        edit.steps.push_back({PutPiece{index++, std::make_shared<const Piece>(std::move(piece))}});
    }
    if (do_edit(shell, edit)) shell.desk->selected = ids;
}

void duplicate(Shell& shell) {
    Result<Copied> copied = copy(document_of(shell), picked(shell), {200, -200, 0});
    if (!copied.ok()) return say_error(shell, copied.error());
    if (do_edit(shell, copied->edit)) shell.desk->selected = copied->ids;
}

void switch_all_on(Shell& shell) {
    Ids off;
    for (const auto& piece : *document_of(shell).pieces)
        if (piece->off != Off::no) off.push_back(piece->id);
    if (!off.empty()) do_edit(shell, switch_off(document_of(shell), off, Off::no));
}

void pick_none(Shell& shell) {
    if (cancel_pointer(shell)) return;
    if (shell.tool != Tool::pick) {
        shell.tool = Tool::pick;
        shell.measuring = {};
    } else {
        shell.desk->selected.clear();
    }
}

void act_on_edit(Shell& shell, Action action) {
    const Document& document = document_of(shell);
    switch (action) {
    case Action::undo:
        step_back(shell, false);
        break;
    case Action::redo:
        step_back(shell, true);
        break;
    case Action::copy:
        remember(shell);
        break;
    case Action::cut:
        remember(shell);
        do_edit(shell, remove_pieces(document, picked(shell)));
        break;
    case Action::paste:
        paste(shell);
        break;
    case Action::duplicate:
        duplicate(shell);
        break;
    case Action::remove:
        do_edit(shell, remove_pieces(document, picked(shell)));
        break;
    case Action::select_all:
        select_all(*shell.desk);
        break;
    case Action::select_none:
        pick_none(shell);
        break;
    case Action::group:
        do_edit(shell, group(document, picked(shell)));
        break;
    case Action::ungroup:
        do_edit(shell, ungroup(document, picked(shell)));
        break;
    case Action::lock:
        do_edit(shell, lock(document, picked(shell), true));
        break;
    case Action::unlock:
        do_edit(shell, lock(document, picked(shell), false));
        break;
    case Action::switch_off:
        do_edit(shell, switch_off(document, picked(shell), Off::views_and_checks));
        break;
    case Action::switch_on:
        switch_all_on(shell);
        break;
    case Action::find:
        shell.focus_search = true;
        break;
    default:
        break;
    }
}

void nudge(Shell& shell, const glm::dvec3& direction) {
    const double step = std::max(1.0, shell.settings.grid_step_mm);
    do_edit(shell, move_by(document_of(shell), picked(shell), direction * step));
}

void turn(Shell& shell, double degrees) {
    const StagedPiece* lead = find_staged(*shell.desk->shown, picked(shell).back());
    if (!lead) return;
    do_edit(shell,
            turn_about(document_of(shell), picked(shell), lead->placement.frame.origin, degrees));
}

void align_picked(Shell& shell, Align how) {
    do_edit(shell, align(document_of(shell), *shell.desk->shown, picked(shell), how));
}

void act_on_alignment(Shell& shell, Action action) {
    const auto spread_along = [&](int axis) {
        do_edit(shell, spread(document_of(shell), *shell.desk->shown, picked(shell), axis,
                              SpreadBy::gaps));
    };
    switch (action) {
    case Action::align_left:
        align_picked(shell, Align::left);
        break;
    case Action::align_right:
        align_picked(shell, Align::right);
        break;
    case Action::align_front:
        align_picked(shell, Align::front);
        break;
    case Action::align_back:
        align_picked(shell, Align::back);
        break;
    case Action::centre_across:
        align_picked(shell, Align::centre_x);
        break;
    case Action::centre_deep:
        align_picked(shell, Align::centre_y);
        break;
    case Action::align_tops:
        align_picked(shell, Align::top);
        break;
    case Action::align_bottoms:
        align_picked(shell, Align::bottom);
        break;
    case Action::spread_across:
        spread_along(0);
        break;
    case Action::spread_deep:
        spread_along(1);
        break;
    case Action::repeat:
        open_dialog(shell, Dialog::repeat);
        break;
    default:
        break;
    }
}

void act_on_place(Shell& shell, Action action) {
    const Document& document = document_of(shell);
    switch (action) {
    case Action::move_left:
        nudge(shell, {-1, 0, 0});
        break;
    case Action::move_right:
        nudge(shell, {1, 0, 0});
        break;
    case Action::move_away:
        nudge(shell, {0, 1, 0});
        break;
    case Action::move_nearer:
        nudge(shell, {0, -1, 0});
        break;
    case Action::raise:
        nudge(shell, {0, 0, 1});
        break;
    case Action::lower:
        nudge(shell, {0, 0, -1});
        break;
    case Action::turn_right:
        turn(shell, 15);
        break;
    case Action::turn_left:
        turn(shell, -15);
        break;
    case Action::turn_right_fine:
        turn(shell, 1);
        break;
    case Action::turn_left_fine:
        turn(shell, -1);
        break;
    case Action::let_down:
        refresh_index(*shell.desk);
        do_edit(shell, let_down(document, *shell.desk->indexed, *shell.desk->index, picked(shell)));
        break;
    case Action::let_go:
        do_edit(shell, let_go(document, picked(shell), Place::keep));
        break;
    default:
        act_on_alignment(shell, action);
        break;
    }
}

void show_kind(Shell& shell, ViewKind kind) {
    View& view = shell.views[static_cast<std::size_t>(shell.active_view)];
    view.camera.kind = kind;
    shell.settings.view_kinds[static_cast<std::size_t>(shell.active_view)] = kind;
    view.placed = false;
}

void frame_box(Shell& shell, const Box& box) {
    View& view = shell.views[static_cast<std::size_t>(shell.active_view)];
    const glm::ivec2 size = glm::max(glm::ivec2(view.high - view.low), glm::ivec2(1));
    if (!box.empty()) view.camera = framed(view.camera, size, box);
}

void cut_plan(Shell& shell) {
    View& view = shell.views[static_cast<std::size_t>(shell.active_view)];
    if (view.cut_height)
        view.cut_height.reset();
    else
        view.cut_height = 1200; // above a person's waist: the height plans are cut at, a habit
}

void act_on_view(Shell& shell, Action action) {
    const auto views = [&](int count) { shell.settings.view_count = count; };
    const auto text = [&](double factor) {
        shell.settings.text_scale = std::clamp(shell.settings.text_scale * factor, 0.75, 3.0);
        shell.font_changed = true;
    };
    switch (action) {
    case Action::one_view:
        views(1);
        break;
    case Action::two_views:
        views(2);
        break;
    case Action::four_views:
        views(4);
        break;
    case Action::frame_all:
        frame_box(shell, everything(shell));
        break;
    case Action::frame_picked:
        frame_box(shell, selection_box(shell));
        break;
    case Action::cut_plan:
        cut_plan(shell);
        break;
    case Action::measure:
        shell.tool = shell.tool == Tool::measure ? Tool::pick : Tool::measure;
        shell.measuring = {};
        break;
    case Action::snap_on_off:
        shell.settings.snap_on = !shell.settings.snap_on;
        break;
    case Action::light_dark:
        shell.settings.dark = !shell.settings.dark;
        shell.font_changed = true;
        break;
    case Action::larger_text:
        text(1.125);
        break;
    case Action::smaller_text:
        text(1 / 1.125);
        break;
    default:
        show_kind(shell,
                  static_cast<ViewKind>(static_cast<int>(action) - static_cast<int>(Action::plan)));
        break;
    }
}

void walk(Shell& shell, double by) {
    const double length = path_length(*document_of(shell).path);
    shell.scrub.distance_mm = std::clamp(shell.scrub.distance_mm + by, 0.0, length);
    follow_visitor(shell);
}

void next_visitor(Shell& shell) {
    const auto& visitors = *document_of(shell).visitors;
    if (visitors.empty()) return;
    std::size_t now = 0;
    for (std::size_t i = 0; i < visitors.size(); ++i)
        if (visitors[i].id == shell.scrub.visitor) now = i;
    shell.scrub.visitor = visitors[(now + 1) % visitors.size()].id;
    follow_visitor(shell);
}

void step_finding(Shell& shell, int by) {
    if (!shell.answers.outcome || !shell.answers.outcome->results) return;
    const auto& findings = shell.answers.outcome->results->findings;
    if (findings.empty()) return;
    const int count = static_cast<int>(findings.size());
    shell.finding = ((shell.finding < 0 && by < 0 ? 0 : shell.finding) + by + count) % count;
    go_to(shell, findings[static_cast<std::size_t>(shell.finding)]);
}

void act_on_check(Shell& shell, Action action) {
    switch (action) {
    case Action::check_now:
        shell.checked_revision = ~std::uint64_t{0};
        break;
    case Action::stop_check:
        if (shell.check) shell.check->cancel();
        break;
    case Action::next_finding:
        step_finding(shell, 1);
        break;
    case Action::previous_finding:
        step_finding(shell, -1);
        break;
    case Action::walk_on:
        walk(shell, station_step_mm);
        break;
    case Action::walk_back:
        walk(shell, -station_step_mm);
        break;
    case Action::next_lane:
        shell.scrub.lane = (shell.scrub.lane + 1) % lane_count;
        follow_visitor(shell);
        break;
    case Action::next_visitor:
        next_visitor(shell);
        break;
    default:
        break;
    }
}

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
