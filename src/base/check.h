// Checks for programmer errors: they stop the program in every kind of build.
#pragma once

namespace standpoint {

[[noreturn]] void check_failed(const char* condition, const char* file, int line);

} // namespace standpoint

#define STANDPOINT_CHECK(condition)                                                                \
    (static_cast<bool>(condition) ? void(0)                                                        \
                                  : ::standpoint::check_failed(#condition, __FILE__, __LINE__))
