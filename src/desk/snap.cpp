// Snapping: candidates of each kind, the nearest wins.
#include "desk/snap.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include <fmt/format.h>
#include <glm/geometric.hpp>

namespace standpoint {

namespace {

constexpr double nothing_mm = 1e-9; // a shift that is rounding noise

// One way to snap along an axis.
struct Candidate {
    double shift = 0;
    SnapKind kind = SnapKind::grid;
    double at = 0; // where on the axis the guide is drawn
    Box with;      // what the guide reaches to
    std::string text;
};

class Nearest {
  public:
    Nearest(const Snapping& how, double tolerance) : how_(how), tolerance_(tolerance) {}

    bool wants(SnapKind kind, double shift) const {
        if (!how_.enabled[static_cast<int>(kind)]) return false;
        const double size = std::abs(shift);
        if (!(size <= tolerance_)) return false;
        if (!best_) return true;
        const double least = std::abs(best_->shift);
        if (size < least - nothing_mm) return true;
        return size <= least + nothing_mm && kind < best_->kind;
    }
    void take(Candidate candidate) { best_ = std::move(candidate); }
    const std::optional<Candidate>& best() const { return best_; }

  private:
    const Snapping& how_;
    double tolerance_;
    std::optional<Candidate> best_;
};

bool over_each_other(const Box& a, const Box& b, int axis) {
    return a.low[axis] <= b.high[axis] && b.low[axis] <= a.high[axis];
}

double plan_gap(const Box& a, const Box& b) {
    double gap = 0;
    for (int axis = 0; axis < 2; ++axis)
        gap = std::max({gap, a.low[axis] - b.high[axis], b.low[axis] - a.high[axis]});
    return gap;
}

void try_edges(const Box& box, const SnapBody& body, int axis, Nearest& nearest) {
    for (const double own : {box.low[axis], box.high[axis]})
        for (const double other : {body.box.low[axis], body.box.high[axis]})
            if (nearest.wants(SnapKind::edge, other - own))
                nearest.take(
                    {other - own, SnapKind::edge, other, body.box, "edge of " + body.name});
    const double own = box.centre()[axis], other = body.box.centre()[axis];
    if (nearest.wants(SnapKind::centre, other - own))
        nearest.take({other - own, SnapKind::centre, other, body.box, "centre of " + body.name});
}

// Neighbours of the box in its row: the two next ones on either side, by the gap between them.
struct Row {
    const Box* before = nullptr;
    const Box* before_that = nullptr;
    const Box* after = nullptr;
    const Box* after_that = nullptr;
};

bool in_row(const Box& box, const Box& other, int axis) {
    return over_each_other(box, other, axis == 0 ? 1 : 0) && over_each_other(box, other, 2);
}

// The nearest body wholly beyond `edge` on one side; `side` is -1 before, +1 after.
const Box* next_in_row(const Box& box, double edge, std::span<const SnapBody* const> others,
                       int axis, int side) {
    const Box* best = nullptr;
    double least = 0;
    for (const SnapBody* body : others) {
        if (!in_row(box, body->box, axis)) continue;
        const double gap = side < 0 ? edge - body->box.high[axis] : body->box.low[axis] - edge;
        if (gap < 0 || (best && gap >= least)) continue;
        best = &body->box;
        least = gap;
    }
    return best;
}

Row row_of(const Box& box, std::span<const SnapBody* const> others, int axis, double slack) {
    Row row;
    row.before = next_in_row(box, box.low[axis] + slack, others, axis, -1);
    row.after = next_in_row(box, box.high[axis] - slack, others, axis, 1);
    if (row.before) row.before_that = next_in_row(box, row.before->low[axis], others, axis, -1);
    if (row.after) row.after_that = next_in_row(box, row.after->high[axis], others, axis, 1);
    return row;
}

void try_gap(double shift, double gap, double at, const Box& with, const LengthStyle& style,
             Nearest& nearest) {
    if (gap < 0 || !nearest.wants(SnapKind::spacing, shift)) return;
    nearest.take({shift, SnapKind::spacing, at, with, "equal " + print_length(gap, style)});
}

void try_spacing(const Box& box, std::span<const SnapBody* const> others, int axis,
                 const Snapping& how, Nearest& nearest) {
    const Row row = row_of(box, others, axis, how.tolerance_mm);
    const double size = box.high[axis] - box.low[axis];
    if (row.before && row.after) {
        const double gap = (row.after->low[axis] - row.before->high[axis] - size) / 2;
        const double low = row.before->high[axis] + gap;
        try_gap(low - box.low[axis], gap, low, joined(*row.before, *row.after), how.style, nearest);
    }
    if (row.before && row.before_that) {
        const double gap = row.before->low[axis] - row.before_that->high[axis];
        const double low = row.before->high[axis] + gap;
        try_gap(low - box.low[axis], gap, low, joined(*row.before, *row.before_that), how.style,
                nearest);
    }
    if (row.after && row.after_that) {
        const double gap = row.after_that->low[axis] - row.after->high[axis];
        const double high = row.after->low[axis] - gap;
        try_gap(high - box.high[axis], gap, high, joined(*row.after, *row.after_that), how.style,
                nearest);
    }
}

void try_grid(double anchor, const Box& box, const Snapping& how, Nearest& nearest) {
    if (!(how.grid_mm > 0)) return;
    const double line = std::round(anchor / how.grid_mm) * how.grid_mm;
    if (nearest.wants(SnapKind::grid, line - anchor))
        nearest.take({line - anchor, SnapKind::grid, line, box, "grid"});
}

Box shifted(Box box, const glm::dvec3& by) {
    box.low += by;
    box.high += by;
    return box;
}

SnapGuide guide_of(const Candidate& candidate, const Box& box, int axis) {
    const Box both = joined(box, candidate.with);
    SnapGuide guide{candidate.kind, box.centre(), box.centre(), candidate.text};
    guide.from.z = guide.to.z = box.low.z;
    if (candidate.kind == SnapKind::spacing) { // along the gaps
        guide.from[axis] = both.low[axis];
        guide.to[axis] = both.high[axis];
        return guide;
    }
    const int across = axis == 0 ? 1 : 0;
    guide.from[across] = both.low[across];
    guide.to[across] = both.high[across];
    guide.from[axis] = guide.to[axis] = candidate.at;
    return guide;
}

// The corners in plan that a turned face may stop.
std::vector<glm::dvec2> plan_corners(const SnapBody& body, const glm::dvec3& by) {
    std::vector<glm::dvec2> corners;
    const glm::dvec2 shift(by);
    for (const SnapFace& face : body.faces) {
        corners.push_back(face.from + shift);
        corners.push_back(face.to + shift);
    }
    if (!corners.empty()) return corners;
    const Box box = shifted(body.box, by);
    return {{box.low.x, box.low.y},
            {box.high.x, box.low.y},
            {box.high.x, box.high.y},
            {box.low.x, box.high.y}};
}

struct FaceSnap {
    double shift = 0;
    glm::dvec2 by{0.0};
    SnapGuide guide;
};

// Pulls the corner that reaches furthest against a turned face onto it, when it is beside it.
void try_face(const std::vector<glm::dvec2>& corners, const Box& box, const SnapBody& body,
              const SnapFace& face, double tolerance, std::optional<FaceSnap>& best) {
    const glm::dvec2 run = face.to - face.from;
    const double length = glm::length(run);
    if (!(length > 0)) return;
    const glm::dvec2 along = run / length;
    double nearest = INFINITY, low = INFINITY, high = -INFINITY;
    for (const glm::dvec2& corner : corners) {
        nearest = std::min(nearest, glm::dot(corner - face.from, face.outward));
        low = std::min(low, glm::dot(corner - face.from, along));
        high = std::max(high, glm::dot(corner - face.from, along));
    }
    if (std::abs(nearest) > tolerance || high < 0 || low > length) return;
    if (best && std::abs(nearest) >= std::abs(best->shift) - nothing_mm) return;
    const SnapGuide guide{
        SnapKind::face, {face.from, box.low.z}, {face.to, box.low.z}, "face of " + body.name};
    best = FaceSnap{nearest, face.outward * -nearest, guide};
}

std::optional<FaceSnap> face_snap(const SnapBody& moved, const glm::dvec3& by,
                                  std::span<const SnapBody* const> others, const Snapping& how) {
    std::optional<FaceSnap> best;
    if (!how.enabled[static_cast<int>(SnapKind::face)] || !how.axes[0] || !how.axes[1]) return best;
    const Box box = shifted(moved.box, by);
    const std::vector<glm::dvec2> corners = plan_corners(moved, by);
    for (const SnapBody* body : others) {
        if (body->faces.empty() || plan_gap(box, body->box) > how.tolerance_mm ||
            !over_each_other(box, body->box, 2))
            continue;
        for (const SnapFace& face : body->faces)
            try_face(corners, box, *body, face, how.tolerance_mm, best);
    }
    return best;
}

std::optional<Candidate> axis_snap(const Box& box, double anchor,
                                   std::span<const SnapBody* const> others, int axis,
                                   const Snapping& how) {
    if (!how.axes[axis]) return std::nullopt;
    Nearest nearest(how, how.tolerance_mm);
    for (const SnapBody* body : others)
        try_edges(box, *body, axis, nearest);
    if (axis < 2 && how.enabled[static_cast<int>(SnapKind::spacing)])
        try_spacing(box, others, axis, how, nearest);
    try_grid(anchor, box, how, nearest);
    return nearest.best();
}

// One round: what snaps where the moved thing is now.
Snapped snap_once(const SnapBody& moved, const glm::dvec3& anchor, const glm::dvec3& by,
                  std::span<const SnapBody* const> others, const Snapping& how) {
    const Box box = shifted(moved.box, by);
    std::optional<Candidate> found[3];
    double farthest = 0;
    bool in_plan = false;
    glm::dvec3 shift{0.0};
    for (int axis = 0; axis < 3; ++axis) {
        found[axis] = axis_snap(box, anchor[axis] + by[axis], others, axis, how);
        if (!found[axis]) continue;
        shift[axis] = std::abs(found[axis]->shift) > nothing_mm ? found[axis]->shift : 0.0;
        if (axis == 2 || found[axis]->kind == SnapKind::grid) continue;
        in_plan = true;
        farthest = std::max(farthest, std::abs(shift[axis]));
    }
    Snapped snapped{by, {}};
    const auto face = face_snap(moved, by, others, how);
    if (face && (!in_plan || std::abs(face->shift) <= farthest + nothing_mm)) {
        if (std::abs(face->shift) > nothing_mm) snapped.by += glm::dvec3(face->by, 0.0);
        snapped.by.z += shift.z;
        snapped.guides.push_back(face->guide);
        if (found[2]) snapped.guides.push_back(guide_of(*found[2], box, 2));
        return snapped;
    }
    snapped.by += shift;
    const Box there = shifted(moved.box, snapped.by);
    for (int axis = 0; axis < 3; ++axis)
        if (found[axis]) snapped.guides.push_back(guide_of(*found[axis], there, axis));
    return snapped;
}

} // namespace

Snapped snap(const SnapBody& moved, const glm::dvec3& anchor, const glm::dvec3& by,
             std::span<const SnapBody> others, const Snapping& how) {
    if (moved.box.empty()) return {by, {}};
    std::vector<const SnapBody*> near;
    const Box box = shifted(moved.box, by);
    for (const SnapBody& body : others)
        if (!body.box.empty() && plan_gap(box, body.box) <= how.reach_mm) near.push_back(&body);
    // What one axis does may bring a neighbour into the row of the other: until nothing changes.
    constexpr int most_rounds = 8;
    Snapped snapped{by, {}};
    for (int round = 0; round < most_rounds; ++round) {
        Snapped next = snap_once(moved, anchor, snapped.by, near, how);
        const bool still = next.by == snapped.by;
        snapped = std::move(next);
        if (still) break;
    }
    return snapped;
}

} // namespace standpoint
