// Figures kept to what they touch and look at: hands, seats and soles follow what is moved, eyes
// meet, and nothing else changes.
#include <doctest/doctest.h>

#include <algorithm>
#include <functional>

#include <glm/geometric.hpp>

#include "figure/contact.h"
#include "figure/settle.h"
#include "support/random.h"
#include "support/scenes.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

const MemoryFiles no_files;
constexpr const char* file = "scene.json";

Touch touch(const char* contact, const std::string& piece, const glm::dvec3& at) {
    Touch made;
    made.contact = contact;
    made.piece = piece;
    made.at = {at.x, at.y, at.z};
    return made;
}

Gaze at_piece(const std::string& id) {
    Gaze gaze;
    gaze.piece = id;
    return gaze;
}

Document changed(const Document& document, const std::string& id,
                 const std::function<void(Piece&)>& change) {
    Piece made = *find_piece(document, id);
    change(made);
    auto after = apply(document, Edit("", ReplacePiece{id, std::make_shared<const Piece>(made)}));
    REQUIRE(after.ok());
    return *after;
}

Document with_steps(const Document& document, const Result<std::vector<EditStep>>& steps) {
    REQUIRE(steps.ok());
    auto after = apply(document, Edit("", *steps));
    REQUIRE(after.ok());
    return *after;
}

Document all_settled(const Document& document) {
    return with_steps(document, settle_all(document, file, no_files));
}

// After a change of one piece.
Document settled_after(const Document& before, const std::string& id,
                       const std::function<void(Piece&)>& change) {
    const Document after = changed(before, id, change);
    return with_steps(after, settle(before, after, file, no_files));
}

PlacedFigures figures_of(const Document& document) {
    auto figures = placed_figures(document, file, no_files);
    REQUIRE(figures.ok());
    return *figures;
}

std::vector<TouchPlace> touches_of(const Document& document) {
    return touch_places(document, figures_of(document));
}
std::vector<LookPlace> looks_of(const Document& document) {
    return look_places(document, figures_of(document));
}

const FigureForm& form_of(const Document& document, const std::string& id) {
    return std::get<FigureForm>(find_piece(document, id)->parts.front().form);
}

void check_ranges(const Document& document) {
    for (const auto& figure : figures_of(document))
        if (figure) CHECK(broken_limits(figure->figure).empty());
}

// The right palm of a figure at the origin that faces -Y is on its own right, -X.
constexpr double reach_x = -250, reach_y = -330, reach_z = 1150;

Document hand_on_box() {
    Document document = with_piece(bare_scene(), figure_piece("seller", 0, 0, 0, "standing-easy"));
    document = with_piece(document, box_piece("cup", reach_x, reach_y, reach_z, 60, 60, 80));
    return changed(document, "seller", [](Piece& piece) {
        piece.touches = {touch("right palm", "cup", {0, 0, 40})};
    });
}

} // namespace

TEST_CASE("a hand comes to what it touches, by the joints between and no others") {
    const Document document = all_settled(hand_on_box());
    const auto touches = touches_of(document);
    REQUIRE(touches.size() == 1);
    CHECK(glm::length(touches[0].wanted - glm::dvec3(reach_x, reach_y, reach_z + 40)) < 1e-9);
    CHECK(touches[0].off_mm() < 0.5);
    check_ranges(document);
    for (const JointTurn& turn : form_of(document, "seller").solved) {
        const bool between = turn.joint == "right shoulder" || turn.joint == "right elbow" ||
                             turn.joint == "right wrist" || turn.joint == "chest" ||
                             turn.joint == "waist";
        CHECK_MESSAGE(between, turn.joint);
    }
    CHECK(find_piece(document, "seller")->at == find_piece(hand_on_box(), "seller")->at);
}

TEST_CASE("a hand follows what it touches wherever that is moved within reach") {
    const Document start = all_settled(hand_on_box());
    Random random(11);
    for (int i = 0; i < 40; ++i) {
        const double x = random.uniform(-150, 150), y = random.uniform(-100, 100),
                     z = random.uniform(-150, 150);
        const Document moved = settled_after(start, "cup", [&](Piece& cup) {
            cup.at = {reach_x + x, reach_y + y, reach_z + z, random.uniform(0, 360), 0, 0};
        });
        CHECK(touches_of(moved).front().off_mm() < 0.5);
        check_ranges(moved);
        // From the pose again, not from where the hand was: the way there does not matter.
        CHECK(form_of(all_settled(moved), "seller").solved == form_of(moved, "seller").solved);
    }
}

TEST_CASE("what moves together, or has nothing to do with it, changes no joint") {
    const Document start = all_settled(hand_on_box());
    Document both = changed(start, "cup", [](Piece& cup) { cup.at.x = cup.at.x.mm + 500; });
    both = changed(both, "seller", [](Piece& seller) { seller.at.x = seller.at.x.mm + 500; });
    const auto steps = settle(start, both, file, no_files);
    REQUIRE(steps.ok());
    CHECK(steps->empty());
    // A file in which the hand is off stays as it was written.
    const Document broken =
        with_piece(changed(start, "seller",
                           [](Piece& p) { std::get<FigureForm>(p.parts[0].form).solved.clear(); }),
                   box_piece("crate", 2000, 0, 0, 100, 100, 100));
    CHECK(touches_of(broken).front().off_mm() > 5);
    const Document elsewhere = changed(broken, "crate", [](Piece& crate) { crate.at.x = 2100; });
    const auto none = settle(broken, elsewhere, file, no_files);
    REQUIRE(none.ok());
    CHECK(none->empty());
}

TEST_CASE("a hand that cannot reach comes as near as it can and keeps its ranges") {
    const Document start = all_settled(hand_on_box());
    const Document far =
        settled_after(start, "cup", [](Piece& cup) { cup.at = {-1500, -2000, 1000, 0, 0, 0}; });
    const double off = touches_of(far).front().off_mm();
    CHECK(off > 500);
    CHECK(std::isfinite(off));
    check_ranges(far);
    // Coming nearer along the same line leaves no less.
    const Document nearer =
        settled_after(start, "cup", [](Piece& cup) { cup.at = {-1200, -1600, 1040, 0, 0, 0}; });
    CHECK(touches_of(nearer).front().off_mm() < off - 300);
}

TEST_CASE("a palm lies flat against the side it touches") {
    Document document = with_piece(bare_scene(), figure_piece("guest", 0, 0, 0, "standing-easy"));
    document = with_piece(document, box_piece("counter", -250, -400, 0, 400, 300, 1000));
    document = changed(document, "guest", [](Piece& piece) {
        Touch made = touch("right palm", "counter", {0, 0, 1000});
        made.how = TouchHow::leans_on;
        made.side = PieceSide::top;
        piece.touches = {made};
    });
    document = all_settled(document);
    const TouchPlace place = touches_of(document).front();
    CHECK(place.off_mm() < 0.5);
    CHECK(place.off_deg() < 1);
    CHECK(place.found_normal->z < -0.999);
}

TEST_CASE("letting go brings the arm back to its pose") {
    const Document start = all_settled(hand_on_box());
    REQUIRE_FALSE(form_of(start, "seller").solved.empty());
    const Document free =
        settled_after(start, "seller", [](Piece& seller) { seller.touches.clear(); });
    CHECK(form_of(free, "seller").solved.empty());
}

TEST_CASE("two who look at each other meet eyes, and still do when one goes elsewhere") {
    Document document =
        with_piece(bare_scene(), figure_piece("left", -600, 0, 270, "standing-easy"));
    document = with_piece(document, figure_piece("right", 600, 100, 90, "standing-easy"));
    document = changed(document, "left", [](Piece& p) {
        p.looks_at = at_piece("right");
        std::get<FigureForm>(p.parts[0].form).skeleton = "child";
    });
    document = changed(document, "right", [](Piece& p) { p.looks_at = at_piece("left"); });
    document = all_settled(document);
    REQUIRE(looks_of(document).size() == 2);
    for (const LookPlace& look : looks_of(document))
        CHECK(look.off_deg() < 0.6);
    check_ranges(document);
    const Document moved =
        settled_after(document, "left", [](Piece& p) { p.at = {-700, -500, 0, 270, 0, 0}; });
    for (const LookPlace& look : looks_of(moved))
        CHECK(look.off_deg() < 0.6);
    CHECK_FALSE(form_of(moved, "right").solved == form_of(document, "right").solved);
}

TEST_CASE("the neck and the head turn before the chest does") {
    Document document = with_piece(bare_scene(), figure_piece("one", 0, 0, 0, "standing-easy"));
    document = with_piece(document, box_piece("boat", -1000, -2000, 1500, 100, 100, 100));
    document = changed(document, "one", [](Piece& p) { p.looks_at = at_piece("boat"); });
    document = all_settled(document);
    double head = 0, trunk = 0;
    for (const JointTurn& turn : form_of(document, "one").solved) {
        if (turn.axis != "turn") continue;
        (turn.joint == "neck" || turn.joint == "head" ? head : trunk) += turn.angle.deg;
    }
    CHECK(looks_of(document).front().off_deg() < 0.6);
    CHECK(std::abs(head) > 2 * std::abs(trunk));
}

TEST_CASE("a look may be at a visitor on the path") {
    Document document = with_piece(bare_scene(), figure_piece("one", 0, 0, 0, "standing-easy"));
    document = changed(document, "one", [](Piece& p) {
        Gaze gaze;
        gaze.visitor = "standing";
        gaze.way = 700;
        p.looks_at = gaze;
    });
    document = all_settled(document);
    const LookPlace look = looks_of(document).front();
    CHECK(glm::length(look.wanted - glm::dvec3(-300, -1500, 1600)) < 1e-9);
    CHECK(look.off_deg() < 0.6);
}

TEST_CASE("two hands that meet come half way each and stay together") {
    Document document =
        with_piece(bare_scene(), figure_piece("left", -420, 0, 270, "standing-easy"));
    document = with_piece(document, figure_piece("right", 420, 0, 90, "standing-easy"));
    const auto shakes = [](const std::string& other) {
        Touch made = touch("right palm", other, {});
        made.meets = "right palm";
        return made;
    };
    document = changed(document, "left", [&](Piece& p) { p.touches = {shakes("right")}; });
    document = changed(document, "right", [&](Piece& p) { p.touches = {shakes("left")}; });
    document = all_settled(document);
    for (const double x : {-420.0, -500.0, -380.0}) {
        const Document moved = settled_after(document, "left", [&](Piece& p) { p.at.x = x; });
        const auto touches = touches_of(moved);
        REQUIRE(touches.size() == 2);
        CHECK(glm::length(touches[0].found - touches[1].found) < 1);
        check_ranges(moved);
    }
}

TEST_CASE("a sitter goes along with the bench, and takes another place when moved alone") {
    Document document =
        with_piece(bare_scene(), figure_piece("sitter", 0, 0, 0, "sitting-at-ease"));
    document = with_piece(document, box_piece("bench", 0, 40, 0, 1200, 400, 430));
    document = changed(document, "sitter", [](Piece& p) {
        Touch made = touch("seat", "bench", {0, 0, 430});
        made.how = TouchHow::sits_on;
        p.touches = {made};
    });
    document = all_settled(document);
    CHECK(touches_of(document).front().off_mm() < 0.1);
    const Pose6 at = find_piece(document, "sitter")->at;
    const Document moved =
        settled_after(document, "bench", [](Piece& bench) { bench.at = {250, 40, 30, 0, 0, 0}; });
    CHECK(touches_of(moved).front().off_mm() < 0.1);
    CHECK(find_piece(moved, "sitter")->at.x.mm == doctest::Approx(at.x.mm + 250).epsilon(1e-4));
    CHECK(find_piece(moved, "sitter")->at.z.mm == doctest::Approx(at.z.mm + 30).epsilon(1e-4));
    const Document along =
        settled_after(document, "sitter", [&](Piece& p) { p.at.x = at.x.mm + 300; });
    CHECK(find_piece(along, "sitter")->at.x.mm == at.x.mm + 300);
    CHECK(find_piece(along, "sitter")->touches.front().at.x.mm ==
          doctest::Approx(300).epsilon(1e-3));
    CHECK(touches_of(along).front().off_mm() < 0.1);
}

TEST_CASE("a foot on a step leaves the pelvis where it is") {
    Document document = with_piece(bare_scene(), figure_piece("climber", 0, 0, 0, ""));
    document = with_piece(document, box_piece("step", -100, -250, 0, 300, 280, 170));
    const auto pelvis = [](const Document& d) {
        const auto figures = figures_of(d);
        return to_outer(figures[0]->form, figures[0]->posed.segments[0].origin);
    };
    const glm::dvec3 before = pelvis(document);
    document = changed(document, "climber", [](Piece& p) {
        Touch made = touch("right sole", "step", {0, 0, 170});
        made.how = TouchHow::stands_on;
        p.touches = {made, touch("left sole", "step", {190, 250, 0})};
        p.touches.back().how = TouchHow::stands_on;
    });
    document = all_settled(document);
    CHECK(glm::length(pelvis(document) - before) < 0.1);
    for (const TouchPlace& place : touches_of(document))
        CHECK(place.off_mm() < 0.5);
    check_ranges(document);
}

TEST_CASE("a contact the skeleton lacks is an error with its place and the nearest name") {
    const Document document = changed(hand_on_box(), "seller",
                                      [](Piece& p) { p.touches.front().contact = "right plam"; });
    const auto figures = placed_figures(document, file, no_files);
    REQUIRE_FALSE(figures.ok());
    CHECK(figures.error().where == "scene.json (/pieces/0/touches)");
    CHECK(figures.error().message.find("\"right palm\"") != std::string::npos);
}
