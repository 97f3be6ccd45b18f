// What the actions of the File and Edit menus do.
#include "desk/arrange.h"
#include "desk/piece_ids.h"
#include "window/action_kinds.h"
#include "window/answers.h"
#include "window/view_input.h"

namespace standpoint {

namespace {

constexpr glm::dvec3 copy_offset_mm{200, -200, 0}; // beside the original, towards the front

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

void paste_remembered(Shell& shell) {
    const Result<Copied> pasted = paste(document_of(shell), shell.clipboard, copy_offset_mm);
    if (!pasted.ok()) return say_error(shell, pasted.error());
    if (do_edit(shell, pasted->edit)) shell.desk->selected = pasted->ids;
}

void duplicate(Shell& shell) {
    Result<Copied> copied = copy(document_of(shell), picked(shell), copy_offset_mm);
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

} // namespace

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
        paste_remembered(shell);
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

} // namespace standpoint
