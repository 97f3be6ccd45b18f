// Sightlines compared with their rules: what a designer is told about each target.
#include "check/sight_findings.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "check/sight_why.h"

namespace standpoint {

namespace {

constexpr const char* check_name = "sightlines";
// A target that fewer than this share of the audience sees has failed; common practice, no source.
constexpr double enough_of_audience = 0.5;

std::string visitor_names(const Document& document, const ByVisitor& by_visitor) {
    std::string names;
    for (std::size_t i = 0; i < by_visitor.size(); ++i) {
        if (i > 0) names += i + 1 == by_visitor.size() ? " or " : ", ";
        const Visitor& visitor = visitor_of(document, by_visitor[i]->visitor);
        names += spoken(visitor.name, visitor.id);
    }
    return names;
}

double audience_of(const Document& document, const ByVisitor& by_visitor) {
    double share = 0;
    for (const TargetSights* by : by_visitor)
        share += visitor_of(document, by->visitor).share.value;
    return share;
}

Finding unseen_finding(const Staging& staging, const SightTarget& target,
                       const std::vector<Station>& stations, const ByVisitor& unseen, Grade grade,
                       const Rule& run, double needed) {
    const Document& document = staging.document;
    Why why = why_unseen(staging, target, stations, unseen);
    double longest = 0;
    bool glimpsed = false;
    for (const TargetSights* by : unseen) {
        longest = std::max(longest, by->longest_run);
        glimpsed = glimpsed || by->first_seen.has_value();
    }
    if (glimpsed) { // some of the path is good, and too little of it
        why.rule = run;
        why.measured = longest;
    }
    const std::string held =
        !glimpsed     ? "is not seen"
        : longest > 0 ? fmt::format("is seen over {} at most, not", length_text(document, longest))
                      : "is glimpsed, not seen";
    Finding finding = finding_on(why.rule, grade, check_name, target.target->id, why.measured,
                                 fmt::format("\"{}\" {} over an unbroken {} by {}: {}",
                                             spoken(target.target->name, target.target->id), held,
                                             length_text(document, needed),
                                             visitor_names(document, unseen), why.text));
    if (why.spot.sight != nullptr) finding.distance = stations[why.spot.station].distance;
    finding.place =
        why.pieces.empty() ? target.centre : staging.pieces[why.pieces.front()].box.centre();
    if (std::find(why.pieces.begin(), why.pieces.end(), target.piece) == why.pieces.end())
        why.pieces.push_back(target.piece);
    for (const std::uint32_t piece : why.pieces)
        finding.pieces.push_back(staging.pieces[piece].id);
    return finding;
}

// How far off the line of sight of one visitor the target lies at best, of the sights that count
// as seen; nothing when it is never seen.
std::optional<std::pair<double, std::size_t>> least_off_cone(const Staging& staging,
                                                             const SightTarget& target,
                                                             const std::vector<Station>& stations,
                                                             const TargetSights& by,
                                                             const std::vector<Rule>& rules) {
    const Visitor& visitor = visitor_of(staging.document, by.visitor);
    std::optional<std::pair<double, std::size_t>> least;
    for (std::size_t i = 0; i < by.sights.size(); ++i) {
        if (by.sights[i].reason != SightReason::seen) continue;
        const std::size_t station = i / lane_count;
        const glm::dvec3 eye = eye_at(*staging.document.path, stations[station], visitor,
                                      static_cast<int>(i % lane_count));
        const double off = std::abs(angle_off_cone(target, visitor, eye, rules));
        if (!least || off < least->first) least = {off, station};
    }
    return least;
}

// Visitors who see it, but never inside the comfortable cone.
std::optional<Finding> cone_finding(const Staging& staging, const SightTarget& target,
                                    const std::vector<Station>& stations,
                                    const ByVisitor& by_visitor, const std::vector<Rule>& rules) {
    const Rule cone = strictest(rules, "cone-half-angle");
    ByVisitor strained;
    std::pair<double, std::size_t> worst{0, 0};
    for (const TargetSights* by : by_visitor) {
        const auto least = least_off_cone(staging, target, stations, *by, rules);
        if (!least || passes(cone, least->first)) continue;
        strained.push_back(by);
        if (least->first > worst.first) worst = *least;
    }
    if (strained.empty()) return std::nullopt;
    Finding finding = finding_on(
        cone, Grade::warn, check_name, target.target->id, worst.first,
        fmt::format("\"{}\" is never comfortable to look at for {}: at best up to {:.1f} degrees "
                    "off their line of sight, more than {:.0f}",
                    spoken(target.target->name, target.target->id),
                    visitor_names(staging.document, strained), worst.first, cone.limit));
    finding.pieces = {staging.pieces[target.piece].id};
    finding.place = target.centre;
    finding.distance = stations[worst.second].distance;
    return finding;
}

Finding first_sight_finding(const Staging& staging, const SightTarget& target,
                            const ByVisitor& by_visitor, const Rule& run) {
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
    return fmt::format("anyone leaning over its {} edge with their eyes {} high",
                       exposure.lane < 0 ? "left" : "right", length_text(document, exposure.eye.z));
}

} // namespace

std::vector<Finding> see_findings(const Staging& staging, const SightTarget& target,
                                  const std::vector<Station>& stations, const ByVisitor& by_visitor,
                                  const std::vector<Rule>& rules) {
    std::vector<Finding> out;
    const Document& document = staging.document;
    const Rule run = strictest(rules, "unbroken-sight");
    // A path shorter than the rule asks for is seen from all of it or not.
    const double needed = std::min(run.limit, path_length(*document.path));
    ByVisitor unseen, seen;
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
    if (auto finding = cone_finding(staging, target, stations, by_visitor, rules))
        out.push_back(std::move(*finding));
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
        message = fmt::format(
            "\"{}\" must stay hidden, but {} of it shows at {} along the path to {}; "
            "some of it shows from {} of the path",
            name, share_text(exposure.greatest_share), length_text(document, exposure.distance),
            who_text(document, exposure), length_text(document, exposure.length_exposed));
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
