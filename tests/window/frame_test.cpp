// The whole window without a display: every action by key and by pointer, on a small scene.
#include <cmath>
#include <fstream>

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include "hand.h"
#include "scene/json.h"
#include "support/random.h"
#include "support/scenes.h"
#include "support/temporary_folder.h"
#include "window/actions.h"
#include "window/answers.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

Document two_crates() {
    Document document = bare_scene();
    document = with_piece(document, box_piece("crate", 600, 2600, 0, 500, 500, 400));
    return with_piece(document, box_piece("barrel", 2100, 2900, 0, 400, 400, 900));
}

void sit_at(Hand& hand, const std::string& folder, const Document& document) {
    const std::string file = folder + "/small.scene.json";
    std::ofstream(file) << write_document(document);
    open_file(hand.shell, file);
    CAPTURE(hand.shell.message);
    REQUIRE(hand.shell.desk);
    hand.frame(3);
}

glm::dvec3 place_of(const Hand& hand, const std::string& id) {
    const StagedPiece* staged = find_staged(*hand.shell.desk->shown, id);
    REQUIRE(staged);
    return staged->placement.frame.origin;
}

glm::dvec3 top_of(const Hand& hand, const std::string& id) {
    const Box box = find_staged(*hand.shell.desk->shown, id)->box;
    return {box.centre().x, box.centre().y, box.high.z};
}

} // namespace

TEST_CASE("the first page offers a new scene, and a scene can be staged from it") {
    Hand hand;
    hand.frame(2);
    CHECK_FALSE(hand.has("view0"));
    hand.click("first/new");
    REQUIRE(hand.shell.desk);
    hand.frame(2);
    CHECK(hand.has("view0"));
    CHECK(hand.has("view3"));
    const std::size_t before = hand.shell.desk->history.now().pieces->size();
    hand.drag(hand.middle("library/Box"), hand.middle("view0"));
    CHECK(hand.shell.message == hand.shell.desk->history.undo_label());
    CHECK(hand.shell.desk->history.now().pieces->size() == before + 1);
    CHECK(hand.shell.desk->selected.size() == 1);
    hand.key("Ctrl+Z");
    CHECK(hand.shell.desk->history.now().pieces->size() == before);
}

TEST_CASE("a piece is picked, dragged as one step, taken back, and saved as it was") {
    const TemporaryFolder folder;
    Hand hand;
    sit_at(hand, folder.path(), two_crates());
    hand.shell.settings.snap_on = false;
    const std::string saved = write_document(hand.shell.desk->history.now());
    const glm::dvec3 from = place_of(hand, "crate");
    const glm::vec2 at = hand.on_screen(0, top_of(hand, "crate"));
    hand.click(at);
    REQUIRE(hand.shell.desk->selected == std::vector<std::string>{"crate"});
    hand.drag(at, at + glm::vec2(60, -30));
    const glm::dvec3 moved = place_of(hand, "crate") - from;
    const double a_pixel = hand.shell.views[0].camera.mm_per_pixel;
    CHECK(std::abs(moved.x - 60 * a_pixel) < 0.2);
    CHECK(std::abs(moved.y - 30 * a_pixel) < 0.2);
    CHECK(hand.shell.desk->history.steps() == 1);
    CHECK(hand.shell.message == hand.shell.desk->history.undo_label());
    CHECK_FALSE(hand.shell.message.empty());
    CHECK(is_unsaved(*hand.shell.desk));
    hand.key("Ctrl+Z");
    CHECK(write_document(hand.shell.desk->history.now()) == saved);
    CHECK_FALSE(is_unsaved(*hand.shell.desk));
    hand.key("Ctrl+Y");
    CHECK(glm::length(place_of(hand, "crate") - from - moved) < 1e-9);
    hand.key("Ctrl+S");
    CHECK_FALSE(is_unsaved(*hand.shell.desk));
    const Result<Desk> again = open_desk(hand.shell.desk->file, hand.shell.files);
    REQUIRE(again.ok());
    CHECK(same_content(again->history.now(), hand.shell.desk->history.now()));
}

TEST_CASE("Escape takes a drag back, and a locked piece stays") {
    const TemporaryFolder folder;
    Hand hand;
    sit_at(hand, folder.path(), two_crates());
    const glm::dvec3 from = place_of(hand, "crate");
    const glm::vec2 at = hand.on_screen(0, top_of(hand, "crate"));
    hand.move_to(at);
    hand.frame(30);
    hand.press();
    hand.move_to(at + glm::vec2(20, 0));
    hand.move_to(at + glm::vec2(50, 0));
    CHECK(glm::length(place_of(hand, "crate") - from) > 1);
    hand.key("Escape");
    CHECK(place_of(hand, "crate") == from);
    hand.let_go();
    CHECK(hand.shell.desk->history.steps() == 0);
    hand.click(at);
    hand.key("Ctrl+L");
    hand.drag(at, at + glm::vec2(50, 0));
    CHECK(place_of(hand, "crate") == from);
    CHECK(hand.shell.message_is_error);
    hand.click(at);
    hand.key("Ctrl+Shift+L");
    hand.drag(at, at + glm::vec2(50, 0));
    CHECK(glm::length(place_of(hand, "crate") - from) > 1);
}

TEST_CASE("numbers typed in any unit place a piece") {
    const TemporaryFolder folder;
    Hand hand;
    sit_at(hand, folder.path(), two_crates());
    select_only(*hand.shell.desk, "crate");
    hand.frame(2);
    hand.click("piece/x");
    hand.key("Ctrl+A");
    hand.type("2.5 m");
    hand.key("Enter");
    CHECK(place_of(hand, "crate").x == 2500);
    // Leaving the field takes what was typed as well.
    hand.click("piece/y");
    hand.key("Ctrl+A");
    hand.type("10 in");
    hand.click("piece/x");
    CHECK(place_of(hand, "crate").y == 254);
    hand.click("piece/facing");
    hand.key("Ctrl+A");
    hand.type("90");
    hand.key("Enter");
    CHECK(find_piece(hand.shell.desk->history.now(), "crate")->at.facing.deg == 90);
    // What is no length is refused in words and nothing moves.
    hand.click("piece/x");
    hand.key("Ctrl+A");
    hand.type("wide");
    hand.key("Enter");
    CHECK(hand.shell.message_is_error);
    CHECK(place_of(hand, "crate").x == 2500);
}

TEST_CASE("every action can be asked for at any time without harm") {
    const TemporaryFolder folder;
    for (const bool open : {false, true}) {
        for (const bool picked : {false, true}) {
            Hand hand;
            if (open) sit_at(hand, folder.path(), two_crates());
            for (const ActionEntry& entry : all_actions()) {
                CAPTURE(entry.name);
                if (open && picked) act(hand.shell, Action::select_all);
                act(hand.shell, entry.action);
                hand.frame(2);
                if (hand.shell.quit) hand.shell.quit = false;
                if (hand.shell.dialog == Dialog::ask_unsaved) {
                    hand.click("unsaved/cancel");
                    CHECK(hand.shell.dialog == Dialog::none);
                } else if (hand.shell.dialog != Dialog::none) {
                    hand.key("Escape");
                    hand.frame(2);
                    CHECK(hand.shell.dialog == Dialog::none);
                }
                if (hand.shell.desk) CHECK(validate(hand.shell.desk->history.now()).ok());
            }
        }
    }
}

TEST_CASE("no two actions have the same keys, and all keys are known") {
    for (const ActionEntry& a : all_actions()) {
        CAPTURE(a.name);
        CHECK((*a.keys == 0 || chord_of(a.keys).key != 0));
        for (const ActionEntry& b : all_actions())
            if (&a != &b && *a.keys && *b.keys) CHECK_FALSE(chord_of(a.keys) == chord_of(b.keys));
    }
}

TEST_CASE("aligning, spreading, grouping, switching off and deleting are one step each") {
    const TemporaryFolder folder;
    Hand hand;
    sit_at(hand, folder.path(), two_crates());
    hand.key("Ctrl+A");
    REQUIRE(hand.shell.desk->selected.size() == 2);
    hand.key("Alt+Left");
    const Staging& shown = *hand.shell.desk->shown;
    CHECK(std::abs(find_staged(shown, "crate")->box.low.x -
                   find_staged(shown, "barrel")->box.low.x) < 0.2);
    hand.key("Ctrl+G");
    hand.key("Escape");
    CHECK(hand.shell.desk->selected.empty());
    select_only(*hand.shell.desk, "crate");
    CHECK(hand.shell.desk->selected.size() == 2);
    hand.key("Ctrl+H");
    CHECK(find_staged(*hand.shell.desk->shown, "crate") == nullptr);
    hand.key("Ctrl+Shift+H");
    CHECK(find_staged(*hand.shell.desk->shown, "crate") != nullptr);
    hand.key("Ctrl+D");
    CHECK(hand.shell.desk->history.now().pieces->size() == 4);
    hand.key("Delete");
    CHECK(hand.shell.desk->history.now().pieces->size() == 2);
    CHECK(hand.shell.desk->history.steps() == 6);
    for (int i = 0; i < 6; ++i)
        hand.key("Ctrl+Z");
    CHECK(same_content(hand.shell.desk->history.now(), two_crates()));
}

TEST_CASE("views can be panned, zoomed, turned and changed without touching the scene") {
    const TemporaryFolder folder;
    Hand hand;
    sit_at(hand, folder.path(), two_crates());
    const ViewCamera plan = hand.shell.views[0].camera;
    const glm::vec2 middle = hand.middle("view0");
    hand.drag(middle, middle + glm::vec2(40, 25), 2);
    CHECK(std::abs(hand.shell.views[0].camera.middle.x - plan.middle.x + 40 * plan.mm_per_pixel) <
          1e-6);
    hand.move_to(middle);
    hand.wheel(1);
    CHECK(hand.shell.views[0].camera.mm_per_pixel < plan.mm_per_pixel);
    hand.key("Home");
    const ViewCamera turned = hand.shell.views[3].camera;
    REQUIRE(turned.kind == ViewKind::round);
    const glm::vec2 round = hand.middle("view3");
    hand.drag(round, round + glm::vec2(50, 0), 1);
    CHECK(hand.shell.views[3].camera.around_deg != turned.around_deg);
    hand.key("F5");
    CHECK(hand.has("view3"));
    CHECK_FALSE(hand.has("view0"));
    hand.key("F6");
    CHECK(hand.has("view0"));
    CHECK(hand.has("view1"));
    hand.key("F7");
    CHECK(hand.has("view2"));
    CHECK(hand.shell.desk->history.steps() == 0);
}

TEST_CASE("checks run behind the window and their findings lead to their place") {
    const TemporaryFolder folder;
    Hand hand;
    hand.shell.check = std::make_unique<BackgroundCheck>();
    Document document = two_crates();
    sit_at(hand, folder.path(), document);
    hand.settle_checks();
    REQUIRE(hand.shell.answers.full);
    CHECK(hand.shell.answers.full->revision == hand.shell.desk->revision);
    const auto before = hand.shell.answers.full;
    select_only(*hand.shell.desk, "crate");
    // Held back, for a check of two crates may be over before the key's frames are.
    std::unique_ptr<BackgroundCheck> held = std::move(hand.shell.check);
    hand.key("Left");
    CHECK(hand.shell.answers.full->revision != hand.shell.desk->revision);
    hand.shell.check = std::move(held);
    hand.settle_checks();
    CHECK(hand.shell.answers.full != before);
    CHECK(hand.shell.answers.full->revision == hand.shell.desk->revision);
    CHECK(hand.has("strip/axis"));
    hand.click(hand.middle("strip/axis"));
    CHECK(hand.shell.scrub.distance_mm > 0);
    hand.key("F8");
    if (!hand.shell.answers.full->results->findings.empty()) CHECK(hand.shell.finding == 0);
}

TEST_CASE("ten thousand random inputs leave a document that saves and loads the same") {
    const TemporaryFolder folder;
    Hand hand;
    sit_at(hand, folder.path(), two_crates());
    Random random(20261125);
    const auto chance = [&](int n) { return static_cast<int>(random.uniform(0, n - 1e-9)); };
    glm::vec2 at(700, 400);
    for (int i = 0; i < 10000; ++i) {
        const int what = chance(10);
        if (what < 5) {
            at = {static_cast<float>(random.uniform(0, 1440)),
                  static_cast<float>(random.uniform(0, 900))};
            hand.move_to(at);
        } else if (what < 7) {
            hand.press(chance(3));
        } else if (what < 8) {
            for (int b = 0; b < 3; ++b)
                hand.let_go(b);
        } else if (what < 9) {
            const auto actions = all_actions();
            const ActionEntry& entry =
                actions[static_cast<std::size_t>(chance(static_cast<int>(actions.size())))];
            if (*entry.keys) hand.key(entry.keys);
        } else {
            hand.wheel(static_cast<float>(chance(3) - 1));
        }
        hand.shell.quit = false;
        if (!hand.shell.desk) open_new(hand.shell);
    }
    for (int b = 0; b < 3; ++b)
        hand.let_go(b);
    const Document& document = hand.shell.desk->history.now();
    CHECK(validate(document).ok());
    const std::string text = write_document(document);
    const Result<Document> again = read_document(text, "again");
    REQUIRE(again.ok());
    CHECK(write_document(*again) == text);
}
