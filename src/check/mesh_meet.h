// Whether two placed meshes run into each other, how deep, and how far they are apart.
#pragma once

#include <array>
#include <vector>

#include "check/triangle_pair.h"
#include "shape/staging.h"

namespace standpoint {

struct PlacedMesh {
    std::vector<Corners> triangles;
    std::vector<glm::dvec3> points; // that triangles use, in mesh order
    std::array<glm::dvec3, 3> axes; // the piece's own, unit
    Box box;
};
PlacedMesh placed_mesh(const StagedPiece& piece);

struct Meeting {
    bool meets = false;  // surfaces cross, or one lies inside the other
    bool inside = false; // no surfaces cross, yet one lies within the other
    double depth = 0;
    glm::dvec3 place{0.0};
};

// Touching is no meeting. The depth is that of the direction in which it is least, out of the
// scene's axes and those of both pieces, each both ways. In one direction it is the larger of
//  - the farthest that any two crossing triangles must be moved to clear each other, which is
//    exact for the two triangles, so that sheets without thickness have a depth as well;
//  - the extent of what they share: the points where surfaces cross and the corners of the one
//    inside the other (at most corners_tried of each, evenly chosen).
// For boxes pressed face to face that is the true depth. Between hollow shapes it may be too small,
// since clearing one place may lead into another; for round ones by what their facets leave out.
// One inside the other: the least extent of the two boxes' overlap and what leads out of it.
Meeting meeting(const PlacedMesh& a, const PlacedMesh& b);

inline constexpr std::size_t corners_tried = 128;

// Turns of the surface about a point, by rays in three directions: inside when all find it so.
// An open sheet holds nothing.
bool is_inside(const PlacedMesh& mesh, const glm::dvec3& point);

// Least distance between the two surfaces; 0 when they cross.
double distance_between(const PlacedMesh& a, const PlacedMesh& b, glm::dvec3& place);

} // namespace standpoint
