// sheets.pdf read back by programs that are not ours.
#include <cmath>
#include <sstream>

#include "sheet/cells.h"
#include "sheet/ink.h"
#include "sheet/plan_sheet.h"
#include "sheet/sheet_size.h"
#include "sheet_scenes.h"
#include "support/reference.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

class Failing : public Sink {
  public:
    explicit Failing(std::size_t room) : room_(room) {}
    Status write(std::string_view bytes) override {
        if (bytes.size() > room_) return io_error("sheets.pdf", "No space left on device");
        room_ -= bytes.size();
        return Done{};
    }

  private:
    std::size_t room_;
};

Document imperial(Document document) {
    Settings settings = *document.settings;
    settings.units = UnitSystem::imperial;
    return with_settings(document, settings);
}

Document of_many(int count) {
    Document document = landing();
    auto pieces = *document.pieces;
    for (int i = 0; i < count; ++i)
        pieces.push_back(std::make_shared<const Piece>(
            box_piece("crate-" + std::to_string(i), 100 + (i % 50) * 55, 200 + (i / 50) * 60.0, 0,
                      40, 40, 100)));
    document.pieces = std::make_shared<const std::vector<std::shared_ptr<const Piece>>>(pieces);
    return document;
}

} // namespace

TEST_CASE("every id, coordinate and mark of the table is text on the sheets") {
    for (const Document& document : {landing(), imperial(landing())}) {
        const Staging staging = staged(document);
        const std::string text = asked(pdf_of(staging), "pdftotext -raw", "-");
        for (const PlacementRow& row : placement_rows(staging)) {
            const RowCells cells = cells_of(row, staging.document);
            for (const std::string& cell : {cells.id, cells.name, cells.x, cells.y, cells.z,
                                            cells.facing, cells.ratio, cells.width})
                CHECK_MESSAGE(text.find(cell) != std::string::npos, cell);
            for (const MarkRow& mark : row.marks)
                CHECK(text.find(mark.name) != std::string::npos);
        }
        for (const char* word : {"datum", "R3", "licensed", "Low Water", "Sides and diagonals"})
            CHECK_MESSAGE(text.find(word) != std::string::npos, word);
    }
}

TEST_CASE("the file is sound and the same every time") {
    const Staging staging = staged(landing());
    const std::string pdf = pdf_of(staging);
    CHECK(asked(pdf, "qpdf --check", "").find("No syntax or stream encoding errors") !=
          std::string::npos);
    CHECK(pdf == pdf_of(staging));
    CHECK(asked(pdf, "pdfinfo -isodates", "").find("2026-11-25T00:00:00") != std::string::npos);
}

TEST_CASE("sheets have the standard sizes") {
    // ISO 216:2007 A3; ASME Y14.1-2020 ANSI B; rows of tests/reference/setting_out.csv where kept.
    CHECK(asked(pdf_of(staged(landing())), "pdfinfo", "").find("(A3)") != std::string::npos);
    const std::string info = asked(pdf_of(staged(imperial(landing()))), "pdfinfo", "");
    CHECK(info.find("1224 x 792 pts") != std::string::npos);
}

TEST_CASE(
    "the largest standard scale that fits is taken, then a larger sheet, then a smaller scale") {
    // ISO 5455:1979 reductions 1:2, 1:5 and 1:10 and their multiples by ten.
    const double width = 420 - 30, height = 297 - 20 - 55;
    SheetChoice choice = choose_sheet(UnitSystem::metric, width * 20, height * 20, 55);
    CHECK(choice.scale.name == "1:20");
    choice = choose_sheet(UnitSystem::metric, width * 20 + 0.1, height * 20, 55);
    CHECK(choice.scale.name == "1:50");
    CHECK(choice.size.name == "A3");
    choice = choose_sheet(UnitSystem::metric, width * 50 + 1, 100, 55);
    CHECK(choice.size.name == "A2");
    CHECK(choice.scale.name == "1:50");
    choice = choose_sheet(UnitSystem::metric, (841 - 30) * 50 + 1, 100, 55);
    CHECK(choice.size.name == "A1");
    CHECK(choice.scale.name == "1:100");
    CHECK(choose_sheet(UnitSystem::imperial, 6000, 3000, 55).scale.name == "1/2\" = 1'-0\"");
}

TEST_CASE("a metre of scene is a metre at scale on the paper") {
    const PlanView view = plan_views(staged(landing())).front();
    const glm::dvec2 a = view.to_page({0, 0}), b = view.to_page({1000, 0}),
                     c = view.to_page({0, 1000});
    CHECK(std::abs((b.x - a.x) * view.choice.scale.reduction - 1000) < 1e-9);
    CHECK(std::abs((a.y - c.y) * view.choice.scale.reduction - 1000) < 1e-9);
    CHECK(b.y == a.y);
}

TEST_CASE("no text lies over another or outside the border, few pieces or many") {
    for (const int count : {0, 40}) {
        const Staging staging = staged(of_many(count));
        const std::vector<PlacementRow> rows = placement_rows(staging);
        for (const PlanView& view : plan_views(staging)) {
            StringSink sink;
            Ink ink(sink, "t", "");
            draw_plan_sheet(ink, view, staging, rows, plan_pieces(staging), CheckResults{},
                            {"plan", "1:20", 2, 4});
            REQUIRE(ink.finish().ok());
            const Rect space = drawing_space(view.choice.size);
            const std::vector<InkRecord>& records = ink.records();
            CHECK(records.size() > 20);
            for (std::size_t i = 0; i < records.size(); ++i) {
                CHECK_MESSAGE(inside(records[i].rect, space), records[i].text);
                for (std::size_t j = i + 1; j < records.size(); ++j)
                    CHECK_MESSAGE(!overlap(records[i].rect, records[j].rect, -0.2),
                                  records[i].text << " | " << records[j].text);
            }
        }
    }
}

TEST_CASE("the cautions stand whole on the findings sheet") {
    std::string text = asked(pdf_of(staged(landing())), "pdftotext -raw", "-");
    for (char& c : text)
        if (c == '\n') c = ' ';
    for (const std::string& caution : cautions())
        CHECK_MESSAGE(text.find(caution) != std::string::npos, caution);
    CHECK(text.find("5 of 5") != std::string::npos);
}

TEST_CASE("a long table is paged with its head on every page and every row whole") {
    const Staging staging = staged(of_many(300));
    const std::string text = asked(pdf_of(staging), "pdftotext -raw", "-");
    std::size_t heads = 0;
    for (std::size_t at = text.find("Placements, in"); at != std::string::npos;
         at = text.find("Placements, in", at + 1))
        ++heads;
    CHECK(heads > 5);
    for (int i = 0; i < 300; ++i)
        CHECK(text.find("crate-" + std::to_string(i) + " ") != std::string::npos);
}

TEST_CASE("names in any script that has a font are printed, a missing letter is named") {
    Document document = bare_scene();
    Piece piece = box_piece("crate", 500, 500, 0, 300, 300, 300);
    piece.name = "\xce\x9a\xce\xb9\xce\xb2\xcf\x8e\xcf\x84\xce\xb9\xce\xbf"; // Greek
    CHECK(asked(pdf_of(staged(with_piece(document, piece))), "pdftotext -raw", "-")
              .find(piece.name) != std::string::npos);
    piece.name = "\xf3\xb0\x80\x80 crate"; // a private-use letter that no font has
    const Staging staging = staged(with_piece(document, piece));
    StringSink sink;
    const Status status = write_sheets_pdf(staging, placement_rows(staging), {}, sink, {});
    REQUIRE(!status.ok());
    CHECK(status.error().message.find(piece.name) != std::string::npos);
}

TEST_CASE("a disk that fills at any byte is reported") {
    const Staging staging = staged(landing());
    const std::vector<PlacementRow> rows = placement_rows(staging);
    const std::size_t whole = pdf_of(staging).size();
    for (const std::size_t room : {std::size_t{0}, whole / 3, whole - 1}) {
        Failing sink(room);
        const Status status = write_sheets_pdf(staging, rows, {}, sink, {});
        REQUIRE(!status.ok());
        CHECK(status.error().message == "No space left on device");
    }
    Failing enough(whole);
    CHECK(write_sheets_pdf(staging, rows, {}, enough, {}).ok());
}

TEST_CASE("making sheets can be cancelled") {
    const Staging staging = staged(landing());
    StringSink sink;
    Progress progress;
    progress.cancelled = [] { return true; };
    const Status status = write_sheets_pdf(staging, placement_rows(staging), {}, sink, progress);
    REQUIRE(!status.ok());
    CHECK(status.error().code == ErrorCode::cancelled);
}
