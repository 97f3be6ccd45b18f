// Everything the window holds between two frames. Plain state: panels read it and call the free
// functions of desk; nothing in here draws.
#pragma once

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/files.h"
#include "check/results.h"
#include "check/stations.h"
#include "desk/autosave.h"
#include "desk/background.h"
#include "desk/changes.h"
#include "desk/desk.h"
#include "desk/file_dialog.h"
#include "desk/library.h"
#include "desk/piece_ids.h"
#include "desk/settings_file.h"
#include "desk/snap.h"
#include "desk/strip.h"
#include "desk/view_camera.h"
#include "window/panel_state.h"
#include "window/scene_drawing.h"

namespace standpoint {

inline constexpr int most_views = 4;

struct View {
    ViewCamera camera;
    bool placed = false;              // false: frame everything when its size is first known
    std::optional<double> cut_height; // plan, scene z mm
    glm::vec2 low{0.0f}, high{0.0f};  // where it was drawn last, window pixels
    double clear_top = 0;             // of it, pixels, under the row of switches
};

enum class Tool { pick, measure };

// What the left button is doing in a view since it went down.
enum class Drag {
    none,
    pending,
    pieces,
    turn,
    raise,
    rectangle,
    pan,
    orbit,
    visitor,
    path_point,
    from_library,
    slider // of a panel, not in a view
};

// What a drag has gone along with: while it is the same there is nothing to do.
struct Followed {
    int view = 0;
    glm::dvec2 at{0.0};
    bool ctrl = false, alt = false;
    friend bool operator==(const Followed&, const Followed&) = default;
};

struct Pointer {
    Drag drag = Drag::none;
    int view = 0;                   // where it began
    glm::dvec2 start{0.0};          // pixels of that view
    std::string under;              // piece under it when it went down; empty: none
    std::optional<glm::dvec3> grip; // scene point it holds
    std::vector<std::string> ids;   // what moves
    std::size_t point = 0;          // of the path, what moves
    Document before;                // the document the drag began with
    std::shared_ptr<const Staging> staging_before;
    std::optional<Followed> followed;
    std::vector<SnapGuide> guides;
    std::string says; // what a drag does now, in words: "+320, -40 mm"
};

struct Measuring {
    std::optional<glm::dvec3> from, to;
};

// Where the scrubbed visitor stands.
struct Scrub {
    double distance_mm = 0;
    int lane = 1;
    std::string visitor; // id; empty: the scene's first
    std::string look_at; // target or piece id; empty: the middle of the staging
};

enum class Dialog {
    none,
    open,
    save_as,
    bring_in,
    sheets,
    ask_unsaved,
    recover,
    keys,
    settings,
    align,
    repeat,
    ratio,
    message
};

enum class After { nothing, quit, new_scene, open_dialog, open_file }; // what waits for an answer

struct Answers { // what the last checks said, and how that differs from the last full run before
    std::shared_ptr<const CheckOutcome> outcome;
    std::shared_ptr<const CheckOutcome> full, full_before; // of different revisions
    Changes changes;
    std::vector<StripRow> rows;
    WidthStrip widths;
};

struct Shell {
    DiskFiles files;
    std::optional<Desk> desk; // none: the first page shows
    WindowSettings settings;
    std::array<View, most_views> views;
    int active_view = 0;
    Tool tool = Tool::pick;
    Pointer pointer;
    std::string over; // piece under the pointer
    Measuring measuring;
    Scrub scrub;
    Answers answers;
    std::unique_ptr<BackgroundCheck> check;
    std::optional<RecoverySession> recovery; // none: autosave is not to be had
    AutosaveWatch autosave;
    std::vector<Recovery> left_behind;                  // by a crash, to be offered
    std::string settings_file;                          // empty: nothing is kept
    std::unique_ptr<BackgroundJob> job;                 // sheets being made
    std::uint64_t checked_revision = ~std::uint64_t{0}; // asked for last
    Dialog dialog = Dialog::none;
    bool dialog_opens = false; // this frame
    After after = After::nothing;
    std::string after_file;
    FileDialog browser;
    std::string message; // status line: the last thing that went wrong or was done
    bool message_is_error = false;
    std::string search;
    std::string typed_id, typed_name; // fields being typed in, of `typed_of`
    std::string repeat_count = "3", repeat_spacing = "1000 mm", original_size, built_size;
    bool focus_search = false;
    int finding = -1; // stepped to last
    std::string typed_file;
    std::string sheets_folder;
    std::vector<std::string> made_files; // by the last job
    std::vector<LibraryEntry> library;
    std::string library_of; // ratios and scene file the library was listed for
    std::vector<Piece> clipboard;
    std::string dragged_entry;         // library entry being dragged in
    std::vector<std::string> unfolded; // targets whose row shows each visitor
    std::string demo_file;             // the scene of the first page; empty: not found
    std::string open_outside;          // a file to be shown by whatever the machine shows it with
    bool offered_recovery = false;
    std::string now_text;        // the time of day, for what is saved aside
    double clock = 0;            // seconds since the window opened
    double moved_at = 0;         // the same, when the pointer moved last
    std::uint64_t rested_at = 0; // revision of a drag, and frames since it came about
    int frames_rested = 0;
    bool quit = false;
    bool font_changed = false; // style and fonts must be made again
    float display_scale = 1;   // of the screen
    PanelState panels;
    SceneDrawing* drawing = nullptr; // null: no pictures (tests without a display)
};

} // namespace standpoint
