// Reads and writes what the window remembers, and moves a broken file aside.
#include "desk/settings_file.h"

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <optional>
#include <system_error>

#include <fmt/format.h>

#include "desk/settings_keys.h"
#include "desk/state_folders.h"

namespace standpoint {

bool same_settings(const WindowSettings& a, const WindowSettings& b) {
    return settings_text(a) == settings_text(b);
}

void forget_scene(WindowSettings& settings, const std::string& path) {
    std::erase_if(settings.recent, [&](const RecentScene& scene) { return scene.path == path; });
}

void remember_scene(WindowSettings& settings, const std::string& path) {
    forget_scene(settings, path);
    settings.recent.insert(settings.recent.begin(), {path, false});
    if (settings.recent.size() > most_recent_scenes) settings.recent.resize(most_recent_scenes);
}

void look_for_scenes(WindowSettings& settings) {
    for (RecentScene& scene : settings.recent) {
        std::error_code error;
        scene.missing = !std::filesystem::is_regular_file(scene.path, error);
    }
}

std::string settings_text(const WindowSettings& settings) {
    JsonNode root;
    root.kind = JsonKind::object;
    write_known(settings, root);
    for (std::size_t i = 0; i < settings.unknown.size(); ++i)
        root.add(settings.unknown_keys[i], settings.unknown[i]);
    return lay_out(root);
}

Result<SettingsRead> settings_of(std::string_view text, const std::string& file) {
    STANDPOINT_TRY(root, read_json_tree(text, file));
    if (root.kind != JsonKind::object)
        return input_error(file, "found " + describe_found(root) + ", expected an object");
    SettingsRead read;
    std::vector<std::string> spoiled;
    read_known(root, read.settings, spoiled);
    for (std::size_t i = 0; i < root.items.size(); ++i)
        if (!is_known_key(root.keys[i])) {
            read.settings.unknown_keys.push_back(root.keys[i]);
            read.settings.unknown.push_back(root.items[i]);
        }
    if (!spoiled.empty()) {
        read.message = "These settings could not be used and are as at first:";
        for (const std::string& key : spoiled)
            read.message += " " + key + (&key == &spoiled.back() ? "" : ",");
    }
    return read;
}

namespace {

constexpr std::size_t largest_settings = std::size_t{4} << 20;
constexpr int most_broken = 99;

bool is_there(const std::string& path) {
    std::error_code error;
    const auto status = std::filesystem::symlink_status(path, error);
    return status.type() != std::filesystem::file_type::not_found;
}

// Moves the file to a free name.
std::optional<std::string> moved_aside(const std::string& file) {
    for (int i = 1; i <= most_broken; ++i) {
        const std::string aside = i == 1 ? file + ".broken" : fmt::format("{}.broken-{}", file, i);
        if (is_there(aside)) continue;
        if (std::rename(file.c_str(), aside.c_str()) == 0) return aside;
        return std::nullopt;
    }
    return std::nullopt;
}

} // namespace

SettingsRead read_settings(const std::string& file) {
    SettingsRead none;
    if (file.empty() || !is_there(file)) return none;
    const Result<std::string> bytes = DiskFiles(largest_settings).read(file);
    if (!bytes.ok()) {
        none.message = "Settings are as at first: " + one_line(bytes.error());
        return none;
    }
    Result<SettingsRead> read = settings_of(*bytes, file);
    if (read.ok()) return std::move(*read);
    none.message = "Settings are as at first: " + one_line(read.error()) + ". ";
    const auto aside = moved_aside(file);
    none.message += aside ? "The file was moved to " + in_quotes(*aside) + "."
                          : "The file could not be moved aside and will be written over.";
    return none;
}

Status write_settings(const std::string& file, const WindowSettings& settings, DiskCalls& calls) {
    if (file.empty()) return io_error("", "there is no home folder to keep settings in");
    STANDPOINT_TRY_STATUS(make_private_folder(file.substr(0, file.rfind('/'))));
    return save_file(file, settings_text(settings), calls);
}

Status write_settings(const std::string& file, const WindowSettings& settings) {
    DiskCalls calls;
    return write_settings(file, settings, calls);
}

} // namespace standpoint
