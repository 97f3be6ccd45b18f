// Why a target is not seen: the reason that counts, the piece to blame, and the words for it.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "check/sight_target.h"
#include "check/sightlines.h"

namespace standpoint {

using ByVisitor = std::vector<const TargetSights*>;

// One sight of the many: whose, and where.
struct Spot {
    const TargetSights* by = nullptr;
    std::size_t station = 0;
    const Sight* sight = nullptr;
};

struct Why { // a target is not seen: what to say, with which numbers, about what
    Rule rule;
    double measured = 0;
    Spot spot; // no sight: nowhere in particular
    std::string text;
    std::vector<std::uint32_t> pieces; // the one to blame first
};

// `unseen` are the sights of those visitors who do not see it; at least one with a station.
Why why_unseen(const Staging& staging, const SightTarget& target,
               const std::vector<Station>& stations, const ByVisitor& unseen);

// The visitor of this id, who is there.
const Visitor& visitor_of(const Document& document, const std::string& id);

} // namespace standpoint
