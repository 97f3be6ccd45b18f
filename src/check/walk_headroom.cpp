// What hangs over the floor that is reached, cut exactly to the floor of each station.
#include "check/walk_headroom.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include "check/walk_findings.h"
#include "check/welded.h"

namespace standpoint {

namespace {

constexpr double near_level = 0.70710678118654752; // cosine of 45 degrees
// A surface this near the ceiling is the ceiling.
constexpr double same_height_mm = 0.01;

struct Overhead {
    Triangle corners;
    std::uint32_t owner = 0;
    double low = 0;
};

bool is_near_level(const Triangle& t) {
    const glm::dvec3 normal = glm::cross(t.b - t.a, t.c - t.a);
    return std::abs(normal.z) >= near_level * glm::length(normal) && normal.z != 0;
}

void add_overhead(const StagedPiece& piece, std::uint32_t owner, const PlanBoxes& boxes,
                  std::vector<Overhead>& out) {
    if (piece.box.high.z < overhead_from_mm || !meet(boxes, piece.box)) return;
    for (const WeldedSurface& body : bodies_of(welded(piece))) {
        const bool hangs = bounds_of(body).low.z >= overhead_from_mm;
        for (const glm::uvec3& t : body.triangles) {
            const Triangle corners{body.points[t.x], body.points[t.y], body.points[t.z]};
            const double high = std::max({corners.a.z, corners.b.z, corners.c.z});
            const double low = std::min({corners.a.z, corners.b.z, corners.c.z});
            if (high < overhead_from_mm || (!hangs && !is_near_level(corners))) continue;
            const Box box{glm::min(glm::min(corners.a, corners.b), corners.c),
                          glm::max(glm::max(corners.a, corners.b), corners.c)};
            if (!meet(boxes, box)) continue;
            out.push_back({corners, owner, std::max(low, overhead_from_mm)});
        }
    }
}

// Lowest first, ties by piece: the first that lies over an area is the one to name.
std::vector<Overhead> overhead_of(const Staging& staging, const WalkMeasure& measure) {
    const PlanBoxes boxes = leg_boxes(measure.path, measure.width, 0);
    std::vector<Overhead> out;
    for (std::uint32_t i = 0; i < staging.pieces.size(); ++i)
        add_overhead(staging.pieces[i], i, boxes, out);
    std::stable_sort(out.begin(), out.end(),
                     [](const Overhead& a, const Overhead& b) { return a.low < b.low; });
    return out;
}

double height_on(const Triangle& t, const glm::dvec2& at) {
    const glm::dvec3 normal = glm::cross(t.b - t.a, t.c - t.a);
    return t.a.z - (normal.x * (at.x - t.a.x) + normal.y * (at.y - t.a.y)) / normal.z;
}

glm::dvec2 plan(const glm::dvec3& point) {
    return {point.x, point.y};
}

// The lowest place of a triangle over the area, not below overhead_from_mm; false: not over it.
bool lowest_over(const PlanArea& area, const Triangle& t, glm::dvec3& lowest) {
    bool found = false;
    const auto take = [&](const glm::dvec2& at, double height) {
        height = std::max(height, overhead_from_mm);
        if (found && height >= lowest.z) return;
        lowest = {at, height};
        found = true;
    };
    const glm::dvec3 normal = glm::cross(t.b - t.a, t.c - t.a);
    if (std::abs(normal.z) > 1e-6 * glm::length(normal)) {
        for (const glm::dvec2& at : corners_within(area, {plan(t.a), plan(t.b), plan(t.c)}))
            take(at, height_on(t, at));
        return found;
    }
    // Seen edge on: its edges hold its lowest place.
    for (const auto& [a, b] : {std::pair(t.a, t.b), std::pair(t.b, t.c), std::pair(t.c, t.a)}) {
        const glm::dvec2 run = plan(b) - plan(a);
        const double length2 = glm::dot(run, run);
        if (length2 == 0) continue;
        for (const glm::dvec2& at : corners_within(area, {plan(a), plan(b)}))
            take(at, a.z + (b.z - a.z) * glm::dot(at - plan(a), run) / length2);
    }
    return found;
}

// The floor that is reached under overhead_from_mm, one area a stretch.
std::vector<PlanArea> reached_floor(const Staging& staging, const WalkMeasure& measure) {
    std::vector<PlanArea> areas;
    const Slab slab{walk_over_mm, overhead_from_mm};
    for (std::uint32_t i = 0; i < measure.way.stretches.size(); ++i) {
        const Stretch& stretch = measure.way.stretches[i];
        const auto on_it =
            std::find_if(measure.places.begin(), measure.places.end(), [&](const WayPlace& place) {
                return place.stretch == i && place.along >= stretch.from &&
                       place.along <= stretch.to;
            });
        const glm::dvec2 place =
            on_it == measure.places.end() ? point_at(stretch.path, stretch.from) : on_it->place;
        const auto lines = floor_lines(staging, stretch, measure.width, slab, measure.left_out);
        areas.push_back(face_around(noded(lines, stretch.path.points.front()), place));
    }
    return areas;
}

bool over(const Overhead& thing, const Box& cell) {
    Box box;
    for (const glm::dvec3& corner : {thing.corners.a, thing.corners.b, thing.corners.c})
        box = grown(box, glm::dvec3(plan(corner), 0.0));
    return meet(box, cell);
}

HeadroomAt lowest_of(const Staging& staging, const std::vector<Overhead>& overhead,
                     const PlanArea& area, const Box& cell, const Station& station) {
    HeadroomAt out;
    out.distance = station.distance;
    out.height = staging.document.hall->ceiling.mm;
    out.place = glm::dvec3(station.place, out.height);
    for (const Overhead& thing : overhead) {
        if (thing.low >= out.height - same_height_mm) break;
        glm::dvec3 lowest(0.0);
        if (!over(thing, cell) || !lowest_over(area, thing.corners, lowest)) continue;
        if (lowest.z >= out.height - same_height_mm) continue;
        out.height = lowest.z;
        out.piece = staging.pieces[thing.owner].id;
        out.place = lowest;
    }
    return out;
}

} // namespace

std::vector<HeadroomAt> headroom_over(const Staging& staging, const WalkMeasure& measure,
                                      const std::vector<Station>& stations) {
    const std::vector<Overhead> overhead = overhead_of(staging, measure);
    const std::vector<PlanArea> floors = reached_floor(staging, measure);
    std::vector<HeadroomAt> out;
    for (std::size_t k = 0; k < stations.size(); ++k) {
        const Station& station = stations[k];
        std::size_t i = 0;
        while (i + 1 < floors.size() && station.distance > measure.way.stretches[i].to)
            ++i;
        const double before = k == 0 ? station.distance : stations[k - 1].distance;
        const double after = k + 1 == stations.size() ? station.distance : stations[k + 1].distance;
        const PlanPath cell_path =
            part_of(measure.way.stretches[i].path, (before + station.distance) / 2,
                    (after + station.distance) / 2);
        const auto polygons = band_polygons(cell_path, measure.width);
        Box cell;
        for (const auto& polygon : polygons)
            for (const glm::dvec2& point : polygon)
                cell = grown(cell, glm::dvec3(point, 0.0));
        out.push_back(lowest_of(staging, overhead, common(floors[i], polygons), cell, station));
    }
    return out;
}

namespace {

void find_low(const Staging& staging, const Rule& rule, double tolerance,
              const std::vector<HeadroomAt>& headroom, std::vector<Finding>& findings) {
    for (std::size_t i = 0; i < headroom.size();) {
        std::size_t end = i + 1, lowest = i;
        while (end < headroom.size() && headroom[end].piece == headroom[i].piece) {
            if (headroom[end].height < headroom[lowest].height - same_height_mm) lowest = end;
            ++end;
        }
        const HeadroomAt& at = headroom[lowest];
        i = end;
        const double margin = at.height - rule.limit;
        const bool low = margin < -width_slack_mm;
        if (!low && (margin >= tolerance || at.piece.empty())) continue;
        const StagedPiece* piece = find_staged(staging, at.piece);
        const std::string name = piece == nullptr          ? "the ceiling"
                                 : piece->piece == nullptr ? piece->id
                                                           : spoken(piece->piece->name, piece->id);
        const std::string height = length_text(staging.document, at.height);
        const std::string limit = length_text(staging.document, rule.limit);
        Finding finding = finding_on(
            rule, low ? Grade::fail : Grade::warn, "headroom", "path", at.height,
            low ? fmt::format("{} leaves {} of headroom over the path, {} less than {}", name,
                              height, at_least_text(staging.document, -margin), limit)
                : fmt::format("{} leaves {} of headroom over the path, which passes {} but dies "
                              "when it hangs {:.1f} mm lower",
                              name, height, limit, std::max(margin, 0.0)));
        if (!at.piece.empty()) finding.pieces.push_back(at.piece);
        finding.place = at.place;
        finding.distance = at.distance;
        findings.push_back(std::move(finding));
    }
}

} // namespace

void find_low_places(const Staging& staging, const std::vector<Rule>& rules,
                     const std::vector<HeadroomAt>& headroom, std::vector<Finding>& findings) {
    for (const Rule& rule : rules_on(rules, "headroom"))
        find_low(staging, rule, placing_tolerance(staging, rules), headroom, findings);
}

} // namespace standpoint
