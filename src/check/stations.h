// The visitor path cut into stations and lanes: where eyes are.
#pragma once

#include <string>
#include <vector>

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include "scene/document.h"

namespace standpoint {

inline constexpr double station_step_mm = 250;
inline constexpr int lane_count = 3; // left, middle, right, walking from start to end

struct Station {
    double distance = 0;       // mm along the path's middle line
    glm::dvec2 place{0.0};     // on the middle line
    glm::dvec2 direction{0.0}; // unit; at a corner the half-way direction
    double length = 0;         // share of the path it stands for, mm; sums to the path's length
    bool corner = false;
};

// Every step and at each corner and both ends, in order. Depends only on the path. Empty when the
// path has no length.
std::vector<Station> stations_of(const Path& path, double step_mm = station_step_mm);

// The station at any distance from 0 to the path's length, with length 0; clamped to the path.
Station station_at(const Path& path, double distance);

// A point `to_left` mm (negative: to the right) off the middle line beside a station, at `height`.
// At corners it is stretched so that a line of such points stays parallel to the path.
glm::dvec3 point_beside(const Path& path, const Station& station, double to_left, double height);

// Where the eye of a visitor is: lane 0 left, 1 middle, 2 right. Side lanes lie
// width/2 - setback off the middle line (0 when the setback is larger).
glm::dvec3 eye_at(const Path& path, const Station& station, const Visitor& visitor, int lane);

double path_length(const Path& path);

} // namespace standpoint
