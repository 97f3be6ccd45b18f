// What a scene is beside its pieces, as it is set by hand.
#include <doctest/doctest.h>

#include <algorithm>

#include "check/rules.h"
#include "desk/arranged.h"
#include "desk/scene_fields.h"
#include "desk/typed.h"
#include "figure/anthropometry.h"
#include "scene/json.h"
#include "support/temporary_folder.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

bool refused(const Document& document, const Result<Edit>& edit) {
    return !edit.ok() || !apply(document, *edit).ok();
}

} // namespace

TEST_CASE("title lines, ratios, units and tolerance are set one at a time and put back") {
    const Document start = starting_document();
    Document document = start;
    for (int i = 0; i < static_cast<int>(std::size(title_line_names)); ++i) {
        const auto line = static_cast<TitleLine>(i);
        const std::string text = line == TitleLine::date ? "2026-11-26" : "text " + std::to_string(i);
        document = done(document, set_title_line(document, line, text));
        CHECK(title_line(*document.settings, line) == text);
        document = done(document, set_title_line(document, line, ""));
        CHECK(same_content(document, start));
    }
    CHECK(refused(document, set_title_line(document, TitleLine::date, "26 November")));
    document = done(document, set_scene_ratio(document, SceneRatio::figures, Ratio(14)));
    CHECK(document.settings->figure_ratio == Ratio(14));
    CHECK(document.settings->setting_ratio == start.settings->setting_ratio);
    document = done(document, set_scene_ratio(document, SceneRatio::setting, Ratio(10)));
    CHECK(document.settings->setting_ratio == Ratio(10));
    document = done(document, set_units(document, UnitSystem::imperial));
    CHECK(document.settings->units == UnitSystem::imperial);
    document = done(document, set_placing_tolerance(document, Length(5)));
    CHECK(document.settings->placing_tolerance == Length(5));
    CHECK(refused(document, set_placing_tolerance(document, Length(-1))));
    CHECK(set_units(document, UnitSystem::imperial)->steps.empty());
}

TEST_CASE("points of hall and path are moved, added and taken away down to the fewest") {
    for (const PointList list : {PointList::hall, PointList::path}) {
        const std::size_t fewest = list == PointList::hall ? 3 : 2;
        Document document = starting_document();
        const std::vector<PlanPoint> before = points_of(document, list);
        for (std::size_t i = 0; i < before.size(); ++i) {
            const Document more = done(document, add_point(document, list, i));
            CHECK(points_of(more, list).size() == before.size() + 1);
            const Document back = done(more, remove_point(more, list, i + 1));
            CHECK(same_content(back, document));
            const PlanPoint moved{before[i].x.mm + 10, before[i].y.mm - 20};
            const Document there = done(document, set_point(document, list, i, moved));
            CHECK(points_of(there, list)[i] == moved);
        }
        CHECK(refused(document, set_point(document, list, before.size(), {0, 0})));
        CHECK(refused(document, add_point(document, list, before.size())));
        while (points_of(document, list).size() > fewest)
            document = done(document, remove_point(document, list, 0));
        CHECK(refused(document, remove_point(document, list, 0)));
    }
    const Document document = bare_scene();
    const Document longer = done(document, add_point(document, PointList::path, 1));
    CHECK(longer.path->points.back() == plan(6000, -1500)); // straight on
    CHECK(done(document, set_ceiling(document, 4000)).hall->ceiling.mm == 4000);
    CHECK(refused(document, set_ceiling(document, 0)));
    CHECK(done(document, set_path_width(document, 1500)).path->width.mm == 1500);
    CHECK(refused(document, set_path_width(document, 0)));
}

TEST_CASE("sections are added beside the last, with the lines where they meet") {
    Document document = bare_scene();
    CHECK(joins_of(*document.sections).empty());
    document = done(document, add_section(document));
    const Section& b = document.sections->back();
    CHECK(b.name == "B");
    CHECK(b.id == "section-b");
    CHECK(b.corner == plan(3000, 0));
    REQUIRE(document.join_lines->size() == 1);
    const JoinLine join{"section-a", "section-b", plan(3000, 0), plan(3000, 1800)};
    CHECK(document.join_lines->front() == join);
    // Behind A as well: one line to each neighbour.
    Section c = document.sections->front();
    c.id = "section-c";
    c.name = "C";
    document = done(document, add_section(document));
    c.corner = plan(0, 1800);
    document = done(document, set_section(document, 2, c));
    CHECK(document.join_lines->size() == 2);
    CHECK(document.join_lines->back() ==
          JoinLine{"section-a", "section-c", plan(0, 1800), plan(3000, 1800)});
    // Corners that only touch are no join; half a millimetre apart they are, a whole one not.
    Section moved = c;
    moved.corner = plan(3000, 1800);
    CHECK(joins_of({document.sections->front(), moved}).empty());
    moved.corner = plan(0, 1800.5);
    CHECK(joins_of({document.sections->front(), moved}).size() == 1);
    moved.corner = plan(0, 1801);
    CHECK(joins_of({document.sections->front(), moved}).empty());
    document = done(document, remove_section(document, 1));
    CHECK(document.join_lines->size() == 1);
    CHECK(document.sections->size() == 2);
}

TEST_CASE("the demo's base has the join lines that follow from its sections") {
    const Result<Document> demo = read_document(
        read_plain(std::string(STANDPOINT_SOURCE_DIR) + "/assets-demo/low-water.scene.json"),
        "low-water.scene.json");
    REQUIRE(demo.ok());
    CHECK(joins_of(*demo->sections).size() == demo->join_lines->size());
}

TEST_CASE("join lines of the shop's own stay, but for those of a section that goes") {
    Document document = done(bare_scene(), add_section(bare_scene()));
    const JoinLine own{"section-a", "section-b", plan(2900, 0), plan(3100, 1800)};
    document.join_lines = std::make_shared<const std::vector<JoinLine>>(1, own);
    Section wider = document.sections->back();
    wider.width = 3500;
    document = done(document, set_section(document, 1, wider));
    CHECK(*document.join_lines == std::vector<JoinLine>{own});
    document = done(document, remove_section(document, 1));
    CHECK(document.join_lines->empty());
}

TEST_CASE("a section that carries something stays, and so does the last") {
    Document document = bare_scene();
    CHECK_FALSE(remove_section(document, 0).ok());
    document = done(document, add_section(document));
    CHECK_FALSE(remove_section(document, 2).ok());
    Piece piece = box_piece("crate", 3500, 500, 0, 100, 100, 100);
    piece.support = Support::section;
    piece.host = "section-b";
    const Document carrying = with_piece(document, piece);
    CHECK_FALSE(remove_section(carrying, 1).ok());
    CHECK(remove_section(carrying, 0).ok());
}

TEST_CASE("reference points stand at the four corners once, under ids that are free") {
    Document document = done(bare_scene(), add_section(bare_scene()));
    document = done(document, add_reference_point(document, {"R2", "nail", {6000, 0, 0}}));
    document = done(document, reference_points_at_corners(document));
    REQUIRE(document.reference_points->size() == 4); // the nail is at one of them
    CHECK((*document.reference_points)[1].id == "R1");
    CHECK((*document.reference_points)[1].description ==
          "datum: left front corner of the base, on the floor");
    CHECK((*document.reference_points)[3].id == "R4");
    CHECK(reference_points_at_corners(document)->steps.empty());
    CHECK(free_reference_id(document) == "R5");
    ReferencePoint moved = (*document.reference_points)[0];
    moved.at.z = 30;
    document = done(document, set_reference_point(document, 0, moved));
    CHECK(document.reference_points->front() == moved);
    CHECK(refused(document, add_reference_point(document, {"R1", "", {0, 0, 0}})));
    document = done(document, remove_reference_point(document, 1));
    CHECK(free_reference_id(document) == "R1");
    CHECK_FALSE(remove_reference_point(document, 3).ok());
}

TEST_CASE("a visitor with other measures is no longer the published one") {
    Document document = starting_document();
    Visitor visitor = document.visitors->front();
    const std::string published = visitor.source;
    visitor.share = 0.3;
    document = done(document, set_visitor(document, 0, visitor));
    CHECK(document.visitors->front().source == published);
    visitor.eye_height = visitor.eye_height.mm + 10;
    document = done(document, set_visitor(document, 0, visitor));
    CHECK(document.visitors->front().source == own_source);
    CHECK(refused(document, set_visitor(document, 9, visitor)));
    visitor.crown = visitor.eye_height.mm - 1;
    CHECK(refused(document, set_visitor(document, 0, visitor)));
    document = done(document, add_visitor(document, built_in_visitors()[1]));
    CHECK(document.visitors->back().id == "child-10");
    CHECK(document.visitors->size() == 6);
    document = done(document, remove_visitor(document, 5));
    CHECK(document.visitors->size() == 5);
}

TEST_CASE("rules are chosen and dropped") {
    Document document = starting_document();
    for (const std::string& preset : preset_ids()) {
        CAPTURE(preset);
        Document with = done(document, use_rules(document, preset, true));
        CHECK(rules_in_force(*with.rules).ok());
        const auto count = std::count(with.rules->use.begin(), with.rules->use.end(), preset);
        CHECK(count == 1);
        with = done(with, use_rules(with, preset, false));
        CHECK(std::count(with.rules->use.begin(), with.rules->use.end(), preset) == 0);
        CHECK(use_rules(with, preset, false)->steps.empty());
    }
}

TEST_CASE("a place in plan is typed as two lengths") {
    const PlanPoint now = plan(100, 200);
    const auto metric = [&](const char* text) {
        return typed_point(text, now, UnitSystem::metric);
    };
    CHECK(*metric("1 m, -5 cm") == plan(1000, -50));
    CHECK(*metric("+50, *2") == plan(150, 400));
    CHECK(*typed_point("1, 2' 6\"", now, UnitSystem::imperial) == plan(25.4, 762));
    for (const char* wrong : {"", "100", "1, 2, 3", "a, 2", "1,"})
        CHECK_FALSE(metric(wrong).ok());
}
