// Reading numbers and unit words off the front of a text.
#include "measure/scan.h"

#include <algorithm>
#include <charconv>
#include <string>

namespace standpoint {

namespace {

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

std::optional<double> to_double(std::string_view text, std::chars_format format) {
    double value = 0;
    const auto [end, code] = std::from_chars(text.data(), text.data() + text.size(), value, format);
    if (code != std::errc() || end != text.data() + text.size()) return std::nullopt;
    return value;
}

// Length of digits [point [digits]] at the front; 0 when there is no digit.
std::size_t decimal_length(std::string_view text) {
    std::size_t length = 0;
    bool digit = false;
    bool point = false;
    for (; length < text.size(); ++length) {
        if (is_digit(text[length]))
            digit = true;
        else if (text[length] == '.' && !point)
            point = true;
        else
            break;
    }
    return digit ? length : 0;
}

// Length of e [sign] digits at the front; 0 when it is none.
std::size_t exponent_length(std::string_view text) {
    if (text.empty() || (text[0] != 'e' && text[0] != 'E')) return 0;
    std::size_t length = 1;
    if (length < text.size() && (text[length] == '+' || text[length] == '-')) ++length;
    const std::size_t digits = length;
    while (length < text.size() && is_digit(text[length]))
        ++length;
    return length > digits ? length : 0;
}

} // namespace

bool Scanner::skip_spaces() {
    bool any = false;
    while (take(" ") || take("\t") || take("\u00a0") || take("\u202f"))
        any = true;
    return any;
}

bool Scanner::take(std::string_view token) {
    if (!rest_.starts_with(token)) return false;
    rest_.remove_prefix(token.size());
    return true;
}

bool Scanner::next_starts_number() const {
    return !rest_.empty() && (is_digit(rest_[0]) || rest_[0] == '.');
}

int Scanner::take_sign() {
    const bool negative = take("-") || take("\u2212");
    if (!negative) take("+");
    skip_spaces();
    return negative ? -1 : 1;
}

std::optional<ScannedNumber> Scanner::take_number(bool exponent) {
    const std::size_t decimal = decimal_length(rest_);
    if (decimal == 0) return std::nullopt;
    const std::string_view digits = rest_.substr(0, decimal);
    const std::size_t power = exponent ? exponent_length(rest_.substr(decimal)) : 0;
    const auto value = to_double(rest_.substr(0, decimal + power),
                                 power > 0 ? std::chars_format::general : std::chars_format::fixed);
    if (!value) return std::nullopt;
    rest_.remove_prefix(decimal + power);

    ScannedNumber number{*value, *value, 1, false};
    const std::size_t point = std::min(digits.find('.'), digits.size());
    number.whole = point == digits.size() && power == 0;
    const std::size_t places = point == digits.size() ? 0 : digits.size() - point - 1;
    constexpr std::size_t most_places = 22; // 10^22 is the largest power of ten in a double
    if (power == 0 && places > 0 && places <= most_places) {
        std::string all(digits);
        all.erase(point, 1);
        const auto numerator = to_double(all, std::chars_format::fixed);
        const auto denominator =
            to_double("1e" + std::to_string(places), std::chars_format::general);
        if (numerator && denominator) {
            number.numerator = *numerator;
            number.denominator = *denominator;
        }
    }
    return number;
}

std::string_view Scanner::take_word() {
    std::size_t length = 0;
    while (length < rest_.size() && is_letter(rest_[length]))
        ++length;
    const std::string_view word = rest_.substr(0, length);
    rest_.remove_prefix(length);
    return word;
}

bool same_word(std::string_view a, std::string_view lower_case) {
    const auto same = [](char x, char y) {
        return (x >= 'A' && x <= 'Z' ? static_cast<char>(x - 'A' + 'a') : x) == y;
    };
    return std::equal(a.begin(), a.end(), lower_case.begin(), lower_case.end(), same);
}

} // namespace standpoint
