// What must be seen or hidden, as it is set by hand.
#include <doctest/doctest.h>

#include "desk/arranged.h"
#include "desk/desk.h"
#include "desk/figure_fields.h"
#include "desk/target_fields.h"
#include "figure/figures.h"
#include "measure/angle.h"
#include "shape/surface.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

Piece figure(const std::string& id, const std::string& skeleton) {
    Piece piece;
    piece.id = id;
    piece.name = "the " + id;
    piece.kind = PieceKind::figure;
    FigureForm form;
    form.skeleton = skeleton;
    Part part;
    part.form = form;
    piece.parts = {part};
    piece.at = {1000, 1000, 0, 30, 0, 0};
    return piece;
}

Document a_scene() {
    Document document = with_piece(bare_scene(), figure("seller", "woman"));
    document = with_piece(document, figure("dog", "dog"));
    return with_piece(document, box_piece("crate", 600, 2600, 0, 500, 500, 400));
}

Staging staged(const Document& document) {
    Result<Staging> staging = stage(document, "scene.json", MemoryFiles(), StagedFor::views);
    REQUIRE(staging.ok());
    return std::move(*staging);
}

Document asked(const Document& document, const std::string& piece, Aim aim) {
    return done(document, add_target(document, staged(document), piece, aim, "scene.json",
                                      MemoryFiles()));
}

} // namespace

TEST_CASE("of a figure its face is asked for, of anything else the whole, and what can be is") {
    Document document = a_scene();
    for (const char* piece : {"seller", "crate", "dog"}) {
        document = asked(document, piece, Aim::see);
        document = asked(document, piece, Aim::hide);
        document = asked(document, piece, Aim::see); // a second time under another id
    }
    REQUIRE(document.targets->size() == 9);
    const Target* face = find_target(document, "seller-face");
    REQUIRE(face);
    CHECK(face->patch.parts == std::vector<std::string>{"face"});
    CHECK(face->facing == Angle(0)); // the neutral stance looks to its own front
    CHECK(face->name == "the face of the seller");
    CHECK(find_target(document, "seller")->patch.parts.empty());
    CHECK(find_target(document, "seller")->aim == Aim::hide);
    CHECK(find_target(document, "crate")->aim == Aim::see);
    CHECK(targets_of(document, "crate").size() == 3);
    // Whatever is asked for has a surface that a check can look at.
    const Staging staging = staged(document);
    for (const auto& target : *document.targets) {
        CAPTURE(target->id);
        const auto surface = patch_surface(*find_staged(staging, target->piece), target->patch);
        REQUIRE(surface.ok());
        CHECK_FALSE(surface->empty());
    }
}

TEST_CASE("a face faces where the figure looks, whichever way its part is turned") {
    for (const double turned : {0.0, 90.0, 215.0, 350.0}) {
        Piece piece = figure("seller", "man");
        piece.parts[0].at.facing = turned;
        auto facing = gaze_facing(piece, "scene.json", MemoryFiles());
        REQUIRE(facing.ok());
        CHECK(*facing == turned);
        // 20 degrees of the neck to its own left is anticlockwise seen from above.
        auto& form = std::get<FigureForm>(piece.parts[0].form);
        const auto skeleton = find_skeleton("man", "scene.json", MemoryFiles());
        REQUIRE(skeleton.ok());
        bool found = false;
        for (const Joint& joint : (*skeleton)->joints) {
            for (const JointAxis& axis : joint.axes) {
                if (axis.about != glm::dvec3(0, 0, 1) && axis.about != glm::dvec3(0, 0, -1)) continue;
                if (joint.name != "neck") continue;
                found = true;
                form = with_turn(form, **skeleton, joint.name, axis.name, 20);
                facing = gaze_facing(piece, "scene.json", MemoryFiles());
                REQUIRE(facing.ok());
                const double sign = axis.about.z > 0 ? -1 : 1;
                CHECK(**facing == normalise_facing(turned + sign * 20));
            }
        }
        CHECK(found);
    }
    auto none = gaze_facing(box_piece("crate", 0, 0, 0, 1, 1, 1), "", MemoryFiles());
    REQUIRE(none.ok());
    CHECK_FALSE(none->has_value());
}

TEST_CASE("each field of a target is one step, and no other target changes") {
    Document document = asked(asked(a_scene(), "crate", Aim::see), "seller", Aim::see);
    const Target before = *find_target(document, "crate");
    document = done(document, set_target_name(document, "crate", "what it holds"));
    document = done(document, set_target_aim(document, "crate", Aim::hide));
    document = done(document, set_target_part(document, "crate", "body"));
    document = done(document, set_target_facing(document, "crate", Angle(90)));
    document = done(document, set_target_share(document, "crate", Number(0.5)));
    document = done(document, set_target_detail(document, "crate", Length(3)));
    const Target& now = *find_target(document, "crate");
    CHECK(now.name == "what it holds");
    CHECK(now.aim == Aim::hide);
    CHECK(now.patch.parts == std::vector<std::string>{"body"});
    CHECK(now.facing == Angle(90));
    CHECK(now.seen_share == Number(0.5));
    CHECK(now.smallest_detail == Length(3));
    document = done(document, set_target_name(document, "crate", before.name));
    document = done(document, set_target_aim(document, "crate", Aim::see));
    document = done(document, set_target_part(document, "crate", ""));
    document = done(document, set_target_facing(document, "crate", std::nullopt));
    document = done(document, set_target_share(document, "crate", std::nullopt));
    document = done(document, set_target_detail(document, "crate", std::nullopt));
    CHECK(*find_target(document, "crate") == before);
    CHECK(set_target_aim(document, "crate", Aim::see)->steps.empty());
    document = done(document, remove_target(document, "crate"));
    CHECK(find_target(document, "crate") == nullptr);
    CHECK(find_target(document, "seller-face") != nullptr);
}

TEST_CASE("a face target faces where its figure looks after each edit, and one set by hand stays") {
    Document document = asked(a_scene(), "seller", Aim::see);
    document = done(document, add_target(document, staged(document), "seller", Aim::see,
                                         "scene.json", MemoryFiles()));
    document = done(document, set_target_facing(document, "seller-face-2", Angle(123)));
    const auto skeleton = find_skeleton("woman", "scene.json", MemoryFiles());
    REQUIRE(skeleton.ok());
    Desk desk = *new_desk(MemoryFiles());
    desk.history = History(document);
    const auto turned = [&](double degrees) {
        const auto& form =
            std::get<FigureForm>(find_piece(desk.history.now(), "seller")->parts[0].form);
        for (const Joint& joint : (*skeleton)->joints)
            for (const JointAxis& axis : joint.axes)
                if (joint.name == "neck" && axis.about.x == 0 && axis.about.y == 0)
                    return *set_joint(desk.history.now(), "seller", **skeleton, joint.name,
                                      axis.name, degrees);
        FAIL("no axis turns the head, form " << form.skeleton);
        return Edit();
    };
    const auto facing = [&](const char* id) {
        return find_target(desk.history.now(), id)->facing->deg;
    };
    const auto looks = [&] {
        return **gaze_facing(*find_piece(desk.history.now(), "seller"), "scene.json",
                             MemoryFiles());
    };
    REQUIRE(perform(desk, turned(20), MemoryFiles()).ok());
    CHECK(looks() != 0);
    CHECK(facing("seller-face") == looks());
    CHECK(facing("seller-face-2") == 123);
    CHECK(desk.history.steps() == 1); // the edit and what follows from it are one step
    begin_drag(desk, "turn the head");
    for (const double degrees : {10.0, -5.0, -25.0}) {
        REQUIRE(update_drag(desk, turned(degrees), MemoryFiles()).ok());
        CHECK(facing("seller-face") == looks());
    }
    commit_drag(desk, MemoryFiles());
    REQUIRE(undo(desk, MemoryFiles()).ok());
    CHECK(facing("seller-face") == looks());
    REQUIRE(undo(desk, MemoryFiles()).ok());
    CHECK(same_content(desk.history.now(), document));
}

TEST_CASE("what cannot be asked for is refused") {
    const Document document = asked(a_scene(), "crate", Aim::see);
    const auto refused = [&](const Result<Edit>& edit) {
        return !edit.ok() || !apply(document, *edit).ok();
    };
    CHECK(refused(add_target(document, staged(document), "nobody", Aim::see, "", MemoryFiles())));
    CHECK(refused(remove_target(document, "nobody")));
    CHECK(refused(set_target_part(document, "crate", "lid")));
    CHECK_FALSE(refused(set_target_part(document, "crate", "body")));
    CHECK(refused(set_target_share(document, "crate", Number(1.01))));
    CHECK_FALSE(refused(set_target_share(document, "crate", Number(1))));
    CHECK(refused(set_target_detail(document, "crate", Length(0))));
    CHECK_FALSE(refused(set_target_detail(document, "crate", Length(0.1))));
}
