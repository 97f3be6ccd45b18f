// Walkway: how wide the way is at every distance along the path, what pinches it, and headroom.
#pragma once

#include <string>
#include <vector>

#include <glm/vec2.hpp>

#include "base/parallel.h"
#include "check/results.h"
#include "check/stations.h"
#include "shape/staging.h"

namespace standpoint {

struct WidthAt {
    double distance = 0; // mm along the path
    double width = 0;    // mm: the widest disc that travels from start to end through this cut
    // The two that hold it there, ids; "edge" is the edge of the path's band.
    std::string left, right;
    glm::dvec2 left_point{0.0}, right_point{0.0}; // nearest points of the two, scene mm
};

struct HeadroomAt {
    double distance = 0;
    double height = 0; // mm clear above the floor within the band
    std::string piece; // id of the lowest; empty: the ceiling
    glm::dvec3 place{0.0};
};

struct Walkway {
    std::vector<WidthAt> widths;     // one a station
    double width = 0;                // the least of them
    std::optional<WidthAt> narrowest;
    std::vector<HeadroomAt> headroom; // one a station
    std::vector<Finding> findings;
};

Result<Walkway> check_walkway(const Staging& staging, const std::vector<Rule>& rules,
                              unsigned threads, const Progress& progress);

} // namespace standpoint
