// One frame of the whole window, within the toolkit's NewFrame and Render.
#pragma once

#include "window/shell.h"
#include "window/ui.h"

namespace standpoint {

void draw_frame(Shell& shell, const Ui& ui);

} // namespace standpoint
