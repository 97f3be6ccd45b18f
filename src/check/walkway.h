// Walkway: how wide the way is at every distance along the path, what pinches it, and headroom.
//
// Obstacles are all surfaces of staged pieces, sections, columns and hall walls above walk_over_mm
// and below head height (the strictest headroom rule, at least overhead_from_mm), cut exactly at
// both and seen in plan. The floor is the band of the path less the obstacles; the band's edge is a
// wall called "edge". Beyond the two gates (the cuts across the path at its start and end) the
// floor is taken to go on straight and empty: what stands before the start or past the end is in
// nobody's way.
//
// The way is the route of a disc from gate to gate that stays as far as can be from all walls: the
// medial axis of the floor, along the edges of its widest spanning tree. No other route has a wider
// narrowest place, and none between any two corners of this one. Width at distance s is twice the
// clearance of the way where it crosses the cut at s, the least when it crosses more than once. A
// place belongs to the distance of the place of the path nearest to it; where that jumps, on the
// inner side of a corner, all distances jumped over are crossed there. The least width over all
// s is that of the widest disc that travels from gate to gate. (Read to the letter for one s, a
// disc that must travel the whole path is nowhere wider than the worst pinch; each station says
// instead how wide the way is there.) Widths over the path's own are given as the path's own.
//
// Exact to 0.01 mm: plan geometry is snapped to plan_grid_mm, everything after is closed form, and
// the narrowest place of each pinch is the distance of the two original edges that form it.
//
// Where the band runs into itself (two places nearer than the width, more than two widths apart
// along the path), the path is cut at the middles of its legs that are at least half a width long
// and each stretch sees only its own band, one width farther than its cuts, joined to the next at
// the cut. Within a stretch, about a tight turn, legs that still run into each other share their
// floor.
//
// Where pieces close the way from edge to edge, its width is 0; those pieces are named, and the way
// is measured again without them, so that pinches beyond are found as well.
#pragma once

#include <string>
#include <vector>

#include <glm/vec2.hpp>

#include "base/parallel.h"
#include "check/results.h"
#include "check/stations.h"
#include "shape/staging.h"

namespace standpoint {

// What rises no more than this above the floor is walked over: the bevelled change of level that
// 2010 ADA Standards 303.3 allows, 1/2 in.
inline constexpr double walk_over_mm = 12.7;
// What hangs over the path this high or higher meets a head, what is lower a body: common practice,
// no source. Headroom speaks of the first only; both are obstacles up to head height.
inline constexpr double overhead_from_mm = 1200;
// Widths differ from their limit when they differ by more than this: half the promise of 0.01 mm.
inline constexpr double width_slack_mm = 0.005;

struct WidthAt {
    double distance = 0; // mm along the path
    double width = 0;    // mm
    // The two that hold it there, ids; "edge" is the edge of the path's band. Where the way is
    // closed: the first and the last of the pieces that close it.
    std::string left, right;
    glm::dvec2 left_point{0.0}, right_point{0.0}; // nearest points of the two, scene mm
};

// The lowest near-level surface (within 45 degrees), or body that hangs free, at or above
// overhead_from_mm over the floor that is reached from the start gate, between the cuts half-way
// to the stations before and after.
struct HeadroomAt {
    double distance = 0;
    double height = 0; // mm clear above the floor within the band
    std::string piece; // id of the lowest; empty: the ceiling
    glm::dvec3 place{0.0};
};

struct Walkway {
    std::vector<WidthAt> widths; // one a station
    double width = 0;            // the least of all, between stations too
    std::optional<WidthAt> narrowest;
    std::vector<HeadroomAt> headroom; // one a station
    std::vector<Finding> findings;
};

// A path without length or width gives an empty result. Errors: a path that spans more than
// plan geometry holds (1 km from its start); cancelled.
Result<Walkway> check_walkway(const Staging& staging, const std::vector<Rule>& rules,
                              unsigned threads, const Progress& progress);

} // namespace standpoint
