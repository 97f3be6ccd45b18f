// Widths and pinches read off the way.
#include "check/walk_measure.h"

#include <algorithm>
#include <cmath>

#include <glm/geometric.hpp>

namespace standpoint {

namespace {

// A contact lies on an original segment when it is this near: snapping moves it less.
constexpr double same_place_mm = 0.005;

// The segment a nearest point comes from: the nearest, ties to the first piece, the edge last.
const PlanSegment* segment_at(const std::vector<PlanSegment>& lines, const glm::dvec2& point) {
    const PlanSegment* best = nullptr;
    double best_distance = INFINITY;
    for (const PlanSegment& segment : lines) {
        const double distance = glm::distance(nearest_point(segment.a, segment.b, point), point);
        const bool as_near = std::abs(distance - best_distance) <= same_place_mm;
        if (best != nullptr && (as_near ? segment.owner >= best->owner : distance > best_distance))
            continue;
        best = &segment;
        best_distance = distance;
    }
    return best;
}

struct Between {
    glm::dvec2 one{0.0}, two{0.0};
    double distance = INFINITY;
};

Between between(const PlanSegment& p, const PlanSegment& q) {
    Between best;
    const auto take = [&](const glm::dvec2& one, const glm::dvec2& two) {
        const double distance = glm::distance(one, two);
        if (distance < best.distance) best = {one, two, distance};
    };
    take(p.a, nearest_point(q.a, q.b, p.a));
    take(p.b, nearest_point(q.a, q.b, p.b));
    take(nearest_point(p.a, p.b, q.a), q.a);
    take(nearest_point(p.a, p.b, q.b), q.b);
    return best;
}

bool is_narrowest(const WalkMeasure& measure, const WayPlace& place) {
    const WayStep& step = measure.way.steps[place.step];
    const MedialEdge& edge = measure.way.axis.edges[step.edge];
    return std::abs((step.backward ? 1 - edge.narrowest : edge.narrowest) - place.u) < 1e-12;
}

void mark_closed(const Staging& staging, const WalkMeasure& measure, std::vector<WidthAt>& widths) {
    for (const Closing& closing : measure.closings) {
        const auto off = [&](const WidthAt& w) {
            return std::abs(w.distance - closing.distance());
        };
        const auto nearest =
            std::min_element(widths.begin(), widths.end(),
                             [&](const WidthAt& a, const WidthAt& b) { return off(a) < off(b); });
        for (auto w = widths.begin(); w != widths.end(); ++w) {
            if (w != nearest && (w->distance < closing.from || w->distance > closing.to)) continue;
            w->width = 0;
            if (closing.pieces.empty()) continue;
            w->left = owner_id(staging, closing.pieces.front());
            w->right = owner_id(staging, closing.pieces.back());
            w->left_point = closing.contacts.front();
            w->right_point = closing.contacts.back();
        }
    }
}

} // namespace

Result<WalkMeasure> measure_way(const Staging& staging, const Slab& slab,
                                const Progress& progress) {
    WalkMeasure measure;
    measure.path = plan_path(*staging.document.path);
    measure.width = staging.document.path->width.mm;
    const std::vector<Stretch> stretches = stretches_of(measure.path, measure.width);
    for (;;) {
        if (progress.stop()) return Error{ErrorCode::cancelled, "stopped", ""};
        measure.lines.clear();
        for (const Stretch& stretch : stretches)
            measure.lines.push_back(
                floor_lines(staging, stretch, measure.width, slab, measure.left_out));
        measure.way = find_way(stretches, measure.lines, measure.width);
        if (!measure.way.steps.empty()) break;
        const std::size_t before = measure.closings.size();
        for (std::size_t i = 0; i < stretches.size(); ++i)
            for (Closing& closing : closings_of(measure.lines[i], stretches[i], measure.width)) {
                measure.left_out.insert(closing.pieces.begin(), closing.pieces.end());
                measure.closings.push_back(std::move(closing));
            }
        if (measure.closings.size() == before) { // closed in a way no chain of pieces explains
            measure.closings.push_back({{}, {}, measure.path.from(), measure.path.to()});
            break;
        }
    }
    std::stable_sort(
        measure.closings.begin(), measure.closings.end(),
        [](const Closing& a, const Closing& b) { return a.distance() < b.distance(); });
    measure.places = places_on(measure.way, walk_step_mm);
    return measure;
}

std::string owner_id(const Staging& staging, std::uint32_t owner) {
    return owner == edge_owner ? "edge" : staging.pieces[owner].id;
}

Hold hold_at(const Staging& staging, const WalkMeasure& measure, const WayPlace& place) {
    const Sides sides = sides_at(measure.way, place);
    const std::vector<PlanSegment>& lines = measure.lines[place.stretch];
    const PlanSegment* left = segment_at(lines, sides.left);
    const PlanSegment* right = segment_at(lines, sides.right);
    Hold hold{left->owner, right->owner, {}};
    WidthAt& width = hold.width;
    width.distance = std::clamp(place.along, measure.path.from(), measure.path.to());
    width.width = 2 * place.clearance;
    width.left = owner_id(staging, hold.left);
    width.right = owner_id(staging, hold.right);
    width.left_point = sides.left;
    width.right_point = sides.right;
    if (is_narrowest(measure, place)) {
        const Between exact = between(*left, *right);
        if (std::abs(exact.distance - width.width) <= 2 * same_place_mm) {
            width.width = exact.distance;
            width.left_point = exact.one;
            width.right_point = exact.two;
        }
    }
    width.width = std::min(width.width, measure.width);
    return hold;
}

namespace {

// Along the outer side of a corner, and wherever the way runs straight across the path, many places
// are at one distance; rounding must not choose among them.
constexpr double same_distance_mm = 1e-6;

// Keeps the narrowest place between a and b (of one step) that is at the distance s.
void narrow_at(const Way& way, const WayPlace& a, const WayPlace& b, double s,
               std::optional<WayPlace>& best) {
    const auto take = [&](const WayPlace& place) {
        if (!best || place.clearance < best->clearance) best = place;
    };
    for (const double edge : {s - same_distance_mm, s + same_distance_mm}) {
        const auto beyond = [&](const WayPlace& at) { return at.along < edge; };
        if (beyond(a) != beyond(b)) take(turning_place(way, a, b, beyond));
    }
    for (const WayPlace& end : {a, b})
        if (std::abs(end.along - s) <= same_distance_mm) take(end);
}

} // namespace

std::vector<WidthAt> widths_at(const Staging& staging, const WalkMeasure& measure,
                               const std::vector<Station>& stations) {
    std::vector<WidthAt> widths(stations.size());
    std::vector<std::optional<WayPlace>> best(stations.size());
    const std::vector<WayPlace>& places = measure.places;
    for (std::size_t i = 0; i + 1 < places.size(); ++i) {
        const WayPlace &a = places[i], &b = places[i + 1];
        if (a.step != b.step) continue;
        const Stretch& stretch = measure.way.stretches[a.stretch];
        const double low = std::min(a.along, b.along) - same_distance_mm;
        const double high = std::max(a.along, b.along) + same_distance_mm;
        for (std::size_t k = 0; k < stations.size(); ++k) {
            const double s = stations[k].distance;
            if (s < low || s > high || s < stretch.from || s > stretch.to) continue;
            narrow_at(measure.way, a, b, s, best[k]);
        }
    }
    for (std::size_t k = 0; k < stations.size(); ++k) {
        if (best[k]) widths[k] = hold_at(staging, measure, *best[k]).width;
        widths[k].distance = stations[k].distance;
    }
    mark_closed(staging, measure, widths);
    return widths;
}

namespace {

class PinchFinder {
  public:
    PinchFinder(const Staging& staging, const WalkMeasure& measure, double limit)
        : staging_(staging), measure_(measure), limit_(limit) {}

    std::vector<Pinch> find() {
        const std::vector<WayPlace>& places = measure_.places;
        const auto below = [&](const WayPlace& at) { return narrow(at); };
        for (std::size_t i = 0; i < places.size(); ++i) {
            const bool same = i > 0 && places[i].step == places[i - 1].step;
            if (same && narrow(places[i]) != narrow(places[i - 1]))
                take(turning_place(measure_.way, places[i - 1], places[i], below));
            if (narrow(places[i]))
                take(places[i]);
            else
                finish();
        }
        finish();
        return std::move(pinches_);
    }

  private:
    struct Reach {
        double from = INFINITY, to = -INFINITY;
        void take(double along) {
            from = std::min(from, along);
            to = std::max(to, along);
        }
    };

    bool narrow(const WayPlace& place) const {
        return std::min(2 * place.clearance, measure_.width) < limit_ - width_slack_mm;
    }

    void take(const WayPlace& place) {
        if (!open_ || place.clearance < pinch_.narrowest.clearance - same_place_mm / 2)
            pinch_.narrowest = place;
        open_ = true;
        const Sides sides = sides_at(measure_.way, place);
        const PlanPath& path = measure_.way.stretches[place.stretch].path;
        left_.take(nearest_on(path, sides.left).along);
        right_.take(nearest_on(path, sides.right).along);
    }

    void finish() {
        if (!open_) return;
        const Reach& reach = left_.to - left_.from <= right_.to - right_.from ? left_ : right_;
        pinch_.from = std::clamp(reach.from, measure_.path.from(), measure_.path.to());
        pinch_.to = std::clamp(reach.to, measure_.path.from(), measure_.path.to());
        pinch_.width = hold_at(staging_, measure_, pinch_.narrowest).width.width;
        pinches_.push_back(pinch_);
        open_ = false;
        pinch_ = {};
        left_ = right_ = {};
    }

    const Staging& staging_;
    const WalkMeasure& measure_;
    double limit_;
    bool open_ = false;
    Pinch pinch_;
    Reach left_, right_;
    std::vector<Pinch> pinches_;
};

} // namespace

std::vector<Pinch> pinches_below(const Staging& staging, const WalkMeasure& measure, double limit) {
    return PinchFinder(staging, measure, limit).find();
}

} // namespace standpoint
