// Is an outline simple: a closed run of points that does not touch or cross itself.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "scene/form.h"

namespace standpoint {

inline constexpr std::size_t most_outline_points = 2000;

// What is wrong with the outline; nothing when it is simple and encloses an area.
std::optional<std::string> outline_fault(const std::vector<PlanPoint>& outline);

// The index of a point that lies on the one before it; nothing when there is none.
std::optional<std::size_t> repeated_point(const std::vector<PlanPoint>& points);

} // namespace standpoint
