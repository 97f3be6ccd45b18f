// The visitor path cut into stations and lanes: where eyes are.
#include "check/stations.h"

#include <algorithm>
#include <cmath>

#include <glm/geometric.hpp>

#include "base/check.h"

namespace standpoint {

namespace {

// A step that falls this near a corner or an end is that corner or end.
constexpr double same_station_mm = 1e-3;
// At a hairpin a parallel lane would run off to infinity; no lane is stretched more than this.
constexpr double longest_stretch = 4;

struct Leg {
    glm::dvec2 from{0.0}, direction{0.0};
    double start = 0, length = 0; // mm along the path
};

std::vector<Leg> legs_of(const Path& path) {
    std::vector<Leg> legs;
    double start = 0;
    for (std::size_t i = 1; i < path.points.size(); ++i) {
        const glm::dvec2 a(path.points[i - 1].x.mm, path.points[i - 1].y.mm);
        const glm::dvec2 b(path.points[i].x.mm, path.points[i].y.mm);
        const double length = glm::length(b - a);
        if (length <= same_station_mm) continue;
        legs.push_back({a, (b - a) / length, start, length});
        start += length;
    }
    return legs;
}

double length_of(const std::vector<Leg>& legs) {
    return legs.empty() ? 0 : legs.back().start + legs.back().length;
}

// Index of the leg a distance lies on; a corner belongs to the leg that ends there.
std::size_t leg_at(const std::vector<Leg>& legs, double distance) {
    std::size_t i = 0;
    while (i + 1 < legs.size() && distance > legs[i].start + legs[i].length + same_station_mm)
        ++i;
    return i;
}

bool at_corner(const std::vector<Leg>& legs, std::size_t leg, double distance) {
    return leg + 1 < legs.size() && std::abs(legs[leg + 1].start - distance) <= same_station_mm;
}

Station on_legs(const std::vector<Leg>& legs, double distance) {
    Station station;
    station.distance = std::clamp(distance, 0.0, length_of(legs));
    if (legs.empty()) return station;
    const std::size_t i = leg_at(legs, station.distance);
    const Leg& leg = legs[i];
    station.place = leg.from + leg.direction * (station.distance - leg.start);
    station.direction = leg.direction;
    if (!at_corner(legs, i, station.distance)) return station;
    station.corner = true;
    const glm::dvec2 sum = leg.direction + legs[i + 1].direction;
    const double size = glm::length(sum);
    if (size > 1e-9) station.direction = sum / size;
    return station;
}

// How much farther than on a straight leg a parallel line lies at this station.
double stretch_at(const std::vector<Leg>& legs, const Station& station) {
    if (legs.empty() || !station.corner) return 1;
    const Leg& leg = legs[leg_at(legs, station.distance)];
    const double cosine = glm::dot(leg.direction, station.direction);
    return cosine > 1 / longest_stretch ? 1 / cosine : longest_stretch;
}

} // namespace

std::vector<Station> stations_of(const Path& path, double step_mm) {
    STANDPOINT_CHECK(step_mm > 0);
    const std::vector<Leg> legs = legs_of(path);
    if (legs.empty()) return {};
    std::vector<double> distances;
    for (const Leg& leg : legs)
        distances.push_back(leg.start);
    distances.push_back(length_of(legs));
    const std::vector<double> fixed = distances;
    for (double step = 1; step * step_mm < length_of(legs); step += 1) {
        const double at = step * step_mm;
        const auto near = std::lower_bound(fixed.begin(), fixed.end(), at - same_station_mm);
        if (near == fixed.end() || *near > at + same_station_mm) distances.push_back(at);
    }
    std::sort(distances.begin(), distances.end());
    std::vector<Station> stations;
    for (std::size_t i = 0; i < distances.size(); ++i) {
        Station station = on_legs(legs, distances[i]);
        const double before = i == 0 ? distances[i] : distances[i - 1];
        const double after = i + 1 == distances.size() ? distances[i] : distances[i + 1];
        station.length = (after - before) / 2;
        stations.push_back(station);
    }
    return stations;
}

Station station_at(const Path& path, double distance) {
    return on_legs(legs_of(path), distance);
}

glm::dvec3 point_beside(const Path& path, const Station& station, double to_left, double height) {
    const glm::dvec2 left(-station.direction.y, station.direction.x);
    const glm::dvec2 at = station.place + left * (to_left * stretch_at(legs_of(path), station));
    return {at.x, at.y, height};
}

glm::dvec3 eye_at(const Path& path, const Station& station, const Visitor& visitor, int lane) {
    STANDPOINT_CHECK(lane >= 0 && lane < lane_count);
    const double side = std::max(0.0, path.width.mm / 2 - visitor.setback.mm);
    return point_beside(path, station, side * (1 - lane), visitor.eye_height.mm);
}

double path_length(const Path& path) {
    return length_of(legs_of(path));
}

} // namespace standpoint
