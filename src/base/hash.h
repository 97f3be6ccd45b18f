// Content hashes and deterministic scrambles: FNV-1a 64 for bytes, and a 64-bit mixer.
#pragma once

#include <cstdint>
#include <string_view>

namespace standpoint {

// FNV-1a, 64 bits (Fowler, Noll, Vo; published test vectors in the tests). Chain by `seed`.
std::uint64_t hash_bytes(std::string_view bytes, std::uint64_t seed = 0xcbf29ce484222325ULL);

// Mixes one word so that neighbouring inputs give unrelated outputs; a bijection.
std::uint64_t mix(std::uint64_t x);

} // namespace standpoint
