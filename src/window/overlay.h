// What a drawing carries besides the solids: grid, hall and sections under them, path, widths,
// marks and the visitor over them.
#pragma once

#include "window/shell.h"
#include "window/view_paint.h"

namespace standpoint {

// Before the picture of the solids is laid over it; only flat views, whose pictures are clear where
// nothing stands.
void paint_under(const Shell& shell, const ViewPaint& paint);
void paint_over(const Shell& shell, const ViewPaint& paint);

// Grid lines for a view: the step, one of 1, 2, 5 times a power of ten mm, at least `pixels` wide.
double grid_step_mm(double mm_per_pixel, double pixels);

// The box of a piece's built solid, or of all that are selected; empty: none.
Box selection_box(const Shell& shell);

// Where the scrubbed visitor's eye is; nothing without path or visitors.
std::optional<glm::dvec3> scrubbed_eye(const Shell& shell);

// The handle that turns a lone selected piece in plan, scene mm; nothing: no handle.
std::optional<glm::dvec3> turning_handle(const Shell& shell, const ViewCamera& camera,
                                         const glm::ivec2& size);

} // namespace standpoint
