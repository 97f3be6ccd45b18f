// Standard sheets and scales: which paper the plan goes on, and how much it is reduced.
#pragma once

#include <string>
#include <vector>

#include "measure/length.h"

namespace standpoint {

struct SheetSize { // landscape, mm
    std::string name;
    double width = 0, height = 0;
};

struct DrawingScale {
    double reduction = 1; // 50 for 1:50
    std::string name;     // "1:50", "1/2\" = 1'-0\""
};

// ISO 216 A3 to A1, or ASME Y14.1 B to D; smallest first.
const std::vector<SheetSize>& sheet_sizes(UnitSystem system);
// Reductions of ISO 5455 from 1:5 to 1:200, or the feet-and-inches scales; largest first.
const std::vector<DrawingScale>& drawing_scales(UnitSystem system);

// Borders of a sheet (ISO 5457): a filing margin on the left.
inline constexpr double left_border_mm = 20;
inline constexpr double other_border_mm = 10;

struct SheetChoice {
    SheetSize size;
    DrawingScale scale;
};

// The smallest sheet on which an extent fits at 1:50 (1:48) or larger, at the largest scale that
// fits; else the largest sheet. `taken_height_mm` is the paper kept free below the plan. An extent
// that no scale brings onto the largest sheet gets the smallest scale.
SheetChoice choose_sheet(UnitSystem system, double extent_width_mm, double extent_depth_mm,
                         double taken_height_mm);

} // namespace standpoint
