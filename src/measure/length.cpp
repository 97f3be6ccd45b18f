// Lengths in both systems. Conversions divide whole numbers once, so that 63 in is the double
// nearest to 1600.2 mm and not one beside it.
#include "measure/length.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <numeric>
#include <optional>

#include <fmt/format.h>

#include "measure/scan.h"
#include "measure/steps.h"

namespace standpoint {

namespace {

enum class Unit { millimetre, centimetre, metre, inch, foot };

constexpr double inches_per_foot = 12;

// mm = inches * 254 / 10, both exact.
constexpr double inch_over = 254;
constexpr double inch_under = 10;

struct UnitName {
    std::string_view text;
    Unit unit;
};

constexpr std::array unit_words = {
    UnitName{"mm", Unit::millimetre}, UnitName{"cm", Unit::centimetre},
    UnitName{"m", Unit::metre},       UnitName{"in", Unit::inch},
    UnitName{"inch", Unit::inch},     UnitName{"inches", Unit::inch},
    UnitName{"ft", Unit::foot},       UnitName{"foot", Unit::foot},
    UnitName{"feet", Unit::foot}};

// Straight marks, the primes U+2032 and U+2033, and the quotes that word processors make of them.
constexpr std::array unit_marks = {UnitName{"\"", Unit::inch},     UnitName{"\u2033", Unit::inch},
                                   UnitName{"\u201d", Unit::inch}, UnitName{"'", Unit::foot},
                                   UnitName{"\u2032", Unit::foot}, UnitName{"\u2019", Unit::foot}};

// A number with an optional fraction and an optional unit, as numerator / denominator of the unit.
struct Quantity {
    double numerator = 0;
    double denominator = 1;
    double value = 0; // nearest double when there was no fraction
    bool whole = false;
    bool fraction = false;
    std::optional<Unit> unit;
};

// The bottom of a fraction and the stroke before it.
std::optional<double> take_bottom(Scanner& scan) {
    scan.skip_spaces();
    if (!scan.take("/") && !scan.take("\u2044")) return std::nullopt;
    scan.skip_spaces();
    const auto bottom = scan.take_number(false);
    constexpr double largest_bottom = 1e6;
    if (!bottom || !bottom->whole || bottom->value < 1 || bottom->value > largest_bottom)
        return std::nullopt;
    return bottom->value;
}

// Makes 1/2, 3 1/2 or 3-1/2 of a whole number that was just read. False when none follows.
bool take_fraction(Scanner& scan, Quantity& quantity) {
    Scanner ahead = scan;
    if (const auto bottom = take_bottom(ahead)) {
        quantity.denominator = *bottom;
        scan = ahead;
        return true;
    }
    ahead = scan;
    const bool spaced = ahead.skip_spaces();
    if (!ahead.take("-") && !spaced) return false;
    const auto top = ahead.take_number(false);
    if (!top || !top->whole) return false;
    const auto bottom = take_bottom(ahead);
    if (!bottom || top->value >= *bottom) return false; // 5/2 may be meant, 3 5/2 is a slip
    quantity.numerator = quantity.numerator * *bottom + top->value;
    quantity.denominator = *bottom;
    scan = ahead;
    return true;
}

// False when what stands there is no unit at all; the end of the text is no unit and fine.
bool take_unit(Scanner& scan, std::optional<Unit>& unit) {
    if (scan.at_end()) return true;
    for (const UnitName& mark : unit_marks) {
        if (!scan.take(mark.text)) continue;
        unit = mark.unit;
        return true;
    }
    const std::string_view word = scan.take_word();
    for (const UnitName& name : unit_words) {
        if (!same_word(word, name.text)) continue;
        unit = name.unit;
        return true;
    }
    return false;
}

std::optional<Quantity> take_quantity(Scanner& scan, bool exponent) {
    const auto number = scan.take_number(exponent);
    if (!number) return std::nullopt;
    Quantity quantity{number->numerator, number->denominator, number->value, number->whole, false,
                      std::nullopt};
    if (number->whole) quantity.fraction = take_fraction(scan, quantity);
    scan.skip_spaces();
    if (!take_unit(scan, quantity.unit)) return std::nullopt;
    scan.skip_spaces();
    return quantity;
}

std::optional<double> one_quantity_mm(const Quantity& q) {
    const Unit unit = q.unit.value_or(Unit::millimetre);
    switch (unit) {
    case Unit::inch:
        return q.numerator * inch_over / (q.denominator * inch_under);
    case Unit::foot:
        return q.numerator * (inches_per_foot * inch_over) / (q.denominator * inch_under);
    case Unit::millimetre:
        if (q.fraction) return std::nullopt; // nobody halves millimetres with a stroke
        return q.value;
    case Unit::centimetre:
        if (q.fraction) return std::nullopt;
        return q.numerator * 10 / q.denominator;
    case Unit::metre:
        if (q.fraction) return std::nullopt;
        return q.numerator * 1000 / q.denominator;
    }
    return std::nullopt;
}

std::optional<double> feet_and_inches_mm(const Quantity& feet, const Quantity& inches) {
    if (!feet.whole || feet.fraction) return std::nullopt;
    if (inches.unit.value_or(Unit::inch) != Unit::inch) return std::nullopt;
    if (inches.numerator >= inches_per_foot * inches.denominator) return std::nullopt;
    const double numerator =
        feet.numerator * inches_per_foot * inches.denominator + inches.numerator;
    return numerator * inch_over / (inches.denominator * inch_under);
}

std::optional<double> scan_length(std::string_view text) {
    Scanner scan(text);
    scan.skip_spaces();
    const int sign = scan.take_sign();
    const auto first = take_quantity(scan, true);
    if (!first) return std::nullopt;
    if (scan.at_end()) {
        const auto mm = one_quantity_mm(*first);
        return mm ? std::optional(sign * *mm) : std::nullopt;
    }
    if (first->unit != Unit::foot) return std::nullopt;
    scan.take("-"); // 5'-3" and 5' - 3" are ways to write 5' 3"
    scan.skip_spaces();
    const auto second = take_quantity(scan, false);
    if (!second || !scan.at_end()) return std::nullopt;
    const auto mm = feet_and_inches_mm(*first, *second);
    return mm ? std::optional(sign * *mm) : std::nullopt;
}

bool good_denominator(int denominator) {
    return denominator >= 1 && denominator <= 64 && (denominator & (denominator - 1)) == 0;
}

// How many steps: the one place that rounds.
double steps_in(double mm, const LengthStyle& style) {
    STANDPOINT_CHECK(std::abs(mm) <= largest_printed_mm);
    if (style.system == UnitSystem::imperial) {
        STANDPOINT_CHECK(good_denominator(style.inch_denominator));
        return nearest_whole(mm * (inch_under * style.inch_denominator) / inch_over);
    }
    return steps_of(mm, style.metric_step_mm);
}

std::string print_imperial(double parts_in_all, int denominator) {
    const auto total = static_cast<std::int64_t>(std::abs(parts_in_all));
    const std::int64_t per_foot = 12 * std::int64_t{denominator};
    const std::int64_t feet = total / per_foot;
    const std::int64_t inches = total % per_foot / denominator;
    const std::int64_t parts = total % denominator;
    std::string text = parts_in_all < 0 ? "-" : "";
    if (feet > 0) text += fmt::format("{}' ", feet);
    const bool needs_inches = feet > 0 || inches > 0 || parts == 0;
    if (needs_inches) text += fmt::format("{}", inches);
    if (parts > 0) {
        const std::int64_t common = std::gcd(parts, std::int64_t{denominator});
        text +=
            fmt::format("{}{}/{}", needs_inches ? " " : "", parts / common, denominator / common);
    }
    return text + "\"";
}

} // namespace

Result<double> parse_length_mm(std::string_view text) {
    const auto mm = scan_length(text);
    if (!mm)
        return input_error("", "found " + in_quotes(text) +
                                   ", expected a length such as 1600, 1.6 m or 5' 3\"");
    if (!(std::abs(*mm) <= largest_length_mm))
        return input_error("", "found " + in_quotes(text) +
                                   ", expected a length of at most 10 km (10000000 mm)");
    return *mm + 0.0; // no negative zero
}

double round_to_step(double mm, const LengthStyle& style) {
    const double steps = steps_in(mm, style);
    if (style.system == UnitSystem::imperial)
        return steps * inch_over / (inch_under * style.inch_denominator) + 0.0;
    return from_steps(steps, style.metric_step_mm) + 0.0;
}

std::string print_length(double mm, const LengthStyle& style) {
    const double steps = steps_in(mm, style);
    if (style.system == UnitSystem::imperial) return print_imperial(steps, style.inch_denominator);
    return print_steps(steps, style.metric_step_mm) + (style.with_unit ? " mm" : "");
}

std::string print_exact(double number) {
    STANDPOINT_CHECK(std::isfinite(number));
    const double size = std::abs(number);
    if (size == 0) return "0";
    // Plain digits where a person would write them; the shortest form alone gives 1e+05.
    const bool plain = size >= 1e-6 && size <= 1e15;
    std::array<char, 64> text;
    const auto [end, code] = plain ? std::to_chars(text.data(), text.data() + text.size(), number,
                                                   std::chars_format::fixed)
                                   : std::to_chars(text.data(), text.data() + text.size(), number);
    STANDPOINT_CHECK(code == std::errc());
    return std::string(text.data(), end);
}

} // namespace standpoint
