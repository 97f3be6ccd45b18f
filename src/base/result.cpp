// Errors as values, and their one line for the user.
#include "base/result.h"

#include <cstdio>

namespace standpoint {

namespace {

constexpr std::size_t longest_quote = 60;

bool is_control(char c) {
    return static_cast<unsigned char>(c) < 0x20 || c == 0x7f;
}

void append_printable(std::string& out, char c) {
    if (!is_control(c)) {
        out += c;
        return;
    }
    char escaped[8];
    std::snprintf(escaped, sizeof escaped, "\\x%02x", static_cast<unsigned char>(c));
    out += escaped;
}

} // namespace

std::string one_line(const Error& error) {
    std::string line;
    for (const char c : error.where)
        append_printable(line, c);
    if (!error.where.empty()) line += ": ";
    for (const char c : error.message)
        append_printable(line, c);
    return line;
}

std::string in_quotes(std::string_view text) {
    std::string out = "\"";
    const bool cut = text.size() > longest_quote;
    if (cut) {
        std::size_t end = longest_quote;
        // Step back to the first byte of the character that the cut would split.
        while (end > longest_quote - 4 && (static_cast<unsigned char>(text[end]) & 0xc0) == 0x80)
            --end;
        text = text.substr(0, end);
    }
    for (const char c : text)
        append_printable(out, c);
    return out + (cut ? "...\"" : "\"");
}

Error input_error(std::string where, std::string message) {
    return Error{ErrorCode::input, std::move(message), std::move(where)};
}

Error io_error(std::string where, std::string message) {
    return Error{ErrorCode::io, std::move(message), std::move(where)};
}

} // namespace standpoint
