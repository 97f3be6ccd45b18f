// Simple outlines: the sweep against every pair of edges, and what must not change the answer.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "scene/outline.h"
#include "support/random.h"
#include "support/scenes.h"

using namespace standpoint;
using support::plan;

namespace {

double cross(const PlanPoint& o, const PlanPoint& a, const PlanPoint& b) {
    return (a.x.mm - o.x.mm) * (b.y.mm - o.y.mm) - (a.y.mm - o.y.mm) * (b.x.mm - o.x.mm);
}

bool on_edge(const PlanPoint& p, const PlanPoint& a, const PlanPoint& b) {
    return cross(a, b, p) == 0 && std::min(a.x.mm, b.x.mm) <= p.x.mm &&
           p.x.mm <= std::max(a.x.mm, b.x.mm) && std::min(a.y.mm, b.y.mm) <= p.y.mm &&
           p.y.mm <= std::max(a.y.mm, b.y.mm);
}

bool edges_touch(const PlanPoint& a, const PlanPoint& b, const PlanPoint& c, const PlanPoint& d) {
    const bool through = cross(a, b, c) * cross(a, b, d) < 0 && cross(c, d, a) * cross(c, d, b) < 0;
    return through || on_edge(a, c, d) || on_edge(b, c, d) || on_edge(c, a, b) || on_edge(d, a, b);
}

// Every pair of edges, with no order and no boxes.
bool simple_by_pairs(const std::vector<PlanPoint>& p) {
    const std::size_t n = p.size();
    for (std::size_t i = 0; i < n; ++i) {
        if (p[i] == p[(i + 1) % n]) return false;
        for (std::size_t j = i + 1; j < n; ++j) {
            const PlanPoint &a = p[i], &b = p[(i + 1) % n], &c = p[j], &d = p[(j + 1) % n];
            if (j == i + 1 || (i == 0 && j == n - 1)) {
                // They share one corner; neither other end may lie on the other edge.
                const bool next = j == i + 1;
                if (on_edge(next ? a : b, c, d) || on_edge(next ? d : c, a, b)) return false;
            } else if (edges_touch(a, b, c, d)) {
                return false;
            }
        }
    }
    return true;
}

} // namespace

TEST_CASE("random outlines on a small grid, against every pair of edges") {
    support::Random random(11);
    int simple = 0;
    for (int round = 0; round < 4000; ++round) {
        std::vector<PlanPoint> outline;
        for (std::int64_t i = random.integer(3, 7); i > 0; --i)
            outline.push_back(plan(static_cast<double>(random.integer(0, 6)),
                                   static_cast<double>(random.integer(0, 6))));
        const bool good = !outline_fault(outline).has_value();
        REQUIRE(good == simple_by_pairs(outline));
        simple += good;
        std::rotate(outline.begin(), outline.begin() + 1, outline.end());
        CHECK(outline_fault(outline).has_value() == !good);
        std::reverse(outline.begin(), outline.end());
        CHECK(outline_fault(outline).has_value() == !good);
    }
    CHECK(simple > 400);
    CHECK(simple < 3600);
}

TEST_CASE("the number of points has an end, and a round outline up to it is simple") {
    const auto ring = [](std::size_t count) {
        std::vector<PlanPoint> points;
        for (std::size_t i = 0; i < count; ++i) {
            const double turn =
                6.283185307179586 * static_cast<double>(i) / static_cast<double>(count);
            points.push_back(plan(5000 * std::cos(turn), 5000 * std::sin(turn)));
        }
        return points;
    };
    CHECK(!outline_fault(ring(most_outline_points)));
    CHECK(outline_fault(ring(most_outline_points + 1)));
    CHECK(!outline_fault(ring(3)));
    CHECK(outline_fault({plan(0, 0), plan(1, 0)}));
    CHECK(outline_fault({plan(0, 0), plan(1, 0), plan(2, 0)}));
}
