// Sightlines compared with their rules: what a designer is told about each target.
#include "check/sight_findings.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/check.h"

namespace standpoint {

namespace {

constexpr const char* check_name = "sightlines";
// A target that fewer than this share of the audience sees has failed; common practice, no source.
constexpr double enough_of_audience = 0.5;

struct Best { // the sight that comes nearest to being seen
    const TargetSights* by = nullptr;
    std::size_t station = 0;
    const Sight* sight = nullptr;
};

// How near a reason is to being seen; the larger the nearer.
int nearness(SightReason reason) {
    switch (reason) {
    case SightReason::seen:
        return 5;
    case SightReason::too_far:
        return 4;
    case SightReason::hidden_by_others:
        return 3;
    case SightReason::hidden_by_self:
        return 2;
    case SightReason::beyond_facing:
        return 1;
    case SightReason::turned_away:
        return 0;
    }
    return 0;
}

bool nearer(const Sight& a, const Sight& b) {
    if (a.reason != b.reason) return nearness(a.reason) > nearness(b.reason);
    if (a.reason == SightReason::too_far)
        return a.detail + a.angle_across > b.detail + b.angle_across;
    return a.share > b.share;
}

Best best_of(const std::vector<const TargetSights*>& by_visitor) {
    Best best;
    for (const TargetSights* by : by_visitor)
        for (std::size_t i = 0; i < by->sights.size(); ++i)
            if (best.sight == nullptr || nearer(by->sights[i], *best.sight))
                best = {by, i / lane_count, &by->sights[i]};
    return best;
}

const Visitor& visitor_of(const Document& document, const std::string& id) {
    const Visitor* visitor = find_visitor(document, id);
    STANDPOINT_CHECK(visitor != nullptr);
    return *visitor;
}

std::string visitor_names(const Document& document,
                          const std::vector<const TargetSights*>& by_visitor) {
    std::string names;
    for (std::size_t i = 0; i < by_visitor.size(); ++i) {
        if (i > 0) names += i + 1 == by_visitor.size() ? " or " : ", ";
        const Visitor& visitor = visitor_of(document, by_visitor[i]->visitor);
        names += spoken(visitor.name, visitor.id);
    }
    return names;
}

double audience_of(const Document& document, const std::vector<const TargetSights*>& by_visitor) {
    double share = 0;
    for (const TargetSights* by : by_visitor)
        share += visitor_of(document, by->visitor).share.value;
    return share;
}

std::string piece_name(const StagedPiece& staged) {
    return staged.piece == nullptr ? staged.id : spoken(staged.piece->name, staged.id);
}

// The rule the best sight breaks, and its measured value.
std::pair<Rule, double> broken_rule(const SightTarget& target, const Best& best, const Rule& run,
                                    double longest) {
    const Sight& sight = *best.sight;
    switch (sight.reason) {
    case SightReason::seen:
        return {run, longest};
    case SightReason::too_far:
        if (target.detail_mm > 0 && !passes(target.detail_rule, sight.detail))
            return {target.detail_rule, sight.detail};
        return {target.size_rule, sight.angle_across};
    default:
        return {target.seen_rule, sight.share};
    }
}

std::string hidden_text(const Staging& staging, const SightTarget& target, const Sight& sight) {
    std::string text = fmt::format("sees {} of it and needs {}", share_text(sight.share),
                                   share_text(target.seen_rule.limit));
    if (sight.blockers.empty()) return text + ", with several pieces across every line";
    const Blocker& worst = sight.blockers.front();
    const std::string name = worst.piece == target.piece
                                 ? "itself"
                                 : "\"" + piece_name(staging.pieces[worst.piece]) + "\"";
    return text + fmt::format("; without {} it would be {}", name,
                              share_text(std::min(1.0, sight.share + worst.gain)));
}

std::string too_far_text(const Document& document, const SightTarget& target, const Sight& sight) {
    if (target.detail_mm > 0 && !passes(target.detail_rule, sight.detail))
        return fmt::format("sees its smallest detail of {} at {:.2f} arcmin and needs {:.2f}",
                           length_text(document, target.detail_mm), sight.detail,
                           target.detail_rule.limit);
    return fmt::format("sees it {:.2f} degrees across and needs {:.2f}", sight.angle_across,
                       target.size_rule.limit);
}

std::string why_text(const Staging& staging, const SightTarget& target, const Best& best,
                     double longest) {
    const Document& document = staging.document;
    switch (best.sight->reason) {
    case SightReason::seen:
        return fmt::format("holds it for {} at most", length_text(document, longest));
    case SightReason::too_far:
        return too_far_text(document, target, *best.sight);
    case SightReason::hidden_by_others:
    case SightReason::hidden_by_self:
        return hidden_text(staging, target, *best.sight);
    case SightReason::beyond_facing:
        return fmt::format("stands more than {:.0f} degrees off the way it faces",
                           target.facing_limit);
    case SightReason::turned_away:
        return "stands where all of it is turned away";
    }
    return "";
}

// The pieces to blame first, and a place to jump to.
void add_blame(const Staging& staging, const SightTarget& target, const Best& best,
               Finding& finding) {
    finding.place = target.centre;
    for (const Blocker& blocker : best.sight->blockers) {
        if (finding.pieces.empty()) finding.place = staging.pieces[blocker.piece].box.centre();
        finding.pieces.push_back(staging.pieces[blocker.piece].id);
    }
    const std::string& own = staging.pieces[target.piece].id;
    if (std::find(finding.pieces.begin(), finding.pieces.end(), own) == finding.pieces.end())
        finding.pieces.push_back(own);
}

Finding unseen_finding(const Staging& staging, const SightTarget& target,
                       const std::vector<Station>& stations,
                       const std::vector<const TargetSights*>& unseen, Grade grade, const Rule& run,
                       double needed) {
    const Document& document = staging.document;
    const Best best = best_of(unseen);
    double longest = 0;
    for (const TargetSights* by : unseen)
        longest = std::max(longest, by->longest_run);
    const auto [rule, measured] = broken_rule(target, best, run, longest);
    const Visitor& visitor = visitor_of(document, best.by->visitor);
    const double distance = stations[best.station].distance;
    Finding finding = finding_on(
        rule, grade, check_name, target.target->id, measured,
        fmt::format("\"{}\" is not seen over an unbroken {} by {}: at best, at {}, {} {}",
                    spoken(target.target->name, target.target->id), length_text(document, needed),
                    visitor_names(document, unseen), length_text(document, distance),
                    spoken(visitor.name, visitor.id), why_text(staging, target, best, longest)));
    finding.distance = distance;
    add_blame(staging, target, best, finding);
    return finding;
}

// Visitors who see it, but never inside the comfortable cone.
std::vector<Finding> cone_findings(const Staging& staging, const SightTarget& target,
                                   const std::vector<Station>& stations,
                                   const std::vector<const TargetSights*>& by_visitor,
                                   const std::vector<Rule>& rules) {
    std::vector<Finding> out;
    const Rule cone = strictest(rules, "cone-half-angle");
    for (const TargetSights* by : by_visitor) {
        double least = 0;
        std::optional<std::size_t> at;
        bool comfortable = false;
        const Visitor& visitor = visitor_of(staging.document, by->visitor);
        for (std::size_t i = 0; i < by->sights.size(); ++i) {
            if (by->sights[i].reason != SightReason::seen) continue;
            if (!by->sights[i].outside_cone) comfortable = true;
            const std::size_t station = i / lane_count;
            const glm::dvec3 eye = eye_at(*staging.document.path, stations[station], visitor,
                                          static_cast<int>(i % lane_count));
            const double off = std::abs(angle_off_cone(target, visitor, eye, rules));
            if (!at || off < least) {
                least = off;
                at = station;
            }
        }
        if (!at || comfortable) continue;
        Finding finding = finding_on(
            cone, Grade::warn, check_name, target.target->id, least,
            fmt::format(
                "\"{}\" lies {:.0f} degrees off the line of sight of {} at best, and {:.0f} "
                "is comfortable: they must bend or look up to see it",
                spoken(target.target->name, target.target->id), least,
                spoken(visitor.name, visitor.id), cone.limit));
        finding.pieces = {staging.pieces[target.piece].id};
        finding.place = target.centre;
        finding.distance = stations[*at].distance;
        out.push_back(std::move(finding));
    }
    return out;
}

Finding first_sight_finding(const Staging& staging, const SightTarget& target,
                            const std::vector<const TargetSights*>& by_visitor, const Rule& run) {
    const TargetSights* first = nullptr;
    double share = 0;
    for (const TargetSights* by : by_visitor) {
        share += by->share_of_path / static_cast<double>(by_visitor.size());
        if (by->first_seen && (first == nullptr || *by->first_seen < *first->first_seen))
            first = by;
    }
    const Visitor& visitor = visitor_of(staging.document, first->visitor);
    Finding finding = finding_on(
        run, Grade::note, check_name, target.target->id, first->longest_run,
        fmt::format("\"{}\" is first seen at {}, by {}, and from {} of the path on average",
                    spoken(target.target->name, target.target->id),
                    length_text(staging.document, *first->first_seen),
                    spoken(visitor.name, visitor.id), share_text(share)));
    finding.pieces = {staging.pieces[target.piece].id};
    finding.place = target.centre;
    finding.distance = *first->first_seen;
    return finding;
}

std::string who_text(const Document& document, const HideExposure& exposure) {
    if (!exposure.visitor.empty()) {
        const Visitor& visitor = visitor_of(document, exposure.visitor);
        return spoken(visitor.name, visitor.id);
    }
    return fmt::format("anyone leaning over the {} edge of the path with their eyes at {}",
                       exposure.lane < 0 ? "left" : "right", length_text(document, exposure.eye.z));
}

} // namespace

std::vector<Finding> see_findings(const Staging& staging, const SightTarget& target,
                                  const std::vector<Station>& stations,
                                  const std::vector<const TargetSights*>& by_visitor,
                                  const std::vector<Rule>& rules) {
    std::vector<Finding> out;
    const Document& document = staging.document;
    const Rule run = strictest(rules, "unbroken-sight");
    // A path shorter than the rule asks for is seen from all of it or not.
    const double needed = std::min(run.limit, path_length(*document.path));
    std::vector<const TargetSights*> unseen, seen;
    for (const TargetSights* by : by_visitor) {
        const bool holds = by->first_seen && by->longest_run >= needed;
        (holds ? seen : unseen).push_back(by);
    }
    if (stations.empty() || by_visitor.empty()) return out;
    if (!unseen.empty()) {
        const double all = audience_of(document, by_visitor);
        const double with = audience_of(document, seen);
        const bool fail = seen.empty() || (all > 0 && with < enough_of_audience * all);
        out.push_back(unseen_finding(staging, target, stations, unseen,
                                     fail ? Grade::fail : Grade::warn, run, needed));
    }
    for (Finding& finding : cone_findings(staging, target, stations, by_visitor, rules))
        out.push_back(std::move(finding));
    if (std::any_of(by_visitor.begin(), by_visitor.end(),
                    [](const TargetSights* by) { return by->first_seen.has_value(); }))
        out.push_back(first_sight_finding(staging, target, by_visitor, run));
    return out;
}

Finding hide_finding(const Staging& staging, const SightTarget& target,
                     const HideExposure& exposure) {
    const Document& document = staging.document;
    const std::string name = spoken(target.target->name, target.target->id);
    const bool hidden = passes(target.seen_rule, exposure.greatest_share);
    std::string message;
    if (exposure.open == 0)
        message =
            fmt::format("\"{}\" stays hidden: none of {} sight lines reaches it, so at most "
                        "3/{} = {:.2g} of them would",
                        name, exposure.samples, exposure.samples, at_most_share(exposure.samples));
    else
        message =
            fmt::format("\"{}\" must stay hidden, but {} of it shows to {} at {}; some of it "
                        "shows from {} of the path",
                        name, share_text(exposure.greatest_share), who_text(document, exposure),
                        length_text(document, exposure.distance),
                        length_text(document, exposure.length_exposed));
    Finding finding = finding_on(target.seen_rule, hidden ? Grade::note : Grade::fail, check_name,
                                 target.target->id, exposure.greatest_share, message);
    finding.pieces = {staging.pieces[target.piece].id};
    finding.place = target.centre;
    if (exposure.open > 0) finding.distance = exposure.distance;
    return finding;
}

double at_most_share(std::uint64_t tries) {
    // Rule of three (Hanley and Lippman-Hand 1983; from memory): the 95 % bound
    // 1 - 0.05^(1/n) is at most -ln(0.05)/n, just under 3/n.
    return tries == 0 ? 1.0 : std::min(1.0, 3.0 / static_cast<double>(tries));
}

} // namespace standpoint
