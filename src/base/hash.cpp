// FNV-1a over bytes, and the splitmix64 step as a mixer of single words.
#include "base/hash.h"

namespace standpoint {

std::uint64_t hash_bytes(std::string_view bytes, std::uint64_t seed) {
    constexpr std::uint64_t prime = 0x100000001b3ULL;
    std::uint64_t hash = seed;
    for (const char c : bytes) {
        hash ^= static_cast<unsigned char>(c);
        hash *= prime;
    }
    return hash;
}

std::uint64_t mix(std::uint64_t x) {
    x += 0x9e3779b97f4a7c15ULL; // so that 0 does not map to 0
    x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9ULL;
    x = (x ^ (x >> 27)) * 0x94d049bb133111ebULL;
    return x ^ (x >> 31);
}

} // namespace standpoint
