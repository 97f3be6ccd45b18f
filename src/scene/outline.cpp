// Is an outline simple.
#include "scene/outline.h"

#include <algorithm>
#include <numeric>

#include <fmt/format.h>

namespace standpoint {

namespace {

struct Edge {
    double ax, ay, bx, by;
    std::size_t index;
    double low_x() const { return std::min(ax, bx); }
    double high_x() const { return std::max(ax, bx); }
    double low_y() const { return std::min(ay, by); }
    double high_y() const { return std::max(ay, by); }
};

double turn(double ax, double ay, double bx, double by, double cx, double cy) {
    return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
}

int sign(double value) {
    return (value > 0) - (value < 0);
}

bool boxes_meet(const Edge& a, const Edge& b) {
    return a.low_x() <= b.high_x() && b.low_x() <= a.high_x() && a.low_y() <= b.high_y() &&
           b.low_y() <= a.high_y();
}

bool edges_meet(const Edge& a, const Edge& b) {
    if (!boxes_meet(a, b)) return false;
    const int a1 = sign(turn(b.ax, b.ay, b.bx, b.by, a.ax, a.ay));
    const int a2 = sign(turn(b.ax, b.ay, b.bx, b.by, a.bx, a.by));
    const int b1 = sign(turn(a.ax, a.ay, a.bx, a.by, b.ax, b.ay));
    const int b2 = sign(turn(a.ax, a.ay, a.bx, a.by, b.bx, b.by));
    return a1 * a2 <= 0 && b1 * b2 <= 0;
}

// Edges that share a corner may only meet there: the second must not run back over the first.
bool folds_back(const Edge& a, const Edge& b) {
    return turn(a.ax, a.ay, a.bx, a.by, b.bx, b.by) == 0 &&
           (a.bx - a.ax) * (b.bx - b.ax) + (a.by - a.ay) * (b.by - b.ay) < 0;
}

std::string crossing(std::size_t a, std::size_t b) {
    return fmt::format("found that the edges after points {} and {} touch, expected an outline "
                       "that does not cross itself",
                       std::min(a, b), std::max(a, b));
}

std::optional<std::string> self_crossing(std::vector<Edge> edges) {
    const std::size_t count = edges.size();
    for (std::size_t i = 0; i < count; ++i)
        if (folds_back(edges[i], edges[(i + 1) % count])) return crossing(i, (i + 1) % count);
    std::sort(edges.begin(), edges.end(), [](const Edge& a, const Edge& b) {
        return std::pair(a.low_x(), a.index) < std::pair(b.low_x(), b.index);
    });
    for (std::size_t i = 0; i < count; ++i) {
        for (std::size_t j = i + 1; j < count && edges[j].low_x() <= edges[i].high_x(); ++j) {
            const std::size_t apart = edges[i].index > edges[j].index
                                          ? edges[i].index - edges[j].index
                                          : edges[j].index - edges[i].index;
            if (apart == 1 || apart == count - 1) continue; // neighbours share a corner
            if (edges_meet(edges[i], edges[j])) return crossing(edges[i].index, edges[j].index);
        }
    }
    return std::nullopt;
}

} // namespace

std::optional<std::size_t> repeated_point(const std::vector<PlanPoint>& points) {
    for (std::size_t i = 1; i < points.size(); ++i)
        if (points[i] == points[i - 1]) return i;
    return std::nullopt;
}

std::optional<std::string> outline_fault(const std::vector<PlanPoint>& outline) {
    const std::size_t count = outline.size();
    if (count < 3) return fmt::format("found {} points, expected at least 3", count);
    if (count > most_outline_points)
        return fmt::format("found {} points, expected at most {}", count, most_outline_points);
    if (const auto again = repeated_point(outline))
        return fmt::format("found point {} on the one before it, expected them apart", *again);
    if (outline.front() == outline.back())
        return "found the last point on the first, expected an outline that closes by itself";
    std::vector<Edge> edges;
    double area = 0;
    for (std::size_t i = 0; i < count; ++i) {
        const PlanPoint &a = outline[i], &b = outline[(i + 1) % count];
        edges.push_back({a.x.mm, a.y.mm, b.x.mm, b.y.mm, i});
        area += a.x.mm * b.y.mm - a.y.mm * b.x.mm;
    }
    if (auto fault = self_crossing(std::move(edges))) return fault;
    if (area == 0) return "found an outline without area, expected one that encloses some";
    return std::nullopt;
}

} // namespace standpoint
