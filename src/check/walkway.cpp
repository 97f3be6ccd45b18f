// The walkway check: measures the way and compares it with the rules.
#include "check/walkway.h"

#include <algorithm>

#include <glm/geometric.hpp>

#include "check/walk_findings.h"
#include "check/walk_headroom.h"
#include "check/walk_measure.h"

namespace standpoint {

namespace {

Status fits(const PlanPath& path, double width) {
    for (const glm::dvec2& point : path.points)
        if (glm::distance(point, path.points.front()) + 4 * width > plan_reach_mm)
            return input_error("/path/points",
                               "found a path that spans more than 1 km, expected one in a hall");
    return Done{};
}

std::optional<WidthAt> narrowest_of(const Staging& staging, const WalkMeasure& measure,
                                    const std::vector<WidthAt>& widths) {
    const auto least =
        std::min_element(widths.begin(), widths.end(),
                         [](const WidthAt& a, const WidthAt& b) { return a.width < b.width; });
    if (!measure.closings.empty()) return *least;
    const auto tightest = std::min_element(
        measure.places.begin(), measure.places.end(),
        [](const WayPlace& a, const WayPlace& b) { return a.clearance < b.clearance - 1e-3; });
    return hold_at(staging, measure, *tightest).width;
}

} // namespace

Result<Walkway> check_walkway(const Staging& staging, const std::vector<Rule>& rules, unsigned,
                              const Progress& progress) {
    Walkway out;
    const std::vector<Station> stations = stations_of(*staging.document.path);
    const double width = staging.document.path->width.mm;
    if (stations.empty() || width <= 0) return out;
    STANDPOINT_TRY_STATUS(fits(plan_path(*staging.document.path), width));
    if (progress.report) progress.report(0, "walkway");
    const Slab slab{walk_over_mm, std::max(strictest(rules, "headroom").limit, overhead_from_mm)};
    STANDPOINT_TRY(measure, measure_way(staging, slab, progress));
    out.widths = widths_at(staging, measure, stations);
    out.narrowest = narrowest_of(staging, measure, out.widths);
    out.width = out.narrowest->width;
    if (progress.stop()) return Error{ErrorCode::cancelled, "stopped", ""};
    out.headroom = headroom_over(staging, measure, stations);
    find_narrow_places(staging, rules, measure, out.headroom, out.findings);
    find_low_places(staging, rules, out.headroom, out.findings);
    sort_findings(out.findings);
    if (progress.report) progress.report(1, "walkway");
    return out;
}

} // namespace standpoint
