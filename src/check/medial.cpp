// The medial axis from the Voronoi diagram of segments (Boost.Polygon), and its widest way.
#include "check/medial.h"

#include <algorithm>
#include <cmath>
#include <queue>
#include <tuple>

#include <boost/polygon/voronoi.hpp>
#include <glm/geometric.hpp>

#include "scene/plan_path.h"

namespace standpoint {

namespace {

using Diagram = boost::polygon::voronoi_diagram<double>;

constexpr std::uint32_t no_corner = 0xffffffff;

MedialSite site_of(const GridLines& lines, const Diagram::cell_type& cell) {
    const auto& s = lines.segments[cell.source_index()];
    const glm::dvec2 a = lines.scene(s[0], s[1]), b = lines.scene(s[2], s[3]);
    if (cell.contains_segment()) return {a, b};
    // Boost orders the ends of a segment itself; "start" is the one given first.
    const bool start =
        cell.source_category() == boost::polygon::SOURCE_CATEGORY_SEGMENT_START_POINT;
    return start ? MedialSite{a, a} : MedialSite{b, b};
}

// The parabola between a point and a segment, in axes whose origin is the point's foot on the
// segment's line and whose x runs along it.
struct Parabola {
    glm::dvec2 foot{0.0}, along{0.0}, up{0.0}; // up points at the point
    double height = 0;                         // of the point over the line

    double x_of(const glm::dvec2& place) const { return glm::dot(place - foot, along); }
};

Parabola parabola_of(const MedialSite& point, const MedialSite& segment) {
    Parabola parabola;
    parabola.along = glm::normalize(segment.b - segment.a);
    parabola.foot = segment.a + parabola.along * glm::dot(point.a - segment.a, parabola.along);
    const glm::dvec2 rise = point.a - parabola.foot;
    parabola.height = glm::length(rise);
    if (parabola.height > 0) parabola.up = rise / parabola.height;
    return parabola;
}

bool is_curved(const MedialSite& left, const MedialSite& right) {
    return left.point() != right.point();
}

double distance_to(const MedialSite& site, const glm::dvec2& point) {
    return glm::distance(nearest_of(site, point), point);
}

// Where on an edge, as a share of it, its two sites come nearest to each other; maybe outside 0..1.
double nearest_share(const MedialAxis& axis, const MedialEdge& edge) {
    const MedialSite &left = axis.sites[edge.left], &right = axis.sites[edge.right];
    const glm::dvec2 a = axis.corners[edge.from], b = axis.corners[edge.to];
    if (is_curved(left, right)) {
        const Parabola parabola =
            left.point() ? parabola_of(left, right) : parabola_of(right, left);
        const double from = parabola.x_of(a), to = parabola.x_of(b);
        return from == to ? -1 : from / (from - to);
    }
    if (!left.point()) return -1; // a straight line between two segments widens one way
    const glm::dvec2 run = b - a;
    const double length2 = glm::dot(run, run);
    return length2 == 0 ? -1 : glm::dot((left.a + right.a) * 0.5 - a, run) / length2;
}

void set_narrowest(const MedialAxis& axis, MedialEdge& edge) {
    const double inside = nearest_share(axis, edge);
    const double at_from = clearance_on(axis, edge, 0), at_to = clearance_on(axis, edge, 1);
    edge.narrowest = at_from <= at_to ? 0 : 1;
    edge.clearance = std::min(at_from, at_to);
    if (inside <= 0 || inside >= 1) return;
    edge.narrowest = inside;
    edge.clearance = clearance_on(axis, edge, inside);
}

std::uint32_t index_in(const Diagram& diagram, const Diagram::cell_type& cell) {
    return static_cast<std::uint32_t>(&cell - diagram.cells().data());
}

} // namespace

glm::dvec2 nearest_of(const MedialSite& site, const glm::dvec2& point) {
    return nearest_point(site.a, site.b, point);
}

MedialAxis medial_axis(const GridLines& lines) {
    boost::polygon::default_voronoi_builder builder;
    for (const auto& s : lines.segments)
        builder.insert_segment(s[0], s[1], s[2], s[3]);
    Diagram diagram;
    builder.construct(&diagram);
    MedialAxis axis;
    for (const auto& cell : diagram.cells())
        axis.sites.push_back(site_of(lines, cell));
    for (const auto& vertex : diagram.vertices())
        axis.corners.push_back(lines.scene(vertex.x(), vertex.y()));
    const auto corner = [&](const Diagram::vertex_type* vertex) {
        return static_cast<std::uint32_t>(vertex - diagram.vertices().data());
    };
    for (const auto& half : diagram.edges()) {
        if (!half.is_finite() || !half.is_primary() || &half > half.twin()) continue;
        MedialEdge edge;
        edge.from = corner(half.vertex0());
        edge.to = corner(half.vertex1());
        edge.left = index_in(diagram, *half.cell());
        edge.right = index_in(diagram, *half.twin()->cell());
        set_narrowest(axis, edge);
        axis.edges.push_back(edge);
    }
    return axis;
}

glm::dvec2 place_on(const MedialAxis& axis, const MedialEdge& edge, double u) {
    const glm::dvec2 a = axis.corners[edge.from], b = axis.corners[edge.to];
    if (u <= 0) return a;
    if (u >= 1) return b;
    const MedialSite &left = axis.sites[edge.left], &right = axis.sites[edge.right];
    if (edge.bridge || !is_curved(left, right)) return a + (b - a) * u;
    const Parabola parabola = left.point() ? parabola_of(left, right) : parabola_of(right, left);
    if (parabola.height == 0) return a + (b - a) * u;
    const double from = parabola.x_of(a), x = from + (parabola.x_of(b) - from) * u;
    const double y = (x * x / parabola.height + parabola.height) / 2;
    return parabola.foot + parabola.along * x + parabola.up * y;
}

double clearance_on(const MedialAxis& axis, const MedialEdge& edge, double u) {
    const glm::dvec2 place = place_on(axis, edge, u);
    return std::min(distance_to(axis.sites[edge.left], place),
                    distance_to(axis.sites[edge.right], place));
}

void append(MedialAxis& whole, const MedialAxis& more, std::uint32_t layer) {
    const auto corners = static_cast<std::uint32_t>(whole.corners.size());
    const auto sites = static_cast<std::uint32_t>(whole.sites.size());
    whole.corners.insert(whole.corners.end(), more.corners.begin(), more.corners.end());
    whole.sites.insert(whole.sites.end(), more.sites.begin(), more.sites.end());
    for (MedialEdge edge : more.edges) {
        edge.from += corners;
        edge.to += corners;
        edge.left += sites;
        edge.right += sites;
        edge.layer = layer;
        whole.edges.push_back(edge);
    }
}

std::uint32_t part_edge(MedialAxis& axis, std::uint32_t edge, double u) {
    const auto corner = static_cast<std::uint32_t>(axis.corners.size());
    axis.corners.push_back(place_on(axis, axis.edges[edge], u));
    MedialEdge second = axis.edges[edge];
    axis.edges[edge].to = corner;
    second.from = corner;
    set_narrowest(axis, axis.edges[edge]);
    set_narrowest(axis, second);
    axis.edges.push_back(second);
    return corner;
}

std::vector<WayStep> widest_way(const MedialAxis& axis, std::uint32_t from, std::uint32_t to,
                                double closed_mm, const std::vector<double>& preference) {
    std::vector<std::vector<std::uint32_t>> at(axis.corners.size());
    for (std::uint32_t i = 0; i < axis.edges.size(); ++i) {
        if (axis.edges[i].clearance <= closed_mm) continue;
        at[axis.edges[i].from].push_back(i);
        at[axis.edges[i].to].push_back(i);
    }
    // Prim's tree: always on by the widest edge that leaves it.
    using Entry = std::tuple<double, double, std::uint32_t, std::uint32_t>; // ..., edge, next
    const auto worse = [](const Entry& a, const Entry& b) {
        if (std::get<0>(a) != std::get<0>(b)) return std::get<0>(a) < std::get<0>(b);
        if (std::get<1>(a) != std::get<1>(b)) return std::get<1>(a) < std::get<1>(b);
        return std::get<2>(a) > std::get<2>(b);
    };
    std::priority_queue<Entry, std::vector<Entry>, decltype(worse)> open(worse);
    std::vector<std::uint32_t> came_by(axis.corners.size(), no_corner);
    std::vector<bool> reached(axis.corners.size(), false);
    const auto reach = [&](std::uint32_t corner) {
        reached[corner] = true;
        for (const std::uint32_t i : at[corner]) {
            const MedialEdge& edge = axis.edges[i];
            const std::uint32_t next = edge.from == corner ? edge.to : edge.from;
            if (reached[next]) continue;
            const double rounded =
                edge.bridge ? INFINITY : std::round(edge.clearance / equal_clearance_mm);
            open.emplace(rounded, preference[i], i, next);
        }
    };
    reach(from);
    while (!open.empty() && !reached[to]) {
        const auto [clearance, preferred, edge, next] = open.top();
        open.pop();
        if (reached[next]) continue;
        came_by[next] = edge;
        reach(next);
    }
    std::vector<WayStep> way;
    if (!reached[to]) return way;
    for (std::uint32_t corner = to; corner != from;) {
        const MedialEdge& edge = axis.edges[came_by[corner]];
        way.push_back({came_by[corner], edge.from == corner});
        corner = edge.from == corner ? edge.to : edge.from;
    }
    std::reverse(way.begin(), way.end());
    return way;
}

} // namespace standpoint
