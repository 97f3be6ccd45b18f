// Lists folders and understands what is typed under them.
#include "desk/file_dialog.h"

#include <algorithm>
#include <filesystem>
#include <optional>
#include <system_error>
#include <utility>

#include <fmt/format.h>

#include "desk/natural_order.h"
#include "desk/search.h"

namespace standpoint {

namespace {

namespace fs = std::filesystem;

struct Listing {
    std::vector<FileRow> rows;
    std::string problem;
};

bool ends_well(const std::string& name, const std::vector<std::string>& endings) {
    const std::string small = small_letters(name);
    return endings.empty() ||
           std::any_of(endings.begin(), endings.end(), [&](const std::string& ending) {
               return small.ends_with(small_letters(ending));
           });
}

// Nothing for what can be neither gone into nor opened: pipes, devices, links that lead nowhere.
std::optional<FileRow> row_of(const fs::directory_entry& entry) {
    std::error_code error;
    FileRow row;
    row.name = entry.path().filename().string();
    row.folder = entry.is_directory(error);
    if (row.folder) return row;
    if (error || !entry.is_regular_file(error) || error) return std::nullopt;
    const auto bytes = entry.file_size(error);
    row.bytes = error ? 0 : bytes;
    return row;
}

bool row_less(const FileRow& a, const FileRow& b) {
    return a.folder != b.folder ? a.folder : natural_less(a.name, b.name);
}

// Everything in a folder, without regard to endings.
Listing list_all(const std::string& folder, bool hidden) {
    Listing out;
    std::error_code error;
    const fs::directory_iterator end;
    for (fs::directory_iterator at(folder, error); !error && at != end; at.increment(error)) {
        auto row = row_of(*at);
        if (row && (hidden || !row->name.starts_with('.'))) out.rows.push_back(std::move(*row));
    }
    if (error) {
        out.rows.clear();
        out.problem = fmt::format("{} cannot be listed: {}", in_quotes(folder), error.message());
    }
    std::sort(out.rows.begin(), out.rows.end(), row_less);
    return out;
}

// "." and ".." taken away as they stand; absolute, without a slash at the end but for the root.
std::string tidy(const std::string& path) {
    std::string text = fs::path(path).lexically_normal().string();
    while (text.size() > 1 && text.ends_with('/'))
        text.pop_back();
    return text;
}

std::string joined(const std::string& folder, const std::string& name) {
    return folder.ends_with('/') ? folder + name : folder + "/" + name;
}

// What `typed` means, with a slash at its end when it has one.
std::string meant(const FileDialog& dialog, const std::string& typed) {
    if (typed.starts_with('/')) return typed;
    if ((typed == "~" || typed.starts_with("~/")) && !dialog.home.empty())
        return dialog.home + typed.substr(1);
    return joined(dialog.folder, typed);
}

bool is_folder(const std::string& path) {
    std::error_code error;
    return fs::is_directory(path, error);
}

bool is_there(const std::string& path) {
    std::error_code error;
    return fs::exists(fs::symlink_status(path, error));
}

} // namespace

void list_again(FileDialog& dialog) {
    Listing listing = list_all(dialog.folder, dialog.hidden);
    std::erase_if(listing.rows, [&](const FileRow& row) {
        return !row.folder && !ends_well(row.name, dialog.endings);
    });
    dialog.rows = std::move(listing.rows);
    dialog.message = std::move(listing.problem);
}

void go_to_folder(FileDialog& dialog, const std::string& folder) {
    if (dialog.folder.empty()) {
        std::error_code error;
        dialog.folder = fs::current_path(error).string();
        if (error) dialog.folder = "/";
    }
    dialog.folder = tidy(meant(dialog, folder));
    list_again(dialog);
}

void go_up(FileDialog& dialog) {
    go_to_folder(dialog, "..");
}

void go_home(FileDialog& dialog) {
    if (!dialog.home.empty()) go_to_folder(dialog, dialog.home);
}

std::string typed_path(const FileDialog& dialog) {
    return tidy(meant(dialog, dialog.typed));
}

namespace {

// As far as all texts agree, never within a character of UTF-8.
std::string common_start(const std::vector<std::string>& texts) {
    std::string start = texts.front();
    for (const std::string& text : texts) {
        const auto differ = std::mismatch(start.begin(), start.end(), text.begin(), text.end());
        start.erase(differ.first, start.end());
    }
    const auto follows = [](char c) { return (static_cast<unsigned char>(c) & 0xC0) == 0x80; };
    const std::string& first = texts.front();
    while (!start.empty() && start.size() < first.size() && follows(first[start.size()]))
        start.pop_back();
    return start;
}

std::vector<std::string> names_that_begin(const FileDialog& dialog, const std::string& folder,
                                          const std::string& begin, bool by_case) {
    const std::string wanted = by_case ? begin : small_letters(begin);
    std::vector<std::string> names;
    for (const FileRow& row : list_all(folder, dialog.hidden || begin.starts_with('.')).rows) {
        const std::string name = by_case ? row.name : small_letters(row.name);
        if (name.starts_with(wanted) && (row.folder || ends_well(row.name, dialog.endings)))
            names.push_back(row.folder ? row.name + "/" : row.name);
    }
    return names;
}

} // namespace

Completion complete_typed(const FileDialog& dialog) {
    Completion out{dialog.typed, {}};
    if (dialog.typed == "~") {
        if (!dialog.home.empty()) out.typed = "~/";
        return out;
    }
    const std::size_t slash = dialog.typed.rfind('/') + 1; // npos + 1 is 0
    const std::string before = dialog.typed.substr(0, slash), begin = dialog.typed.substr(slash);
    const std::string folder = before.empty() ? dialog.folder : tidy(meant(dialog, before));
    out.offers = names_that_begin(dialog, folder, begin, true);
    if (out.offers.empty()) out.offers = names_that_begin(dialog, folder, begin, false);
    if (out.offers.empty()) return out;
    const std::string common = common_start(out.offers);
    // Names that agree only without regard to case may have less in common than what was typed.
    if (common.size() >= begin.size()) out.typed = before + common;
    return out;
}

namespace {

Choice refuse(FileDialog& dialog, std::string why) {
    dialog.message = std::move(why);
    return {};
}

// With the ending put on, or what is missing of it: "boat.scene" lacks ".json" alone.
std::string with_ending(const std::string& path, const std::string& ending) {
    for (std::size_t dot = ending.rfind('.'); dot != std::string::npos && dot > 0;
         dot = ending.rfind('.', dot - 1))
        if (path.ends_with(ending.substr(0, dot))) return path + ending.substr(dot);
    return path + ending;
}

Choice choose_to_save(FileDialog& dialog, std::string path) {
    if (!is_there(path) && !ends_well(path, dialog.endings))
        path = with_ending(path, dialog.endings.front());
    const std::string folder = tidy(path + "/..");
    if (!is_folder(folder))
        return refuse(dialog, fmt::format("There is no folder {}", in_quotes(folder)));
    if (is_folder(path)) return refuse(dialog, fmt::format("{} is a folder", in_quotes(path)));
    return {is_there(path) ? ChoiceKind::ask_overwrite : ChoiceKind::save, path};
}

Choice choose_to_open(FileDialog& dialog, const std::string& path) {
    std::error_code error;
    if (!is_there(path)) return refuse(dialog, fmt::format("There is no {}", in_quotes(path)));
    if (!fs::is_regular_file(path, error))
        return refuse(dialog, fmt::format("{} is not a file that can be opened", in_quotes(path)));
    return {ChoiceKind::open, path};
}

} // namespace

Choice choose(FileDialog& dialog) {
    dialog.message.clear();
    if (dialog.typed.empty()) return refuse(dialog, "Type or choose a name");
    if (dialog.typed.find('\0') != std::string::npos)
        return refuse(dialog, "A name cannot hold a NUL");
    const bool as_folder = dialog.typed.ends_with('/');
    const std::string path = typed_path(dialog);
    if (is_folder(path)) {
        dialog.typed.clear();
        go_to_folder(dialog, path);
        return {ChoiceKind::went, path};
    }
    if (as_folder) return refuse(dialog, fmt::format("There is no folder {}", in_quotes(path)));
    return dialog.saving ? choose_to_save(dialog, path) : choose_to_open(dialog, path);
}

Choice choose_row(FileDialog& dialog, const FileRow& row) {
    const std::string path = joined(dialog.folder, row.name);
    if (row.folder) {
        go_to_folder(dialog, path);
        return {ChoiceKind::went, path};
    }
    dialog.typed = row.name;
    dialog.message.clear();
    return dialog.saving ? choose_to_save(dialog, path) : choose_to_open(dialog, path);
}

} // namespace standpoint
