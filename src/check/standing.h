// How pieces stand: overlapping, floating, outside the base, across a join line.
#pragma once

#include <string>
#include <vector>

#include "base/parallel.h"
#include "check/results.h"
#include "shape/staging.h"

namespace standpoint {

struct Overlap {
    std::string a, b;   // ids, document order
    double depth = 0;   // mm the one must move to clear the other, along the axis of least depth
    bool inside = false; // one lies wholly inside the other
    glm::dvec3 place{0.0};
};

struct Gap { // between a piece and what carries it
    std::string piece, carrier; // carrier: host, section or "floor"
    double gap = 0;             // mm; negative: sunk in
    glm::dvec3 place{0.0};      // of the lowest (or highest, when it hangs) point
};

struct Reach { // over the base's edge or over a join line
    std::string piece;
    double amount = 0; // mm beyond the line
    std::string section_a, section_b; // join lines: the two; edge: its own and empty
    glm::dvec3 place{0.0};
};

struct Standing {
    std::vector<Overlap> overlaps;
    std::vector<Gap> gaps; // one a piece
    std::vector<Reach> outside_base;
    std::vector<Reach> across_join;
    std::vector<Finding> findings;
};

Result<Standing> check_standing(const Staging& staging, const std::vector<Rule>& rules,
                                unsigned threads, const Progress& progress);

} // namespace standpoint
