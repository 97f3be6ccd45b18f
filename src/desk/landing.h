// Where something that is let go over a view comes to stand: what is seen there carries it.
//
// All mm, scene axes; `index` is over `staging`. Beneath is what desk/drop.h says it is.
#pragma once

#include <optional>

#include "desk/drop.h"

namespace standpoint {

struct LetGo {
    double half_width = 0; // of the piece in plan: so far it keeps off a wall that is pointed at
    double slack =
        0;        // a surface this far above the pointer counts as below it; views that look level
    Ids moving{}; // looked through
};

// A line that looks down or up (plan, round, eye): on the surface it meets; before it where that is
// too steep to carry. A line that goes level (front, side): down to the highest surface below the
// pointer that lies before what is pointed at, of equally high ones nearest to the middle of the
// base; so that it is seen where it was let go. Nothing: the line leads into the air.
std::optional<glm::dvec3> landing(const Document& document, const Staging& staging,
                                  const RayIndex& index, const Segment& line, const LetGo& how);

// The movement, held so that a box does not go below the hall floor, or deeper below it than it is.
glm::dvec3 kept_above_floor(const Box& moved, glm::dvec3 by);

} // namespace standpoint
