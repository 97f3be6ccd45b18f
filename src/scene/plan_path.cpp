// Distances along the visitor path, nearest places, and stretches that keep to themselves.
#include "scene/plan_path.h"

#include <algorithm>
#include <cmath>

#include <glm/geometric.hpp>

namespace standpoint {

namespace {

constexpr double same_point_mm = 1e-3; // as the stations take it
constexpr std::size_t most_samples = 1000;

double cross(const glm::dvec2& a, const glm::dvec2& b) {
    return a.x * b.y - a.y * b.x;
}

std::size_t leg_at(const PlanPath& path, double along) {
    std::size_t leg = 0;
    while (leg + 2 < path.points.size() && along > path.along[leg + 1])
        ++leg;
    return leg;
}

// Whether two places of the path nearer than the width are farther apart along it than any single
// turn explains: half a circle of that width is 1.6 widths long.
bool runs_into_itself(const PlanPath& path, double width) {
    const double length = path.to() - path.from();
    const std::size_t count =
        std::min(most_samples, static_cast<std::size_t>(length / (width / 4)) + 2);
    std::vector<glm::dvec2> samples;
    for (std::size_t i = 0; i < count; ++i)
        samples.push_back(point_at(path, path.from() + length * static_cast<double>(i) /
                                                           static_cast<double>(count - 1)));
    const double step = length / static_cast<double>(count - 1);
    for (std::size_t i = 0; i < count; ++i)
        for (std::size_t j = i + 1; j < count; ++j)
            if (static_cast<double>(j - i) * step > 2 * width &&
                glm::distance(samples[i], samples[j]) < width + step / 2)
                return true;
    return false;
}

} // namespace

PlanPath plan_path(const Path& path) {
    PlanPath out;
    for (const PlanPoint& point : path.points) {
        const glm::dvec2 place(point.x.mm, point.y.mm);
        if (out.points.empty()) {
            out.along.push_back(0);
        } else {
            const double leg = glm::distance(place, out.points.back());
            if (leg <= same_point_mm) continue;
            out.along.push_back(out.along.back() + leg);
        }
        out.points.push_back(place);
    }
    return out;
}

glm::dvec2 direction_at(const PlanPath& path, double along) {
    const std::size_t leg = leg_at(path, along);
    return glm::normalize(path.points[leg + 1] - path.points[leg]);
}

glm::dvec2 point_at(const PlanPath& path, double along) {
    const std::size_t leg = leg_at(path, along);
    return path.points[leg] + direction_at(path, along) * (along - path.along[leg]);
}

PlanPath extended(const PlanPath& path, double before, double after) {
    return part_of(path, path.from() - before, path.to() + after);
}

PlanPath part_of(const PlanPath& path, double from, double to) {
    PlanPath out;
    const auto add = [&](const glm::dvec2& point, double along) {
        if (!out.along.empty() && along - out.along.back() <= same_point_mm) return;
        out.points.push_back(point);
        out.along.push_back(along);
    };
    add(point_at(path, from), from);
    for (std::size_t i = 0; i < path.points.size(); ++i) {
        // The old ends are corners no longer when the part goes on straight beyond them.
        const bool end = i == 0 || i + 1 == path.points.size();
        if (!end && path.along[i] > from && path.along[i] < to) add(path.points[i], path.along[i]);
    }
    add(point_at(path, to), to);
    return out;
}

glm::dvec2 nearest_point(const glm::dvec2& a, const glm::dvec2& b, const glm::dvec2& point) {
    const glm::dvec2 run = b - a;
    const double length2 = glm::dot(run, run);
    if (length2 == 0) return a;
    const double share = std::clamp(glm::dot(point - a, run) / length2, 0.0, 1.0);
    return share == 1 ? b : a + run * share;
}

Nearest nearest_on(const PlanPath& path, const glm::dvec2& point) {
    Nearest best;
    best.distance = INFINITY;
    for (std::size_t leg = 0; leg + 1 < path.points.size(); ++leg) {
        const glm::dvec2 a = path.points[leg], b = path.points[leg + 1];
        const glm::dvec2 foot = nearest_point(a, b, point);
        const double distance = glm::distance(foot, point);
        if (distance >= best.distance) continue;
        const double side = cross(b - a, point - a);
        best = {path.along[leg] + glm::distance(a, foot), distance, std::copysign(distance, side)};
    }
    return best;
}

std::vector<double> parting_places(const PlanPath& path, double width) {
    std::vector<double> places;
    if (!runs_into_itself(path, width)) return places;
    for (std::size_t leg = 0; leg + 1 < path.points.size(); ++leg)
        if ((path.along[leg + 1] - path.along[leg]) * 2 >= width)
            places.push_back((path.along[leg] + path.along[leg + 1]) / 2);
    return places;
}

} // namespace standpoint
