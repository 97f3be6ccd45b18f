// Silhouettes in plan of what stands between two heights.
#include "check/plan_outline.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include <glm/geometric.hpp>

#include "check/welded.h"
#include "measure/tolerance.h"
#include "shape/mass_properties.h"

namespace standpoint {

namespace {

struct Edge { // of one triangle: its two ends, welded, and the corner across
    std::uint32_t low = 0, high = 0, across = 0;

    friend bool operator<(const Edge& a, const Edge& b) {
        return std::array{a.low, a.high, a.across} < std::array{b.low, b.high, b.across};
    }
};

WeldedSurface surface_of(const StagedPiece& piece, const Slab& slab, const PlanBoxes& boxes) {
    return welded(piece, [&](const glm::dvec3& a, const glm::dvec3& b, const glm::dvec3& c) {
        const Box box{glm::min(glm::min(a, b), c), glm::max(glm::max(a, b), c)};
        return box.high.z > slab.low && box.low.z < slab.high && meet(boxes, box);
    });
}

glm::dvec2 plan(const glm::dvec3& point) {
    return {point.x, point.y};
}

double side_of(const glm::dvec2& a, const glm::dvec2& b, const glm::dvec2& point) {
    const glm::dvec2 run = b - a;
    const double length = glm::length(run);
    if (length == 0) return 0;
    return (run.x * (point.y - a.y) - run.y * (point.x - a.x)) / length;
}

// Two triangles that lie clearly on either side of their common edge cover it.
bool covered(const WeldedSurface& surface, const Edge& one, const Edge& two) {
    const glm::dvec2 a = plan(surface.points[one.low]), b = plan(surface.points[one.high]);
    const double left = side_of(a, b, plan(surface.points[one.across]));
    const double right = side_of(a, b, plan(surface.points[two.across]));
    constexpr double clear_mm = 2 * plan_grid_mm;
    return (left > clear_mm && right < -clear_mm) || (left < -clear_mm && right > clear_mm);
}

// The part of a segment between the slab's heights.
bool clip(glm::dvec3& a, glm::dvec3& b, const Slab& slab) {
    if (a.z > b.z) std::swap(a, b);
    if (b.z <= slab.low || a.z >= slab.high) return false;
    const glm::dvec3 from = a, run = b - a;
    if (from.z < slab.low) a = from + run * ((slab.low - from.z) / run.z);
    if (from.z + run.z > slab.high) b = from + run * ((slab.high - from.z) / run.z);
    return true;
}

void add_segment(const glm::dvec2& a, const glm::dvec2& b, std::uint32_t owner,
                 std::vector<PlanSegment>& out) {
    if (glm::distance(a, b) > 0) out.push_back({a, b, owner});
}

// Where a triangle crosses the plane of f = 0, f given at its corners.
std::optional<std::pair<glm::dvec3, glm::dvec3>> cut(const std::array<glm::dvec3, 3>& corner,
                                                     const std::array<double, 3>& f) {
    std::array<glm::dvec3, 2> ends{};
    std::size_t found = 0;
    for (std::size_t i = 0; i < 3 && found < 2; ++i) {
        const std::size_t j = (i + 1) % 3;
        if ((f[i] < 0) == (f[j] < 0)) continue;
        // From the lower end, so that both triangles of an edge find the very same point.
        const std::size_t from = f[i] < 0 ? i : j, to = f[i] < 0 ? j : i;
        const double share = f[from] / (f[from] - f[to]);
        ends[found++] = corner[from] + (corner[to] - corner[from]) * share;
    }
    if (found < 2) return std::nullopt;
    return std::pair(ends[0], ends[1]);
}

std::array<glm::dvec3, 3> corners_of(const WeldedSurface& surface, const glm::uvec3& triangle) {
    return {surface.points[triangle.x], surface.points[triangle.y], surface.points[triangle.z]};
}

void add_cuts(const WeldedSurface& surface, double height, std::uint32_t owner,
              std::vector<PlanSegment>& out) {
    for (const glm::uvec3& triangle : surface.triangles) {
        const std::array<glm::dvec3, 3> corner = corners_of(surface, triangle);
        const auto segment =
            cut(corner, {corner[0].z - height, corner[1].z - height, corner[2].z - height});
        if (segment) add_segment(plan(segment->first), plan(segment->second), owner, out);
    }
}

std::vector<Edge> edges_of(const WeldedSurface& surface) {
    std::vector<Edge> edges;
    edges.reserve(surface.triangles.size() * 3);
    for (const glm::uvec3& t : surface.triangles)
        for (glm::length_t i = 0; i < 3; ++i) {
            const std::uint32_t a = t[i], b = t[(i + 1) % 3], c = t[(i + 2) % 3];
            if (a != b) edges.push_back({std::min(a, b), std::max(a, b), c});
        }
    std::sort(edges.begin(), edges.end());
    return edges;
}

// In gate axes: x across the gate to the left, y along it.
glm::dvec2 to_gate(const PlanGate& gate, const glm::dvec2& point) {
    const glm::dvec2 d = point - gate.centre;
    return {gate.along.x * d.y - gate.along.y * d.x, glm::dot(gate.along, d)};
}

} // namespace

bool meet(const PlanBoxes& boxes, const Box& box) {
    return std::any_of(boxes.begin(), boxes.end(), [&](const PlanBox& one) {
        return box.low.x <= one.high.x && box.high.x >= one.low.x && box.low.y <= one.high.y &&
               box.high.y >= one.low.y;
    });
}

void add_outline(const StagedPiece& piece, std::uint32_t owner, const Slab& slab,
                 const PlanBoxes& boxes, std::vector<PlanSegment>& out) {
    if (piece.box.high.z <= slab.low || piece.box.low.z >= slab.high || !meet(boxes, piece.box))
        return;
    const WeldedSurface surface = surface_of(piece, slab, boxes);
    const std::vector<Edge> edges = edges_of(surface);
    for (std::size_t i = 0; i < edges.size();) {
        std::size_t end = i + 1;
        while (end < edges.size() && edges[end].low == edges[i].low &&
               edges[end].high == edges[i].high)
            ++end;
        if (end - i != 2 || !covered(surface, edges[i], edges[i + 1])) {
            glm::dvec3 a = surface.points[edges[i].low], b = surface.points[edges[i].high];
            if (clip(a, b, slab)) add_segment(plan(a), plan(b), owner, out);
        }
        i = end;
    }
    add_cuts(surface, slab.low, owner, out);
    add_cuts(surface, slab.high, owner, out);
}

namespace {

// Whether a piece may cover anything of the gate.
bool may_cover(const StagedPiece& piece, const Slab& slab, const PlanGate& gate) {
    if (piece.box.high.z <= slab.low || piece.box.low.z >= slab.high) return false;
    glm::dvec2 low(INFINITY), high(-INFINITY);
    for (const double x : {piece.box.low.x, piece.box.high.x})
        for (const double y : {piece.box.low.y, piece.box.high.y}) {
            const glm::dvec2 corner = to_gate(gate, {x, y});
            low = glm::min(low, corner);
            high = glm::max(high, corner);
        }
    return low.y <= 0 && high.y >= 0 && low.x <= gate.half_width && high.x >= -gate.half_width;
}

struct Wall {       // where the section of a piece at the gate passes the slab's middle height
    double at = 0;  // to the left
    int enters = 0; // 1: into the solid going left, -1: out of it
};

// A triangle's part of the section at the gate, within the slab.
void add_section(const std::array<glm::dvec3, 3>& corner, const Slab& slab, const PlanGate& gate,
                 std::vector<std::pair<double, double>>& covered, std::vector<Wall>& walls) {
    std::array<double, 3> f{};
    for (std::size_t i = 0; i < 3; ++i)
        f[i] = to_gate(gate, plan(corner[i])).y;
    auto segment = cut(corner, f);
    if (!segment || !clip(segment->first, segment->second, slab)) return;
    const glm::dvec3 a = segment->first, b = segment->second;
    const double at_a = to_gate(gate, plan(a)).x, at_b = to_gate(gate, plan(b)).x;
    covered.emplace_back(std::min(at_a, at_b), std::max(at_a, at_b));
    const double middle = (slab.low + slab.high) / 2;
    if ((a.z < middle) == (b.z < middle)) return;
    const glm::dvec3 normal = glm::cross(corner[1] - corner[0], corner[2] - corner[0]);
    const glm::dvec2 left(-gate.along.y, gate.along.x);
    walls.push_back({at_a + (at_b - at_a) * (middle - a.z) / (b.z - a.z),
                     glm::dot(plan(normal), left) < 0 ? 1 : -1});
}

} // namespace

void add_gate_cover(const StagedPiece& piece, std::uint32_t owner, const Slab& slab,
                    const PlanGate& gate, std::vector<PlanSegment>& out) {
    if (!may_cover(piece, slab, gate)) return;
    // All of the section counts, however wide: the band may lie deep inside the piece.
    const WeldedSurface surface =
        welded(piece, [&](const glm::dvec3& a, const glm::dvec3& b, const glm::dvec3& c) {
            const bool before = to_gate(gate, plan(a)).y < 0;
            return before != (to_gate(gate, plan(b)).y < 0) ||
                   before != (to_gate(gate, plan(c)).y < 0);
        });
    std::vector<std::pair<double, double>> covered;
    std::vector<Wall> walls;
    for (const glm::uvec3& triangle : surface.triangles)
        add_section(corners_of(surface, triangle), slab, gate, covered, walls);
    if (!walls.empty() && mass_properties(*piece.mesh).closed) {
        std::sort(walls.begin(), walls.end(), [](const Wall& a, const Wall& b) {
            return a.at != b.at ? a.at < b.at : a.enters > b.enters;
        });
        int depth = 0;
        for (std::size_t i = 0; i + 1 < walls.size(); ++i) {
            depth += walls[i].enters;
            if (depth > 0) covered.emplace_back(walls[i].at, walls[i + 1].at);
        }
    }
    const glm::dvec2 across(-gate.along.y, gate.along.x);
    for (const auto& [low, high] : covered) {
        const double from = std::max(low, -gate.half_width), to = std::min(high, gate.half_width);
        if (from < to)
            add_segment(gate.centre + across * from, gate.centre + across * to, owner, out);
    }
}

std::vector<PlanSegment> outside_of(const std::vector<PlanSegment>& segments, const PlanGate& gate,
                                    double depth) {
    std::vector<PlanSegment> out;
    for (const PlanSegment& segment : segments) {
        const glm::dvec2 a = to_gate(gate, segment.a), b = to_gate(gate, segment.b);
        double enter = 0, leave = 1;
        const auto keep = [&](double from, double to, double limit) { // inside: value <= limit
            const double run = to - from;
            if (run == 0) {
                if (from >= limit) leave = -1;
            } else if (run > 0) {
                leave = std::min(leave, (limit - from) / run);
            } else {
                enter = std::max(enter, (limit - from) / run);
            }
        };
        keep(a.x, b.x, gate.half_width);
        keep(-a.x, -b.x, gate.half_width);
        keep(a.y, b.y, depth);
        keep(-a.y, -b.y, 0);
        if (enter >= leave) {
            out.push_back(segment);
            continue;
        }
        const glm::dvec2 run = segment.b - segment.a;
        add_segment(segment.a, segment.a + run * enter, segment.owner, out);
        add_segment(segment.a + run * leave, segment.b, segment.owner, out);
    }
    return out;
}

} // namespace standpoint
