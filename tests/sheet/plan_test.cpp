// The plans: which there are, at what scale, what each numbers, and numbers that can be told apart.
#include <cmath>

#include <glm/geometric.hpp>

#include "sheet/plan_sheet.h"
#include "sheet_scenes.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

// The landing with crates on section A, in rows; at 1:10 they lie 11 mm apart.
Document with_crates(int count) {
    Document document = landing();
    auto pieces = *document.pieces;
    for (int i = 0; i < count; ++i) {
        Piece crate = box_piece("crate-" + std::to_string(i), 120 + (i % 12) * 110,
                                120 + (i / 12) * 110, 0, 60, 60, 100);
        crate.support = Support::section;
        crate.host = "section-a";
        pieces.push_back(std::make_shared<const Piece>(crate));
    }
    document.pieces = std::make_shared<const std::vector<std::shared_ptr<const Piece>>>(pieces);
    return document;
}

struct Drawn {
    std::vector<LabelWish> wishes;
    std::vector<PlacedLabel> labels;
};

Drawn drawn(const Staging& staging, const PlanView& view) {
    StringSink sink;
    Ink ink(sink, "t", "");
    const std::vector<PlacementRow> rows = placement_rows(staging);
    const PlanPieces pieces = plan_pieces(staging);
    Drawn out;
    out.wishes = number_wishes(view, rows, pieces);
    out.labels = draw_plan_sheet(ink, view, staging, rows, pieces, {}, {"plan", "", 2, 3});
    REQUIRE(ink.finish().ok());
    return out;
}

int pages(const Staging& staging) {
    const std::string info = asked(pdf_of(staging), "pdfinfo", "");
    return std::stoi(info.substr(info.find("Pages:") + 6));
}

bool same_side(const glm::dvec2& a, const glm::dvec2& b, const glm::dvec2& c, const glm::dvec2& d) {
    const auto side = [&](const glm::dvec2& p) {
        return (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
    };
    return side(c) * side(d) >= 0;
}

} // namespace

TEST_CASE("the base has a plan of its own, larger, when pieces are on it") {
    const Staging staging = staged(landing());
    const std::vector<PlanView> views = plan_views(staging);
    REQUIRE(views.size() == 2);
    CHECK(views[0].part == PlanPart::beside);
    CHECK(views[1].part == PlanPart::base);
    CHECK(views[0].choice.scale.name == "1:50");
    CHECK(views[1].choice.scale.name == "1:10"); // 3 300 by 2 100 mm: 330 by 210 of 375 by 222 mm
    CHECK(views[1].choice.size.name == views[0].choice.size.name);
    for (const StagedPiece& piece : staging.pieces) {
        if (!is_on_base(staging, piece)) continue;
        for (const glm::dvec3& corner : {piece.box.low, piece.box.high}) {
            const glm::dvec2 page = views[1].to_page({corner.x, corner.y});
            CHECK(inside({page.x, page.y, 0, 0}, views[1].window));
        }
    }
}

TEST_CASE("without pieces on the base, or with nothing to gain, there is one plan") {
    CHECK(plan_views(staged(bare_scene())).size() == 1);
    const Document off_base =
        with_piece(bare_scene(), box_piece("crate", 4500, 900, 0, 400, 400, 400));
    REQUIRE(plan_views(staged(off_base)).size() == 1);
    CHECK(plan_views(staged(off_base)).front().part == PlanPart::everything);
    const Document over_base =
        with_piece(bare_scene(), box_piece("crate", 900, 900, 0, 400, 400, 400));
    CHECK(plan_views(staged(over_base)).size() == 2);
    // A base as large as everything is shown no larger alone.
    Document wide = over_base;
    std::vector<Section> sections = *wide.sections;
    sections.front().corner = {Length(-9000), Length(-9000)};
    sections.front().width = Length(26000);
    sections.front().depth = Length(18000);
    wide.sections = std::make_shared<const std::vector<Section>>(sections);
    CHECK(plan_views(staged(wide)).size() == 1);
    CHECK(pages(staged(over_base)) == pages(staged(off_base)) + 1);
}

TEST_CASE("each piece has its number on one of the plans") {
    const Staging staging = staged(with_crates(5));
    std::vector<std::string> numbers;
    for (const PlanView& view : plan_views(staging))
        for (const LabelWish& wish : drawn(staging, view).wishes)
            numbers.push_back(wish.text);
    // Beside the base only the third piece, the crate on the floor; then the others in order.
    CHECK(numbers == std::vector<std::string>{"3", "1", "2", "4", "5", "6", "7", "8"});
    const std::string text = asked(pdf_of(staging), "pdftotext -raw", "-");
    CHECK(text.find("numbers on the plan of the base, sheet 2") != std::string::npos);
}

TEST_CASE("no number of a crowded base lies over another, and no leader crosses another") {
    const Staging staging = staged(with_crates(84));
    for (const PlanView& view : plan_views(staging)) {
        const Drawn plan = drawn(staging, view);
        REQUIRE(plan.labels.size() == (view.part == PlanPart::base ? 86U : 1U));
        for (std::size_t i = 0; i < plan.labels.size(); ++i) {
            const PlacedLabel& a = plan.labels[i];
            CHECK(inside({a.centre.x - a.radius, a.centre.y - a.radius, 2 * a.radius, 2 * a.radius},
                         view.window));
            for (std::size_t j = i + 1; j < plan.labels.size(); ++j) {
                const PlacedLabel& b = plan.labels[j];
                CHECK(glm::length(a.centre - b.centre) >= a.radius + b.radius);
                const glm::dvec2 from = plan.wishes[i].anchor, other = plan.wishes[j].anchor;
                const bool apart = same_side(from, a.centre, other, b.centre) ||
                                   same_side(other, b.centre, from, a.centre);
                CHECK((apart || !a.leader || !b.leader));
            }
        }
    }
}

TEST_CASE("the hall is on the plan where the sheet has room for it") {
    const Staging staging = staged(landing());
    const PlanView view = plan_views(staging).front();
    for (const PlanPoint& point : staging.document.hall->outline) {
        const glm::dvec2 page = view.to_page({point.x.mm, point.y.mm});
        CHECK(inside({page.x, page.y, 0, 0}, view.window));
    }
}
