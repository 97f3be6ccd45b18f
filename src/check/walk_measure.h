// The way measured: its width anywhere, who holds it there, its pinches.
#pragma once

#include <vector>

#include "base/parallel.h"
#include "check/walk_way.h"
#include "check/walkway.h"

namespace standpoint {

struct WalkMeasure {
    PlanPath path;
    double width = 0;                            // of the path's band
    std::vector<Closing> closings;               // in order along the path
    LeftOut left_out;                            // the pieces of the closings
    std::vector<std::vector<PlanSegment>> lines; // without them, one set a stretch
    Way way;                                     // through what is left
    std::vector<WayPlace> places;                // of the way, walk_step_mm apart at most
};

inline constexpr double walk_step_mm = 20;

// Requires a path with length and width. Errors: cancelled.
Result<WalkMeasure> measure_way(const Staging& staging, const Slab& slab, const Progress& progress);

// "edge", or the id of the piece.
std::string owner_id(const Staging& staging, std::uint32_t owner);

struct Hold { // what holds the width at a place of the way
    std::uint32_t left = edge_owner, right = edge_owner;
    WidthAt width;
};
// At a narrowest place the width is the distance of the two original edges that form it.
Hold hold_at(const Staging& staging, const WalkMeasure& measure, const WayPlace& place);

std::vector<WidthAt> widths_at(const Staging& staging, const WalkMeasure& measure,
                               const std::vector<Station>& stations);

struct Pinch { // an unbroken part of the way that is narrower than a limit
    WayPlace narrowest;
    double width = 0;
    // What is narrow, along the path: as far as the nearest points of one side, the shorter, reach.
    double from = 0, to = 0;
    double length() const { return to - from; }
};
std::vector<Pinch> pinches_below(const Staging& staging, const WalkMeasure& measure, double limit);

} // namespace standpoint
