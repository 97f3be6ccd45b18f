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
constexpr std::size_t most_passed_triangles = 2000;

// In the order of ties.
enum class Rank { reference, mark, corner, middle };

// Keeps the point nearest to the line that nothing hides; equally near ones go by rank, then by
// the distance along the line.
class NearestPoint {
  public:
    NearestPoint(const RayIndex& index, const Segment& line, double tolerance_mm)
        : index_(index), from_(line.from), along_(glm::normalize(line.to - line.from)),
          length_(glm::length(line.to - line.from)), off_(tolerance_mm) {}

    void add(const glm::dvec3& at, Rank rank, const std::string& what, bool through = false) {
        const double share = glm::dot(at - from_, along_);
        if (share < 0 || share > length_) return;
        const double off = glm::distance(at, from_ + along_ * share);
        if (!better(off, rank, share) || (!through && hidden(at, share))) return;
        off_ = off;
        rank_ = rank;
        share_ = share;
        found_ = MeasurePoint{at, what};
    }
    const std::optional<MeasurePoint>& found() const { return found_; }

  private:
    bool better(double off, Rank rank, double share) const {
        constexpr double equally_mm = 1e-6;
        if (!found_) return off <= off_;
        if (off < off_ - equally_mm) return true;
        return off <= off_ + equally_mm && std::pair(rank, share) < std::pair(rank_, share_);
    }
    bool hidden(const glm::dvec3& at, double share) const {
        Crossing met;
        constexpr double touching_mm = 1;
        return index_.nearest({at - along_ * share, at}, met) && met.distance < share - touching_mm;
    }

    const RayIndex& index_;
    glm::dvec3 from_, along_;
    double length_, off_;
    Rank rank_ = Rank::middle;
    double share_ = 0;
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

void add_corners(const StagedPiece& piece, const std::string& name, NearestPoint& nearest) {
    const std::vector<Edge> edges = sharp_edges(piece);
    for (const Edge& edge : edges) {
        nearest.add(edge.a, Rank::corner, "corner of " + name);
        nearest.add(edge.b, Rank::corner, "corner of " + name);
        nearest.add((edge.a + edge.b) * 0.5, Rank::middle, "middle of an edge of " + name);
    }
}

// Whether a line passes through a box widened by `slack`.
bool passes(const Segment& line, const Box& box, double slack) {
    double enter = 0, leave = 1;
    for (int axis = 0; axis < 3; ++axis) {
        const double from = line.from[axis], by = line.to[axis] - from;
        const double low = box.low[axis] - slack, high = box.high[axis] + slack;
        if (by == 0) {
            if (from < low || from > high) return false;
            continue;
        }
        enter = std::max(enter, std::min((low - from) / by, (high - from) / by));
        leave = std::min(leave, std::max((low - from) / by, (high - from) / by));
    }
    return enter <= leave;
}

std::string name_of(const Staging& staging, const StagedPiece& piece) {
    if (piece.staged == StagedKind::piece) return spoken(*piece.piece);
    const Section* section = find_section(staging.document, piece.id);
    return section && !section->name.empty() ? "section " + section->name : piece.id;
}

// A piece's own marks show through it: they lie under its feet.
void add_named(const Staging& staging, const std::string& met, NearestPoint& nearest) {
    for (const ReferencePoint& point : *staging.document.reference_points)
        nearest.add({point.at.x.mm, point.at.y.mm, point.at.z.mm}, Rank::reference, point.id);
    for (const StagedPiece& piece : staging.pieces) {
        if (piece.staged != StagedKind::piece) continue;
        for (const Mark& mark : piece.piece->marks)
            nearest.add(to_scene(piece, {mark.at.x.mm, mark.at.y.mm, mark.at.z.mm}), Rank::mark,
                        mark.name + " of " + spoken(*piece.piece), piece.id == met);
    }
}

// Corners of what the line meets, and of lighter things that it passes by.
void add_all_corners(const Staging& staging, const Segment& line, double tolerance_mm,
                     const Crossing* met, NearestPoint& nearest) {
    for (std::size_t i = 0; i < staging.pieces.size(); ++i) {
        const StagedPiece& piece = staging.pieces[i];
        if (piece.box.empty() || !passes(line, piece.box, tolerance_mm)) continue;
        const std::string name = name_of(staging, piece);
        const bool is_met = met && met->piece == i;
        const std::size_t triangles = piece.mesh->triangles.size();
        if (triangles <= (is_met ? most_corner_triangles : most_passed_triangles)) {
            add_corners(piece, name, nearest);
        } else if (is_met) {
            const Triangle t = scene_triangle(piece, met->triangle);
            for (const glm::dvec3& corner : {t.a, t.b, t.c})
                nearest.add(corner, Rank::corner, "corner of " + name);
        }
    }
}

} // namespace

std::optional<MeasurePoint> measure_point(const Staging& staging, const RayIndex& index,
                                          const Segment& line, double tolerance_mm) {
    if (!(glm::length(line.to - line.from) > 0)) return std::nullopt;
    Crossing met;
    const bool meets = index.nearest(line, met);
    NearestPoint nearest(index, line, tolerance_mm);
    add_named(staging, meets ? staging.pieces[met.piece].id : "", nearest);
    add_all_corners(staging, line, tolerance_mm, meets ? &met : nullptr, nearest);
    if (nearest.found()) return nearest.found();
    if (meets) {
        const glm::dvec3 along = glm::normalize(line.to - line.from);
        return MeasurePoint{line.from + along * met.distance, ""};
    }
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
