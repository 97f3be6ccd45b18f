// Measuring points and what is said of two of them.
#include "desk/measure_tool.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <tuple>
#include <vector>

#include <glm/geometric.hpp>

#include "desk/pick.h"
#include "desk/piece_ids.h"
#include "measure/angle.h"
#include "measure/tolerance.h"

namespace standpoint {

namespace {

constexpr std::size_t most_corner_triangles = 50000;

// Keeps the candidate nearest to the line; earlier ones win ties.
class NearestPoint {
  public:
    NearestPoint(const Segment& line, double tolerance_mm, double hidden_beyond)
        : from_(line.from), along_(glm::normalize(line.to - line.from)),
          length_(glm::length(line.to - line.from)), least_(tolerance_mm),
          hidden_beyond_(hidden_beyond) {}

    void add(const glm::dvec3& at, const std::string& what) {
        const double share = glm::dot(at - from_, along_);
        if (share < 0 || share > std::min(length_, hidden_beyond_)) return;
        const double off = glm::distance(at, from_ + along_ * share);
        if (off > least_ || (found_ && off >= least_)) return;
        least_ = off;
        found_ = MeasurePoint{at, what};
    }
    const std::optional<MeasurePoint>& found() const { return found_; }

  private:
    glm::dvec3 from_, along_;
    double length_, least_, hidden_beyond_;
    std::optional<MeasurePoint> found_;
};

using Key = std::array<long, 3>;

Key key_of(const glm::dvec3& point) {
    return {std::lround(point.x / weld_mm), std::lround(point.y / weld_mm),
            std::lround(point.z / weld_mm)};
}

struct Edge {
    glm::dvec3 a, b, normal; // of the first face on it
    int faces = 0;
    bool sharp = false;
};

// Edges where faces meet at 30 degrees and more, and those of one face alone.
std::vector<Edge> sharp_edges(const StagedPiece& piece) {
    std::map<std::pair<Key, Key>, Edge> edges;
    constexpr double flat_cos = 0.8660254037844387; // 30 degrees
    for (std::uint32_t i = 0; i < piece.mesh->triangles.size(); ++i) {
        const Triangle t = scene_triangle(piece, i);
        const glm::dvec3 across = glm::cross(t.b - t.a, t.c - t.a);
        if (!(glm::length(across) > 0)) continue;
        const glm::dvec3 normal = glm::normalize(across);
        const std::array<glm::dvec3, 3> corners{t.a, t.b, t.c};
        for (int k = 0; k < 3; ++k) {
            const glm::dvec3 &a = corners[k], &b = corners[(k + 1) % 3];
            const Key ka = key_of(a), kb = key_of(b);
            Edge& edge = edges[std::minmax(ka, kb)];
            if (edge.faces == 0) edge = {a, b, normal, 0, false};
            edge.sharp = edge.sharp || glm::dot(edge.normal, normal) < flat_cos;
            ++edge.faces;
        }
    }
    std::vector<Edge> sharp;
    for (const auto& [key, edge] : edges)
        if (edge.sharp || edge.faces == 1) sharp.push_back(edge);
    return sharp;
}

void add_corners(const StagedPiece& piece, std::uint32_t met, const std::string& name,
                 NearestPoint& nearest) {
    if (piece.mesh->triangles.size() > most_corner_triangles) {
        const Triangle t = scene_triangle(piece, met);
        for (const glm::dvec3& corner : {t.a, t.b, t.c})
            nearest.add(corner, "corner of " + name);
        return;
    }
    const std::vector<Edge> edges = sharp_edges(piece);
    for (const Edge& edge : edges) {
        nearest.add(edge.a, "corner of " + name);
        nearest.add(edge.b, "corner of " + name);
    }
    for (const Edge& edge : edges)
        nearest.add((edge.a + edge.b) * 0.5, "middle of an edge of " + name);
}

std::string name_of(const Staging& staging, const StagedPiece& piece) {
    if (piece.staged == StagedKind::piece) return spoken(*piece.piece);
    const Section* section = find_section(staging.document, piece.id);
    return section && !section->name.empty() ? "section " + section->name : piece.id;
}

void add_named(const Staging& staging, NearestPoint& nearest) {
    for (const ReferencePoint& point : *staging.document.reference_points)
        nearest.add({point.at.x.mm, point.at.y.mm, point.at.z.mm}, point.id);
    for (const StagedPiece& piece : staging.pieces) {
        if (piece.staged != StagedKind::piece) continue;
        for (const Mark& mark : piece.piece->marks)
            nearest.add(to_scene(piece, {mark.at.x.mm, mark.at.y.mm, mark.at.z.mm}),
                        mark.name + " of " + spoken(*piece.piece));
    }
}

} // namespace

std::optional<MeasurePoint> measure_point(const Staging& staging, const RayIndex& index,
                                          const Segment& line, double tolerance_mm) {
    if (!(glm::length(line.to - line.from) > 0)) return std::nullopt;
    Crossing met;
    const bool meets = index.nearest(line, met);
    // Reference points and marks lie on floors, which the surface met may hide by a hair.
    const double reach = meets ? met.distance + tolerance_mm : INFINITY;
    NearestPoint nearest(line, tolerance_mm, INFINITY);
    add_named(staging, nearest);
    if (nearest.found()) {
        NearestPoint seen(line, tolerance_mm, reach);
        add_named(staging, seen);
        nearest = seen.found() || meets ? seen : nearest;
    }
    if (meets) {
        const StagedPiece& piece = staging.pieces[met.piece];
        const std::string name = name_of(staging, piece);
        add_corners(piece, met.triangle, name, nearest);
        if (nearest.found()) return nearest.found();
        const glm::dvec3 along = glm::normalize(line.to - line.from);
        return MeasurePoint{line.from + along * met.distance, ""};
    }
    if (nearest.found()) return nearest.found();
    const double fall = line.from.z - line.to.z;
    if (!(fall != 0)) return std::nullopt;
    const double share = line.from.z / fall;
    if (!(share >= 0 && share <= 1)) return std::nullopt;
    return MeasurePoint{line.from + (line.to - line.from) * share, ""};
}

Measured measured(const glm::dvec3& from, const glm::dvec3& to, const LengthStyle& style) {
    const glm::dvec3 by = to - from;
    Measured result;
    result.straight = glm::length(by);
    result.along_x = by.x;
    result.along_y = by.y;
    result.height = by.z;
    result.in_plan = std::hypot(by.x, by.y);
    result.facing_deg = normalise_facing(atan2_deg(-by.x, -by.y));
    result.text = print_length(result.straight, style) + " straight, " + print_length(by.x, style) +
                  " along X, " + print_length(by.y, style) + " along Y, " +
                  print_length(std::abs(by.z), style) + (by.z < 0 ? " down" : " up");
    return result;
}

} // namespace standpoint
