// The floor of the visitor path: its band, cut into stretches, and what stands on it as line work.
#pragma once

#include <set>
#include <string>
#include <vector>

#include "check/plan_grid.h"
#include "check/plan_outline.h"
#include "scene/plan_path.h"

namespace standpoint {

// One stretch of the path with the floor it leads over. At the path's own ends the floor goes on
// straight beyond the gate, empty, for 1.5 widths; at a parting it goes on with whatever stands
// there for one width, where it overlaps the next stretch. At both ends a wall closes it.
struct Stretch {
    PlanPath path;           // with what leads up to it and on from it
    double from = 0, to = 0; // mm along the path: the part that counts
    bool first = false, last = false;
};

std::vector<Stretch> stretches_of(const PlanPath& path, double width);

// The band of half the width either side of a path as convex polygons: one a leg, and one a corner
// for its outer side, round to within band_sagitta_mm.
inline constexpr double band_sagitta_mm = 0.002;
std::vector<std::vector<glm::dvec2>> band_polygons(const PlanPath& path, double width);

// A box a leg, round the band there and `margin` more.
PlanBoxes leg_boxes(const PlanPath& path, double width, double margin);

using LeftOut = std::set<std::uint32_t>; // pieces taken away, indices into Staging::pieces

// Outlines of what stands in the slab over the band of the stretch, and the band's own edge.
std::vector<PlanSegment> floor_lines(const Staging& staging, const Stretch& stretch, double width,
                                     const Slab& slab, const LeftOut& left_out);

// Pieces that close the stretch from edge to edge: each touches the next, to within touching_mm.
struct Closing {
    std::vector<std::uint32_t> pieces; // from the left edge to the right
    std::vector<glm::dvec2> contacts;  // edge to first, first to second, ..., last to edge
    double from = 0, to = 0;           // mm along the path that it takes up
    double distance() const { return (from + to) / 2; }
};
inline constexpr double touching_mm = 0.02;

// Chains of fewest pieces, one after the other, each without the pieces of those before.
std::vector<Closing> closings_of(const std::vector<PlanSegment>& lines, const Stretch& stretch,
                                 double width);

} // namespace standpoint
