// Measures and draws tables.
#include "sheet/table.h"

#include <algorithm>

#include "base/check.h"

namespace standpoint {
namespace {

constexpr double cell_pad_mm = 1.0;
constexpr double below_points = 8.0;
constexpr double title_height_mm = 9.0;

double table_width(const Table& table) {
    double width = 0;
    for (const TableColumn& column : table.columns)
        width += column.width;
    return width;
}

double cells_height(Ink& ink, const Table& table, const std::vector<std::string>& cells,
                    const TextStyle& style) {
    STANDPOINT_CHECK(cells.size() == table.columns.size());
    double height = 0;
    for (std::size_t i = 0; i < cells.size(); ++i)
        height = std::max(
            height, ink.measure(cells[i], style, table.columns[i].width - 2 * cell_pad_mm).height);
    return height + 2 * cell_pad_mm;
}

double below_height(Ink& ink, const Table& table, const TableRow& row) {
    if (row.below.empty()) return 0;
    const double width = table_width(table) - table.columns.front().width - 2 * cell_pad_mm;
    return ink.measure(row.below, {below_points}, width).height + cell_pad_mm;
}

double foot_height(Ink& ink, const Table& table) {
    if (table.foot.empty()) return 0;
    return ink.measure(table.foot, {below_points}, table_width(table) - 2 * cell_pad_mm).height +
           2 * cell_pad_mm;
}

std::vector<std::string> heads_of(const Table& table) {
    std::vector<std::string> heads;
    for (const TableColumn& column : table.columns)
        heads.push_back(column.head);
    return heads;
}

double head_height(Ink& ink, const Table& table) {
    return title_height_mm + cells_height(ink, table, heads_of(table), {table_points, true});
}

void draw_cells(Ink& ink, const Table& table, const std::vector<std::string>& cells,
                glm::dvec2 corner, bool bold) {
    double x = corner.x;
    for (std::size_t i = 0; i < cells.size(); ++i) {
        const TableColumn& column = table.columns[i];
        TextStyle style{table_points, bold, 0, column.align};
        ink.text({x + cell_pad_mm, corner.y + cell_pad_mm}, cells[i], style,
                 column.width - 2 * cell_pad_mm);
        x += column.width;
    }
}

} // namespace

double table_height(Ink& ink, const Table& table) {
    double height = head_height(ink, table) + foot_height(ink, table);
    for (const TableRow& row : table.rows)
        height +=
            cells_height(ink, table, row.cells, {table_points}) + below_height(ink, table, row);
    return height;
}

std::size_t rows_that_fit(Ink& ink, const Table& table, std::size_t first, double height_mm) {
    double used = head_height(ink, table) + foot_height(ink, table);
    std::size_t count = 0;
    for (std::size_t i = first; i < table.rows.size(); ++i) {
        used += cells_height(ink, table, table.rows[i].cells, {table_points}) +
                below_height(ink, table, table.rows[i]);
        if (used > height_mm && count > 0) break;
        ++count;
    }
    return std::max<std::size_t>(count, 1);
}

double draw_table(Ink& ink, const Table& table, std::size_t first, std::size_t count,
                  glm::dvec2 corner) {
    const double width = table_width(table);
    const std::string title = table.title + (first > 0 ? " (continued)" : "");
    ink.text(corner, title, {12, true});
    double y = corner.y + title_height_mm;
    const double head = cells_height(ink, table, heads_of(table), {table_points, true});
    ink.fill_rect({corner.x, y, width, head}, 0.88);
    draw_cells(ink, table, heads_of(table), {corner.x, y}, true);
    y += head;
    ink.line({corner.x, y}, {corner.x + width, y}, line_wide);
    const std::size_t end = std::min(first + count, table.rows.size());
    for (std::size_t i = first; i < end; ++i) {
        const TableRow& row = table.rows[i];
        draw_cells(ink, table, row.cells, {corner.x, y}, false);
        y += cells_height(ink, table, row.cells, {table_points});
        if (!row.below.empty()) {
            const double indent = table.columns.front().width + cell_pad_mm;
            ink.text({corner.x + indent, y - cell_pad_mm}, row.below, {below_points, false, 0.25},
                     width - table.columns.front().width - 2 * cell_pad_mm);
            y += below_height(ink, table, row);
        }
        ink.line({corner.x, y}, {corner.x + width, y}, line_thin);
    }
    if (!table.foot.empty() && end == table.rows.size()) {
        ink.text({corner.x + cell_pad_mm, y + cell_pad_mm}, table.foot, {below_points, false, 0.25},
                 width - 2 * cell_pad_mm);
        y += foot_height(ink, table);
    }
    return y;
}

} // namespace standpoint
