// Ratios of enlargement.
#include "measure/ratio.h"

#include <cmath>
#include <optional>

#include "measure/length.h"
#include "measure/scan.h"

namespace standpoint {

namespace {

constexpr double smallest_ratio = 0.001;
constexpr double largest_ratio = 10000;

std::optional<double> scan_ratio(std::string_view text) {
    Scanner scan(text);
    scan.skip_spaces();
    const auto built = scan.take_number(true);
    if (!built) return std::nullopt;
    scan.skip_spaces();
    if (scan.at_end()) return built->value;
    if (!scan.take(":")) return std::nullopt;
    scan.skip_spaces();
    const auto original = scan.take_number(true);
    scan.skip_spaces();
    if (!original || !scan.at_end() || original->value == 0) return std::nullopt;
    return built->value / original->value;
}

// At most four decimals, as a person would write a ratio.
bool is_short(double value) {
    const double scaled = value * 1e4;
    return std::abs(scaled - std::round(scaled)) <= 1e-9 * scaled &&
           std::round(scaled) / 1e4 == value;
}

} // namespace

Result<double> parse_ratio(std::string_view text) {
    const auto value = scan_ratio(text);
    if (!value)
        return input_error("",
                           "found " + in_quotes(text) + ", expected a ratio such as 12:1 or 1:2");
    if (!(*value >= smallest_ratio && *value <= largest_ratio))
        return input_error("", "found " + in_quotes(text) +
                                   ", expected a ratio from 1:1000 to 10000:1");
    return *value;
}

std::string print_ratio(double value) {
    STANDPOINT_CHECK(std::isfinite(value) && value > 0);
    if (value >= 1 && is_short(value)) return print_exact(value) + ":1";
    const double upside_down = std::round(1e4 / value) / 1e4;
    if (value < 1 && 1 / upside_down == value) return "1:" + print_exact(upside_down);
    constexpr int largest_original = 64;
    for (int original = 2; original <= largest_original; ++original) {
        const double built = std::round(value * original);
        if (built / original == value) return print_exact(built) + ":" + print_exact(original);
    }
    return print_exact(value) + ":1";
}

} // namespace standpoint
