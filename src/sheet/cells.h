// Rows as text: each number rounded once, the same words in every table and file.
#pragma once

#include <string>

#include "scene/document.h"
#include "sheet/rows.h"

namespace standpoint {

// How a scene's sheets print lengths: its unit system and rounding, without " mm".
LengthStyle sheet_style(const Settings& settings);
std::string unit_note(const Settings& settings); // "mm", "ft and in to 1/16"

struct RowCells {
    std::string number, id, name, kind, section;
    std::string x, y, z, course;
    std::string facing, tilt, roll, ratio;
    std::string width, depth, height, support;
};
RowCells cells_of(const PlacementRow& row, const Document& document);

struct MarkCells {
    std::string name, x, y, z;
};
MarkCells cells_of(const MarkRow& mark, const Settings& settings);

// Height above the deck of the row's section as "3 + 12": whole courses and the rest. Empty when
// the scene has no course.
std::string course_text(const PlacementRow& row, const Document& document);

} // namespace standpoint
