// What must stay hidden: looked for from everywhere a person can stand or lean.
#pragma once

#include "check/sight_trace.h"

namespace standpoint {

// Eyes go along the path in steps as narrow as this, so that a crack that shows a lamp for 100 mm
// of path is met at least once, and the ends of what is exposed are then halved once more.
inline constexpr double hide_step_mm = 50;
inline constexpr double hide_ends_mm = 25;

// Every visitor's eye in every lane, and eyes that lean past both edges of the path at several
// heights; an eye that leans stops short of what stands in its way.
Result<HideExposure> find_exposure(const Staging& staging, const RayIndex& index,
                                   const SightTarget& target, const std::vector<Rule>& rules,
                                   unsigned threads, const Progress& progress);

} // namespace standpoint
