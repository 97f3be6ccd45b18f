// Where the program keeps what is its own between runs, after the XDG Base Directory Specification
// (freedesktop.org, version 0.8: a path that is not absolute is ignored).
#pragma once

#include <functional>
#include <string>

#include "base/result.h"

namespace standpoint {

// Reads a variable of the environment; empty: not set.
using Environment = std::function<std::string(const std::string& name)>;
Environment process_environment();

// $XDG_STATE_HOME/standpoint, or ~/.local/state/standpoint. Empty: there is no home folder either.
std::string state_folder(const Environment& environment);
// $XDG_CONFIG_HOME/standpoint/settings.json, or ~/.config/standpoint/settings.json.
std::string settings_path(const Environment& environment);

// Makes the folder and those above it, each new one for its owner only (0700), and takes from the
// last what others may do with it. Errors (io): what stands in the way; a folder of somebody else.
Status make_private_folder(const std::string& folder);

// A path as text that is UTF-8 and one line whatever bytes it holds, and back.
std::string text_of_path(const std::string& path);
std::string path_of_text(const std::string& text);

} // namespace standpoint
