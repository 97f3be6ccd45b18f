// Ratios of enlargement, written 12:1, and plain numbers that remember how they were written.
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"

namespace standpoint {

struct Ratio {
    double value = 1; // built size / original size, 0.001 to 10000
    std::string as_read;

    Ratio() = default;
    Ratio(double v) : value(v) {}
    friend bool operator==(const Ratio& a, const Ratio& b) { return a.value == b.value; }
};

struct Number {
    double value = 0;
    std::string as_read;

    Number() = default;
    Number(double v) : value(v) {}
    friend bool operator==(const Number& a, const Number& b) { return a.value == b.value; }
};

Result<double> parse_ratio(std::string_view text); // `12:1`, `12`, `1:2`, `7:2`

// "12:1", "12.5:1", "1:2" below one, "4:3"; always reads back as the same value. `value` > 0.
std::string print_ratio(double value);

} // namespace standpoint
