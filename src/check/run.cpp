// The one place that runs every check.
#include "check/run.h"

#include <utility>

namespace standpoint {

namespace {

void add(const std::vector<Finding>& from, std::vector<Finding>& to) {
    to.insert(to.end(), from.begin(), from.end());
}

} // namespace

CheckResults joined_results(std::vector<Rule> rules, Sightlines sightlines, Walkway walkway,
                            Standing standing, FigureReads figures) {
    CheckResults out;
    add(sightlines.findings, out.findings);
    add(walkway.findings, out.findings);
    add(standing.findings, out.findings);
    add(figures.findings, out.findings);
    sort_findings(out.findings);
    out.rules = std::move(rules);
    out.sightlines = std::move(sightlines);
    out.walkway = std::move(walkway);
    out.standing = std::move(standing);
    out.figures = std::move(figures);
    return out;
}

Result<CheckResults> run_checks(const Staging& staging, const RayIndex& index,
                                const CheckOptions& options, const Progress& progress) {
    STANDPOINT_TRY(rules, rules_in_force(*staging.document.rules));
    SightOptions sight = options.sight;
    if (sight.threads == 0) sight.threads = options.threads;
    STANDPOINT_TRY(walkway, check_walkway(staging, rules, options.threads, progress));
    STANDPOINT_TRY(standing, check_standing(staging, rules, options.threads, progress));
    FigureReads figures = check_figure_reads(staging, rules);
    STANDPOINT_TRY(sightlines, check_sightlines(staging, index, rules, sight, progress));
    return joined_results(std::move(rules), std::move(sightlines), std::move(walkway),
                          std::move(standing), std::move(figures));
}

Result<CheckResults> run_checks(const Staging& staging, const CheckOptions& options,
                                const Progress& progress) {
    const std::unique_ptr<RayIndex> index = make_ray_index(staging);
    return run_checks(staging, *index, options, progress);
}

} // namespace standpoint
