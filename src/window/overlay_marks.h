// Marks of findings over a view, and the widths written beside them.
#pragma once

#include "window/shell.h"
#include "window/view_paint.h"

namespace standpoint {

// Marks that would lie on one another are one, with their number. Nothing in eye views.
void paint_findings(const Shell& shell, const ViewPaint& paint);

// Beside the marks of the walkway's findings of that grade how wide it is there; only in plans.
void paint_width_words(const Shell& shell, const ViewPaint& paint, Grade grade);

} // namespace standpoint
