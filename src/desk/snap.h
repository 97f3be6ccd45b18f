// Snapping while something is dragged: edges, faces, centres, equal gaps and the grid.
//
// All in scene mm. Each axis that may snap takes the nearest candidate within the tolerance (the
// limit counts as within); equally near ones go by kind in the order of SnapKind, then by the order
// of the bodies. A turned face pulls square to itself, and is taken when it is nearer than what the
// two plan axes would take. Snapping what has snapped changes nothing.
#pragma once

#include <span>
#include <string>
#include <vector>

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include "desk/piece_ids.h"
#include "shape/staging.h"

namespace standpoint {

enum class SnapKind { face, edge, centre, spacing, grid };
inline constexpr const char* snap_kind_names[] = {"Faces", "Edges", "Centres", "Equal gaps",
                                                  "Grid"};

struct SnapFace { // an upright flat face that is not along X or Y, as its trace in plan
    glm::dvec2 from{0.0}, to{0.0}, outward{0.0}; // outward: unit
};
struct SnapBody {
    std::string name; // for the guide's text
    Box box;
    std::vector<SnapFace> faces;
};

struct Snapping {
    bool enabled[5] = {true, true, true, true, true}; // by SnapKind
    double grid_mm = 100;
    double tolerance_mm = 10; // screen pixels times mm a pixel
    double reach_mm = 3000;   // bodies further off in plan than this are left aside
    bool axes[3] = {true, true, false};
    LengthStyle style; // for texts
};

struct SnapGuide { // a line to draw
    SnapKind kind = SnapKind::grid;
    glm::dvec3 from{0.0}, to{0.0};
    std::string text; // "edge of Tea stall", "equal 420 mm", "grid"
};
struct Snapped {
    glm::dvec3 by{0.0}; // the movement to make instead
    std::vector<SnapGuide> guides;
};

// `moved` is where the drag began; `anchor` is the point of it that keeps to the grid (the leading
// piece's origin); `by` is the movement asked for.
Snapped snap(const SnapBody& moved, const glm::dvec3& anchor, const glm::dvec3& by,
             std::span<const SnapBody> others, const Snapping& how);

// Once at the start of a drag. Everything that stays: not the ids, nor what they carry, nor the
// hall's walls; sections included.
std::vector<SnapBody> snap_others(const Staging& staging, const Ids& moving);
SnapBody snap_moved(const Staging& staging, const Ids& moving); // one box about them all

} // namespace standpoint
