// A loop shared among threads by one atomic counter.
#include "base/parallel.h"

#include <algorithm>
#include <atomic>
#include <system_error>
#include <thread>
#include <vector>

namespace standpoint {

unsigned thread_count(unsigned asked) {
    if (asked > 0) return asked;
    return std::max(1u, std::thread::hardware_concurrency());
}

void parallel_for(std::size_t count, unsigned threads,
                  const std::function<void(std::size_t index)>& body) {
    if (count == 0) return;
    std::atomic<std::size_t> next{0};
    // noexcept: an exception ends the program here, on one thread or on many.
    const auto work = [&]() noexcept {
        for (std::size_t i = next.fetch_add(1, std::memory_order_relaxed); i < count;
             i = next.fetch_add(1, std::memory_order_relaxed))
            body(i);
    };
    const std::size_t workers = std::min<std::size_t>(thread_count(threads), count);
    std::vector<std::thread> others;
    others.reserve(workers - 1);
    try {
        while (others.size() + 1 < workers)
            others.emplace_back(work);
    } catch (const std::system_error&) {
        // The machine has no more threads to give: the ones that started do all the work.
    }
    work();
    for (std::thread& other : others)
        other.join();
}

} // namespace standpoint
