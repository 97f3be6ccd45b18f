// Why a target is not seen: the reason that counts, the piece to blame, and the words for it.
#include "check/sight_why.h"

#include <algorithm>
#include <initializer_list>
#include <iterator>
#include <map>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "base/check.h"

namespace standpoint {

namespace {

std::string piece_name(const StagedPiece& staged) {
    return staged.piece == nullptr ? staged.id : spoken(staged.piece->name, staged.id);
}

template <class Visit> void each_sight(const ByVisitor& by_visitor, const Visit& visit) {
    for (const TargetSights* by : by_visitor)
        for (std::size_t i = 0; i < by->sights.size(); ++i)
            visit(Spot{by, i / lane_count, &by->sights[i]});
}

bool is_hidden(const Sight& sight) {
    return sight.reason == SightReason::hidden_by_others ||
           sight.reason == SightReason::hidden_by_self;
}

// The reason that holds for most of the path where the target is not seen. Where a face is not
// meant to be seen from does not count as long as there is another reason.
SightReason main_reason(const ByVisitor& by_visitor, const std::vector<Station>& stations) {
    double lengths[std::size(sight_reason_names)] = {};
    each_sight(by_visitor, [&](const Spot& spot) {
        lengths[static_cast<int>(spot.sight->reason)] += stations[spot.station].length;
    });
    const auto longest = [&](std::initializer_list<SightReason> reasons) {
        SightReason best = SightReason::seen;
        double length = 0;
        for (const SightReason reason : reasons)
            if (lengths[static_cast<int>(reason)] > length) {
                length = lengths[static_cast<int>(reason)];
                best = reason;
            }
        return best;
    };
    const SightReason curable =
        longest({SightReason::hidden_by_others, SightReason::hidden_by_self, SightReason::too_far});
    if (curable != SightReason::seen) return curable;
    return longest({SightReason::beyond_facing, SightReason::turned_away});
}

// The piece that costs most over all the path where the target is hidden; first of all where
// taking that piece away alone would be enough.
std::optional<std::uint32_t> worst_blocker(const SightTarget& target, const ByVisitor& by_visitor,
                                           const std::vector<Station>& stations) {
    struct Cost { // V times mm of path
        double curable = 0, all = 0;
    };
    std::map<std::uint32_t, Cost> costs;
    each_sight(by_visitor, [&](const Spot& spot) {
        if (!is_hidden(*spot.sight)) return;
        for (const Blocker& blocker : spot.sight->blockers) {
            const double cost = blocker.gain * stations[spot.station].length;
            costs[blocker.piece].all += cost;
            if (passes(target.seen_rule, spot.sight->share + blocker.gain))
                costs[blocker.piece].curable += cost;
        }
    });
    std::optional<std::uint32_t> worst;
    const auto key = [&](std::uint32_t piece) {
        return std::pair(costs[piece].curable, costs[piece].all);
    };
    for (const auto& [piece, cost] : costs)
        if (!worst || key(piece) > key(*worst)) worst = piece;
    return worst;
}

double gain_of(const Sight& sight, std::uint32_t piece) {
    for (const Blocker& blocker : sight.blockers)
        if (blocker.piece == piece) return blocker.gain;
    return 0;
}

// The first of the sights for which `worth` is largest among those with this reason, or hidden
// either way.
template <class Worth>
Spot best_spot(const ByVisitor& by_visitor, SightReason reason, const Worth& worth) {
    constexpr double tie = 1e-9; // sums of many terms that ought to be equal
    Spot best;
    each_sight(by_visitor, [&](const Spot& spot) {
        const bool counts = spot.sight->reason == reason ||
                            (is_hidden(*spot.sight) && (reason == SightReason::hidden_by_others ||
                                                        reason == SightReason::hidden_by_self));
        if (counts && (best.sight == nullptr || worth(*spot.sight) > worth(*best.sight) + tie))
            best = spot;
    });
    return best;
}

std::string spot_text(const Document& document, const std::vector<Station>& stations,
                      const Spot& spot) {
    const Visitor& visitor = visitor_of(document, spot.by->visitor);
    return fmt::format("at {} {} sees", length_text(document, stations[spot.station].distance),
                       spoken(visitor.name, visitor.id));
}

Why why_hidden(const Staging& staging, const SightTarget& target,
               const std::vector<Station>& stations, const ByVisitor& by_visitor,
               SightReason reason) {
    Why why;
    why.rule = target.seen_rule;
    const std::optional<std::uint32_t> worst = worst_blocker(target, by_visitor, stations);
    why.spot = best_spot(by_visitor, reason, [&](const Sight& sight) {
        return worst ? gain_of(sight, *worst) : sight.share;
    });
    const Sight& sight = *why.spot.sight;
    why.measured = sight.share;
    why.text =
        fmt::format("{} {} of it and needs {}", spot_text(staging.document, stations, why.spot),
                    share_text(sight.share), share_text(target.seen_rule.limit));
    if (!worst) {
        why.text += ", with several pieces across every line";
        return why;
    }
    const std::string name =
        *worst == target.piece ? "its own piece" : "\"" + piece_name(staging.pieces[*worst]) + "\"";
    why.text += fmt::format("; without {} it would be {}", name,
                            share_text(std::min(1.0, sight.share + gain_of(sight, *worst))));
    why.pieces.push_back(*worst);
    for (const Blocker& blocker : sight.blockers)
        if (blocker.piece != *worst) why.pieces.push_back(blocker.piece);
    return why;
}

Why why_too_far(const Document& document, const SightTarget& target,
                const std::vector<Station>& stations, const ByVisitor& by_visitor) {
    Why why;
    why.spot = best_spot(by_visitor, SightReason::too_far,
                         [](const Sight& sight) { return sight.angle_across; });
    const Sight& sight = *why.spot.sight;
    const std::string start = spot_text(document, stations, why.spot);
    if (target.detail_mm > 0 && !passes(target.detail_rule, sight.detail)) {
        why.rule = target.detail_rule;
        why.measured = sight.detail;
        why.text = fmt::format("at best, {} its smallest detail of {} at {:.2f} arcmin and needs "
                               "{:.2f}",
                               start, length_text(document, target.detail_mm), sight.detail,
                               target.detail_rule.limit);
        return why;
    }
    why.rule = target.size_rule;
    why.measured = sight.angle_across;
    why.text = fmt::format("at best, {} it {:.2f} degrees across and needs {:.2f}", start,
                           sight.angle_across, target.size_rule.limit);
    return why;
}

} // namespace

Why why_unseen(const Staging& staging, const SightTarget& target,
               const std::vector<Station>& stations, const ByVisitor& unseen) {
    const SightReason reason = main_reason(unseen, stations);
    switch (reason) {
    case SightReason::hidden_by_others:
    case SightReason::hidden_by_self:
        return why_hidden(staging, target, stations, unseen, reason);
    case SightReason::too_far:
        return why_too_far(staging.document, target, stations, unseen);
    default:
        break;
    }
    Why why;
    why.rule = target.seen_rule;
    why.text = reason == SightReason::beyond_facing
                   ? fmt::format("the path lies more than {:.0f} degrees off the way it faces",
                                 target.facing_limit)
                   : "all of it is turned away from the path";
    return why;
}

const Visitor& visitor_of(const Document& document, const std::string& id) {
    const Visitor* visitor = find_visitor(document, id);
    STANDPOINT_CHECK(visitor != nullptr);
    return *visitor;
}

} // namespace standpoint
