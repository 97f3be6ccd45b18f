// Puts the sheets together: plan, setting out, placements, findings.
#include "sheet/sheets.h"

#include <algorithm>
#include <cmath>
#include <functional>

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include "sheet/cells.h"
#include "sheet/plan_sheet.h"
#include "sheet/table.h"

namespace standpoint {
namespace {

std::string marks_line(const PlacementRow& row, const Settings& settings) {
    std::string line;
    for (const MarkRow& mark : row.marks) {
        const MarkCells cells = cells_of(mark, settings);
        // Spaces inside a group do not break, so that a coordinate stays with its axis.
        line += fmt::format("{}{}:\u00a0X\u00a0{}\u00a0 Y\u00a0{}\u00a0 Z\u00a0{}",
                            line.empty() ? "" : "    ", cells.name, cells.x, cells.y, cells.z);
    }
    return line;
}

Table placements_table(const Staging& staging, const std::vector<PlacementRow>& rows) {
    const Settings& settings = *staging.document.settings;
    Table table;
    table.title = "Placements, in " + unit_note(settings);
    table.columns = {{"No.", 11, Align::right},
                     {"id", 38},
                     {"name", 50},
                     {"kind", 18},
                     {"section", 19},
                     {"X", 22, Align::right},
                     {"Y", 22, Align::right},
                     {"Z", 20, Align::right},
                     {"course", 23, Align::right},
                     {"facing \u00b0", 18, Align::right},
                     {"tilt \u00b0", 14, Align::right},
                     {"roll \u00b0", 14, Align::right},
                     {"ratio", 17, Align::right},
                     {"built W \u00d7 D \u00d7 H", 53},
                     {"on / held by", 45}};
    for (const PlacementRow& row : rows) {
        const RowCells c = cells_of(row, staging.document);
        const std::string size = fmt::format("{} \u00d7 {} \u00d7 {}", c.width, c.depth, c.height);
        table.rows.push_back({{c.number, c.id, c.name, c.kind, c.section, c.x, c.y, c.z, c.course,
                               c.facing, c.tilt, c.roll, c.ratio, size, c.support},
                              marks_line(row, settings)});
    }
    table.foot =
        "X, Y, Z are of the piece's own origin, Z above the hall floor; course is layers "
        "above the deck + the rest. The line below a row gives its marks: left and right are "
        "a figure's own; of any other piece, as you stand before its front.";
    return table;
}

Table points_table(const Document& document) {
    const LengthStyle style = sheet_style(*document.settings);
    Table table;
    table.title = "Datum and reference points";
    table.columns = {{"id", 20},
                     {"where it is", 190},
                     {"X", 28, Align::right},
                     {"Y", 28, Align::right},
                     {"Z", 28, Align::right}};
    table.rows.push_back({{"datum", "the origin of all coordinates", print_length(0, style),
                           print_length(0, style), print_length(0, style)},
                          ""});
    for (const ReferencePoint& point : *document.reference_points)
        table.rows.push_back(
            {{point.id, point.description, print_length(point.at.x.mm, style),
              print_length(point.at.y.mm, style), print_length(point.at.z.mm, style)},
             ""});
    return table;
}

glm::dvec3 at(const ReferencePoint& point) {
    return {point.at.x.mm, point.at.y.mm, point.at.z.mm};
}

Table distances_table(const Document& document) {
    const LengthStyle style = sheet_style(*document.settings);
    const auto& points = *document.reference_points;
    Table table;
    table.title = "First check: tape these before anything is placed";
    table.columns = {
        {"from", 20}, {"to", 20}, {"distance", 40, Align::right}, {"", 6}, {"measured", 60}};
    for (std::size_t i = 0; i < points.size(); ++i)
        for (std::size_t j = i + 1; j < points.size(); ++j)
            table.rows.push_back(
                {{points[i].id, points[j].id,
                  print_length(glm::length(at(points[j]) - at(points[i])), style), "", ""},
                 ""});
    table.foot = "Sides and diagonals between all reference points, in a straight line.";
    return table;
}

Table findings_table(const Staging& staging, const CheckResults& results) {
    const LengthStyle style = sheet_style(*staging.document.settings);
    Table table;
    table.title = "Findings of the checks";
    table.columns = {
        {"grade", 16}, {"check", 26}, {"finding", 210}, {"place X, Y, Z", 60}, {"rule", 70}};
    for (const Finding& finding : results.findings) {
        if (finding.grade == Grade::note) continue;
        std::string place;
        if (finding.place)
            place = fmt::format("{}, {}, {}", print_length(finding.place->x, style),
                                print_length(finding.place->y, style),
                                print_length(finding.place->z, style));
        table.rows.push_back({{grade_names[static_cast<int>(finding.grade)], finding.check,
                               finding.message, place, finding.source},
                              ""});
    }
    for (const std::string& caution : cautions())
        table.foot += (table.foot.empty() ? "" : " ") + caution;
    if (table.rows.empty())
        table.rows.push_back(
            {{"none", "", "no check found anything to mend or watch", "", ""}, ""});
    return table;
}

struct Page {
    std::string type;
    std::function<void(const SheetTitle&)> draw;
};

constexpr double table_gap_mm = 6;

class Book { // pages are counted before the first is drawn: each says how many there are
  public:
    Book(Ink& ink, const Settings& settings, SheetSize size)
        : ink_(ink), settings_(settings), size_(std::move(size)) {}

    void add(Page page) { pages_.push_back(std::move(page)); }

    // Tables one under the other on one page where they fit, else each on pages of its own.
    void add_tables(const std::string& type, const std::vector<Table>& tables) {
        double height = 0;
        for (const Table& table : tables)
            height += table_height(ink_, table) + table_gap_mm;
        if (height <= room()) {
            add({type, [this, tables](const SheetTitle& title) { draw_tables(tables, title); }});
            return;
        }
        for (const Table& table : tables)
            add_pages(type, table);
    }

    Status draw(const Progress& progress) {
        for (std::size_t i = 0; i < pages_.size(); ++i) {
            if (progress.stop()) return Error{ErrorCode::cancelled, "cancelled", "sheets"};
            const double share = static_cast<double>(i) / static_cast<double>(pages_.size());
            if (progress.report) progress.report(share, "sheets");
            pages_[i].draw(
                {pages_[i].type, "", static_cast<int>(i) + 1, static_cast<int>(pages_.size())});
        }
        return ink_.finish();
    }

  private:
    double room() const { return drawing_space(size_).height - title_block_height_mm - 8; }

    void add_pages(const std::string& type, const Table& table) {
        std::size_t first = 0;
        while (first < table.rows.size()) {
            const std::size_t count = rows_that_fit(ink_, table, first, room());
            add({type, [this, table, first, count](const SheetTitle& title) {
                     draw_table_page(table, first, count, title);
                 }});
            first += std::min(count, table.rows.size() - first);
        }
    }

    void draw_tables(const std::vector<Table>& tables, const SheetTitle& title) {
        const Rect space = drawing_space(size_);
        ink_.begin_page(size_.width, size_.height);
        double y = space.y + 3;
        for (const Table& table : tables)
            y = draw_table(ink_, table, 0, table.rows.size(), {space.x + 3, y}) + table_gap_mm;
        draw_frame(ink_, size_, settings_, title);
        ink_.end_page();
    }

    void draw_table_page(const Table& table, std::size_t first, std::size_t count,
                         const SheetTitle& title) {
        const Rect space = drawing_space(size_);
        ink_.begin_page(size_.width, size_.height);
        draw_table(ink_, table, first, count, {space.x + 3, space.y + 3});
        draw_frame(ink_, size_, settings_, title);
        ink_.end_page();
    }

    Ink& ink_;
    const Settings& settings_;
    SheetSize size_;
    std::vector<Page> pages_;
};

} // namespace

Status write_sheets_pdf(const Staging& staging, const std::vector<PlacementRow>& rows,
                        const CheckResults& results, Sink& sink, const Progress& progress) {
    const Settings& settings = *staging.document.settings;
    Ink ink(sink, settings.title, settings.date);
    Book book(ink, settings, sheet_sizes(settings.units).front());
    const PlanPieces drawn = plan_pieces(staging);
    for (const PlanView& view : plan_views(staging))
        book.add({plan_names[static_cast<int>(view.part)], [&, view](const SheetTitle& title) {
                      SheetTitle scaled = title;
                      scaled.scale = view.choice.scale.name;
                      draw_plan_sheet(ink, view, staging, rows, drawn, results, scaled);
                  }});
    std::vector<Table> setting_out = {points_table(staging.document)};
    if (staging.document.reference_points->size() > 1)
        setting_out.push_back(distances_table(staging.document));
    book.add_tables("setting out", setting_out);
    book.add_tables("placement table", {placements_table(staging, rows)});
    book.add_tables("findings", {findings_table(staging, results)});
    return book.draw(progress);
}

} // namespace standpoint
