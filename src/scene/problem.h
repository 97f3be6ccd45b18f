// What is wrong with a document and where, before a file gives the place a line.
#pragma once

#include <optional>
#include <string>
#include <string_view>
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

// The same trouble seen from one level further out. Places are put together only when something
// is wrong: documents are checked at every edit.
inline Trouble within(std::string_view step, Trouble inner) {
    if (inner) inner->pointer.insert(0, step);
    return inner;
}
inline Trouble within_key(std::string_view key, Trouble inner) {
    return within("/", within(key, std::move(inner)));
}

} // namespace standpoint
