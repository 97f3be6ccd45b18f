// Compares two ray indexes ray by ray.
#include "ray_compare.h"

#include <algorithm>
#include <cmath>

#include <glm/geometric.hpp>

#include "shape/crossings.h"

namespace standpoint::ray_compare {

namespace {

// Shortest distance between two segments: the least over end against segment and inner points.
double to_segment(const glm::dvec3& a, const glm::dvec3& b, const glm::dvec3& p) {
    const glm::dvec3 along = b - a;
    const double squared = glm::dot(along, along);
    const double t = squared > 0 ? std::clamp(glm::dot(p - a, along) / squared, 0.0, 1.0) : 0;
    return glm::length(p - a - along * t);
}

double between(const glm::dvec3& a, const glm::dvec3& b, const glm::dvec3& c, const glm::dvec3& d) {
    double least = std::min(
        {to_segment(a, b, c), to_segment(a, b, d), to_segment(c, d, a), to_segment(c, d, b)});
    const glm::dvec3 ab = b - a, cd = d - c, across = glm::cross(ab, cd);
    const double squared = glm::dot(across, across);
    if (squared > 0) {
        const double s = glm::dot(glm::cross(c - a, cd), across) / squared;
        const double t = glm::dot(glm::cross(c - a, ab), across) / squared;
        if (s >= 0 && s <= 1 && t >= 0 && t <= 1)
            least = std::min(least, std::abs(glm::dot(c - a, across)) / std::sqrt(squared));
    }
    return least;
}

double edge_distance(const Staging& staging, const Segment& s, std::uint32_t piece,
                     std::uint32_t triangle) {
    const Triangle t = scene_triangle(staging.pieces[piece], triangle);
    return std::min({between(s.from, s.to, t.a, t.b), between(s.from, s.to, t.b, t.c),
                     between(s.from, s.to, t.c, t.a)});
}

bool same(const Crossing& a, const Crossing& b) {
    return a.piece == b.piece && a.triangle == b.triangle && a.lets_through == b.lets_through &&
           std::abs(a.distance - b.distance) <= 1e-6 && std::abs(a.u - b.u) <= 1e-5f &&
           std::abs(a.v - b.v) <= 1e-5f;
}

bool same(const std::vector<Crossing>& a, const std::vector<Crossing>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                      [](const Crossing& x, const Crossing& y) { return same(x, y); });
}

bool holds(const std::vector<Crossing>& list, const Crossing& crossing) {
    return std::any_of(list.begin(), list.end(),
                       [&](const Crossing& c) { return same(c, crossing); });
}

// How far from its edges the ray passes a triangle that only one of the two lists has.
double farthest_of_difference(const Staging& staging, const Segment& segment,
                              const std::vector<Crossing>& a, const std::vector<Crossing>& b) {
    double farthest = 0;
    for (const auto& [list, other] : {std::pair{&a, &b}, std::pair{&b, &a}})
        for (const Crossing& c : *list)
            if (!holds(*other, c))
                farthest = std::max(farthest, edge_distance(staging, segment, c.piece, c.triangle));
    return farthest;
}

// How far the ray passes from the edge that could explain why only one index calls it blocked.
double farthest_of_blocked(const Staging& staging, const Segment& segment, bool blocked,
                           const std::vector<Crossing>& truth) {
    double farthest = 0, nearest = 1e300;
    for (const Crossing& c : truth)
        if (c.lets_through == 0)
            farthest = std::max(farthest, edge_distance(staging, segment, c.piece, c.triangle));
    if (!blocked) return farthest;
    for (std::uint32_t piece = 0; piece < staging.pieces.size(); ++piece) {
        const Mesh& mesh = *staging.pieces[piece].mesh;
        for (std::uint32_t t = 0; t < mesh.triangles.size(); ++t)
            if (material_of(mesh, t).lets_through == 0)
                nearest = std::min(nearest, edge_distance(staging, segment, piece, t));
    }
    return nearest;
}

bool nearest_is_first(const RayIndex& index, const Segment& segment,
                      const std::vector<Crossing>& crossings) {
    Crossing first;
    const bool any = index.nearest(segment, first);
    return any == !crossings.empty() && (!any || same(first, crossings.front()));
}

} // namespace

Tally compare(const Staging& staging, const RayIndex& fast, const RayIndex& slow,
              std::span<const Segment> segments) {
    Tally tally;
    std::vector<std::uint8_t> fast_blocked(segments.size()), slow_blocked(segments.size());
    fast.blocked(segments, fast_blocked);
    slow.blocked(segments, slow_blocked);
    std::vector<Crossing> a, b;
    for (std::size_t i = 0; i < segments.size(); ++i) {
        fast.crossings(segments[i], a);
        slow.crossings(segments[i], b);
        ++tally.rays;
        tally.crossings += static_cast<int>(b.size());
        tally.blocked += slow_blocked[i];
        const bool lists = same(a, b), blocks = fast_blocked[i] == slow_blocked[i];
        double farthest = 0;
        if (!lists) farthest = farthest_of_difference(staging, segments[i], a, b);
        if (!blocks)
            farthest = std::max(farthest,
                                farthest_of_blocked(staging, segments[i], fast_blocked[i] != 0, b));
        if (!lists || !blocks) {
            ++tally.differences;
            tally.farthest = std::max(tally.farthest, farthest);
        }
        const bool firsts =
            nearest_is_first(fast, segments[i], a) && nearest_is_first(slow, segments[i], b);
        if (farthest > near_edge_mm) ++tally.unexplained;
        if (!firsts) ++tally.disordered;
    }
    return tally;
}

} // namespace standpoint::ray_compare
