// Each key of the settings file with its reader and its writer, in the order they are written.
#include "desk/settings_keys.h"

#include <algorithm>
#include <iterator>
#include <optional>
#include <span>

#include <fmt/format.h>

#include "desk/state_folders.h"

namespace standpoint {

namespace {

JsonNode word_node(const std::string& text) {
    JsonNode node;
    node.kind = JsonKind::string;
    node.token = json_string(text);
    node.text = text;
    return node;
}

JsonNode number_node(double number) {
    JsonNode node;
    node.kind = JsonKind::number;
    node.token = fmt::format("{}", number);
    node.number = number;
    return node;
}

JsonNode truth_node(bool truth) {
    JsonNode node;
    node.kind = JsonKind::boolean;
    node.token = truth ? "true" : "false";
    return node;
}

JsonNode list_node(std::vector<JsonNode> items) {
    JsonNode node;
    node.kind = JsonKind::array;
    node.items = std::move(items);
    return node;
}

bool read_truth(const JsonNode& node, bool& truth) {
    if (node.kind != JsonKind::boolean) return false;
    truth = node.token == "true";
    return true;
}

bool read_number(const JsonNode& node, double low, double high, double& number) {
    if (node.kind != JsonKind::number || !(node.number >= low && node.number <= high)) return false;
    number = node.number;
    return true;
}

// One of some words, as its place among them.
template <class Kind>
bool read_word(const JsonNode& node, std::span<const char* const> words, Kind& kind) {
    if (node.kind != JsonKind::string) return false;
    for (std::size_t i = 0; i < words.size(); ++i)
        if (node.text == words[i]) {
            kind = static_cast<Kind>(i);
            return true;
        }
    return false;
}

// -- keys with more to them --

JsonNode recent_node(const WindowSettings& settings) {
    std::vector<JsonNode> paths;
    for (const RecentScene& scene : settings.recent)
        paths.push_back(word_node(text_of_path(scene.path)));
    return list_node(std::move(paths));
}

bool read_recent(const JsonNode& node, WindowSettings& settings) {
    if (node.kind != JsonKind::array) return false;
    std::vector<RecentScene> recent;
    bool all = true;
    for (const JsonNode& item : node.items) {
        const std::string path = path_of_text(item.text);
        const bool known = std::any_of(recent.begin(), recent.end(),
                                       [&](const RecentScene& r) { return r.path == path; });
        const bool good =
            item.kind == JsonKind::string && !path.empty() && path.find('\0') == std::string::npos;
        all = all && good;
        if (good && !known && recent.size() < most_recent_scenes) recent.push_back({path, false});
    }
    settings.recent = std::move(recent);
    return all;
}

JsonNode kinds_node(const WindowSettings& settings) {
    std::vector<JsonNode> kinds;
    for (const ViewKind kind : settings.view_kinds)
        kinds.push_back(word_node(view_kind_names[static_cast<int>(kind)]));
    return list_node(std::move(kinds));
}

bool read_kinds(const JsonNode& node, WindowSettings& settings) {
    auto kinds = settings.view_kinds;
    if (node.kind != JsonKind::array || node.items.size() != kinds.size()) return false;
    for (std::size_t i = 0; i < kinds.size(); ++i)
        if (!read_word(node.items[i], view_kind_names, kinds[i])) return false;
    settings.view_kinds = kinds;
    return true;
}

JsonNode snap_kinds_node(const WindowSettings& settings) {
    std::vector<JsonNode> kinds;
    for (const bool on : settings.snap_kinds)
        kinds.push_back(truth_node(on));
    return list_node(std::move(kinds));
}

bool read_snap_kinds(const JsonNode& node, WindowSettings& settings) {
    auto kinds = settings.snap_kinds;
    if (node.kind != JsonKind::array || node.items.size() != kinds.size()) return false;
    for (std::size_t i = 0; i < kinds.size(); ++i)
        if (!read_truth(node.items[i], kinds[i])) return false;
    settings.snap_kinds = kinds;
    return true;
}

bool read_view_count(const JsonNode& node, WindowSettings& settings) {
    if (node.kind != JsonKind::number) return false;
    for (const int count : {1, 2, 4})
        if (node.number == count) {
            settings.view_count = count;
            return true;
        }
    return false;
}

// -- the table --

struct Key {
    const char* name;
    JsonNode (*write)(const WindowSettings& settings);
    bool (*read)(const JsonNode& node, WindowSettings& settings);
};

template <bool WindowSettings::*field> constexpr Key truth_key(const char* name) {
    return {name, [](const WindowSettings& s) { return truth_node(s.*field); },
            [](const JsonNode& node, WindowSettings& s) { return read_truth(node, s.*field); }};
}

template <double WindowSettings::*field, int low_tenths, int high_tenths>
constexpr Key number_key(const char* name) {
    return {name, [](const WindowSettings& s) { return number_node(s.*field); },
            [](const JsonNode& node, WindowSettings& s) {
                return read_number(node, low_tenths / 10.0, high_tenths / 10.0, s.*field);
            }};
}

constexpr int widest_panel = 2000; // tenths of an em

const Key keys[] = {
    {"recent", recent_node, read_recent},
    truth_key<&WindowSettings::dark>("dark"),
    number_key<&WindowSettings::text_scale, 5, 40>("text-scale"),
    {"views", [](const WindowSettings& s) { return number_node(s.view_count); }, read_view_count},
    {"view-kinds", kinds_node, read_kinds},
    number_key<&WindowSettings::left_width, 0, widest_panel>("left-width"),
    number_key<&WindowSettings::right_width, 0, widest_panel>("right-width"),
    number_key<&WindowSettings::strip_height, 0, widest_panel>("strip-height"),
    number_key<&WindowSettings::piece_height, 0, widest_panel>("piece-height"),
    number_key<&WindowSettings::scene_height, 0, widest_panel>("scene-height"),
    number_key<&WindowSettings::grid_step_mm, 10, 100000>("grid-step-mm"),
    truth_key<&WindowSettings::snap_on>("snap"),
    {"snap-kinds", snap_kinds_node, read_snap_kinds},
    {"units",
     [](const WindowSettings& s) { return word_node(shown_unit_names[static_cast<int>(s.units)]); },
     [](const JsonNode& node, WindowSettings& s) {
         return read_word(node, shown_unit_names, s.units);
     }},
    truth_key<&WindowSettings::first_run_done>("first-run-done"),
};

} // namespace

bool is_known_key(const std::string& key) {
    return std::any_of(std::begin(keys), std::end(keys),
                       [&](const Key& known) { return key == known.name; });
}

void write_known(const WindowSettings& settings, JsonNode& root) {
    for (const Key& key : keys)
        root.add(key.name, key.write(settings));
}

void read_known(const JsonNode& root, WindowSettings& settings, std::vector<std::string>& spoiled) {
    for (const Key& key : keys) {
        const JsonNode* node = root.find(key.name);
        if (node != nullptr && !key.read(*node, settings)) spoiled.push_back(key.name);
    }
}

} // namespace standpoint
