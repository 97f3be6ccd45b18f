// Sightlines: what share of each target every visitor sees from every station and lane.
#include "check/sightlines.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <numeric>

#include <fmt/format.h>

#include "check/sight_findings.h"
#include "check/sight_hide.h"
#include "check/sight_target.h"
#include "check/sight_trace.h"

namespace standpoint {

namespace {

std::vector<Blocker> ranked_blockers(const EyeSums& sums, double alone) {
    std::vector<Blocker> out;
    for (const Blocker& gained : sums.gained)
        out.push_back({gained.piece, gained.gain / alone});
    std::sort(out.begin(), out.end(), [](const Blocker& a, const Blocker& b) {
        return a.gain != b.gain ? a.gain > b.gain : a.piece < b.piece;
    });
    return out;
}

bool too_far(const SightTarget& target, const Sight& sight) {
    return (target.detail_mm > 0 && !passes(target.detail_rule, sight.detail)) ||
           !passes(target.size_rule, sight.angle_across);
}

// Everything that needs no rays. Facing is checked here, so that stations outside it are not
// traced at all.
Sight start_sight(const SightTarget& target, const glm::dvec3& eye) {
    Sight sight;
    sight.angle_across = angle_across(target, eye);
    sight.detail = detail_arcmin(target, eye);
    if (target.target->aim == Aim::see && !within_facing(target, eye))
        sight.reason = SightReason::beyond_facing;
    return sight;
}

SightReason reason_of(const SightTarget& target, const Sight& sight, const EyeSums& sums) {
    if (sight.alone <= 0) return SightReason::turned_away;
    const bool hide = target.target->aim == Aim::hide;
    if (hide && sight.share > 0) return SightReason::seen;
    const double past_self = std::min(1.0, sums.past_self / sight.alone);
    if (hide) return past_self > 0 ? SightReason::hidden_by_others : SightReason::hidden_by_self;
    if (!passes(target.seen_rule, sight.share))
        return passes(target.seen_rule, past_self) ? SightReason::hidden_by_others
                                                   : SightReason::hidden_by_self;
    return too_far(target, sight) ? SightReason::too_far : SightReason::seen;
}

void finish_sight(const SightTarget& target, const EyeSums& sums, Sight& sight) {
    sight.alone = std::accumulate(sums.alone.begin(), sums.alone.end(), 0.0);
    sight.visible = std::accumulate(sums.visible.begin(), sums.visible.end(), 0.0);
    sight.share = share_of(sums);
    sight.standard_error = standard_error_of(sums);
    sight.samples = sums.per_replicate * target.options.replicates;
    if (sight.alone > 0) sight.blockers = ranked_blockers(sums, sight.alone);
    sight.reason = reason_of(target, sight, sums);
}

struct LaneJob { // one target, visitor and lane: its sights by station
    const SightTarget* target = nullptr;
    const Visitor* visitor = nullptr;
    int lane = 0;
    std::vector<Sight> sights;
    std::uint64_t rays = 0;
};

void run_lane(const Staging& staging, const RayIndex& index, const std::vector<Rule>& rules,
              const std::vector<Station>& stations, LaneJob& job) {
    const Rule cone = strictest(rules, "cone-half-angle");
    std::vector<glm::dvec3> traced;
    std::vector<std::size_t> traced_station;
    job.sights.resize(stations.size());
    for (std::size_t i = 0; i < stations.size(); ++i) {
        const glm::dvec3 eye = eye_at(*staging.document.path, stations[i], *job.visitor, job.lane);
        Sight& sight = job.sights[i];
        sight = start_sight(*job.target, eye);
        const double off = angle_off_cone(*job.target, *job.visitor, eye, rules);
        sight.outside_cone = !passes(cone, std::abs(off));
        if (sight.reason == SightReason::beyond_facing) continue;
        traced.push_back(eye);
        traced_station.push_back(i);
    }
    const std::vector<EyeSums> sums = trace_eyes(staging, index, *job.target, traced);
    for (std::size_t i = 0; i < sums.size(); ++i) {
        finish_sight(*job.target, sums[i], job.sights[traced_station[i]]);
        job.rays += sums[i].lines;
    }
}

// The three lanes of one target and visitor put together and summed up.
TargetSights joined_lanes(const LaneJob* lanes, const std::vector<Station>& stations) {
    TargetSights out;
    out.target = lanes->target->target->id;
    out.visitor = lanes->visitor->id;
    out.aim = lanes->target->target->aim;
    double seen = 0, all = 0;
    for (std::size_t i = 0; i < stations.size(); ++i)
        for (int lane = 0; lane < lane_count; ++lane) {
            const Sight& sight = lanes[lane].sights[i];
            all += stations[i].length;
            if (sight.reason == SightReason::seen) {
                seen += stations[i].length;
                if (!out.first_seen) out.first_seen = stations[i].distance;
            }
            out.sights.push_back(sight);
        }
    out.share_of_path = all > 0 ? seen / all : 0;
    for (int lane = 0; lane < lane_count; ++lane) {
        std::optional<double> start;
        for (std::size_t i = 0; i < stations.size(); ++i) {
            if (lanes[lane].sights[i].reason != SightReason::seen) {
                start.reset();
                continue;
            }
            if (!start) start = stations[i].distance;
            out.longest_run = std::max(out.longest_run, stations[i].distance - *start);
        }
    }
    return out;
}

Finding off_note(const Target& target) {
    Finding finding;
    finding.grade = Grade::note;
    finding.check = "sightlines";
    finding.subject = target.id;
    finding.message = fmt::format("\"{}\" was not checked: its piece \"{}\" is switched off",
                                  spoken(target.name, target.id), target.piece);
    finding.pieces = {target.piece};
    return finding;
}

Result<std::vector<SightTarget>> prepared_targets(const Staging& staging,
                                                  const std::vector<Rule>& rules,
                                                  const SightOptions& options,
                                                  std::vector<Finding>& findings) {
    std::vector<SightTarget> out;
    const auto& targets = *staging.document.targets;
    for (std::size_t i = 0; i < targets.size(); ++i) {
        const StagedPiece* staged = find_staged(staging, targets[i]->piece);
        if (staged == nullptr) {
            findings.push_back(off_note(*targets[i]));
            continue;
        }
        const auto piece = static_cast<std::uint32_t>(staged - staging.pieces.data());
        Result<SightTarget> ready = prepare_target(staging, *targets[i], piece, rules, options);
        if (!ready) return input_error(fmt::format("/targets/{}/patch", i), ready.error().message);
        out.push_back(std::move(*ready));
    }
    return out;
}

std::vector<LaneJob> lane_jobs(const std::vector<SightTarget>& targets,
                               const std::vector<Visitor>& visitors) {
    std::vector<LaneJob> jobs;
    for (const SightTarget& target : targets)
        for (const Visitor& visitor : visitors)
            for (int lane = 0; lane < lane_count; ++lane)
                jobs.push_back({&target, &visitor, lane, {}, 0});
    return jobs;
}

Status add_findings(const Staging& staging, const RayIndex& index, const SightTarget& target,
                    const std::vector<const TargetSights*>& by_visitor,
                    const std::vector<Rule>& rules, unsigned threads, const Progress& progress,
                    Sightlines& out) {
    if (target.target->aim == Aim::see) {
        for (Finding& f : see_findings(staging, target, out.stations, by_visitor, rules))
            out.findings.push_back(std::move(f));
        return Done{};
    }
    STANDPOINT_TRY(exposure, find_exposure(staging, index, target, rules, threads, progress));
    out.rays += exposure.samples;
    out.findings.push_back(hide_finding(staging, target, exposure));
    out.hidden.push_back(exposure);
    return Done{};
}

} // namespace

Result<Sightlines> check_sightlines(const Staging& staging, const RayIndex& index,
                                    const std::vector<Rule>& rules, const SightOptions& options,
                                    const Progress& progress) {
    STANDPOINT_CHECK(options.replicates >= 2 && options.per_replicate >= 1);
    Sightlines out;
    const std::vector<Visitor>& visitors = *staging.document.visitors;
    STANDPOINT_TRY(targets, prepared_targets(staging, rules, options, out.findings));
    out.stations = stations_of(*staging.document.path);
    std::vector<LaneJob> jobs = lane_jobs(targets, visitors);
    std::atomic<std::size_t> done{0};
    parallel_for(jobs.size(), options.threads, [&](std::size_t i) {
        if (progress.stop()) return;
        run_lane(staging, index, rules, out.stations, jobs[i]);
        const double share = static_cast<double>(++done) / static_cast<double>(jobs.size());
        if (progress.report) progress.report(share, "sightlines");
    });
    if (progress.stop()) return Error{ErrorCode::cancelled, "stopped", ""};
    for (std::size_t i = 0; i < jobs.size(); i += lane_count)
        out.targets.push_back(joined_lanes(&jobs[i], out.stations));
    for (const LaneJob& job : jobs)
        out.rays += job.rays;
    for (std::size_t t = 0; t < targets.size(); ++t) {
        std::vector<const TargetSights*> by_visitor;
        for (std::size_t v = 0; v < visitors.size(); ++v)
            by_visitor.push_back(&out.targets[t * visitors.size() + v]);
        STANDPOINT_TRY_STATUS(add_findings(staging, index, targets[t], by_visitor, rules,
                                           options.threads, progress, out));
    }
    sort_findings(out.findings);
    return out;
}

} // namespace standpoint
