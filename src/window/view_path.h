// The points of the visitor path as handles in plan, while nothing is picked.
#pragma once

#include "window/view_input.h"
#include "window/view_paint.h"

namespace standpoint {

// The point within so many pixels of a place of the view; nothing: none, or no handles show.
std::optional<std::size_t> path_handle(const Shell& shell, const ViewCamera& camera,
                                       const glm::ivec2& size, const glm::dvec2& at,
                                       double pixels);
// Moves the point that is held to where the pointer is, on the grid while snapping; one step from
// press to release.
void drag_path_point(Shell& shell, const ViewCamera& camera, const glm::ivec2& size,
                     const ViewPointer& pointer);
void paint_path_handles(const Shell& shell, const ViewPaint& paint);

} // namespace standpoint
