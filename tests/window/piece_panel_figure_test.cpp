// The figure in the panel about a piece: body, pose and dress, joints by slider and by number.
#include <cmath>

#include <doctest/doctest.h>

#include "sitting.h"
#include "support/random.h"
#include "window/actions.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

double angle(const FigureForm& form, const std::string& joint, const std::string& axis) {
    for (const JointTurn& turn : form.turns)
        if (turn.joint == joint && turn.axis == axis) return turn.angle.deg;
    return -1000;
}

void open_joints(Sitting& at) {
    at.hand.click("fold/joints");
    at.hand.click("fold/Left arm");
    REQUIRE(at.hand.has("joint/left elbow/flexion/slider"));
}

} // namespace

TEST_CASE("body, pose, stature and dress of a figure are one step each") {
    Sitting at({"seller"});
    std::size_t before = at.steps();
    at.hand.click("figure/pose");
    at.hand.click("pose/playing-fiddle");
    at.one_step(before++);
    CHECK(at.figure().pose == "playing-fiddle");
    at.refuses("figure/stature", "tall");
    at.refuses("figure/stature", "0");
    at.type("figure/stature", "0.1 m");
    at.one_step(before++);
    CHECK(at.figure().stature->mm == 100);
    at.type("piece/ratio", "12");
    at.one_step(before++);
    at.refuses("figure/built", "-1");
    at.type("figure/built", "1.8 m");
    at.one_step(before++);
    CHECK(at.figure().stature->mm == doctest::Approx(150));
    const StagedPiece* staged = find_staged(*at.hand.shell.desk->shown, "seller");
    REQUIRE(staged);
    CHECK(staged->box.size().z > 1500);
    at.type("figure/stature", "");
    at.one_step(before++);
    CHECK_FALSE(at.figure().stature);
    at.hand.click("fold/dress");
    at.refuses("dress/Coat", "navy");
    at.type("dress/Coat", "#203050");
    at.one_step(before++);
    CHECK(at.figure().dress.coat == "#203050");
    at.hand.click("figure/body");
    at.hand.click("body/dog");
    at.one_step(before++);
    CHECK(at.figure().skeleton == "dog");
    CHECK(at.figure().pose.empty());
    for (std::size_t i = 0; i < before; ++i)
        at.hand.key("Ctrl+Z");
    CHECK(same_content(at.now(), stall()));
}

TEST_CASE("a joint follows its slider as one step, and Escape takes it back") {
    Sitting at({"seller"});
    open_joints(at);
    const TaggedRect slider = at.hand.tags["joint/left elbow/flexion/slider"];
    const glm::vec2 from = {slider.low.x + 4, slider.middle().y};
    at.hand.move_to(from);
    at.hand.frame(30);
    at.hand.press();
    at.hand.move_to(slider.middle());
    at.hand.frame(3);
    CHECK(at.hand.shell.desk->history.dragging());
    const double live = angle(at.figure(), "left elbow", "flexion");
    CHECK(std::abs(live - 75) <= 2); // half of 0 to 150
    at.hand.move_to({slider.high.x + 50, slider.middle().y});
    CHECK(angle(at.figure(), "left elbow", "flexion") == 150);
    CHECK(at.steps() == 0);
    at.hand.let_go();
    CHECK_FALSE(at.hand.shell.desk->history.dragging());
    CHECK(at.steps() == 1);
    CHECK(angle(at.figure(), "left elbow", "flexion") == 150);
    at.hand.key("Ctrl+Z");
    CHECK(same_content(at.now(), stall()));
    at.hand.move_to(from);
    at.hand.frame(30);
    at.hand.press();
    at.hand.move_to(slider.middle());
    at.hand.frame(3);
    CHECK(at.hand.shell.desk->history.dragging());
    at.hand.key("Escape");
    CHECK(same_content(at.now(), stall()));
    at.hand.move_to({slider.high.x, slider.middle().y});
    CHECK(same_content(at.now(), stall())); // still held, but no longer followed
    at.hand.let_go();
    at.hand.frame();
    CHECK(same_content(at.now(), stall()));
    CHECK(at.hand.shell.pointer.drag == Drag::none);
    CHECK(at.hand.shell.desk->selected == std::vector<std::string>{"seller"});
}

TEST_CASE("a short press on a slider is a step as well, and text left for it is not lost") {
    Sitting at({"seller"});
    open_joints(at);
    at.hand.click("piece/x");
    at.hand.key("Ctrl+A");
    at.hand.type("1300");
    at.hand.click("joint/left elbow/flexion/slider");
    at.hand.frame(3);
    CHECK(at.piece("seller").at.x.mm == 1300);
    CHECK(std::abs(angle(at.figure(), "left elbow", "flexion") - 75) <= 2);
    CHECK(at.steps() == 2);
    CHECK_FALSE(at.hand.shell.desk->history.dragging());
}

TEST_CASE("angles are typed, held within the joint, and reset one by one or all") {
    Sitting at({"seller"});
    open_joints(at);
    std::size_t before = at.steps();
    at.refuses("joint/left elbow/flexion/angle", "bent");
    CHECK_FALSE(at.hand.has("joint/left elbow/reset"));
    at.type("joint/left elbow/flexion/angle", "30.5");
    at.one_step(before++);
    CHECK(angle(at.figure(), "left elbow", "flexion") == 30.5);
    at.type("joint/left elbow/flexion/angle", "500");
    at.one_step(before++);
    CHECK(angle(at.figure(), "left elbow", "flexion") == 150);
    CHECK(at.hand.shell.message.find("150") != std::string::npos);
    at.type("joint/left elbow/pronation/angle", "-80");
    at.one_step(before++);
    at.type("joint/left shoulder/flexion/angle", "20");
    at.one_step(before++);
    at.hand.click("joint/left elbow/reset");
    at.one_step(before++);
    REQUIRE(at.figure().turns.size() == 1);
    CHECK(at.figure().turns[0].joint == "left shoulder");
    at.hand.click("joint/reset-all");
    at.one_step(before++);
    CHECK(at.figure().turns.empty());
    at.hand.click("joint/reset-all"); // nothing left: the button is off
    CHECK(at.steps() == before);
}

TEST_CASE("folds stay as they are from one piece to the next") {
    Piece other = seller();
    other.id = "buyer";
    other.at.x = 2200;
    Sitting at({"seller"}, with_piece(stall(), other));
    open_joints(at);
    select_only(*at.hand.shell.desk, "buyer");
    at.hand.frame(2);
    CHECK(at.hand.has("joint/left elbow/flexion/slider"));
    at.hand.click("fold/joints");
    CHECK_FALSE(at.hand.has("joint/left elbow/flexion/slider"));
    select_only(*at.hand.shell.desk, "seller");
    at.hand.frame(2);
    CHECK_FALSE(at.hand.has("fold/Left arm"));
}

TEST_CASE("whatever is pressed, held and typed in the panel leaves a sound scene") {
    Sitting at({"seller"});
    open_joints(at);
    Hand& hand = at.hand;
    const auto piece = hand.tags["splitter/right"];
    Random random(20261126);
    const auto chance = [&](int n) { return static_cast<int>(random.integer(0, n - 1)); };
    constexpr const char* keys[] = {"Escape", "Enter", "Tab", "Ctrl+Z", "Ctrl+Y", "Delete", "Up"};
    constexpr const char* words[] = {"5", "-", "1 m", "x", "#102030", "12:1", "45"};
    int drags = 0;
    for (int i = 0; i < 3000; ++i) {
        switch (chance(8)) {
        case 0:
        case 1:
        case 2:
            hand.move_to({static_cast<float>(random.uniform(piece.high.x, 1440)),
                          static_cast<float>(random.uniform(60, 1700))});
            break;
        case 3:
            hand.press();
            hand.frame(chance(5));
            break;
        case 4:
        case 5:
            hand.let_go();
            break;
        case 6:
            hand.key(keys[chance(static_cast<int>(std::size(keys)))]);
            break;
        default:
            hand.type(words[chance(static_cast<int>(std::size(words)))]);
        }
        drags += hand.shell.desk->history.dragging();
        if (hand.shell.desk->selected.empty() || find_piece(at.now(), "seller") == nullptr) {
            hand.let_go();
            while (hand.shell.desk->history.can_undo() && !find_piece(at.now(), "seller"))
                act(hand.shell, Action::undo);
            if (find_piece(at.now(), "seller")) select_only(*hand.shell.desk, "seller");
        }
        if (hand.shell.dialog != Dialog::none) hand.key("Escape");
    }
    hand.let_go();
    hand.frame(3);
    CHECK(drags > 20); // sliders were moved
    CHECK_FALSE(hand.shell.desk->history.dragging());
    CHECK(validate(at.now()).ok());
    CHECK(read_document(write_document(at.now()), "again").ok());
}

TEST_CASE("a hand is put on a thing and lets go, a look is chosen and given up, by the lists") {
    Sitting at({"seller"});
    std::size_t before = at.steps();
    at.hand.click("figure/with");
    at.hand.click("with/right palm");
    at.hand.click("figure/what");
    CHECK(at.hand.has("what/barrel"));
    CHECK_FALSE(at.hand.has("what/seller")); // not itself
    at.hand.type("barr");
    at.hand.frame(2);
    CHECK_FALSE(at.hand.has("what/crate"));
    at.hand.click("what/barrel");
    at.one_step(before++);
    REQUIRE(at.piece("seller").touches.size() == 1);
    CHECK(at.piece("seller").touches.front().piece == "barrel");
    at.hand.click("fold/touch/right palm");
    at.refuses("touch/right palm/z", "high");
    at.type("touch/right palm/z", "20 mm");
    at.one_step(before++);
    CHECK(at.piece("seller").touches.front().at.z.mm == 20);
    at.hand.click("figure/looks");
    at.hand.click("look/barrel");
    at.one_step(before++);
    CHECK(at.piece("seller").looks_at->piece == "barrel");
    at.hand.click("figure/looks");
    at.hand.click("look/visitor");
    at.one_step(before++);
    CHECK(at.piece("seller").looks_at->piece.empty());
    at.hand.click("figure/looks");
    at.hand.click("look/pose");
    at.one_step(before++);
    CHECK_FALSE(at.piece("seller").looks_at);
    at.hand.click("touch/right palm/let-go");
    at.one_step(before++);
    CHECK(at.piece("seller").touches.empty());
    CHECK(at.figure().solved.empty());
    for (std::size_t i = 0; i < before; ++i)
        at.hand.key("Ctrl+Z");
    CHECK(same_content(at.now(), stall()));
}
