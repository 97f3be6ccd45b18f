// placements.csv read back: RFC 4180, one rounding, nothing that a spreadsheet would run.
#include "sheet/cells.h"
#include "sheet_scenes.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

// A reader of RFC 4180 of its own, so that the writer is not checked with itself.
std::vector<std::vector<std::string>> read_csv(const std::string& text) {
    std::vector<std::vector<std::string>> rows(1, std::vector<std::string>(1));
    bool quoted = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        std::string& cell = rows.back().back();
        if (quoted && c == '"' && i + 1 < text.size() && text[i + 1] == '"')
            cell += text[++i];
        else if (c == '"')
            quoted = !quoted;
        else if (!quoted && c == ',')
            rows.back().emplace_back();
        else if (!quoted && c == '\r' && text[i + 1] == '\n') {
            ++i;
            if (i + 1 < text.size()) rows.emplace_back(1);
        } else
            cell += c;
    }
    return rows;
}

Document named(const std::string& name) {
    Piece piece = box_piece("crate", 1234.5, -20.4, 0, 300, 300, 300);
    piece.name = name;
    return with_piece(bare_scene(), piece);
}

} // namespace

TEST_CASE("every row has the head's columns and the rows' numbers") {
    const Staging staging = staged(landing());
    const auto csv = read_csv(csv_of(staging));
    REQUIRE(csv.size() == 4);
    CHECK(csv[0][1] == "id");
    CHECK(csv[0][5] == "X (mm)");
    CHECK(csv[0][12] == "ratio (to 1)");
    const std::vector<PlacementRow> rows = placement_rows(staging);
    for (std::size_t i = 0; i < rows.size(); ++i) {
        REQUIRE(csv[i + 1].size() == csv[0].size());
        const RowCells cells = cells_of(rows[i], staging.document);
        CHECK(csv[i + 1][1] == rows[i].id);
        CHECK(csv[i + 1][5] == cells.x);
        CHECK(csv[i + 1][7] == cells.z);
        CHECK(std::stod(csv[i + 1][12]) == rows[i].ratio);
        CHECK(std::abs(std::stod(csv[i + 1][5]) - rows[i].at.x) <= 0.5);
        CHECK(csv[i + 1][17] == rows[i].marks[0].name);
        CHECK(std::abs(std::stod(csv[i + 1][18]) - rows[i].marks[0].scene.x) <= 0.5);
    }
}

TEST_CASE("commas, quotes and line ends come back as they were") {
    for (const char* name : {"a, b", "say \"ahoy\"", "two\r\nlines", "\xc3\x85re"})
        CHECK(read_csv(csv_of(staged(named(name))))[1][2] == name);
}

TEST_CASE("a cell that a spreadsheet would run is made harmless, a number is left alone") {
    for (const char* name : {"=1+1", "+cmd", "-cmd", "@sum", "\tx"})
        CHECK(read_csv(csv_of(staged(named(name))))[1][2] == std::string("'") + name);
    CHECK(read_csv(csv_of(staged(named("a=1"))))[1][2] == "a=1");
    CHECK(read_csv(csv_of(staged(named("crate"))))[1][6] == "-20");
}

TEST_CASE("an imperial scene prints feet and inches") {
    Document document = named("crate");
    Settings settings = *document.settings;
    settings.units = UnitSystem::imperial;
    settings.inch_denominator = 16;
    const auto csv = read_csv(csv_of(staged(with_settings(document, settings))));
    CHECK(csv[0][5] == "X (ft and in to 1/16)");
    // 1234.5 mm is 48.602 in; the nearest sixteenth is 48 5/8 in (1235.075 mm).
    CHECK(csv[1][5] == "4' 0 5/8\"");
    CHECK(csv[1][6].front() == '\'');
}

TEST_CASE("a sink that is full is reported") {
    class Full : public Sink {
        Status write(std::string_view) override { return io_error("disk", "full"); }
    } full;
    const Staging staging = staged(landing());
    CHECK(!write_placements_csv(staging, placement_rows(staging), full).ok());
}

TEST_CASE("a ratio worked out from sizes is printed to six figures, one that is written as it is") {
    PlacementRow row;
    const auto printed = [&](double ratio) {
        row.ratio = ratio;
        return cells_of(row, support::bare_scene()).ratio;
    };
    CHECK(printed(12) == "12:1");
    CHECK(printed(4.0 / 3) == "4:3");
    CHECK(printed(12.3456) == "12.3456:1");
    CHECK(printed(4.79616306954364) == "4.79616:1");
}
