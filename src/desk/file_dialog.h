// An open and save dialog of our own: what it lists, and what typing and choosing in it do.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/result.h"

namespace standpoint {

struct FileRow {
    std::string name; // bytes as the machine has them
    bool folder = false;
    std::uint64_t bytes = 0; // of a file
};

struct FileDialog {
    bool saving = false;
    std::string folder; // absolute
    // Endings of the files listed ("" or none: all), without regard to the case of letters.
    std::vector<std::string> endings{".json"};
    std::string home;          // where go_home goes; empty: nowhere
    bool hidden = false;       // list names that begin with a point
    std::vector<FileRow> rows; // folders first, each in natural order
    std::string message;       // why the folder cannot be listed, or the choice not be made
    std::string typed;         // the line at the bottom: a name, or a path
};

// Goes to a folder (relative: to the one it is in) and lists it. When it cannot be listed the
// message says why, the rows are empty, and the folder is gone to all the same, so that one can go
// up again.
void go_to_folder(FileDialog& dialog, const std::string& folder);
void go_up(FileDialog& dialog); // from the root: stays
void go_home(FileDialog& dialog);
void list_again(FileDialog& dialog);

// The path that `typed` means: absolute, "~/..." or relative to the folder; "." and ".." resolved
// as written.
std::string typed_path(const FileDialog& dialog);

struct Completion {
    std::string typed; // as far as all that begin so agree; a folder alone gets its "/"
    std::vector<std::string>
        offers; // what is there that begins so, natural order, folders with "/"
};
// What Tab does. Case of letters counts, but for names that nothing else begins like.
Completion complete_typed(const FileDialog& dialog);

enum class ChoiceKind { nothing, went, open, save, ask_overwrite };
struct Choice {
    ChoiceKind kind = ChoiceKind::nothing;
    std::string path;
};
// What Enter does with `typed`: goes into a folder; opens a file that is there; saves to a new name
// (the first ending is put on when it has none of them and there is no such file), or asks about
// one that is there. `nothing`: the message says why.
Choice choose(FileDialog& dialog);
// The same for a row of the list.
Choice choose_row(FileDialog& dialog, const FileRow& row);

} // namespace standpoint
