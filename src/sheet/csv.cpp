// placements.csv: RFC 4180, UTF-8, CRLF, harmless in a spreadsheet.
#include <algorithm>
#include <charconv>

#include <fmt/format.h>

#include "sheet/cells.h"
#include "sheet/sheets.h"

namespace standpoint {
namespace {

bool is_number(const std::string& text) {
    double number = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    return error == std::errc() && end == text.data() + text.size();
}

// Spreadsheets run a cell that begins with one of these; an apostrophe in front makes it text.
std::string harmless(const std::string& text) {
    constexpr std::string_view starters = "=+-@\t\r\n";
    if (text.empty() || starters.find(text.front()) == std::string_view::npos || is_number(text))
        return text;
    return "'" + text;
}

std::string quoted(const std::string& text) {
    if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
    std::string out = "\"";
    for (const char c : text)
        out += c == '"' ? std::string("\"\"") : std::string(1, c);
    return out + "\"";
}

std::string line_of(const std::vector<std::string>& cells) {
    std::string line;
    for (std::size_t i = 0; i < cells.size(); ++i)
        line += (i == 0 ? "" : ",") + quoted(harmless(cells[i]));
    return line + "\r\n";
}

std::vector<std::string> head_of(const Settings& settings, std::size_t marks) {
    const std::string unit = " (" + unit_note(settings) + ")";
    std::vector<std::string> head = {"number", "id", "name", "kind", "section"};
    for (const char* name : {"X", "Y", "Z", "course"})
        head.push_back(name + unit);
    for (const char* name : {"facing (deg)", "tilt (deg)", "roll (deg)", "ratio (to 1)"})
        head.push_back(name);
    for (const char* name : {"built width", "built depth", "built height"})
        head.push_back(name + unit);
    head.push_back("on or held by");
    for (std::size_t i = 1; i <= marks; ++i) {
        head.push_back(fmt::format("mark {}", i));
        for (const char* axis : {"X", "Y", "Z"})
            head.push_back(fmt::format("mark {} {}{}", i, axis, unit));
    }
    return head;
}

// The ratio is written as a number: a spreadsheet takes 12:1 for a time of day.
std::vector<std::string> cells_in_order(const PlacementRow& row, const Document& document) {
    const RowCells c = cells_of(row, document);
    std::vector<std::string> cells = {c.number,
                                      c.id,
                                      c.name,
                                      c.kind,
                                      c.section,
                                      c.x,
                                      c.y,
                                      c.z,
                                      c.course,
                                      c.facing,
                                      c.tilt,
                                      c.roll,
                                      print_exact(row.ratio),
                                      c.width,
                                      c.depth,
                                      c.height,
                                      c.support};
    for (const MarkRow& mark : row.marks) {
        const MarkCells m = cells_of(mark, *document.settings);
        cells.insert(cells.end(), {m.name, m.x, m.y, m.z});
    }
    return cells;
}

} // namespace

Status write_placements_csv(const Staging& staging, const std::vector<PlacementRow>& rows,
                            Sink& sink) {
    std::size_t marks = 0;
    for (const PlacementRow& row : rows)
        marks = std::max(marks, row.marks.size());
    const std::vector<std::string> head = head_of(*staging.document.settings, marks);
    std::string text = line_of(head);
    for (const PlacementRow& row : rows) {
        std::vector<std::string> cells = cells_in_order(row, staging.document);
        cells.resize(head.size());
        text += line_of(cells);
    }
    return sink.write(text);
}

} // namespace standpoint
