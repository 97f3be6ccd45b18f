// What the window remembers from one run to the next: a small JSON file that outlives mistakes.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "base/files.h"
#include "base/save.h"
#include "desk/view_camera.h"
#include "scene/json_tree.h"

namespace standpoint {

struct RecentScene {
    std::string path;
    bool missing = false; // not there when it was last looked for
    friend bool operator==(const RecentScene&, const RecentScene&) = default;
};
inline constexpr std::size_t most_recent_scenes = 12;

enum class ShownUnits { as_scene, metric, imperial };
inline constexpr const char* shown_unit_names[] = {"as the scene", "metric", "imperial"};

struct WindowSettings {
    std::vector<RecentScene> recent; // latest first, each path once, at most most_recent_scenes
    bool dark = false;
    double text_scale = 1; // 0.5..4, times the screen's own
    int view_count = 4;    // 1, 2 or 4
    std::array<ViewKind, 4> view_kinds{ViewKind::plan, ViewKind::eye, ViewKind::front,
                                       ViewKind::round};
    // In ems, 0: as it comes; to 200. Above the findings lies the panel of what is picked, or of
    // the scene when nothing is; the two have a height each.
    double left_width = 0, right_width = 0, strip_height = 0, piece_height = 0, scene_height = 0;
    double grid_step_mm = 100; // 1..10000
    bool snap_on = true;
    std::array<bool, 5> snap_kinds{true, true, true, true, true}; // by SnapKind
    ShownUnits units = ShownUnits::as_scene;
    bool first_run_done = false;
    std::vector<JsonNode> unknown; // values of keys that this version does not know
    std::vector<std::string> unknown_keys;
};

bool same_settings(const WindowSettings& a, const WindowSettings& b);

// Puts a path on top. Absolute paths are for the caller to give.
void remember_scene(WindowSettings& settings, const std::string& path);
void forget_scene(WindowSettings& settings, const std::string& path);
void look_for_scenes(WindowSettings& settings); // sets `missing`

struct SettingsRead {
    WindowSettings settings;
    std::string message; // for the user; empty: all was well (a file that is not there is well)
};
// Tolerant: a value of the wrong kind or out of range is left at its default and named in the
// message. A file that is no JSON object is moved aside to "<file>.broken" (or .broken-2 ...) and
// the message says so; one that cannot be read stays where it is.
SettingsRead read_settings(const std::string& file);
// Makes the folder when missing. Errors (io).
Status write_settings(const std::string& file, const WindowSettings& settings);
Status write_settings(const std::string& file, const WindowSettings& settings, DiskCalls& calls);

// As text and back. Errors (input): no JSON object.
std::string settings_text(const WindowSettings& settings);
Result<SettingsRead> settings_of(std::string_view text, const std::string& file);

} // namespace standpoint
