// Shared loops: every index once, the same result for any number of threads.
#include "base/parallel.h"

#include <atomic>
#include <csignal>
#include <numeric>
#include <stdexcept>
#include <vector>

#include <doctest/doctest.h>

#include "base/hash.h"
#include "support/child.h"

using namespace standpoint;

TEST_CASE("every index is visited once, for any number of threads") {
    for (const unsigned threads : {0u, 1u, 2u, 3u, 7u, 16u}) {
        for (const std::size_t count : {0u, 1u, 2u, 15u, 1000u}) {
            std::vector<std::atomic<int>> visits(count);
            parallel_for(count, threads, [&](std::size_t i) { ++visits[i]; });
            for (const auto& visit : visits)
                CHECK(visit == 1);
        }
    }
}

TEST_CASE("results do not depend on the number of threads") {
    const auto run = [](unsigned threads) {
        std::vector<std::uint64_t> out(5000);
        parallel_for(out.size(), threads, [&](std::size_t i) { out[i] = mix(i * i); });
        return out;
    };
    const auto one = run(1);
    for (const unsigned threads : {2u, 5u, 0u})
        CHECK(run(threads) == one);
}

TEST_CASE("loops may be nested") {
    std::vector<std::size_t> sums(20);
    parallel_for(sums.size(), 3, [&](std::size_t i) {
        std::vector<std::size_t> parts(10);
        parallel_for(parts.size(), 2, [&](std::size_t k) { parts[k] = i * k; });
        sums[i] = std::accumulate(parts.begin(), parts.end(), std::size_t{0});
    });
    for (std::size_t i = 0; i < sums.size(); ++i)
        CHECK(sums[i] == 45 * i);
}

TEST_CASE("the number of threads asked for is kept, and none means at least one") {
    CHECK(thread_count(1) == 1);
    CHECK(thread_count(9) == 9);
    CHECK(thread_count(0) >= 1);
}

TEST_CASE("an exception in a body stops the program") {
    for (const unsigned threads : {1u, 4u}) {
        const auto end = support::run_child([&] {
            parallel_for(8, threads, [](std::size_t i) {
                if (i == 3) throw std::runtime_error("thrown on purpose");
            });
            return 0;
        });
        CHECK(end.signal == SIGABRT);
    }
}

TEST_CASE("progress without a listener does not stop, with one it obeys") {
    Progress progress;
    CHECK_FALSE(progress.stop());
    bool stopped = false;
    progress.cancelled = [&] { return stopped; };
    CHECK_FALSE(progress.stop());
    stopped = true;
    CHECK(progress.stop());
}
