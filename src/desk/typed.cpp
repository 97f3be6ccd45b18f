// Reads what a person types into a field.
#include "desk/typed.h"

#include <charconv>
#include <cmath>
#include <optional>
#include <string>
#include <system_error>

#include "measure/scan.h"
#include "measure/steps.h"

namespace standpoint {

namespace {

constexpr double worked_out_step = 1e-4; // mm or degrees

std::string trimmed(std::string_view text) {
    Scanner scan(text);
    std::string out;
    const auto space = [](char c) { return c == ' ' || c == '\t'; };
    while (!text.empty() && space(text.front()))
        text.remove_prefix(1);
    while (!text.empty() && space(text.back()))
        text.remove_suffix(1);
    for (const char c : text)
        out += c == '\t' ? ' ' : c;
    return out;
}

enum class How { set, add, take, times, over };
struct Typed {
    How how = How::set;
    std::string rest;
};

Typed read_how(std::string_view typed) {
    const std::string text = trimmed(typed);
    const std::string_view all = text;
    const auto after = [&](How how, std::size_t skip) {
        return Typed{how, trimmed(all.substr(skip))};
    };
    if (all.starts_with("*")) return after(How::times, 1);
    if (all.starts_with("\u00d7")) return after(How::times, 2);
    if (all.starts_with("/")) return after(How::over, 1);
    const auto minus = [](std::string_view some) -> std::size_t {
        return some.starts_with("-") ? 1 : some.starts_with("\u2212") ? 3 : 0;
    };
    if (all.starts_with("+")) {
        const std::string_view rest = all.substr(1);
        return minus(rest) > 0 ? after(How::take, 1 + minus(rest)) : after(How::add, 1);
    }
    const std::size_t mark = minus(all);
    if (mark > 0 && all.substr(mark).starts_with(" ")) return after(How::take, mark);
    return {How::set, text};
}

std::optional<double> plain_number(const std::string& text) {
    Scanner scan(text);
    const auto number = scan.take_number(true);
    if (!number || !scan.at_end()) return std::nullopt;
    return number->value;
}

Error not_a_factor(std::string_view text) {
    return input_error("", "found " + in_quotes(text) + ", expected a number above 0 after * or /");
}

// `read` gives the value that is added, taken or set.
template <class Read> Result<double> worked_out(const Typed& typed, double now, Read read) {
    if (typed.how == How::times || typed.how == How::over) {
        const auto factor = plain_number(typed.rest);
        if (!factor || *factor <= 0) return not_a_factor(typed.rest);
        return typed.how == How::times ? now * *factor : now / *factor;
    }
    const bool signed_twice = typed.rest.starts_with('+') || typed.rest.starts_with('-');
    if (typed.how != How::set && signed_twice)
        return input_error("", "found " + in_quotes(typed.rest) + ", expected one sign");
    STANDPOINT_TRY(value, read(typed.rest));
    return typed.how == How::add ? now + value : typed.how == How::take ? now - value : value;
}

double to_worked_out_step(double value) {
    // Beyond this a step is finer than the number itself holds; the limits refuse it later.
    if (!(std::abs(value) < 1e10)) return value;
    return from_steps(steps_of(value, worked_out_step), worked_out_step);
}

bool is_json_number(const std::string& text) {
    std::size_t at = text.starts_with("-") ? 1 : 0;
    const auto digits = [&] {
        const std::size_t begin = at;
        while (at < text.size() && text[at] >= '0' && text[at] <= '9')
            ++at;
        return at - begin;
    };
    const bool zero = at < text.size() && text[at] == '0';
    const std::size_t whole = digits();
    if (whole == 0 || (zero && whole > 1)) return false;
    if (at < text.size() && text[at] == '.') {
        ++at;
        if (digits() == 0) return false;
    }
    return at == text.size();
}

// As a scene file writes it: a bare number, or a string.
std::string token_of(const std::string& text) {
    if (is_json_number(text)) return text;
    std::string token = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') token += '\\';
        token += c;
    }
    return token + '"';
}

// The text with its unit, where the scene's system gives one to a bare number.
std::string with_unit(const std::string& text, UnitSystem units) {
    const bool bare =
        !text.empty() && ((text.back() >= '0' && text.back() <= '9') || text.back() == '.');
    if (units == UnitSystem::imperial && bare && parse_length_mm(text + " in").ok())
        return text + " in";
    return text;
}

std::optional<double> percent(const std::string& text) {
    if (!text.ends_with('%')) return std::nullopt;
    const auto number = plain_number(trimmed(std::string_view(text).substr(0, text.size() - 1)));
    if (!number) return std::nullopt;
    return *number / 100;
}

Result<double> scale_to_scale(const std::string& text) {
    if (const auto share = percent(text)) {
        STANDPOINT_TRY(ratio, parse_ratio(print_exact(*share)));
        return ratio;
    }
    const std::size_t to = text.find("to");
    if (to == std::string::npos) return parse_ratio(text);
    STANDPOINT_TRY(from, parse_ratio(trimmed(std::string_view(text).substr(0, to))));
    STANDPOINT_TRY(wanted, parse_ratio(trimmed(std::string_view(text).substr(to + 2))));
    const double ratio = wanted / from;
    // 1:24 to 1:6 is four, not the double beside it.
    const double whole = std::round(ratio);
    return std::abs(ratio - whole) <= 1e-12 * whole ? whole : ratio;
}

} // namespace

Result<Length> typed_length(std::string_view text, const Length& now, UnitSystem units) {
    const Typed typed = read_how(text);
    const auto read = [&](const std::string& some) {
        return parse_length_mm(with_unit(some, units));
    };
    STANDPOINT_TRY(mm, worked_out(typed, now.mm, read));
    Length length = typed.how == How::set ? mm : to_worked_out_step(mm);
    if (!(std::abs(length.mm) <= largest_length_mm))
        return input_error("", "found " + in_quotes(text) +
                                   ", expected a length of at most 10 km (10000000 mm)");
    if (typed.how == How::set) length.as_read = token_of(with_unit(typed.rest, units));
    return length;
}

Result<Angle> typed_angle(std::string_view text, const Angle& now) {
    const Typed typed = read_how(text);
    STANDPOINT_TRY(deg, worked_out(typed, now.deg, parse_angle_deg));
    Angle angle = typed.how == How::set ? deg : to_worked_out_step(deg);
    STANDPOINT_TRY_STATUS(parse_angle_deg(print_exact(angle.deg)).ok()
                              ? Status(Done{})
                              : Status(input_error("", "found " + in_quotes(text) +
                                                           ", expected an angle from -36000 to "
                                                           "36000 degrees")));
    if (typed.how == How::set) angle.as_read = token_of(typed.rest);
    return angle;
}

Result<Ratio> typed_ratio(std::string_view text, const Ratio& now) {
    const Typed typed = read_how(text);
    STANDPOINT_TRY(value, worked_out(typed, now.value, scale_to_scale));
    if (!(value > 0) || !parse_ratio(print_exact(value)).ok())
        return input_error("", "found " + in_quotes(text) +
                                   ", expected a ratio from 1:1000 to 10000:1");
    Ratio ratio = value;
    if (typed.how == How::set && parse_ratio(typed.rest).ok()) ratio.as_read = token_of(typed.rest);
    return ratio;
}

Result<PlanPoint> typed_point(std::string_view text, const PlanPoint& now, UnitSystem units) {
    const std::size_t comma = text.find(',');
    if (comma == std::string_view::npos || text.find(',', comma + 1) != std::string_view::npos)
        return input_error("", "found " + in_quotes(text) +
                                   ", expected two lengths such as 1200, -500: to the right of the "
                                   "datum, and to the back");
    STANDPOINT_TRY(x, typed_length(text.substr(0, comma), now.x, units));
    STANDPOINT_TRY(y, typed_length(text.substr(comma + 1), now.y, units));
    return PlanPoint{x, y};
}

Result<Number> typed_share(std::string_view text, const Number& now) {
    const Typed typed = read_how(text);
    const auto read = [&](const std::string& some) -> Result<double> {
        auto number = percent(some);
        if (!number) number = plain_number(some);
        if (!number)
            return input_error("", "found " + in_quotes(text) +
                                       ", expected a share such as 0.25 or 25 %");
        return *number;
    };
    STANDPOINT_TRY(value, worked_out(typed, now.value, read));
    if (!(value >= 0 && value <= 1))
        return input_error("",
                           "found " + in_quotes(text) + ", expected a share from 0 to 1 (100 %)");
    Number number = value;
    if (typed.how == How::set && is_json_number(typed.rest)) number.as_read = typed.rest;
    return number;
}

Result<int> typed_count(std::string_view text, int least, int most) {
    const std::string plain = trimmed(text);
    int count = 0;
    const char* end = plain.data() + plain.size();
    const auto [stop, error] = std::from_chars(plain.data(), end, count);
    if (error != std::errc() || stop != end || count < least || count > most)
        return input_error("", "found " + in_quotes(text) + ", expected a whole number from " +
                                   std::to_string(least) + " to " + std::to_string(most));
    return count;
}

Result<std::string> typed_colour(std::string_view text) {
    const std::string plain = trimmed(text);
    if (plain.empty()) return plain;
    std::string colour = "#";
    for (const char c : plain.starts_with('#') ? plain.substr(1) : plain)
        colour += c >= 'A' && c <= 'F' ? static_cast<char>(c - 'A' + 'a') : c;
    const bool good =
        colour.size() == 7 && colour.find_first_not_of("0123456789abcdef", 1) == std::string::npos;
    if (!good)
        return input_error("", "found " + in_quotes(text) +
                                   ", expected a colour such as #a0b1c2 (red, green, blue)");
    return colour;
}

} // namespace standpoint
