// What a drag in a view does with each movement of the pointer.
#pragma once

#include "window/view_input.h"

namespace standpoint {

inline constexpr double snap_pixels = 8;

View& view_of(Shell& shell, int view);

// The line of sight through a pixel of a view.
Segment line_at(Shell& shell, int view, const glm::ivec2& size, const glm::dvec2& pixel);

// The movement after snapping to the grid and to what stays; its guides are kept in the pointer.
// The pointer's ids, grip and staging_before say what moves and from where.
glm::dvec3 snapped_by(Shell& shell, const glm::ivec2& size, const glm::dvec3& by, bool free);

// Brings the open drag to an edit; what is wrong with it is said.

// True when the open drag has gone along with this place and these keys already.
bool has_followed(Pointer& p, const ViewPointer& pointer);

// Plan, round and eye: over what lies beneath. Front and side: within the drawing's own plane, not
// below the floor.
void drag_pieces(Shell& shell, const glm::ivec2& size, const ViewPointer& pointer);
void drag_raise(Shell& shell, const glm::ivec2& size, const ViewPointer& pointer);
void drag_turn(Shell& shell, const glm::ivec2& size, const ViewPointer& pointer);
void drag_visitor(Shell& shell, const glm::ivec2& size, const ViewPointer& pointer);

} // namespace standpoint
