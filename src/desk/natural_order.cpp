// The order in which people look for names.
#include "desk/natural_order.h"

#include <compare>
#include <string>

#include "desk/search.h"

namespace standpoint {

namespace {

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

// A run of digits at the front, taken off; leading noughts do not count.
std::string_view take_number(std::string_view& text) {
    std::size_t end = 0;
    while (end < text.size() && is_digit(text[end]))
        ++end;
    std::string_view number = text.substr(0, end);
    text.remove_prefix(end);
    while (number.size() > 1 && number.front() == '0')
        number.remove_prefix(1);
    return number;
}

// By value: the longer number is the larger.
std::strong_ordering by_value(std::string_view a, std::string_view b) {
    if (a.size() != b.size()) return a.size() <=> b.size();
    return a <=> b;
}

std::strong_ordering natural(std::string_view a, std::string_view b) {
    while (!a.empty() && !b.empty()) {
        std::strong_ordering order = std::strong_ordering::equal;
        if (is_digit(a.front()) && is_digit(b.front())) {
            const std::string_view from_a = take_number(a), from_b = take_number(b);
            order = by_value(from_a, from_b);
        } else {
            order = static_cast<unsigned char>(a.front()) <=> static_cast<unsigned char>(b.front());
            a.remove_prefix(1);
            b.remove_prefix(1);
        }
        if (order != std::strong_ordering::equal) return order;
    }
    return a.size() <=> b.size();
}

} // namespace

bool natural_less(std::string_view a, std::string_view b) {
    const std::string small_a = small_letters(a), small_b = small_letters(b);
    const std::strong_ordering order = natural(small_a, small_b);
    return order != std::strong_ordering::equal ? order < 0 : a < b;
}

} // namespace standpoint
