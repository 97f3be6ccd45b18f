// Words over an eye view: what the outlined pieces in it are.
#pragma once

#include <string>

#include "window/shell.h"
#include "window/view_paint.h"

namespace standpoint {

// "outlined: what hides Tea seller's face". Empty while nothing is looked at or nothing hides it
// from the eye that the eye views show.
std::string outline_words(const Shell& shell);

// In the lower left corner, with a sample of the outline; nothing in other views.
void paint_outline_key(const Shell& shell, const ViewPaint& paint);

} // namespace standpoint
