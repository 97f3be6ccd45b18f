// Names, menus, keys and tips of all actions.
#include "window/actions.h"

#include <algorithm>
#include <cctype>
#include <map>

#include "base/check.h"

namespace standpoint {

namespace {

using A = Action;

constexpr ActionEntry table[] = {
    {A::new_scene, "new", "File", "New scene", "Ctrl+N", "Start with an empty hall and base"},
    {A::open, "open", "File", "Open ...", "Ctrl+O", "Open a scene file"},
    {A::save, "save", "File", "Save", "Ctrl+S", "Write the scene to its file"},
    {A::save_as, "save-as", "File", "Save as ...", "Ctrl+Shift+S", "Write it to another file"},
    {A::bring_in, "bring-in", "File", "Bring in a model ...", "Ctrl+I",
     "Copy a .glb or .gltf model beside the scene and place it"},
    {A::make_sheets, "sheets", "File", "Make the sheets ...", "Ctrl+P",
     "Write the plan, the table of places and the CSV for the installers"},
    {A::quit, "quit", "File", "Quit", "Ctrl+Q", "Close the window"},
    {A::undo, "undo", "Edit", "Undo", "Ctrl+Z", "Take the last step back"},
    {A::redo, "redo", "Edit", "Redo", "Ctrl+Y", "Do again what was taken back"},
    {A::cut, "cut", "Edit", "Cut", "Ctrl+X", "Take the picked pieces away, to be pasted"},
    {A::copy, "copy", "Edit", "Copy", "Ctrl+C", "Remember the picked pieces"},
    {A::paste, "paste", "Edit", "Paste", "Ctrl+V", "Put the remembered pieces down again"},
    {A::duplicate, "duplicate", "Edit", "Duplicate", "Ctrl+D",
     "A copy of the picked pieces beside them"},
    {A::remove, "delete", "Edit", "Delete", "Delete", "Take the picked pieces out of the scene"},
    {A::select_all, "pick-all", "Edit", "Pick all", "Ctrl+A",
     "Every piece that is neither locked nor off"},
    {A::select_none, "pick-none", "Edit", "Pick nothing", "Escape",
     "Let go of the picked pieces, or stop what is going on"},
    {A::group, "group", "Edit", "Group", "Ctrl+G",
     "Pick and move the picked pieces together from now on"},
    {A::ungroup, "ungroup", "Edit", "Ungroup", "Ctrl+Shift+G", "Take the group apart"},
    {A::lock, "lock", "Edit", "Lock", "Ctrl+L", "Keep the picked pieces where they are"},
    {A::unlock, "unlock", "Edit", "Unlock", "Ctrl+Shift+L", "Let locked pieces move again"},
    {A::switch_off, "switch-off", "Edit", "Switch off", "Ctrl+H",
     "Leave the picked pieces out of views and checks"},
    {A::switch_on, "switch-on", "Edit", "Switch everything on", "Ctrl+Shift+H",
     "Show all pieces again"},
    {A::find, "find", "Edit", "Find", "Ctrl+F", "Search by id, name or note"},
    {A::move_left, "move-left", "Place", "Move left", "Left", "One grid step towards the left"},
    {A::move_right, "move-right", "Place", "Move right", "Right",
     "One grid step towards the right"},
    {A::move_away, "move-away", "Place", "Move to the back", "Up",
     "One grid step away from the front"},
    {A::move_nearer, "move-nearer", "Place", "Move to the front", "Down",
     "One grid step towards the front"},
    {A::raise, "raise", "Place", "Raise", "PageUp", "One grid step up"},
    {A::lower, "lower", "Place", "Lower", "PageDown", "One grid step down"},
    {A::turn_right, "turn-right", "Place", "Turn right 15\xc2\xb0", ".",
     "Clockwise seen from above"},
    {A::turn_left, "turn-left", "Place", "Turn left 15\xc2\xb0", ",",
     "Anticlockwise seen from above"},
    {A::turn_right_fine, "turn-right-fine", "Place", "Turn right 1\xc2\xb0", "Shift+.",
     "Clockwise seen from above"},
    {A::turn_left_fine, "turn-left-fine", "Place", "Turn left 1\xc2\xb0", "Shift+,",
     "Anticlockwise seen from above"},
    {A::let_down, "let-down", "Place", "Let down", "End",
     "Down until it rests on what lies beneath"},
    {A::let_go, "let-go", "Place", "Take off its support", "Ctrl+End",
     "Stand on the hall floor's axes, where it is now"},
    {A::align_left, "align-left", "Place", "Align left sides", "Alt+Left",
     "With the piece picked last"},
    {A::align_right, "align-right", "Place", "Align right sides", "Alt+Right",
     "With the piece picked last"},
    {A::align_front, "align-front", "Place", "Align fronts", "Alt+Down",
     "With the piece picked last"},
    {A::align_back, "align-back", "Place", "Align backs", "Alt+Up", "With the piece picked last"},
    {A::centre_across, "centre-across", "Place", "Centre across", "Alt+X",
     "Middles in line, left to right"},
    {A::centre_deep, "centre-deep", "Place", "Centre front to back", "Alt+Y",
     "Middles in line, front to back"},
    {A::align_tops, "align-tops", "Place", "Align tops", "Alt+PageUp",
     "With the piece picked last"},
    {A::align_bottoms, "align-bottoms", "Place", "Align bottoms", "Alt+PageDown",
     "With the piece picked last"},
    {A::spread_across, "spread-across", "Place", "Equal gaps across", "Alt+Shift+X",
     "Three or more pieces, left to right"},
    {A::spread_deep, "spread-deep", "Place", "Equal gaps front to back", "Alt+Shift+Y",
     "Three or more pieces, front to back"},
    {A::repeat, "repeat", "Place", "Repeat along a line ...", "Ctrl+R", "Copies at equal steps"},
    {A::plan, "plan", "View", "Plan", "1", "From above"},
    {A::front, "front", "View", "Front", "2", "From the front"},
    {A::side, "side", "View", "Side", "3", "From the right-hand side"},
    {A::round, "round", "View", "Round", "4", "From anywhere: drag with the right button"},
    {A::eye, "eye", "View", "Eye", "5", "What the visitor on the path sees"},
    {A::one_view, "one-view", "View", "One view", "F5", "The view that is worked in, alone"},
    {A::two_views, "two-views", "View", "Two views", "F6", "Two views side by side"},
    {A::four_views, "four-views", "View", "Four views", "F7", "Four views"},
    {A::frame_all, "frame-all", "View", "Show everything", "Home",
     "Fit the whole scene into the view"},
    {A::frame_picked, "frame-picked", "View", "Show what is picked", "F",
     "Fit the picked pieces into the view"},
    {A::cut_plan, "cut-plan", "View", "Cut the plan", "H", "Leave out what lies above a height"},
    {A::measure, "measure", "View", "Measure", "M", "Distance between two points"},
    {A::snap_on_off, "snap", "View", "Snap", "S", "To the grid, edges, middles and equal gaps"},
    {A::light_dark, "light-dark", "View", "Light or dark", "Ctrl+Shift+D",
     "Change between the two palettes"},
    {A::larger_text, "larger-text", "View", "Larger text", "Ctrl+=", "One step larger"},
    {A::smaller_text, "smaller-text", "View", "Smaller text", "Ctrl+-", "One step smaller"},
    {A::check_now, "check-now", "Check", "Check now", "F9",
     "Run every check on the scene as it is"},
    {A::stop_check, "stop-check", "Check", "Stop checking", "Shift+F9",
     "Cancel the check that runs"},
    {A::next_finding, "next-finding", "Check", "Next finding", "F8", "Go to its place"},
    {A::previous_finding, "previous-finding", "Check", "Previous finding", "Shift+F8",
     "Go to its place"},
    {A::walk_on, "walk-on", "Check", "Visitor walks on", "]", "250 mm along the path"},
    {A::walk_back, "walk-back", "Check", "Visitor walks back", "[", "250 mm along the path"},
    {A::next_lane, "next-lane", "Check", "Visitor changes lane", "L", "Left, middle, right"},
    {A::next_visitor, "next-visitor", "Check", "Next visitor", "V", "Another eye height"},
    {A::keys, "keys", "Help", "Keys", "F1", "Every key on one page"},
    {A::settings, "settings", "Help", "Settings ...", "Ctrl+,",
     "Text size, colours, grid and snapping"},
};

const std::map<std::string, int, std::less<>>& named_keys() {
    // Key codes as the window library numbers them: letters and signs by their ASCII code.
    static const std::map<std::string, int, std::less<>> keys = {
        {"Escape", 256}, {"Enter", 257}, {"Tab", 258}, {"Delete", 261}, {"Right", 262},
        {"Left", 263},   {"Down", 264},  {"Up", 265},  {"PageUp", 266}, {"PageDown", 267},
        {"Home", 268},   {"End", 269},   {"F1", 290},  {"F5", 294},     {"F6", 295},
        {"F7", 296},     {"F8", 297},    {"F9", 298},  {"Space", 32}};
    return keys;
}

} // namespace

std::span<const ActionEntry> all_actions() {
    return table;
}

const ActionEntry& entry_of(Action action) {
    const auto found = std::find_if(std::begin(table), std::end(table),
                                    [&](const ActionEntry& e) { return e.action == action; });
    STANDPOINT_CHECK(found != std::end(table));
    return *found;
}

Chord chord_of(const std::string& keys) {
    Chord chord;
    std::string rest = keys;
    const auto take = [&](const char* prefix) {
        const std::string text = prefix;
        if (rest.size() <= text.size() || rest.compare(0, text.size(), text) != 0) return false;
        rest.erase(0, text.size());
        return true;
    };
    chord.ctrl = take("Ctrl+");
    chord.alt = take("Alt+");
    chord.shift = take("Shift+");
    const auto named = named_keys().find(rest);
    if (named != named_keys().end())
        chord.key = named->second;
    else if (rest.size() == 1)
        chord.key = std::toupper(static_cast<unsigned char>(rest[0]));
    return chord;
}

} // namespace standpoint
