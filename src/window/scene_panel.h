// The lists in the panel about the scene: points, sections, reference points, visitors.
#pragma once

#include "desk/scene_fields.h"
#include "window/shell.h"
#include "window/ui.h"

namespace standpoint {

void draw_points(Shell& shell, const Ui& ui, PointList list);
void draw_sections(Shell& shell, const Ui& ui);
void draw_references(Shell& shell, const Ui& ui);
void draw_visitors(Shell& shell, const Ui& ui);

} // namespace standpoint
