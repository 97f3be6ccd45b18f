// Tables on pages: rows kept whole, long text wrapped, heads repeated.
#pragma once

#include <string>
#include <vector>

#include "sheet/ink.h"

namespace standpoint {

struct TableColumn {
    std::string head;
    double width = 0; // mm
    Align align = Align::left;
};

struct TableRow {
    std::vector<std::string> cells; // one a column
    std::string below;              // smaller, across the row; empty: none
};

struct Table {
    std::string title;
    std::vector<TableColumn> columns;
    std::vector<TableRow> rows;
    std::string foot; // words under the last row; empty: none
};

inline constexpr double table_points = 8.5; // readable at arm's length

double table_height(Ink& ink, const Table& table); // mm, all rows on one page

// How many rows, from `first` on, stand whole on a page of this height; at least 1.
std::size_t rows_that_fit(Ink& ink, const Table& table, std::size_t first, double height_mm);

// Draws the title, the head and rows [first, first + count) from the top left corner.
// Returns the y below the last.
double draw_table(Ink& ink, const Table& table, std::size_t first, std::size_t count,
                  glm::dvec2 corner);

} // namespace standpoint
