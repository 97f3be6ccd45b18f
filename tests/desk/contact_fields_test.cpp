// What figures touch and look at, set by hand: each edit is one step that turns the joints, and
// renaming, deleting and copying keep what refers to what.
#include <doctest/doctest.h>

#include <glm/geometric.hpp>

#include "desk/arrange.h"
#include "desk/contact_fields.h"
#include "desk/desk.h"
#include "desk/figure_fields.h"
#include "desk/piece_fields.h"
#include "desk/scene_fields.h"
#include "scene/json.h"
#include "support/scenes.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

constexpr const char* file = "stall.scene.json";

Piece named_figure(const std::string& id, const std::string& name, double x, double y,
                   double facing) {
    Piece piece = figure_piece(id, x, y, facing, "standing-easy");
    piece.name = name;
    piece.ratio = 14;
    std::get<FigureForm>(piece.parts[0].form).stature = 122;
    return piece;
}

// The seller faces the visitor with a cup before the right hand; a guest comes from the right.
Document stall() {
    Document document = with_piece(bare_scene(), named_figure("seller", "Tea seller", 0, 0, 0));
    document = with_piece(document, named_figure("guest", "Guest", 800, -300, 90));
    Piece cup = box_piece("cup", -250, -330, 1150, 60, 60, 80);
    cup.name = "Cup";
    return with_piece(document, cup);
}

struct Sitting {
    MemoryFiles files;
    Desk desk;

    Sitting() : desk(opened()) {}
    static Desk opened() {
        MemoryFiles disk;
        disk.files[file] = write_document(stall());
        auto made = open_desk(file, disk);
        REQUIRE(made.ok());
        return std::move(*made);
    }
    const Document& now() const { return desk.history.now(); }
    const Piece& piece(const std::string& id) const {
        const Piece* found = find_piece(now(), id);
        REQUIRE(found);
        return *found;
    }
    const FigureForm& form(const std::string& id) const { return *figure_form(piece(id)); }
    void perform(const Result<Edit>& edit) {
        CAPTURE((edit.ok() ? "" : one_line(edit.error())));
        REQUIRE(edit.ok());
        const std::size_t before = desk.history.steps();
        const Status done = standpoint::perform(desk, *edit, files);
        CAPTURE((done.ok() ? "" : one_line(done.error())));
        REQUIRE(done.ok());
        CHECK(desk.history.steps() == before + 1);
    }
    ContactRows rows(const std::string& id) const {
        const auto made = contact_rows(now(), id, file, files);
        REQUIRE(made.ok());
        return *made;
    }
    void touch(const std::string& contact, const std::string& other) {
        perform(add_touch(now(), *desk.shown, "seller", contact, other, file, files));
    }
    void look(const std::string& id, const std::string& other) {
        Gaze gaze;
        gaze.piece = other;
        perform(set_look(now(), id, gaze));
    }
};

} // namespace

TEST_CASE("a hand put on a thing reaches it where it is nearest, and follows it in one step") {
    Sitting at;
    at.touch("right palm", "cup");
    const Touch touch = at.piece("seller").touches.front();
    CHECK(touch.how == TouchHow::holds);
    REQUIRE(touch.side);
    // On the surface of the box, which is 60 x 60 x 80.
    const double off = std::max({std::abs(touch.at.x.mm) - 30, std::abs(touch.at.y.mm) - 30,
                                 std::abs(touch.at.z.mm - 40) - 40});
    CHECK(std::abs(off) < 0.011);
    REQUIRE(at.rows("seller").touches.size() == 1);
    CHECK(at.rows("seller").touches.front().kept());
    CHECK(at.rows("seller").touches.front().piece == "Cup");
    const std::vector<JointTurn> before = at.form("seller").solved;
    REQUIRE_FALSE(before.empty());
    Pose6 place = at.piece("cup").at;
    place.x = place.x.mm + 120;
    at.perform(Edit("move", MovePiece{"cup", place}));
    CHECK_FALSE(at.form("seller").solved == before);
    CHECK(at.rows("seller").touches.front().kept());
    REQUIRE(undo(at.desk, at.files).ok());
    CHECK(at.form("seller").solved == before);
}

TEST_CASE("when a drag rests the hand has followed, when it is let go it is kept, in one step") {
    Sitting at;
    at.touch("right palm", "cup");
    const std::string before = write_document(at.now());
    begin_drag(at.desk, "move");
    Pose6 place = at.piece("cup").at;
    place.y = -430;
    const Edit move("move", MovePiece{"cup", place});
    REQUIRE(update_drag(at.desk, move, at.files).ok());
    CHECK_FALSE(at.rows("seller").touches.front().kept());
    const std::size_t steps = at.desk.history.steps();
    REQUIRE(commit_drag(at.desk, at.files));
    CHECK(at.rows("seller").touches.front().kept());
    CHECK(at.desk.history.steps() == steps + 1);
    REQUIRE(undo(at.desk, at.files).ok());
    CHECK(write_document(at.now()) == before);
    // Nobody turns for what nobody touches: nothing is shown anew.
    begin_drag(at.desk, "move");
    const Edit aside("move", MovePiece{"guest", {900, -300, 0, 90, 0, 0}});
    REQUIRE(update_drag(at.desk, aside, at.files).ok());
    const std::uint64_t shown = at.desk.revision;
    REQUIRE(rest_drag(at.desk, at.files).ok());
    CHECK(at.desk.revision == shown);
    CHECK(commit_drag(at.desk, at.files));
}

TEST_CASE("cancelling a drag brings the hand back") {
    Sitting at;
    at.touch("right palm", "cup");
    const std::string before = write_document(at.now());
    begin_drag(at.desk, "move");
    Pose6 place = at.piece("cup").at;
    for (int i = 1; i <= 10; ++i) {
        place.y = -330.0 - 10 * i;
        REQUIRE(update_drag(at.desk, Edit("move", MovePiece{"cup", place}), at.files).ok());
        REQUIRE(rest_drag(at.desk, at.files).ok());
        CHECK(at.rows("seller").touches.front().kept());
    }
    cancel_drag(at.desk, at.files);
    CHECK(write_document(at.now()) == before);
}

TEST_CASE("what is held takes the figure's ratio, unless it has its own") {
    for (const bool own : {false, true}) {
        Sitting at;
        Piece cup = at.piece("cup");
        cup.ratio = own ? std::optional<Ratio>(Ratio(3)) : std::nullopt;
        at.perform(Edit("cup", ReplacePiece{"cup", std::make_shared<const Piece>(cup)}));
        at.touch("right palm", "cup");
        CHECK(ratio_of(at.now(), at.piece("cup")) == (own ? 3 : 14));
    }
}

TEST_CASE("palms of two figures meet, and both turn when one is moved") {
    Sitting at;
    at.touch("right palm", "guest");
    CHECK(at.piece("seller").touches.front().meets == "right palm");
    CHECK(at.rows("seller").touches.front().at == "its right palm");
}

TEST_CASE("eye to eye, and who is watched by whom") {
    Sitting at;
    at.look("seller", "guest");
    CHECK(at.rows("seller").look->at == "Guest, the eyes");
    at.look("guest", "seller");
    CHECK(at.rows("seller").look->at == "Guest, eye to eye");
    CHECK(at.rows("guest").look->kept());
    CHECK(at.rows("guest").watched_by == std::vector<std::string>{"Tea seller"});
    at.perform(set_look(at.now(), "guest", std::nullopt));
    CHECK_FALSE(at.rows("guest").look);
    CHECK(at.form("guest").solved.empty());
}

TEST_CASE("renaming what is touched and watched keeps both") {
    Sitting at;
    at.touch("right palm", "cup");
    at.look("seller", "cup");
    const std::vector<JointTurn> before = at.form("seller").solved;
    at.perform(set_id(at.now(), "cup", "beaker"));
    CHECK(at.piece("seller").touches.front().piece == "beaker");
    CHECK(at.piece("seller").looks_at->piece == "beaker");
    CHECK(at.form("seller").solved == before);
}

TEST_CASE("deleting what is touched and watched lets go of it, and undo takes hold again") {
    Sitting at;
    at.touch("right palm", "cup");
    at.look("seller", "cup");
    const std::string before = write_document(at.now());
    at.perform(remove_pieces(at.now(), {"cup"}));
    CHECK(at.piece("seller").touches.empty());
    CHECK_FALSE(at.piece("seller").looks_at);
    CHECK(at.form("seller").solved.empty());
    REQUIRE(undo(at.desk, at.files).ok());
    CHECK(write_document(at.now()) == before);
}

TEST_CASE("a copy of both holds the copy, a copy of the figure alone the thing itself") {
    for (const bool both : {true, false}) {
        Sitting at;
        at.touch("right palm", "cup");
        const Ids ids = both ? Ids{"seller", "cup"} : Ids{"seller"};
        const auto copied = copy(at.now(), ids, {500, 0, 0});
        REQUIRE(copied.ok());
        at.perform(copied->edit);
        const Piece& copy = at.piece(copied->ids.front());
        CHECK(copy.touches.front().piece == (both ? copied->ids.back() : "cup"));
    }
}

TEST_CASE("taking away a visitor takes away the looks at it") {
    Sitting at;
    Gaze gaze;
    gaze.visitor = "standing";
    gaze.way = 1500;
    at.perform(set_look(at.now(), "seller", gaze));
    CHECK(at.rows("seller").look->at == "standing visitor at 1500 mm");
    at.perform(remove_visitor(at.now(), 0));
    CHECK_FALSE(at.piece("seller").looks_at);
}

TEST_CASE("another body keeps the touches it has contacts for") {
    Sitting at;
    at.touch("right palm", "cup");
    for (const auto& skeleton : built_in_skeletons()) {
        if (skeleton->name != "child" && skeleton->name != "dog") continue;
        Sitting other;
        other.touch("right palm", "cup");
        other.perform(set_skeleton(other.now(), "seller", *skeleton));
        CHECK(other.piece("seller").touches.size() == (skeleton->name == "child" ? 1U : 0U));
    }
}

TEST_CASE("what cannot be touched is refused in words") {
    Sitting at;
    const auto refused = [&](const std::string& id, const std::string& contact,
                             const std::string& other) {
        return !add_touch(at.now(), *at.desk.shown, id, contact, other, file, at.files).ok();
    };
    CHECK(refused("seller", "right palm", "nobody"));
    CHECK(refused("seller", "third hand", "cup"));
    CHECK(refused("cup", "right palm", "seller"));
    at.perform(switch_off(at.now(), {"cup"}, Off::views));
    CHECK(refused("seller", "right palm", "cup"));
    CHECK_FALSE(remove_touch(at.now(), "seller", 0).ok());
    CHECK_FALSE(set_touch(at.now(), "seller", 3, Touch{}).ok());
}
