// What the checks found, asked for by target, visitor and place: what strip and changes share.
#pragma once

#include <map>
#include <string>

#include "desk/check_outcome.h"

namespace standpoint {

// The half width of an interval of 95 % in standard errors.
inline constexpr double two_sided_95 = 1.96;

// V at or above which the target is seen; of a target to hide: 0, any of it counts.
double seen_limit(const CheckOutcome& outcome, const Target& target);

// True when the verdict on a sight might be another with other samples.
bool is_doubtful(const Sight& sight, Aim aim, double limit);

// Shares of the audience by visitor id, summing to 1; alike when none is stated.
std::map<std::string, double> audience_shares(const Document& document);

// Index of the station nearest to a distance. Requires stations.
std::size_t station_near(const std::vector<Station>& stations, double distance);

// Null: not checked.
const TargetSights* sights_of(const CheckOutcome& outcome, const std::string& target,
                              const std::string& visitor);
const HideExposure* exposure_of(const CheckOutcome& outcome, const std::string& target);

} // namespace standpoint
