// The command line: reads arguments, runs one command, says what came of it.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace standpoint {

struct Streams {
    // Each returns false when the bytes could not be written.
    std::function<bool(std::string_view)> out; // results
    std::function<bool(std::string_view)> err; // messages and progress
    bool terminal = false;                     // err is a terminal: show progress
};

inline constexpr int exit_done = 0;
inline constexpr int exit_found = 1; // `check`: a finding of grade fail
inline constexpr int exit_wrong = 2; // input or usage wrong, or the machine refused

// `arguments` without the program's own name.
int run_command(const std::vector<std::string>& arguments, const Streams& streams);

} // namespace standpoint
