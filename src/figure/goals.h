// What a pose is to bring about: a point of a segment at a place, a direction of it, a look at
// something, a bend of an elbow or knee to one side, balance over a spot.
#pragma once

#include <vector>

#include <glm/vec3.hpp>

#include "figure/chain.h"

namespace standpoint {

enum class GoalKind {
    place,     // `point` comes to the place `to`
    direction, // `along` points along `to`
    look,      // `along`, from `point`, points at the place `to`
    bend,      // the start of `segment` stands out towards `to` from the line between the start of
               // its parent and its own tip: where an elbow or a knee points
    balance    // the centre of mass is over the place `to`; z does not count
};
struct Goal {
    GoalKind kind = GoalKind::place;
    int segment = 0;
    glm::dvec3 point{0.0};      // in the segment's axes, mm of a body of the skeleton's own stature
    glm::dvec3 along{0, -1, 0}; // unit, in the segment's axes
    glm::dvec3 to{0.0};         // mm, or unit, in the axes of the form
    int level = 0;              // >= 0; what is of a lower level is kept before
    double weight = 1;          // > 0, among those of its level
};

// How far it is from being met: place and balance in mm, the others in degrees [0, 180].
double miss_of(const Chain& chain, const ChainPlaces& places, const Goal& goal);
// Under this it counts as met: 1 mm, half a degree.
double tolerance_of(GoalKind kind);

// Rows of the linear problem: what is wrong, in mm (directions over an arm's length), and how it
// changes with each axis (per radian) and with the root (per mm).
struct GoalRows {
    int count = 0;
    glm::dvec3 wrong{0.0};
};
int rows_of(GoalKind kind); // at most 3
// `by` has rows_of(kind) rows of `columns` values each, row-major, all set; the last three columns
// are the root's where there are more of them than axes.
GoalRows goal_rows(const Chain& chain, const ChainPlaces& places, const Goal& goal, double* by,
                   int columns);

} // namespace standpoint
