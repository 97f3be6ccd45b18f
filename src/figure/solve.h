// Poses from goals: angles within their ranges that bring hands, feet and eyes where they are
// wanted, as near to a given pose as they allow.
//
// Damped least squares (Levenberg 1944, Marquardt 1963) with the ranges as bounds, level after
// level, from the pose given and, where that leads nowhere, from others. The same input gives the
// same output; nothing depends on time or chance.
#pragma once

#include <vector>

#include "figure/goals.h"

namespace standpoint {

enum class Search {
    follow, // from the given pose only: what is dragged does not jump
    wide    // from others as well when a goal of the first level is not met
};
struct SolveRequest {
    ChainState from; // angles out of range are taken at the end of the range
    std::vector<Goal> goals;
    std::vector<bool> locked; // by axis; empty: none
    bool root_moves = false;
    Search search = Search::wide;
};

struct GoalOutcome {
    double miss = 0; // mm or degrees, as miss_of
    bool met = false;
};
struct Solved {
    ChainState state;
    std::vector<GoalOutcome> goals; // as asked
    int attempts = 0, steps = 0;
    bool all_met() const;
};
// Goals with numbers that are not finite, of a segment that is not there, or along no direction are
// a programmer's error, as is a list of locks of another length.
Solved solve(const Chain& chain, const SolveRequest& request);

} // namespace standpoint
