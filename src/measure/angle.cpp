// Angles in degrees; whole quarter turns never pass through pi.
#include "measure/angle.h"

#include <cmath>
#include <numbers>
#include <optional>

#include "measure/scan.h"
#include "measure/steps.h"

namespace standpoint {

namespace {

constexpr double largest_angle_deg = 36000;

std::optional<double> scan_angle(std::string_view text) {
    Scanner scan(text);
    scan.skip_spaces();
    const int sign = scan.take_sign();
    const auto number = scan.take_number(true);
    if (!number) return std::nullopt;
    scan.skip_spaces();
    if (!scan.take("°")) {
        const std::string_view word = scan.take_word();
        if (!word.empty() && !same_word(word, "deg") && !same_word(word, "degrees"))
            return std::nullopt;
    }
    scan.skip_spaces();
    if (!scan.at_end()) return std::nullopt;
    return sign * number->value;
}

} // namespace

Result<double> parse_angle_deg(std::string_view text) {
    const auto deg = scan_angle(text);
    if (!deg)
        return input_error("",
                           "found " + in_quotes(text) + ", expected an angle such as 90 or 12.5°");
    if (!(std::abs(*deg) <= largest_angle_deg))
        return input_error("", "found " + in_quotes(text) +
                                   ", expected an angle from -36000 to 36000 degrees");
    return *deg + 0.0; // no negative zero
}

SinCos sin_cos_deg(double deg) {
    STANDPOINT_CHECK(std::isfinite(deg));
    int quarters = 0;
    const double rest = to_radians(std::remquo(deg, 90.0, &quarters)); // the remainder is exact
    const double s = std::sin(rest);
    const double c = std::cos(rest);
    SinCos result;
    switch (quarters & 3) { // remquo keeps at least the low three bits, with the sign
    case 0:
        result = {s, c};
        break;
    case 1:
        result = {c, -s};
        break;
    case 2:
        result = {-s, -c};
        break;
    default:
        result = {-c, s};
        break;
    }
    return {result.sin + 0.0, result.cos + 0.0}; // no negative zero
}

double to_radians(double deg) {
    return deg * (std::numbers::pi / 180);
}

double to_degrees(double rad) {
    return rad * (180 / std::numbers::pi);
}

double atan2_deg(double y, double x) {
    if (y == 0) return x < 0 ? 180 : 0;
    if (x == 0) return y < 0 ? -90 : 90;
    const double deg = to_degrees(std::atan2(y, x));
    return deg <= -180 ? 180 : deg;
}

double normalise_facing(double deg) {
    STANDPOINT_CHECK(std::isfinite(deg));
    double turned = std::fmod(deg, 360.0);
    if (turned < 0) turned += 360;
    return turned >= 360 ? 0 : turned + 0.0; // a tiny negative angle rounds up to a whole turn
}

std::string print_angle(double deg, double step_deg) {
    std::string text = print_steps(steps_of(deg, step_deg), step_deg);
    if (text.find('.') != std::string::npos) {
        text.erase(text.find_last_not_of('0') + 1);
        if (text.ends_with('.')) text.pop_back();
    }
    return text + "°";
}

std::string print_facing(double deg, double step_deg) {
    const double rounded = from_steps(steps_of(normalise_facing(deg), step_deg), step_deg);
    return print_angle(rounded >= 360 ? 0 : rounded, step_deg);
}

} // namespace standpoint
