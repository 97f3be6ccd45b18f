// Writes "checking 42 %" over itself, at most once a whole percent.
#include "command/progress.h"

#include <algorithm>
#include <mutex>

#include <fmt/format.h>

namespace standpoint {

struct ProgressLine::State {
    Streams streams;
    std::string what;
    std::mutex mutex;
    int shown = -1;
};

namespace {

// Back to the line's start, and clear to its end (ECMA-48 "erase in line").
constexpr const char* fresh_line = "\r\x1b[K";

} // namespace

ProgressLine::ProgressLine(const Streams& streams, std::string what)
    : state_(std::make_shared<State>()) {
    state_->streams = streams;
    state_->what = std::move(what);
}

ProgressLine::~ProgressLine() {
    clear();
}

Progress ProgressLine::progress() const {
    Progress progress;
    if (!state_->streams.terminal) return progress;
    progress.report = [state = state_](double share, std::string_view) {
        const int percent = static_cast<int>(std::clamp(share, 0.0, 1.0) * 100);
        const std::lock_guard<std::mutex> lock(state->mutex);
        if (percent == state->shown) return;
        state->shown = percent;
        state->streams.err(fmt::format("{}{} {} %", fresh_line, state->what, percent));
    };
    return progress;
}

void ProgressLine::clear() const {
    const std::lock_guard<std::mutex> lock(state_->mutex);
    if (state_->shown >= 0) state_->streams.err(fresh_line);
    state_->shown = -1;
}

} // namespace standpoint
