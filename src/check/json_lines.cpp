// Building JSON text by hand: numbers that read back exactly, one row of numbers or one small
// object a line.
#include "check/json_lines.h"

#include <cmath>

#include <fmt/format.h>

#include "base/check.h"
#include "measure/length.h"

namespace standpoint {

namespace {

std::string pad(int indent) {
    return std::string(static_cast<std::size_t>(indent), ' ');
}

// `open` and `close` about entries, each on a line of its own.
std::string lines(const std::vector<std::string>& entries, int indent, char open, char close) {
    if (entries.empty()) return {open, close};
    std::string out(1, open);
    for (std::size_t i = 0; i < entries.size(); ++i)
        out += (i == 0 ? "\n" : ",\n") + pad(indent + 2) + entries[i];
    return out + "\n" + pad(indent) + close;
}

std::vector<std::string> entries_of(const JsonFields& fields) {
    std::vector<std::string> entries;
    for (const auto& [key, value] : fields)
        entries.push_back(json_text(key) + ": " + value);
    return entries;
}

std::string on_one_line(const std::vector<std::string>& entries, char open, char close) {
    std::string out(1, open);
    for (std::size_t i = 0; i < entries.size(); ++i)
        out += (i == 0 ? "" : ", ") + entries[i];
    return out + close;
}

} // namespace

std::string json_text(std::string_view text) {
    std::string out = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') {
            out += '\\';
            out += c;
        } else if (c == '\n') {
            out += "\\n";
        } else if (c == '\t') {
            out += "\\t";
        } else if (static_cast<unsigned char>(c) < 0x20) {
            out += fmt::format("\\u{:04x}", static_cast<unsigned>(c));
        } else {
            out += c;
        }
    }
    return out + "\"";
}

std::string json_number(double number) {
    STANDPOINT_CHECK(std::isfinite(number));
    return number == 0 ? "0" : print_exact(number); // no negative zero
}

std::string json_flag(bool flag) {
    return flag ? "true" : "false";
}

std::string json_point(const glm::dvec2& point) {
    return json_row({json_number(point.x), json_number(point.y)});
}

std::string json_point(const glm::dvec3& point) {
    return json_row({json_number(point.x), json_number(point.y), json_number(point.z)});
}

std::string json_object(const JsonFields& fields) {
    return on_one_line(entries_of(fields), '{', '}');
}

std::string json_row(const std::vector<std::string>& values) {
    return on_one_line(values, '[', ']');
}

std::string json_block(const JsonFields& fields, int indent) {
    return lines(entries_of(fields), indent, '{', '}');
}

std::string json_list(const std::vector<std::string>& values, int indent) {
    return lines(values, indent, '[', ']');
}

} // namespace standpoint
