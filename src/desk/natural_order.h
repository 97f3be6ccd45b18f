// The order in which people look for names: numbers by their value, letters whatever their case.
#pragma once

#include <string_view>

namespace standpoint {

// "pier 9" before "pier 10"; letters without regard to case first, then bytes. A total order.
bool natural_less(std::string_view a, std::string_view b);

} // namespace standpoint
