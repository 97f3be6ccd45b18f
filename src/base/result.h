// A value, or an error that says what is wrong and where.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>

#include "base/check.h"

namespace standpoint {

enum class ErrorCode {
    input,     // the user's file or argument is wrong
    io,        // the machine refused: missing, unreadable, full
    cancelled, // the user asked to stop
};

// `where` is a file, a file with line and column, and for JSON the pointer as well:
// "ferry.json:42:17 (/pieces/3/at/x)". `message` says what was found and what was expected.
struct Error {
    ErrorCode code = ErrorCode::input;
    std::string message;
    std::string where;
};

// One line for the user: "where: message", or the message alone when there is no place. Control
// characters are escaped, so that a hostile file name cannot start a new line.
std::string one_line(const Error& error);

// `text` in double quotes for a message: control characters escaped, cut after 60 bytes.
std::string in_quotes(std::string_view text);

Error input_error(std::string where, std::string message);
Error io_error(std::string where, std::string message);

// Either a T or an Error. Reading the wrong one is a programmer error and stops the program.
template <class T> class [[nodiscard]] Result {
  public:
    Result(T value) : state_(std::in_place_index<0>, std::move(value)) {}
    Result(Error error) : state_(std::in_place_index<1>, std::move(error)) {}

    bool ok() const { return state_.index() == 0; }
    explicit operator bool() const { return ok(); }

    T& value() & {
        STANDPOINT_CHECK(ok());
        return std::get<0>(state_);
    }
    const T& value() const& {
        STANDPOINT_CHECK(ok());
        return std::get<0>(state_);
    }
    T&& value() && {
        STANDPOINT_CHECK(ok());
        return std::get<0>(std::move(state_));
    }
    T& operator*() & { return value(); }
    const T& operator*() const& { return value(); }
    T* operator->() { return &value(); }
    const T* operator->() const { return &value(); }
    const Error& error() const {
        STANDPOINT_CHECK(!ok());
        return std::get<1>(state_);
    }

  private:
    std::variant<T, Error> state_;
};

struct Done {};
using Status = Result<Done>; // success carries nothing

// Declares `name` as a reference to the value of `expression`, or returns its error from the
// enclosing function.
#define STANDPOINT_TRY(name, expression)                                                           \
    auto name##_result = (expression);                                                             \
    if (!name##_result.ok()) return name##_result.error();                                         \
    auto& name = name##_result.value()

// The same for a Status, or where the value is not wanted.
#define STANDPOINT_TRY_STATUS(expression)                                                          \
    do {                                                                                           \
        auto status_result = (expression);                                                         \
        if (!status_result.ok()) return status_result.error();                                     \
    } while (false)

} // namespace standpoint
