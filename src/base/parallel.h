// Work shared among threads with results that do not depend on how many there are.
#pragma once

#include <cstddef>
#include <functional>
#include <string_view>

namespace standpoint {

// How far a long job is, and whether to stop. Both may be empty. Called from any thread.
struct Progress {
    std::function<void(double share, std::string_view what)> report;
    std::function<bool()> cancelled;

    bool stop() const { return cancelled && cancelled(); }
};

// Number of threads to use when asked for 0: what the machine has, at least 1.
unsigned thread_count(unsigned asked);

// Calls body(i) once for each i in [0, count), on `threads` threads (0: all of the machine). The
// body writes only to what belongs to its own i. An exception in a body stops the program.
void parallel_for(std::size_t count, unsigned threads,
                  const std::function<void(std::size_t index)>& body);

} // namespace standpoint
