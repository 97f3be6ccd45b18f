// The frame of a sheet and its title block, with the data fields of ISO 7200.
#pragma once

#include <string>

#include "scene/document.h"
#include "sheet/ink.h"
#include "sheet/sheet_size.h"

namespace standpoint {

struct SheetTitle {
    std::string type;  // "placement plan"
    std::string scale; // empty: none
    int sheet = 1, sheets = 1;
};

inline constexpr double title_block_width_mm = 150;
inline constexpr double title_block_height_mm = 34;

Rect drawing_space(const SheetSize& size); // inside the borders

// Border and title block in the lower right corner; returns the block's rectangle.
Rect draw_frame(Ink& ink, const SheetSize& size, const Settings& settings, const SheetTitle& title);

} // namespace standpoint
