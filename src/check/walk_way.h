// The way through a staged scene: the widest route from the start of the visitor path to its end.
#pragma once

#include <optional>
#include <vector>

#include "check/medial.h"
#include "check/walk_floor.h"

namespace standpoint {

struct WayPlace {         // a place on the way
    std::size_t step = 0; // index into Way::steps
    double u = 0;         // share along that step, walking
    glm::dvec2 place{0.0};
    double clearance = 0; // mm to what is nearest, either side
    double along = 0;     // mm along the path of the nearest place of the path
    std::uint32_t stretch = 0;
};

struct Way {
    MedialAxis axis;
    std::vector<WayStep> steps; // empty: closed
    std::vector<Stretch> stretches;
};

// `lines` holds one set of line work a stretch. Gaps of closed_gap_mm or less are closed.
inline constexpr double closed_gap_mm = 0.01;
Way find_way(const std::vector<Stretch>& stretches,
             const std::vector<std::vector<PlanSegment>>& lines, double width);

// Places in order, at most `step_mm` apart, among them every corner and every narrowest place.
std::vector<WayPlace> places_on(const Way& way, double step_mm);
// Between two places of the same step, the place where `beyond` turns from what it is at `a`.
template <class Beyond>
WayPlace turning_place(const Way& way, WayPlace a, WayPlace b, const Beyond& beyond);

WayPlace place_at(const Way& way, std::size_t step, double u);

struct Sides { // nearest points of what is left and right, walking
    glm::dvec2 left{0.0}, right{0.0};
};
Sides sides_at(const Way& way, const WayPlace& place);

template <class Beyond>
WayPlace turning_place(const Way& way, WayPlace a, WayPlace b, const Beyond& beyond) {
    const bool at_a = beyond(a);
    for (int i = 0; i < 50 && b.u - a.u > 1e-12; ++i) {
        const WayPlace middle = place_at(way, a.step, (a.u + b.u) / 2);
        (beyond(middle) == at_a ? a : b) = middle;
    }
    return b;
}

} // namespace standpoint
