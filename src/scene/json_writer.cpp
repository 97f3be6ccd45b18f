// Tokens of the values that remember how they were written.
#include "scene/json_writer.h"

#include <algorithm>
#include <charconv>
#include <optional>

namespace standpoint {

namespace {

// A plain decimal number, the usual case; other tokens take the long way round.
std::optional<double> plain_number(std::string_view token) {
    const std::size_t sign = token.starts_with("-") ? 1 : 0;
    const bool leading_zero = token.substr(sign).starts_with("0") && token.size() > sign + 1;
    const auto digit = [](char c) { return c >= '0' && c <= '9'; };
    if (leading_zero || token.size() == sign ||
        !std::all_of(token.begin() + static_cast<std::ptrdiff_t>(sign), token.end(), digit))
        return std::nullopt;
    double value = 0;
    const auto read = std::from_chars(token.data(), token.data() + token.size(), value);
    return read.ec == std::errc() ? std::optional(value) : std::nullopt;
}

// The number a remembered token stands for, read by `parse` when it is a text.
template <class Parse> bool still_says(const std::string& token, double value, Parse parse) {
    if (token.empty()) return false;
    if (const auto plain = plain_number(token)) return *plain == value;
    const Result<JsonNode> read = read_json_tree(token, "");
    // Spaces or a mark around the token would change the layout.
    if (!read.ok() || read->token != token) return false;
    if (read->kind == JsonKind::number) return read->number == value;
    if (read->kind != JsonKind::string) return false;
    const Result<double> parsed = parse(read->text);
    return parsed.ok() && *parsed == value;
}

Result<double> no_text(std::string_view) {
    return input_error("", "found a text");
}

} // namespace

JsonNode json_token(std::string token) {
    JsonNode node;
    node.token = std::move(token);
    return node;
}

std::string token_of(const Length& length) {
    if (still_says(length.as_read, length.mm, parse_length_mm)) return length.as_read;
    return print_exact(length.mm);
}

std::string token_of(const Angle& angle) {
    if (still_says(angle.as_read, angle.deg, parse_angle_deg)) return angle.as_read;
    return print_exact(angle.deg);
}

std::string token_of(const Ratio& ratio) {
    if (still_says(ratio.as_read, ratio.value, parse_ratio)) return ratio.as_read;
    const std::string printed = print_ratio(ratio.value);
    const Result<double> parsed = parse_ratio(printed);
    if (parsed.ok() && *parsed == ratio.value) return json_string(printed);
    return print_exact(ratio.value);
}

std::string token_of(const Number& number) {
    if (still_says(number.as_read, number.value, no_text)) return number.as_read;
    return print_exact(number.value);
}

} // namespace standpoint
