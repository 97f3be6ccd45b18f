// What each command does, once its arguments are known. Every action returns an exit code or the
// error to be shown; none prints an error itself.
#pragma once

#include <string>

#include "base/result.h"
#include "command/command.h"

namespace standpoint {

struct CheckArguments {
    std::string scene;
    std::string json; // file to write, "-" for standard output, empty: none
    unsigned threads = 0;
};
struct SheetsArguments {
    std::string scene, folder;
    unsigned threads = 0;
};
struct PictureArguments {
    std::string scene, file;
    std::string visitor, at, lane = "middle", look;
    int width = 1600, height = 900, samples = 0; // 0: the picture's default
    unsigned threads = 0;
};
struct ExportArguments {
    std::string scene, file;
};
struct SettleArguments {
    std::string scene, file;
};
struct NewArguments {
    std::string file;
};
struct WindowCommandArguments {
    std::string scene;   // empty: the first page
    std::string picture; // write the window's picture there and leave; empty: stay open
    int width = 1440, height = 900;
};

Result<int> run_check(const CheckArguments& arguments, const Streams& streams);
Result<int> run_sheets(const SheetsArguments& arguments, const Streams& streams);
Result<int> run_picture(const PictureArguments& arguments, const Streams& streams);
Result<int> run_export(const ExportArguments& arguments, const Streams& streams);
Result<int> run_settle(const SettleArguments& arguments, const Streams& streams);
// Needs a display, as no other command does.
Result<int> run_window_command(const WindowCommandArguments& arguments);
Result<int> run_new(const NewArguments& arguments, const Streams& streams);

} // namespace standpoint
