// Bringing things from the library into a view: what is seen while they are held, and after.
#include "sitting.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

struct Adding : Sitting {
    Adding() : Sitting({}) {
        hand.shell.settings.snap_on = false;
        hand.frame(2);
    }
    int view_of_kind(ViewKind kind) const {
        for (int i = 0; i < 4; ++i)
            if (hand.shell.views[static_cast<std::size_t>(i)].camera.kind == kind) return i;
        FAIL("no such view");
        return 0;
    }
    void take_up(const char* entry) {
        hand.move_to(hand.middle(entry));
        hand.frame(30); // apart from the press before, which would make two of it
        hand.press();
        hand.move_to(hand.middle(entry) + glm::vec2(20, 0));
    }
    Box box_of_last() const {
        const auto& pieces = *now().pieces;
        return find_staged(*hand.shell.desk->shown, pieces.back()->id)->box;
    }
};

} // namespace

TEST_CASE("what is held over a view stands there, and is one step when it is let go") {
    Adding at;
    const std::size_t pieces = at.now().pieces->size();
    for (const ViewKind kind : {ViewKind::plan, ViewKind::front, ViewKind::round}) {
        CAPTURE(static_cast<int>(kind));
        const int view = at.view_of_kind(kind);
        at.take_up("library/Box");
        CHECK(at.now().pieces->size() == pieces);
        // The air over the deck in the front view, the deck itself in the others.
        const double z = kind == ViewKind::front ? 900 : 150;
        for (const double x : {1650.0, 2500.0, 2700.0}) {
            at.hand.move_to(at.hand.on_screen(view, {x, 400, z}));
            at.hand.frame();
            REQUIRE(at.now().pieces->size() == pieces + 1);
            // Within what a pixel covers, aslant as well.
            CHECK(std::abs(at.box_of_last().centre().x - x) < 50);
            CHECK(at.box_of_last().low.z == doctest::Approx(150));
            CHECK_FALSE(at.hand.shell.desk->history.can_undo());
        }
        at.hand.let_go();
        at.hand.frame();
        CHECK(at.steps() == 1);
        REQUIRE(at.now().pieces->size() == pieces + 1);
        CHECK(at.now().pieces->back()->support == Support::section);
        CHECK(at.hand.shell.desk->selected ==
              std::vector<std::string>{at.now().pieces->back()->id});
        CHECK(at.hand.shell.desk->history.undo_label() == "Add Box");
        at.hand.key("Ctrl+Z");
        CHECK(at.now().pieces->size() == pieces);
    }
}

TEST_CASE("what is held is gone again beside the views, by Escape and when let go there") {
    Adding at;
    const std::string before = write_document(at.now());
    const glm::vec2 on_deck = at.hand.on_screen(0, {1700, 400, 150});
    at.take_up("library/Box");
    at.hand.move_to(on_deck);
    at.hand.frame();
    CHECK((write_document(at.now()) != before));
    at.hand.move_to(at.hand.middle("library/Box"));
    at.hand.frame();
    CHECK((write_document(at.now()) == before));
    CHECK_FALSE(at.hand.shell.desk->history.dragging());
    at.hand.move_to(on_deck);
    at.hand.frame();
    CHECK((write_document(at.now()) != before));
    at.hand.key("Escape");
    CHECK((write_document(at.now()) == before));
    at.hand.move_to(on_deck + glm::vec2(10, 0)); // still held, but given up
    at.hand.frame();
    CHECK((write_document(at.now()) == before));
    at.hand.let_go();
    at.hand.frame();
    CHECK((write_document(at.now()) == before));
    CHECK(at.steps() == 0);
    at.take_up("library/Box"); // and the next one can be added
    at.hand.move_to(on_deck);
    at.hand.frame();
    at.hand.let_go();
    at.hand.frame();
    CHECK(at.steps() == 1);
}

TEST_CASE("what is held snaps to the grid unless Ctrl is held") {
    Adding at;
    at.hand.shell.settings.snap_on = true;
    for (int i = 0; i < 5; ++i)
        at.hand.shell.settings.snap_kinds[i] = i == static_cast<int>(SnapKind::grid);
    at.hand.shell.settings.grid_step_mm = 100;
    at.take_up("library/Box");
    at.hand.move_to(at.hand.on_screen(0, {1712, 388, 150}));
    at.hand.frame();
    at.hand.let_go();
    at.hand.frame();
    const Pose6 added = at.now().pieces->back()->at;
    CHECK(added.x.mm == doctest::Approx(1700));
    CHECK(added.y.mm == doctest::Approx(400));
}

TEST_CASE("a view that shows only the air there takes nothing and says so") {
    Adding at;
    const int view = at.view_of_kind(ViewKind::round);
    ViewCamera& camera = at.hand.shell.views[static_cast<std::size_t>(view)].camera;
    camera.above_deg = 0;
    camera.middle.z = 5000; // the horizon lies in the lower half
    camera.mm_per_pixel = 2;
    at.hand.frame(2);
    at.take_up("library/Box");
    at.hand.move_to(at.hand.middle("view" + std::to_string(view)) - glm::vec2(0, 100));
    at.hand.frame();
    CHECK_FALSE(at.hand.shell.desk->history.dragging());
    at.hand.let_go();
    at.hand.frame();
    CHECK(at.steps() == 0);
    CHECK(at.hand.shell.message.find("Nothing to stand on") != std::string::npos);
}

TEST_CASE("dragging down in the front view stops at the floor") {
    Adding at;
    const int view = at.view_of_kind(ViewKind::front);
    const glm::dvec3 top(4000, 2700, 300); // of the chest, beside the base
    at.hand.drag(at.hand.on_screen(view, top),
                 at.hand.on_screen(view, top - glm::dvec3(0, 0, 900)));
    CHECK(at.steps() == 1);
    CHECK(find_staged(*at.hand.shell.desk->shown, "chest")->box.low.z == doctest::Approx(0));
}
