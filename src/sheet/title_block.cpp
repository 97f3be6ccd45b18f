// Draws borders and the title block.
#include "sheet/title_block.h"

#include <fmt/format.h>

#include "sheet/cells.h"

namespace standpoint {
namespace {

void field(Ink& ink, const Rect& rect, const std::string& label, const std::string& value,
           double points = 8.5, bool bold = false) {
    ink.rect(rect, line_narrow);
    ink.text({rect.x + 1, rect.y + 0.6}, label, {6, false, 0.35}, rect.width - 2);
    if (!value.empty()) ink.text({rect.x + 1, rect.y + 3.4}, value, {points, bold}, rect.width - 2);
}

} // namespace

Rect drawing_space(const SheetSize& size) {
    return {left_border_mm, other_border_mm, size.width - left_border_mm - other_border_mm,
            size.height - 2 * other_border_mm};
}

Rect draw_frame(Ink& ink, const SheetSize& size, const Settings& settings,
                const SheetTitle& title) {
    const Rect space = drawing_space(size);
    ink.rect(space, line_border);
    const Rect block{space.x + space.width - title_block_width_mm,
                     space.y + space.height - title_block_height_mm, title_block_width_mm,
                     title_block_height_mm};
    ink.fill_rect(block, 1);
    const double x = block.x, y = block.y, row = 8.5;
    field(ink, {x, y, 75, row}, "legal owner", settings.legal_owner);
    field(ink, {x + 75, y, 75, row}, "document type", title.type);
    field(ink, {x, y + row, 110, row}, "title", settings.title, 10, true);
    field(ink, {x + 110, y + row, 40, row}, "identification number", settings.number);
    field(ink, {x, y + 2 * row, 55, row}, "created by", settings.drawn_by);
    field(ink, {x + 55, y + 2 * row, 55, row}, "approved by", "");
    field(ink, {x + 110, y + 2 * row, 40, row}, "date of issue", settings.date);
    field(ink, {x, y + 3 * row, 45, row}, "scale", title.scale.empty() ? "none" : title.scale);
    field(ink, {x + 45, y + 3 * row, 40, row}, "lengths in", unit_note(settings));
    field(ink, {x + 85, y + 3 * row, 25, row}, "revision", settings.revision);
    field(ink, {x + 110, y + 3 * row, 40, row}, "sheet",
          fmt::format("{} of {}", title.sheet, title.sheets));
    ink.rect(block, line_wide);
    return block;
}

} // namespace standpoint
