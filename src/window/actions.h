// The one table of everything the window can be told to do: menus, keys, the F1 page and tests all
// read it.
#pragma once

#include <span>
#include <string>

#include "window/shell.h"

namespace standpoint {

enum class Action {
    new_scene,
    open,
    save,
    save_as,
    bring_in,
    make_sheets,
    quit,
    undo,
    redo,
    copy,
    cut,
    paste,
    duplicate,
    remove,
    select_all,
    select_none,
    group,
    ungroup,
    lock,
    unlock,
    switch_off,
    switch_on,
    find,
    move_left,
    move_right,
    move_away,
    move_nearer,
    raise,
    lower,
    turn_right,
    turn_left,
    turn_right_fine,
    turn_left_fine,
    let_down,
    let_go,
    align_left,
    align_right,
    align_front,
    align_back,
    centre_across,
    centre_deep,
    align_tops,
    align_bottoms,
    spread_across,
    spread_deep,
    repeat,
    plan,
    front,
    side,
    round,
    eye,
    one_view,
    two_views,
    four_views,
    frame_all,
    frame_picked,
    cut_plan,
    measure,
    snap_on_off,
    light_dark,
    larger_text,
    smaller_text,
    check_now,
    stop_check,
    next_finding,
    previous_finding,
    walk_on,
    walk_back,
    next_lane,
    next_visitor,
    keys,
    settings,
};

struct ActionEntry {
    Action action;
    const char* name;  // stable, for tags and tests: "undo"
    const char* menu;  // "File", "Edit", "Place", "View", "Check", "Help"
    const char* label; // in the menu
    const char* keys;  // "Ctrl+Z", empty: none
    const char* tip;   // one sentence
};

std::span<const ActionEntry> all_actions();
const ActionEntry& entry_of(Action action);

bool can_do(const Shell& shell, Action action);
void act(Shell& shell, Action action); // nothing when it cannot be done
// Runs the action whose keys were pressed this frame, unless text is being typed.
void act_on_keys(Shell& shell);

// A chord as the window's key code and whether Ctrl, Shift and Alt are held; code 0: no such key.
struct Chord {
    int key = 0;
    bool ctrl = false, shift = false, alt = false;
    friend bool operator==(const Chord&, const Chord&) = default;
};
Chord chord_of(const std::string& keys);

} // namespace standpoint
