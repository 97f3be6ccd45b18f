// How figures read: hands on what they touch, eyes on what they look at, joints within their
// ranges, what they touch built at their own ratio.
#pragma once

#include <string>
#include <vector>

#include "check/results.h"
#include "shape/staging.h"

namespace standpoint {

struct TouchRead {
    std::string piece, contact, touched; // ids of the pieces
    double off = 0;                      // mm between the contact and its place
    double turned = 0;                   // degrees off lying flat; 0 where it may lie as it comes
    // mm by which the place is too high (or, below 0, too low) for a figure at another ratio.
    double ratio_step = 0;
    glm::dvec3 place{0.0}; // where the contact is, scene mm
};
struct LookRead {
    std::string piece, at;   // at: id of a piece or a visitor
    double eye_turn = 0;     // degrees left for the eyes to turn in the head
    double uncertain = 0;    // degrees the placing tolerances may make of it
    bool meets_eyes = false; // that figure looks back
    glm::dvec3 place{0.0};   // the eyes
};
struct RangeRead { // a joint beyond its range
    std::string piece, joint, axis;
    double angle = 0, least = 0, most = 0; // degrees
};

struct FigureReads {
    std::vector<TouchRead> touches;
    std::vector<LookRead> looks;
    std::vector<RangeRead> beyond;
    std::vector<Finding> findings; // "touch", "gaze", "joint-range", "ratio-step"
};

// Figures that are off for the checks are passed over. Requires staging.figures.
FigureReads check_figure_reads(const Staging& staging, const std::vector<Rule>& rules);

} // namespace standpoint
