// Questions asked of a plan outline: inside, how near, where there is room for a number.
#include <algorithm>
#include <cmath>
#include <limits>

#include <glm/geometric.hpp>

#include "sheet/footprint.h"

namespace standpoint {
namespace {

// Places tried along each side of a piece's box.
constexpr int spot_steps = 24;

template <class Visit> void each_edge(const PlanShape& shape, Visit visit) {
    for (const auto& ring : shape.rings)
        for (std::size_t i = 0; i < ring.size(); ++i)
            visit(ring[i], ring[(i + 1) % ring.size()]);
}

double cross(const glm::dvec2& a, const glm::dvec2& b) {
    return a.x * b.y - a.y * b.x;
}

} // namespace

bool covers(const PlanShape& shape, const glm::dvec2& p) {
    bool in = false;
    each_edge(shape, [&](const glm::dvec2& a, const glm::dvec2& b) {
        if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x))
            in = !in;
    });
    return in;
}

double distance_to_outline(const PlanShape& shape, const glm::dvec2& p) {
    double least = std::numeric_limits<double>::infinity();
    each_edge(shape, [&](const glm::dvec2& a, const glm::dvec2& b) {
        const glm::dvec2 ab = b - a;
        const double length2 = glm::dot(ab, ab);
        const double t = length2 > 0 ? std::clamp(glm::dot(p - a, ab) / length2, 0.0, 1.0) : 0.0;
        least = std::min(least, glm::length(p - (a + ab * t)));
    });
    return least;
}

double last_crossing(const PlanShape& shape, const glm::dvec2& from, const glm::dvec2& direction) {
    double last = 0;
    each_edge(shape, [&](const glm::dvec2& a, const glm::dvec2& b) {
        const double sa = cross(direction, a - from), sb = cross(direction, b - from);
        if ((sa > 0) == (sb > 0)) return;
        const double t = sa / (sa - sb);
        last = std::max(last, glm::dot(a + (b - a) * t - from, direction));
    });
    return last;
}

Spot clear_spot(const PlanShape& shape, const std::vector<const PlanShape*>& above,
                const Box& box) {
    const glm::dvec3 size = box.size();
    Spot best{{box.centre().x, box.centre().y}, 0};
    for (int i = 0; i < spot_steps * spot_steps; ++i) {
        const glm::dvec2 place(box.low.x + size.x * (i % spot_steps + 0.5) / spot_steps,
                               box.low.y + size.y * (i / spot_steps + 0.5) / spot_steps);
        if (!covers(shape, place)) continue;
        double room = distance_to_outline(shape, place);
        for (const PlanShape* other : above) {
            if (room <= best.room) break;
            room = covers(*other, place) ? 0 : std::min(room, distance_to_outline(*other, place));
        }
        if (room > best.room) best = {place, room};
    }
    return best;
}

} // namespace standpoint
