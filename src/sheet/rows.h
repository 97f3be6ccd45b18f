// The one builder of rows: every sheet, table and file shows these numbers.
#pragma once

#include <string>
#include <vector>

#include <glm/vec3.hpp>

#include "shape/staging.h"

namespace standpoint {

struct MarkRow {
    std::string name;
    glm::dvec3 scene{0.0}; // mm, unrounded
};

struct PlacementRow {
    int number = 0; // on the plan, from 1, document order
    std::string id, name, kind, section;
    glm::dvec3 at{0.0};                    // mm above the hall floor, unrounded
    double facing = 0, tilt = 0, roll = 0; // degrees in scene axes
    double ratio = 1;
    glm::dvec3 built_size{0.0}; // mm, of the piece unturned: width, depth, height
    std::string support;        // "on jetty", "held by hut", "on section A", "on the floor"
    std::vector<MarkRow> marks; // the scene's own, or two defaults from the foot of its box
};

std::vector<PlacementRow> placement_rows(const Staging& staging);

} // namespace standpoint
