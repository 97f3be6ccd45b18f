// Reading numbers and unit words off the front of a text; shared by the parsers of this folder.
#pragma once

#include <optional>
#include <string_view>

namespace standpoint {

// A decimal as written. `numerator / denominator` has the written value with both parts exact when
// there are few enough digits, so that a unit conversion can round once, at its own division.
struct ScannedNumber {
    double value = 0; // nearest double to what was written
    double numerator = 0;
    double denominator = 1;
    bool whole = false; // digits only: no point, no exponent
};

class Scanner {
  public:
    explicit Scanner(std::string_view text) : rest_(text) {}

    bool at_end() const { return rest_.empty(); }
    bool skip_spaces(); // also the no-break space; true when there were any
    bool take(std::string_view token);
    bool next_starts_number() const;
    // +1 or -1; "-", "+" and the minus sign U+2212, with spaces after it.
    int take_sign();
    // Digits with at most one point, and an exponent when `exponent` is set. No sign. Nothing when
    // the text is no number or its value does not fit a double.
    std::optional<ScannedNumber> take_number(bool exponent);
    // ASCII letters.
    std::string_view take_word();

  private:
    std::string_view rest_;
};

bool same_word(std::string_view a, std::string_view lower_case); // ASCII, any case

} // namespace standpoint
