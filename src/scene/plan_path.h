// The visitor path as plan geometry: distances along it, the places nearest to it, its parting into
// stretches that do not run into one another.
#pragma once

#include <vector>

#include <glm/vec2.hpp>

#include "scene/document.h"

namespace standpoint {

// A polyline in plan with the distance along the visitor path of each of its points. A part that
// leads up to the path's start has distances below 0.
struct PlanPath {
    std::vector<glm::dvec2> points; // no two neighbours alike; fewer than 2: no path
    std::vector<double> along;      // mm, rising

    double from() const { return along.front(); }
    double to() const { return along.back(); }
};

PlanPath plan_path(const Path& path);
glm::dvec2 point_at(const PlanPath& path, double along);     // straight on beyond the ends
glm::dvec2 direction_at(const PlanPath& path, double along); // unit; at a corner, of the leg before
// Straight on by that much at either end.
PlanPath extended(const PlanPath& path, double before, double after);
PlanPath part_of(const PlanPath& path, double from, double to); // keeps distances

struct Nearest {
    double along = 0, distance = 0; // mm; equally near places: the first along
    double to_left = 0;             // mm, signed: which side of the path, walking
};
Nearest nearest_on(const PlanPath& path, const glm::dvec2& point);

// Where the path is to be parted so that no two places far apart along it share a stretch of
// `width`: empty when the band does not run into itself, else the middles of all legs at least half
// as long as the width.
std::vector<double> parting_places(const PlanPath& path, double width);

// Distance from a point to a segment, and the nearest point of it.
glm::dvec2 nearest_point(const glm::dvec2& a, const glm::dvec2& b, const glm::dvec2& point);

} // namespace standpoint
