// What is wrong with a document and where, before a file gives the place a line.
#pragma once

#include <optional>
#include <string>
#include <utility>

namespace standpoint {

struct Problem {
    std::string pointer; // JSON pointer from the value that was looked at: "", "/at/x"
    std::string message; // found ..., expected ...
};
using Trouble = std::optional<Problem>; // nothing: all is well

inline Trouble trouble(std::string pointer, std::string message) {
    return Problem{std::move(pointer), std::move(message)};
}

// The same trouble seen from one level further out.
inline Trouble within(const std::string& step, Trouble inner) {
    if (inner) inner->pointer = step + inner->pointer;
    return inner;
}

} // namespace standpoint
