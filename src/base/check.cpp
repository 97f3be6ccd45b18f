// Stops the program on a programmer error and says which check failed.
#include "base/check.h"

#include <cstdio>
#include <cstdlib>

namespace standpoint {

void check_failed(const char* condition, const char* file, int line) {
    std::fprintf(stderr, "%s:%d: internal check failed: %s\n", file, line, condition);
    std::fflush(stderr);
    std::abort();
}

} // namespace standpoint
