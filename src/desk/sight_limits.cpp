// What the checks found, asked for by target, visitor and place.
#include "desk/sight_limits.h"

#include <algorithm>
#include <cmath>

namespace standpoint {

double seen_limit(const CheckOutcome& outcome, const Target& target) {
    if (target.aim == Aim::hide) return 0;
    if (target.seen_share) return target.seen_share->value;
    return strictest(outcome.results->rules, "seen-share").limit;
}

bool is_doubtful(const Sight& sight, Aim aim, double limit) {
    if (sight.standard_error <= 0) return false;
    const double off = aim == Aim::hide ? sight.share : std::abs(sight.share - limit);
    return off <= two_sided_95 * sight.standard_error;
}

std::map<std::string, double> audience_shares(const Document& document) {
    double all = 0;
    for (const Visitor& visitor : *document.visitors)
        all += visitor.share.value;
    std::map<std::string, double> shares;
    const double alike =
        1.0 / static_cast<double>(std::max<std::size_t>(1, document.visitors->size()));
    for (const Visitor& visitor : *document.visitors)
        shares[visitor.id] = all > 0 ? visitor.share.value / all : alike;
    return shares;
}

std::size_t station_near(const std::vector<Station>& stations, double distance) {
    const auto nearest =
        std::min_element(stations.begin(), stations.end(), [&](const Station& a, const Station& b) {
            return std::abs(a.distance - distance) < std::abs(b.distance - distance);
        });
    return static_cast<std::size_t>(nearest - stations.begin());
}

const TargetSights* sights_of(const CheckOutcome& outcome, const std::string& target,
                              const std::string& visitor) {
    if (!outcome.has_sights()) return nullptr;
    for (const TargetSights& sights : outcome.results->sightlines.targets)
        if (sights.target == target && sights.visitor == visitor) return &sights;
    return nullptr;
}

const HideExposure* exposure_of(const CheckOutcome& outcome, const std::string& target) {
    if (!outcome.has_sights()) return nullptr;
    for (const HideExposure& exposure : outcome.results->sightlines.hidden)
        if (exposure.target == target) return &exposure;
    return nullptr;
}

} // namespace standpoint
