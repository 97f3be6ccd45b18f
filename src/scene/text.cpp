// Small questions about text.
#include "scene/text.h"

#include <algorithm>

#include <fmt/format.h>

namespace standpoint {

namespace {

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}
bool is_small(char c) {
    return c >= 'a' && c <= 'z';
}
bool is_capital(char c) {
    return c >= 'A' && c <= 'Z';
}

// Length of the sequence a lead byte opens, and the range its second byte must lie in (RFC 3629,
// which leaves out overlong forms, surrogates and what lies beyond U+10FFFF). 0: not a lead byte.
struct Lead {
    int length = 0;
    unsigned char low = 0x80, high = 0xBF;
};

Lead lead_of(unsigned char c) {
    if (c < 0x80) return {1};
    if (c >= 0xC2 && c <= 0xDF) return {2};
    if (c == 0xE0) return {3, 0xA0, 0xBF};
    if (c == 0xED) return {3, 0x80, 0x9F};
    if (c >= 0xE1 && c <= 0xEF) return {3};
    if (c == 0xF0) return {4, 0x90, 0xBF};
    if (c >= 0xF1 && c <= 0xF3) return {4};
    if (c == 0xF4) return {4, 0x80, 0x8F};
    return {};
}

} // namespace

std::optional<std::size_t> find_bad_utf8(std::string_view text) {
    std::size_t at = 0;
    while (at < text.size()) {
        const Lead lead = lead_of(static_cast<unsigned char>(text[at]));
        if (lead.length == 0) return at;
        for (int i = 1; i < lead.length; ++i) {
            if (at + i >= text.size()) return at;
            const auto c = static_cast<unsigned char>(text[at + i]);
            const bool second = i == 1;
            if (c < (second ? lead.low : 0x80) || c > (second ? lead.high : 0xBF)) return at;
        }
        at += lead.length;
    }
    return std::nullopt;
}

std::string byte_name(char byte) {
    return fmt::format("0x{:02X}", static_cast<unsigned char>(byte));
}

std::size_t edit_distance(std::string_view a, std::string_view b) {
    std::vector<std::size_t> row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j)
        row[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        std::size_t diagonal = row[0];
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t change = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
            diagonal = row[j];
            row[j] = std::min({change, row[j] + 1, row[j - 1] + 1});
        }
    }
    return row[b.size()];
}

std::string nearest_word(std::string_view word, const std::vector<std::string>& known) {
    if (word.size() > 64) return {};
    std::string best;
    std::size_t best_distance = std::max<std::size_t>(2, word.size() / 2) + 1;
    for (const std::string& candidate : known) {
        const std::size_t distance = edit_distance(word, candidate);
        if (distance < best_distance && distance < candidate.size()) {
            best_distance = distance;
            best = candidate;
        }
    }
    return best;
}

bool is_label_id(std::string_view text) {
    const auto letter = [](char c) { return is_digit(c) || is_small(c) || is_capital(c); };
    return !text.empty() && text.size() <= 64 && letter(text[0]) &&
           std::all_of(text.begin(), text.end(), [&](char c) { return letter(c) || c == '-'; });
}

bool is_id(std::string_view text) {
    return is_label_id(text) && std::none_of(text.begin(), text.end(), is_capital);
}

bool is_colour(std::string_view text) {
    const auto hex = [](char c) {
        return is_digit(c) || (c >= 'a' && c <= 'f') || (c >= 'A' && c <= 'F');
    };
    return text.size() == 7 && text[0] == '#' && std::all_of(text.begin() + 1, text.end(), hex);
}

bool is_date(std::string_view text) {
    if (text.size() != 10 || text[4] != '-' || text[7] != '-') return false;
    for (const std::size_t i : {0, 1, 2, 3, 5, 6, 8, 9})
        if (!is_digit(text[i])) return false;
    const auto number = [&](std::size_t from, std::size_t count) {
        int n = 0;
        for (const char c : text.substr(from, count))
            n = n * 10 + (c - '0');
        return n;
    };
    const int year = number(0, 4), month = number(5, 2), day = number(8, 2);
    const bool leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    constexpr int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    if (month < 1 || month > 12 || day < 1) return false;
    return day <= days[month - 1] + (leap && month == 2 ? 1 : 0);
}

} // namespace standpoint
