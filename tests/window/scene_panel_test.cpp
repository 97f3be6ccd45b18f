// The panel about the scene, and what is asked of a piece: every widget acts and is one step.
#include <cmath>

#include <doctest/doctest.h>

#include "check/rules.h"
#include "desk/form_fields.h"
#include "desk/scene_fields.h"
#include "sitting.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

void open_folds(Sitting& at, std::initializer_list<const char*> folds) {
    for (const char* fold : folds)
        at.hand.click(fold);
}

} // namespace

TEST_CASE("ratios, path, hall and title are typed, and what is wrong is refused") {
    Sitting at({});
    open_folds(at, {"fold/base", "fold/path", "fold/hall", "fold/title"});
    const struct {
        const char *field, *right, *wrong;
    } fields[] = {{"scene/setting-ratio", "10", "0"},
                  {"scene/figure-ratio", "1:24 to 1:2", "big"},
                  {"scene/tolerance", "5 mm", "-1"},
                  {"scene/path-width", "1.8 m", "0"},
                  {"path/1/at", "6 m, -1400", "6 m"},
                  {"scene/ceiling", "4 m", "0"},
                  {"hall/2/at", "9000, 5000", "1, 2, 3"},
                  {"section/0/corner", "10, 20", "left"},
                  {"section/0/width", "3.2 m", "0"},
                  {"section/0/depth", "2 m", "none"},
                  {"section/0/height", "200", "-1"},
                  {"section/0/name", "West", nullptr},
                  {"scene/title/0", "Market", nullptr},
                  {"scene/title/3", "2026-11-26", "today"}};
    std::size_t before = at.steps();
    for (const auto& field : fields) {
        CAPTURE(field.field);
        if (field.wrong) at.refuses(field.field, field.wrong);
        at.type(field.field, field.right);
        at.one_step(before++);
    }
    CHECK(at.now().settings->setting_ratio.value == 10);
    CHECK(at.now().settings->figure_ratio.value == 12);
    CHECK(at.now().settings->title == "Market");
    CHECK(at.now().path->width.mm == 1800);
    CHECK(at.now().path->points[1] == plan(6000, -1400));
    CHECK(at.now().hall->ceiling.mm == 4000);
    CHECK(at.now().sections->front().name == "West");
    CHECK(at.now().sections->front().corner == plan(10, 20));
    CHECK(at.now().sections->front().height.mm == 200);
    for (std::size_t i = 0; i < std::size(fields); ++i)
        at.hand.key("Ctrl+Z");
    CHECK(same_content(at.now(), stall()));
}

TEST_CASE("what is brought in after the ratio changed comes out about as large as before") {
    Sitting at({});
    const auto high = [&](const char* entry) {
        at.hand.drag(at.hand.middle(entry), at.hand.on_screen(0, {6000, 3000, 0}));
        const StagedPiece* staged =
            find_staged(*at.hand.shell.desk->shown, at.hand.shell.desk->selected.front());
        const double height = staged->box.size().z;
        at.hand.key("Delete");
        return height;
    };
    const double box = high("library/Box"), man = high("library/Man");
    CHECK(man > 1500);
    at.type("scene/setting-ratio", "7");
    at.type("scene/figure-ratio", "20");
    CHECK(std::abs(high("library/Box") - box) <= 2.5 * 7); // its original is to whole 5 mm
    CHECK(std::abs(high("library/Man") - man) < 0.01 * man);
}

TEST_CASE("points, sections, reference points and visitors are added and taken away") {
    Sitting at({});
    open_folds(at, {"fold/base", "fold/path", "fold/visitors", "fold/references"});
    at.hand.click("path/1/add");
    CHECK(at.now().path->points.size() == 3);
    at.hand.click("path/1/remove");
    CHECK(at.now().path->points.size() == 2);
    at.hand.click("path/0/remove"); // a path of one point is none
    CHECK(at.hand.shell.message_is_error);
    at.hand.click("sections/add");
    CHECK(at.now().sections->size() == 2);
    CHECK(at.now().join_lines->size() == 1);
    at.hand.click("references/corners");
    CHECK(at.now().reference_points->size() == 4);
    at.hand.click("reference/3/remove");
    at.hand.click("references/add");
    CHECK(at.now().reference_points->back().id == "R4");
    at.type("reference/3/where", "nail by the door");
    at.type("reference/3/at", "-2 m, 1 m");
    at.type("reference/3/z", "15");
    CHECK(at.now().reference_points->back().description == "nail by the door");
    CHECK(at.now().reference_points->back().at.x.mm == -2000);
    CHECK(at.now().reference_points->back().at.z.mm == 15);
    at.hand.click("section/1/remove");
    CHECK(at.now().sections->size() == 1);
    at.hand.click("section/0/remove"); // the last stays
    CHECK(at.hand.shell.message_is_error);
    at.hand.click("visitors/add");
    at.hand.click("visitors/add/child-4");
    REQUIRE(at.now().visitors->size() == 2);
    at.hand.click("fold/visitor/child-4");
    at.type("visitor/child-4/eyes", "960");
    CHECK(at.now().visitors->back().eye_height.mm == 960);
    CHECK(at.now().visitors->back().source == own_source);
    at.type("visitor/child-4/share", "25 %");
    CHECK(at.now().visitors->back().share.value == 0.25);
    at.refuses("visitor/child-4/crown", "900");
    at.hand.click("visitor/child-4/remove");
    CHECK(at.now().visitors->size() == 1);
}

TEST_CASE("rules are ticked and left out") {
    Sitting at({});
    open_folds(at, {"fold/rules"});
    for (const std::string& id : preset_ids()) {
        CAPTURE(id);
        const std::size_t before = at.now().rules->use.size();
        const bool used = std::count(at.now().rules->use.begin(), at.now().rules->use.end(), id);
        at.hand.click("rules/" + id);
        CHECK(at.now().rules->use.size() == (used ? before - 1 : before + 1));
        at.hand.click("rules/" + id);
        CHECK(at.now().rules->use.size() == before);
    }
}

TEST_CASE("what must be seen is asked for by one press, set, and no longer asked for") {
    Sitting at({"crate"});
    at.hand.click("targets/see");
    REQUIRE(at.now().targets->size() == 1);
    at.type("target/crate/name", "the bread");
    at.type("target/crate/facing", "90");
    at.type("target/crate/share", "60 %");
    at.type("target/crate/detail", "2 mm");
    at.hand.click("target/crate/patch");
    at.hand.click("patch/body");
    Target expected;
    expected.id = expected.piece = "crate";
    expected.name = "the bread";
    expected.facing = Angle(90);
    expected.seen_share = Number(0.6);
    expected.smallest_detail = Length(2);
    expected.patch.parts = {"body"};
    CHECK(*at.now().targets->front() == expected);
    CHECK(at.steps() == 6);
    at.refuses("target/crate/share", "160 %");
    at.type("target/crate/facing", "");
    CHECK_FALSE(at.now().targets->front()->facing);
    at.hand.click("targets/hide");
    REQUIRE(at.now().targets->size() == 2);
    CHECK(at.now().targets->back()->aim == Aim::hide);
    at.hand.click("target/crate/remove");
    CHECK(at.now().targets->size() == 1);
    at.hand.click("target/crate-2/remove");
    CHECK(at.now().targets->empty());
}

TEST_CASE("a target made by hand gets a row in the strip once it is checked") {
    Sitting at({"barrel"});
    at.hand.shell.check = std::make_unique<BackgroundCheck>();
    at.hand.frame();
    at.hand.click("targets/see");
    REQUIRE(at.now().targets->size() == 1);
    at.hand.settle_checks();
    REQUIRE(at.hand.shell.answers.rows.size() == 1);
    CHECK(at.hand.shell.answers.rows.front().checked);
    // Behind a wall it is seen from nowhere.
    const double before = at.hand.shell.answers.rows.front().share_of_path;
    CHECK(before > 0.2);
    const auto wall = std::make_shared<const Piece>(box_piece("wall", 2000, 300, 0, 6000, 50, 3000));
    REQUIRE(do_edit(at.hand.shell, Edit("wall", PutPiece{0, wall})));
    at.hand.settle_checks();
    CHECK(at.hand.shell.answers.rows.front().share_of_path == 0);
}

TEST_CASE("a form is sized as the original or as it is built, and gets openings") {
    Document document = bare_scene();
    Piece wall = box_piece("wall", 0, 2600, 0, 1, 1, 1);
    wall.parts[0].form = WallForm{200, 10, 180, {}};
    wall.ratio = 12;
    document = with_piece(document, wall);
    Sitting at({"wall"}, document);
    at.hand.click("fold/form");
    const auto form = [&]() -> const WallForm& {
        return std::get<WallForm>(at.piece("wall").parts[0].form);
    };
    at.type("form/width", "250");
    CHECK(form().width.mm == 250);
    at.type("form/height/built", "2.4 m");
    CHECK(form().height.mm == 200);
    at.type("form/thickness/built", "100");
    CHECK(form().thickness.mm == doctest::Approx(100 / 12.0).epsilon(1e-5));
    at.refuses("form/width", "0");
    at.hand.click("form/add");
    REQUIRE(form().openings.size() == 1);
    at.type("form/openings/0/sill/built", "900");
    CHECK(form().openings[0].sill.mm == 75);
    at.hand.click("form/drop");
    CHECK(form().openings.empty());
    at.hand.click("form/drop");
    CHECK(at.hand.shell.message_is_error);
    // Built in full size there is nothing to tell apart.
    at.type("piece/ratio", "1");
    CHECK(at.hand.has("form/width"));
    CHECK_FALSE(at.hand.has("form/width/built"));
}

TEST_CASE("a whole scene is made from nothing by hand, checked, and saved as one that opens") {
    const TemporaryFolder folder;
    Hand hand(1440, 2000);
    hand.shell.settings.scene_height = 70;
    hand.frame(2);
    hand.click("first/new");
    hand.frame(2);
    REQUIRE(hand.shell.desk);
    const auto now = [&]() -> const Document& { return hand.shell.desk->history.now(); };
    hand.click("fold/base");
    hand.click("sections/add");
    const glm::vec2 on_base = hand.on_screen(0, {1500, 900, 150});
    hand.drag(hand.middle("library/Display"), on_base);
    REQUIRE(now().pieces->size() == 1);
    CHECK(now().pieces->front()->support == Support::section);
    hand.click("targets/see");
    REQUIRE(now().targets->size() == 1);
    hand.drag(hand.middle("library/Box"), hand.on_screen(0, {2400, 1200, 150}));
    hand.drag(hand.middle("library/Fence"), hand.on_screen(0, {1500, 1600, 150}));
    CHECK(now().pieces->size() == 3);
    hand.key("Escape");
    hand.click("fold/references");
    hand.click("references/corners");
    CHECK(now().reference_points->size() == 4);
    REQUIRE(save_to(hand.shell, folder.path() + "/own.scene.json"));
    const Result<Desk> again = open_desk(hand.shell.desk->file, hand.shell.files);
    REQUIRE(again.ok());
    CHECK(same_content(again->history.now(), now()));
}

TEST_CASE("an entry pressed twice lands on the base, wherever the view looks") {
    Sitting at({});
    Shell& shell = at.hand.shell;
    for (const double aside : {0.0, 50000.0}) {
        shell.views[0].camera.middle = {1500 + aside, 900, 0};
        at.hand.move_to(at.hand.middle("library/Box"));
        at.hand.frame(30);
        for (int i = 0; i < 2; ++i) {
            at.hand.press();
            at.hand.let_go();
        }
        at.hand.frame(2);
        const StagedPiece* made = find_staged(*shell.desk->shown, shell.desk->selected.back());
        REQUIRE(made);
        CHECK(made->box.centre().x == doctest::Approx(1500));
        CHECK(made->box.centre().y == doctest::Approx(900));
    }
}
