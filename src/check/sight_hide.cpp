// What must stay hidden: looked for from everywhere a person can stand or lean.
#include "check/sight_hide.h"

#include <algorithm>
#include <utility>

#include <glm/geometric.hpp>

namespace standpoint {

namespace {

constexpr int lean_heights = 5;
// How near an eye comes to a wall its owner leans against: common practice, no source.
constexpr double eye_off_wall_mm = 50;

struct EyeLine {         // a line along the path that eyes keep to
    std::string visitor; // empty: anyone who leans
    int lane = 0;
    double to_left = 0, height = 0;
};

struct Probe { // one eye on a line
    double distance = 0;
    glm::dvec3 eye{0.0};
    EyeSums sums; // of trace_open
};

std::vector<EyeLine> lines_of(const Document& document, const std::vector<Rule>& rules) {
    std::vector<EyeLine> lines;
    const double half = document.path->width.mm / 2;
    for (const Visitor& visitor : *document.visitors) {
        const double side = std::max(0.0, half - visitor.setback.mm);
        for (int lane = 0; lane < lane_count; ++lane)
            lines.push_back({visitor.id, lane, side * (1 - lane), visitor.eye_height.mm});
    }
    const double lean = half + strictest(rules, "lean").limit;
    const double low = strictest(rules, "lowest-eye").limit;
    const double high = std::max(low, strictest(rules, "highest-eye").limit);
    for (int i = 0; i < lean_heights; ++i) {
        const double height = low + (high - low) * i / (lean_heights - 1);
        lines.push_back({"", -1, lean, height});
        lines.push_back({"", lane_count, -lean, height});
    }
    return lines;
}

Probe probe_at(const Staging& staging, const RayIndex& index, const EyeLine& line,
               double distance) {
    const Path& path = *staging.document.path;
    const Station station = station_at(path, distance);
    Probe probe;
    probe.distance = distance;
    probe.eye = point_beside(path, station, line.to_left, line.height);
    if (!line.visitor.empty()) return probe;
    const glm::dvec3 body(station.place, line.height);
    Crossing stop;
    if (index.nearest({body, probe.eye}, stop)) {
        const glm::dvec3 along = glm::normalize(probe.eye - body);
        probe.eye = body + along * std::max(0.0, stop.distance - eye_off_wall_mm);
    }
    return probe;
}

void trace(const RayIndex& index, const SightTarget& target, std::vector<Probe>& probes) {
    std::vector<glm::dvec3> eyes;
    for (const Probe& probe : probes)
        eyes.push_back(probe.eye);
    std::vector<EyeSums> sums = trace_open(index, target, eyes);
    for (std::size_t i = 0; i < probes.size(); ++i)
        probes[i].sums = std::move(sums[i]);
}

bool exposed(const Probe& probe) {
    return probe.sums.open > 0;
}

// Adds an eye half-way between neighbours of which one sees something and one does not, until they
// are as near as hide_ends_mm.
void refine(const Staging& staging, const RayIndex& index, const SightTarget& target,
            const EyeLine& line, std::vector<Probe>& probes) {
    for (;;) {
        std::vector<Probe> more;
        for (std::size_t i = 1; i < probes.size(); ++i) {
            const Probe &a = probes[i - 1], &b = probes[i];
            if (exposed(a) != exposed(b) && b.distance - a.distance > hide_ends_mm)
                more.push_back(probe_at(staging, index, line, (a.distance + b.distance) / 2));
        }
        if (more.empty()) return;
        trace(index, target, more);
        std::vector<Probe> merged;
        std::merge(std::make_move_iterator(probes.begin()), std::make_move_iterator(probes.end()),
                   std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()),
                   std::back_inserter(merged),
                   [](const Probe& a, const Probe& b) { return a.distance < b.distance; });
        probes = std::move(merged);
    }
}

using Stretch = std::pair<double, double>; // of path, from and to

struct LineFound { // on one line
    std::uint64_t samples = 0, open = 0;
    double share = 0, distance = 0;
    glm::dvec3 eye{0.0};
    std::vector<Stretch> stretches;
};

// Each eye stands for the path half-way to its neighbours.
std::vector<Stretch> stretches_of(const std::vector<Probe>& probes) {
    std::vector<Stretch> out;
    for (std::size_t i = 0; i < probes.size(); ++i) {
        if (!exposed(probes[i])) continue;
        const double here = probes[i].distance;
        const double before = i == 0 ? here : probes[i - 1].distance;
        const double after = i + 1 == probes.size() ? here : probes[i + 1].distance;
        out.emplace_back((before + here) / 2, (here + after) / 2);
    }
    return out;
}

LineFound search_line(const Staging& staging, const RayIndex& index, const SightTarget& target,
                      const EyeLine& line) {
    std::vector<Probe> probes;
    for (const Station& station : stations_of(*staging.document.path, hide_step_mm))
        probes.push_back(probe_at(staging, index, line, station.distance));
    trace(index, target, probes);
    refine(staging, index, target, line, probes);
    LineFound found;
    std::vector<Probe> seeing;
    for (const Probe& probe : probes) {
        found.samples += probe.sums.lines;
        found.open += probe.sums.open;
        if (exposed(probe)) seeing.push_back(probe);
    }
    found.stretches = stretches_of(probes);
    std::vector<glm::dvec3> eyes;
    for (const Probe& probe : seeing)
        eyes.push_back(probe.eye);
    const std::vector<EyeSums> sums = trace_eyes(staging, index, target, eyes);
    for (std::size_t i = 0; i < seeing.size(); ++i) {
        const double share = share_of(sums[i]);
        if (share <= found.share) continue;
        found.share = share;
        found.distance = seeing[i].distance;
        found.eye = seeing[i].eye;
    }
    return found;
}

double total_length(std::vector<Stretch> stretches) {
    std::sort(stretches.begin(), stretches.end());
    double total = 0, reached = 0;
    for (const auto& [from, to] : stretches) {
        total += std::max(0.0, to - std::max(from, reached));
        reached = std::max(reached, to);
    }
    return total;
}

} // namespace

Result<HideExposure> find_exposure(const Staging& staging, const RayIndex& index,
                                   const SightTarget& target, const std::vector<Rule>& rules,
                                   unsigned threads, const Progress& progress) {
    const std::vector<EyeLine> lines = lines_of(staging.document, rules);
    std::vector<LineFound> found(lines.size());
    parallel_for(lines.size(), threads, [&](std::size_t i) {
        if (!progress.stop()) found[i] = search_line(staging, index, target, lines[i]);
    });
    if (progress.stop()) return Error{ErrorCode::cancelled, "stopped", ""};
    HideExposure out;
    out.target = target.target->id;
    std::vector<Stretch> stretches;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        out.samples += found[i].samples;
        out.open += found[i].open;
        stretches.insert(stretches.end(), found[i].stretches.begin(), found[i].stretches.end());
        if (found[i].share <= out.greatest_share) continue;
        out.greatest_share = found[i].share;
        out.visitor = lines[i].visitor;
        out.lane = lines[i].lane;
        out.distance = found[i].distance;
        out.eye = found[i].eye;
    }
    out.length_exposed = total_length(std::move(stretches));
    return out;
}

} // namespace standpoint
