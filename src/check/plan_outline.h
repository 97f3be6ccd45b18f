// What stands between two heights, as line work in plan: a set of segments, each with the piece it
// comes from, that holds the whole boundary of the floor covered.
#pragma once

#include <cstdint>
#include <vector>

#include <glm/vec2.hpp>

#include "shape/staging.h"

namespace standpoint {

inline constexpr std::uint32_t edge_owner = 0xffffffff; // a segment of the band's own edge

struct PlanSegment {
    glm::dvec2 a{0.0}, b{0.0}; // scene mm
    std::uint32_t owner = 0;   // index into Staging::pieces, or edge_owner
};

struct PlanBox {
    glm::dvec2 low{0.0}, high{0.0};
};
// Several boxes together: what lies in none of them is of no concern.
using PlanBoxes = std::vector<PlanBox>;
bool meet(const PlanBoxes& boxes, const Box& box);

// A line across the path where floor ends that is looked at; what a piece covers of it is closed
// by segments, so that no way leads into a piece that is cut open there.
struct PlanGate {
    glm::dvec2 centre{0.0};
    glm::dvec2 along{1.0, 0.0}; // unit, square to the gate
    double half_width = 0;
};

// Surface strictly above `low` and strictly below `high`.
struct Slab {
    double low = 0, high = 0;
};

// The boundary of a projected surface lies on its silhouette: edges whose two triangles fall on
// the same side of them in plan, open edges, triangles seen edge on, and the cuts at the slab's two
// heights. All of these are given; edges that two triangles cover from both sides are not. Some of
// the segments lie inside the floor covered, where no way leads. Exact within plan_grid_mm.
// Triangles wholly outside the boxes are left out.
void add_outline(const StagedPiece& piece, std::uint32_t owner, const Slab& slab,
                 const PlanBoxes& boxes, std::vector<PlanSegment>& out);

// What the piece covers of the gate within the slab, as segments on the gate. A closed mesh that
// fills the slab from below to above counts as covering; a hall seen from inside does not.
void add_gate_cover(const StagedPiece& piece, std::uint32_t owner, const Slab& slab,
                    const PlanGate& gate, std::vector<PlanSegment>& out);

// The parts of the segments outside the rectangle that starts at the gate and reaches `depth` along
// it, both ways `half_width` wide.
std::vector<PlanSegment> outside_of(const std::vector<PlanSegment>& segments, const PlanGate& gate,
                                    double depth);

} // namespace standpoint
