// Deterministic random numbers for tests: the same on every machine and in every run.
#pragma once

#include <cstdint>

namespace standpoint::support {

// splitmix64 (Steele, Lea and Flood 2014).
class Random {
  public:
    explicit Random(std::uint64_t seed) : state_(seed) {}

    std::uint64_t next() {
        state_ += 0x9e3779b97f4a7c15ULL;
        std::uint64_t x = state_;
        x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9ULL;
        x = (x ^ (x >> 27)) * 0x94d049bb133111ebULL;
        return x ^ (x >> 31);
    }

    // In [low, high).
    double uniform(double low, double high) {
        const double share = static_cast<double>(next() >> 11) * 0x1p-53;
        return low + (high - low) * share;
    }

    // In [low, high], both ends included. The bias of the remainder is below 1e-9 for spans that
    // tests use.
    std::int64_t integer(std::int64_t low, std::int64_t high) {
        const std::uint64_t span =
            static_cast<std::uint64_t>(high) - static_cast<std::uint64_t>(low) + 1;
        const std::uint64_t drawn = span == 0 ? next() : next() % span;
        return static_cast<std::int64_t>(static_cast<std::uint64_t>(low) + drawn);
    }

  private:
    std::uint64_t state_;
};

} // namespace standpoint::support
