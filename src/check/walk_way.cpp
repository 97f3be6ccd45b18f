// Medial axes of the stretches, joined at the partings, and the widest way along them.
#include "check/walk_way.h"

#include <algorithm>
#include <cmath>

#include <glm/geometric.hpp>

#include "base/check.h"

namespace standpoint {

namespace {

// Crossings of a parting that two stretches see this near each other are the same.
constexpr double same_crossing_mm = 0.05;

struct Crossing {
    double to_left = 0;
    std::uint32_t corner = 0;
};

// Parts the edges of a layer where they cross the parting; the crossings from right to left.
std::vector<Crossing> cross_parting(MedialAxis& axis, std::uint32_t layer, const glm::dvec2& centre,
                                    const glm::dvec2& along, double half) {
    std::vector<Crossing> crossings;
    const std::size_t count = axis.edges.size();
    const auto beyond = [&](const glm::dvec2& place) { return glm::dot(place - centre, along); };
    const auto to_left = [&](const glm::dvec2& place) {
        const glm::dvec2 d = place - centre;
        return along.x * d.y - along.y * d.x;
    };
    for (std::uint32_t i = 0; i < count; ++i) {
        const MedialEdge& edge = axis.edges[i];
        if (edge.layer != layer || edge.bridge) continue;
        if ((beyond(axis.corners[edge.from]) < 0) == (beyond(axis.corners[edge.to]) < 0)) continue;
        double low = 0, high = 1;
        const bool forward = beyond(axis.corners[edge.from]) < 0;
        for (int k = 0; k < 50; ++k) {
            const double u = (low + high) / 2;
            ((beyond(place_on(axis, edge, u)) < 0) == forward ? low : high) = u;
        }
        if (std::abs(to_left(place_on(axis, edge, low))) > half) continue;
        const std::uint32_t corner = part_edge(axis, i, std::clamp(low, 1e-9, 1 - 1e-9));
        crossings.push_back({to_left(axis.corners[corner]), corner});
    }
    std::sort(crossings.begin(), crossings.end(), [](const Crossing& a, const Crossing& b) {
        return a.to_left != b.to_left ? a.to_left < b.to_left : a.corner < b.corner;
    });
    return crossings;
}

// Where pieces stand across the parting: offsets to the left, rising.
std::vector<double> standing_on(const std::vector<PlanSegment>& lines, const glm::dvec2& centre,
                                const glm::dvec2& along) {
    std::vector<double> offsets;
    for (const PlanSegment& segment : lines) {
        const glm::dvec2 a = segment.a - centre, b = segment.b - centre;
        const double before = glm::dot(a, along), after = glm::dot(b, along);
        if (segment.owner == edge_owner || (before < 0) == (after < 0)) continue;
        const glm::dvec2 at = a + (b - a) * (before / (before - after));
        offsets.push_back(along.x * at.y - along.y * at.x);
    }
    std::sort(offsets.begin(), offsets.end());
    return offsets;
}

// Joins crossings of two stretches that are one place. Near a tight turn two stretches may see
// different floor about their parting; then crossings with nothing between them are joined.
void bridge(MedialAxis& axis, const std::vector<Crossing>& one, const std::vector<Crossing>& two,
            const std::vector<double>& standing) {
    const auto join = [&](const Crossing& a, const Crossing& b) {
        MedialEdge edge;
        edge.from = a.corner;
        edge.to = b.corner;
        edge.clearance = INFINITY;
        edge.bridge = true;
        axis.edges.push_back(edge);
    };
    const auto interval = [&](const Crossing& c) {
        return std::upper_bound(standing.begin(), standing.end(), c.to_left) - standing.begin();
    };
    for (const Crossing& a : one) {
        bool same = false;
        for (const Crossing& b : two)
            if (std::abs(a.to_left - b.to_left) <= same_crossing_mm) {
                join(a, b);
                same = true;
            }
        if (same) continue;
        for (const Crossing& b : two)
            if (interval(a) == interval(b)) join(a, b);
    }
}

// The corner of a layer's axis to begin or end at: the far end of the straight part on the empty
// floor beyond a gate.
std::uint32_t outermost(const MedialAxis& axis, std::uint32_t layer, const glm::dvec2& middle,
                        const glm::dvec2& outward) {
    double best = INFINITY;
    const MedialEdge* found = nullptr;
    for (const MedialEdge& edge : axis.edges) {
        if (edge.layer != layer || edge.bridge) continue;
        const glm::dvec2 a = axis.corners[edge.from], b = axis.corners[edge.to];
        const double distance = glm::distance(nearest_point(a, b, middle), middle);
        if (distance >= best) continue;
        best = distance;
        found = &edge;
    }
    STANDPOINT_CHECK(found != nullptr);
    const double from = glm::dot(axis.corners[found->from], outward);
    return from > glm::dot(axis.corners[found->to], outward) ? found->from : found->to;
}

// Ties go to the left-hand way, whichever way the scene is turned.
std::vector<double> preferences(const MedialAxis& axis, const std::vector<Stretch>& stretches) {
    std::vector<double> out;
    for (const MedialEdge& edge : axis.edges) {
        const glm::dvec2 place = place_on(axis, edge, edge.narrowest);
        out.push_back(std::round(nearest_on(stretches[edge.layer].path, place).to_left * 10));
    }
    return out;
}

} // namespace

Way find_way(const std::vector<Stretch>& stretches,
             const std::vector<std::vector<PlanSegment>>& lines, double width) {
    Way way;
    way.stretches = stretches;
    for (std::uint32_t i = 0; i < stretches.size(); ++i)
        append(way.axis, medial_axis(noded(lines[i], stretches[i].path.points.front())), i);
    for (std::uint32_t i = 0; i + 1 < stretches.size(); ++i) {
        const double parting = stretches[i].to;
        const glm::dvec2 centre = point_at(stretches[i].path, parting);
        const glm::dvec2 along = direction_at(stretches[i].path, parting);
        const auto one = cross_parting(way.axis, i, centre, along, width / 2);
        const auto two = cross_parting(way.axis, i + 1, centre, along, width / 2);
        bridge(way.axis, one, two, standing_on(lines[i], centre, along));
    }
    const auto end = [&](std::uint32_t i, double along, double sign) {
        const PlanPath& path = stretches[i].path;
        return outermost(way.axis, i, point_at(path, along), direction_at(path, along) * sign);
    };
    const auto last = static_cast<std::uint32_t>(stretches.size() - 1);
    const std::uint32_t from = end(0, stretches[0].from - 0.75 * width, -1);
    const std::uint32_t to = end(last, stretches[last].to + 0.75 * width, 1);
    way.steps = widest_way(way.axis, from, to, closed_gap_mm / 2, preferences(way.axis, stretches));
    return way;
}

WayPlace place_at(const Way& way, std::size_t step, double u) {
    const WayStep& walked = way.steps[step];
    const MedialEdge& edge = way.axis.edges[walked.edge];
    const double share = walked.backward ? 1 - u : u;
    WayPlace out;
    out.step = step;
    out.u = u;
    out.place = place_on(way.axis, edge, share);
    out.clearance = clearance_on(way.axis, edge, share);
    out.along = nearest_on(way.stretches[edge.layer].path, out.place).along;
    out.stretch = edge.layer;
    return out;
}

std::vector<WayPlace> places_on(const Way& way, double step_mm) {
    std::vector<WayPlace> places;
    for (std::size_t i = 0; i < way.steps.size(); ++i) {
        const MedialEdge& edge = way.axis.edges[way.steps[i].edge];
        if (edge.bridge) continue;
        const double length = glm::distance(way.axis.corners[edge.from], way.axis.corners[edge.to]);
        const int count = 1 + static_cast<int>(length / step_mm);
        std::vector<double> shares;
        for (int k = 0; k <= count; ++k)
            shares.push_back(static_cast<double>(k) / count);
        shares.push_back(way.steps[i].backward ? 1 - edge.narrowest : edge.narrowest);
        std::sort(shares.begin(), shares.end());
        for (const double u : shares)
            places.push_back(place_at(way, i, u));
    }
    return places;
}

Sides sides_at(const Way& way, const WayPlace& place) {
    const WayStep& walked = way.steps[place.step];
    const MedialEdge& edge = way.axis.edges[walked.edge];
    const glm::dvec2 left = nearest_of(way.axis.sites[edge.left], place.place);
    const glm::dvec2 right = nearest_of(way.axis.sites[edge.right], place.place);
    return walked.backward ? Sides{right, left} : Sides{left, right};
}

} // namespace standpoint
