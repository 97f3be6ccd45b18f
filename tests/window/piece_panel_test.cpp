// The panel about what is picked, and the library: every widget acts, is one step, and refuses
// what is wrong in words.
#include <cmath>

#include <doctest/doctest.h>
#include <imgui.h>

#include "sitting.h"
#include "support/random.h"
#include "window/actions.h"
#include "window/answers.h"

using namespace standpoint;
using namespace standpoint::support;

TEST_CASE("fields of a piece take what is right and refuse what is wrong") {
    Sitting at({"crate"});
    std::size_t before = at.steps();
    const struct {
        const char *field, *right, *wrong;
    } fields[] = {{"piece/x", "1.2 m", "wide"},     {"piece/y", "40 in", "5 mmm"},
                  {"piece/z", "+25", "11 km"},      {"piece/facing", "45", "north"},
                  {"piece/tilt", "5", "12 degs"},   {"piece/roll", "- 3", "*0"},
                  {"piece/ratio", "125 %", "0:1"},  {"piece/built-height", "1 m", "0"},
                  {"piece/id", "box-1", "Box 1"},   {"piece/name", "A box", nullptr},
                  {"piece/note", "heavy", nullptr}, {"piece/group", "stall", nullptr}};
    for (const auto& field : fields) {
        CAPTURE(field.field);
        if (field.wrong) at.refuses(field.field, field.wrong);
        at.type(field.field, field.right);
        at.one_step(before++);
    }
    const Piece& box = at.piece("box-1");
    CHECK(box.at.x.mm == 1200);
    CHECK(box.at.y.mm == 1016);
    CHECK(box.at.z.mm == 25);
    CHECK(box.at.facing.deg == 45);
    CHECK(box.at.roll.deg == -3);
    CHECK(box.ratio->value == 1.25);
    CHECK(std::get<BoxForm>(box.parts[0].form).height.mm == 800); // 1 m at 125 %
    CHECK(box.name == "A box");
    CHECK(box.note == "heavy");
    CHECK(box.group == "stall");
    for (std::size_t i = 0; i < std::size(fields); ++i)
        at.hand.key("Ctrl+Z");
    CHECK(same_content(at.now(), stall()));
}

TEST_CASE("what was refused stays until it is put right or another piece is picked") {
    Sitting at({"crate"});
    at.refuses("piece/x", "wide");
    at.type("piece/x", "700");
    CHECK(at.piece("crate").at.x.mm == 700);
    CHECK(at.hand.shell.panels.wrong.name.empty());
    at.refuses("piece/x", "wide");
    select_only(*at.hand.shell.desk, "barrel");
    at.hand.frame(2);
    at.type("piece/x", "2200");
    CHECK(at.piece("barrel").at.x.mm == 2200);
    CHECK(at.piece("crate").at.x.mm == 700);
}

TEST_CASE(
    "the panel begins at its top for what has other rows, and stays where it is for the same") {
    const TemporaryFolder folder;
    const std::string file = folder.path() + "/stall.scene.json";
    std::ofstream(file) << write_document(stall());
    Hand hand(1440, 700);
    open_file(hand.shell, file);
    REQUIRE(hand.shell.desk);
    hand.frame(3);
    const auto picks = [&](const std::vector<std::string>& ids) {
        hand.shell.desk->selected = ids;
        hand.frame(3);
    };
    const auto scroll = [&] {
        hand.move_to(hand.middle("panel/piece"));
        hand.wheel(-3);
        hand.frame(3);
    };
    picks({"crate"});
    const glm::vec2 top = hand.middle("piece/name");
    scroll();
    const bool scrolled = !hand.has("piece/name") || hand.middle("piece/name") != top;
    REQUIRE(scrolled);
    picks({"chest"});
    const bool stays = !hand.has("piece/name") || hand.middle("piece/name") != top;
    CHECK(stays);
    for (const std::vector<std::string>& between :
         {std::vector<std::string>{}, {"crate", "chest"}, {"seller"}}) {
        picks(between);
        picks({"crate"});
        CHECK(hand.middle("piece/name") == top);
        scroll();
    }
}

TEST_CASE("a locked piece refuses a place in words, and takes it when it is unlocked") {
    Sitting at({"crate"});
    at.hand.click("piece/locked");
    CHECK(at.piece("crate").locked);
    const std::size_t before = at.steps();
    at.type("piece/x", "700");
    CHECK(at.hand.shell.message_is_error);
    CHECK(at.steps() == before);
    at.hand.click("piece/locked");
    at.type("piece/x", "700");
    CHECK(at.piece("crate").at.x.mm == 700);
}

TEST_CASE("colour, light and gloss are set for one part or for all") {
    Document document = bare_scene();
    Piece piece = box_piece("crate", 600, 2600, 0, 500, 500, 400);
    Part lid = piece.parts[0];
    lid.name = "lid";
    lid.at.z = 400;
    piece.parts.push_back(lid);
    Sitting at({"crate"}, with_piece(document, piece));
    at.hand.click("fold/look");
    std::size_t before = at.steps();
    at.refuses("look/colour", "blue");
    at.type("look/colour", "336699");
    at.one_step(before++);
    at.refuses("look/lets-through", "25");
    at.type("look/lets-through", "25 %");
    at.one_step(before++);
    at.hand.click("look/part");
    at.hand.click("part/1");
    at.refuses("look/gloss", "shiny");
    at.type("look/gloss", "0.04");
    at.one_step(before++);
    at.type("look/colour", "");
    at.one_step(before++);
    const Piece& made = at.piece("crate");
    CHECK(made.parts[0].colour == "#336699");
    CHECK(made.parts[1].colour.empty());
    CHECK(made.parts[0].lets_through->value == 0.25);
    CHECK(made.parts[1].lets_through->value == 0.25);
    CHECK_FALSE(made.parts[0].gloss);
    CHECK(made.parts[1].gloss->value == 0.04);
}

TEST_CASE("the ratio follows from two sizes, and says which of them is none") {
    Sitting at({"crate"});
    const std::size_t before = at.steps();
    at.hand.click("piece/ratio-from-sizes");
    at.hand.frame(2);
    REQUIRE(at.hand.has("ratio/original"));
    at.type("ratio/original", "small");
    at.type("ratio/built", "1.8 m");
    CHECK(at.hand.has("ratio/problem"));
    CHECK_FALSE(at.hand.has("ratio/apply"));
    at.type("ratio/original", "150");
    CHECK_FALSE(at.hand.has("ratio/problem"));
    at.hand.click("ratio/apply");
    at.hand.frame(2);
    CHECK(at.hand.shell.dialog == Dialog::none);
    CHECK(at.piece("crate").ratio->value == 12);
    CHECK(at.steps() == before + 1);
}

TEST_CASE("a row of copies refuses what is no count or no distance") {
    Sitting at({"crate"});
    const std::size_t before = at.steps(), pieces = at.now().pieces->size();
    act(at.hand.shell, Action::repeat);
    at.hand.frame(2);
    at.type("repeat/count", "3x");
    at.hand.click("repeat/across");
    CHECK(at.hand.shell.message_is_error);
    at.type("repeat/count", "3");
    at.type("repeat/spacing", "far");
    at.hand.click("repeat/across");
    CHECK(at.hand.shell.message_is_error);
    CHECK(at.hand.shell.dialog == Dialog::repeat);
    CHECK(at.steps() == before);
    at.type("repeat/spacing", "0.7 m");
    at.hand.click("repeat/across");
    at.hand.frame(2);
    CHECK(at.hand.shell.dialog == Dialog::none);
    CHECK(at.now().pieces->size() == pieces + 2);
    CHECK(at.steps() == before + 1);
}

TEST_CASE("the grid step is refused outside its limits, with or without a scene") {
    const TemporaryFolder folder;
    for (const bool open : {false, true}) {
        Hand hand;
        if (open) open_new(hand.shell);
        act(hand.shell, Action::settings);
        hand.frame(2);
        const auto type = [&](const char* text) {
            hand.click("settings/grid");
            hand.key("Ctrl+A");
            hand.type(text);
            hand.key("Enter");
            hand.frame();
        };
        type("50");
        CHECK(hand.shell.settings.grid_step_mm == 50);
        for (const char* bad : {"0.9", "10001", "fine"}) {
            CAPTURE(bad);
            type(bad);
            CHECK(hand.shell.settings.grid_step_mm == 50);
            CHECK(hand.shell.panels.wrong.text == bad);
        }
        type("10 m");
        CHECK(hand.shell.settings.grid_step_mm == 10000);
        CHECK(hand.shell.panels.wrong.name.empty());
    }
}

TEST_CASE("the library takes its pictures a few a frame, and tells of a model it cannot show") {
    Sitting at({});
    std::ofstream(at.folder.path() + "/broken.glb") << "no model";
    at.hand.shell.library_of = "?";
    static int uploads = 0;
    uploads = 0;
    at.hand.shell.panels.upload = [](const Image& image) -> unsigned {
        if (!image.rgba.empty()) ++uploads;
        return 0; // no texture: sketches stay
    };
    at.hand.shell.panels.shelf = std::make_unique<LibraryShelf>();
    at.hand.frame(2);
    at.hand.shell.panels.shelf->settle();
    const int first = uploads;
    at.hand.frame();
    CHECK(uploads - first <= 2);
    at.hand.frame(60);
    CHECK_FALSE(at.hand.shell.panels.shelf->working());
    const std::size_t all = at.hand.shell.library.size();
    CHECK(at.hand.shell.panels.images.size() == all);
    CHECK(uploads == static_cast<int>(all) - 1);
    int problems = 0;
    for (const auto& [key, image] : at.hand.shell.panels.images)
        problems += !image.problem.empty();
    CHECK(problems == 1);
    CHECK(at.hand.has("library/Broken"));
}

TEST_CASE("fields and buttons of the panels lie within them at any size of screen and text") {
    const struct {
        int width, height;
        float scale;
    } screens[] = {{1280, 720, 1}, {1920, 1080, 1}, {1920, 1080, 2}, {1280, 720, 2}};
    for (const auto& screen : screens) {
        CAPTURE(screen.width);
        CAPTURE(screen.scale);
        for (const bool several : {false, true}) {
            Hand hand(screen.width, screen.height, screen.scale);
            const TemporaryFolder folder;
            const std::string file = folder.path() + "/stall.scene.json";
            std::ofstream(file) << write_document(stall());
            open_file(hand.shell, file);
            REQUIRE(hand.shell.desk);
            select_only(*hand.shell.desk, "seller");
            if (several) select_toggle(*hand.shell.desk, "crate");
            hand.frame(3);
            const float left = hand.tags["splitter/right"].high.x;
            for (const auto& [name, rect] : hand.tags) {
                const bool ours = name.starts_with("piece/") || name.starts_with("figure/") ||
                                  name.starts_with("several/") || name.starts_with("fold/");
                if (!ours) continue;
                CAPTURE(name);
                CHECK(rect.low.x >= left);
                CHECK(rect.high.x <= static_cast<float>(screen.width));
                CHECK(rect.high.x > rect.low.x + 10);
                for (const auto& [other, there] : hand.tags) {
                    const bool theirs = other.starts_with("piece/") ||
                                        other.starts_with("figure/") ||
                                        other.starts_with("several/");
                    if (!theirs || other == name || name.starts_with("fold/")) continue;
                    CAPTURE(other);
                    const bool apart = rect.high.x <= there.low.x || there.high.x <= rect.low.x ||
                                       rect.high.y <= there.low.y || there.high.y <= rect.low.y;
                    CHECK(apart);
                }
            }
        }
    }
}
