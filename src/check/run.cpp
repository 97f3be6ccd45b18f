// The one place that runs every check.
#include "check/run.h"

#include <utility>

namespace standpoint {

namespace {

void add(const std::vector<Finding>& from, std::vector<Finding>& to) {
    to.insert(to.end(), from.begin(), from.end());
}

} // namespace

Result<CheckResults> run_checks(const Staging& staging, const RayIndex& index,
                                const CheckOptions& options, const Progress& progress) {
    CheckResults out;
    STANDPOINT_TRY(rules, rules_in_force(*staging.document.rules));
    SightOptions sight = options.sight;
    if (sight.threads == 0) sight.threads = options.threads;
    STANDPOINT_TRY(walkway, check_walkway(staging, rules, options.threads, progress));
    STANDPOINT_TRY(standing, check_standing(staging, rules, options.threads, progress));
    STANDPOINT_TRY(sightlines, check_sightlines(staging, index, rules, sight, progress));
    add(sightlines.findings, out.findings);
    add(walkway.findings, out.findings);
    add(standing.findings, out.findings);
    sort_findings(out.findings);
    out.rules = std::move(rules);
    out.sightlines = std::move(sightlines);
    out.walkway = std::move(walkway);
    out.standing = std::move(standing);
    return out;
}

Result<CheckResults> run_checks(const Staging& staging, const CheckOptions& options,
                                const Progress& progress) {
    const std::unique_ptr<RayIndex> index = make_ray_index(staging);
    return run_checks(staging, *index, options, progress);
}

} // namespace standpoint
