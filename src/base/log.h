// Where messages that are not results go; the command line sends them to stderr.
#pragma once

#include <functional>
#include <string_view>

namespace standpoint {

enum class LogLevel { note, warning, error };
using LogSink = std::function<void(LogLevel, std::string_view)>;

} // namespace standpoint
