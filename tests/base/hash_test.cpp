// Hashes against published vectors.
#include "base/hash.h"

#include <bit>
#include <set>
#include <string>

#include <doctest/doctest.h>

#include "support/random.h"

using namespace standpoint;

TEST_CASE("FNV-1a 64 gives the published values") {
    // Fowler, Noll, Vo, Eastlake and Hansen, "The FNV Non-Cryptographic Hash Algorithm"
    // (draft-eastlake-fnv), test vectors; the list of L. C. Noll's test_fnv.c.
    CHECK(hash_bytes("") == 0xcbf29ce484222325ULL);
    CHECK(hash_bytes("a") == 0xaf63dc4c8601ec8cULL);
    CHECK(hash_bytes("b") == 0xaf63df4c8601f1a5ULL);
    CHECK(hash_bytes("c") == 0xaf63de4c8601eff2ULL);
    CHECK(hash_bytes("foobar") == 0x85944171f73967e8ULL);
}

TEST_CASE("a hash chained by its seed is the hash of the whole") {
    support::Random random(1);
    for (int round = 0; round < 200; ++round) {
        std::string bytes;
        const auto length = random.integer(0, 100);
        for (int i = 0; i < length; ++i)
            bytes += static_cast<char>(random.next() & 0xff);
        const auto cut = static_cast<std::size_t>(random.integer(0, length));
        const std::uint64_t front = hash_bytes(std::string_view(bytes).substr(0, cut));
        CHECK(hash_bytes(std::string_view(bytes).substr(cut), front) == hash_bytes(bytes));
    }
}

TEST_CASE("bytes over 127 are hashed as unsigned") {
    // By the definition, one step from the offset basis: (basis xor 255) * prime, modulo 2^64.
    CHECK(hash_bytes("\xff") == (0xcbf29ce484222325ULL ^ 0xffULL) * 0x100000001b3ULL);
}

TEST_CASE("the mixer is the splitmix64 step") {
    // First two outputs of splitmix64 for seed 0 (Steele, Lea and Flood 2014; values from memory).
    CHECK(mix(0) == 0xe220a8397b1dcdafULL);
    CHECK(mix(0x9e3779b97f4a7c15ULL) == 0x6e789e6aa1b965f4ULL);
}

TEST_CASE("the mixer has no collisions among neighbours and changes about half the bits") {
    std::set<std::uint64_t> seen;
    double changed = 0;
    constexpr int count = 20000;
    for (std::uint64_t i = 0; i < count; ++i) {
        seen.insert(mix(i));
        changed += std::popcount(mix(i) ^ mix(i + 1));
    }
    CHECK(seen.size() == count);
    // The mean of 20 000 sums of 64 fair coins has a standard deviation of 4 / sqrt(20000) = 0.028.
    CHECK(std::abs(changed / count - 32) < 0.2);
}
