// Moving and turning: the scene places are what was asked, whoever carries whom.
#include <doctest/doctest.h>

#include "desk/arranged.h"
#include "desk/move.h"
#include "desk/piece_fields.h"
#include "measure/steps.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

constexpr double exact_mm = 1e-6;

glm::dvec3 random_way(Random& random) {
    return {random.uniform(-900, 900), random.uniform(-900, 900), random.uniform(-300, 300)};
}

bool on_step(double value, double step) {
    return from_steps(steps_of(value, step), step) == value;
}

} // namespace

TEST_CASE(
    "a move is exact in the scene for every piece and what it carries, and for nothing else") {
    Random random(11);
    for (int round = 0; round < 60; ++round) {
        const Document before = random_boxes(random, 9, round % 2 == 0);
        const Ids ids = random_ids(random, before, 4);
        const glm::dvec3 by = random_way(random);
        const Document after = done(before, move_by(before, ids, by, Rounding::exact));
        const auto moving = with_carried(before, ids);
        for (const auto& piece : *before.pieces) {
            Frame wanted = frame_of(before, piece->id);
            if (moving.contains(piece->id)) wanted.origin += by;
            CHECK(apart(wanted, frame_of(after, piece->id)) < exact_mm);
        }
    }
}

TEST_CASE("turning together keeps the pieces as one body; the other way round brings them back") {
    Random random(12);
    for (int round = 0; round < 60; ++round) {
        const Document before = random_boxes(random, 9, round % 2 == 0);
        const Ids ids = random_ids(random, before, 4);
        const glm::dvec3 pivot = random_way(random);
        const double deg = random.uniform(-400, 400);
        const Document after =
            done(before, turn_about(before, ids, pivot, deg, TurnAbout::together, Rounding::exact));
        const auto turning = with_carried(before, ids);
        Frame turn{rotation_of(deg, 0, 0), {0, 0, 0}};
        for (const auto& piece : *before.pieces) {
            Frame wanted = frame_of(before, piece->id);
            if (turning.contains(piece->id)) {
                wanted.origin -= pivot;
                wanted = compose(turn, wanted);
                wanted.origin += pivot;
            }
            CHECK(apart(wanted, frame_of(after, piece->id)) < exact_mm);
        }
        const Document back =
            done(after, turn_about(after, ids, pivot, -deg, TurnAbout::together, Rounding::exact));
        for (const auto& piece : *before.pieces)
            CHECK(apart(frame_of(before, piece->id), frame_of(back, piece->id)) < exact_mm);
    }
}

TEST_CASE("a quarter turn clockwise carries what is at the back to the right") {
    const Document before = with_piece(bare_scene(), box_piece("a", 0, 100, 0, 10, 10, 10));
    const Document after = done(before, turn_about(before, {"a"}, {0, 0, 0}, 90));
    const Piece& piece = *find_piece(after, "a");
    CHECK(piece.at.x.mm == doctest::Approx(100));
    CHECK(piece.at.y.mm == doctest::Approx(0));
    CHECK(piece.at.facing.deg == doctest::Approx(90));
}

TEST_CASE("each about itself leaves the origins where they are") {
    Random random(13);
    for (int round = 0; round < 30; ++round) {
        const Document before = random_boxes(random, 6, true);
        const Ids ids = random_ids(random, before, 3);
        const Document after = done(
            before, turn_about(before, ids, {1e4, 0, 0}, 33, TurnAbout::each, Rounding::exact));
        for (const std::string& id : roots_of(before, ids)) {
            const Frame was = frame_of(before, id);
            const Frame wanted{rotation_of(33, 0, 0) * was.rotation, was.origin};
            CHECK(apart(wanted, frame_of(after, id)) < exact_mm);
        }
    }
}

TEST_CASE("a tidy move changes numbers to a tenth and stays within a tenth of what was asked") {
    Random random(14);
    for (int round = 0; round < 60; ++round) {
        const Document before = random_boxes(random, 6, round % 2 == 0);
        const std::string id = random_ids(random, before, 1).front();
        const glm::dvec3 by = random_way(random);
        const Document after = done(before, move_by(before, {id}, by));
        const Pose6& at = find_piece(after, id)->at;
        for (const double mm : {at.x.mm, at.y.mm, at.z.mm})
            CHECK(on_step(mm, tidy_mm));
        const glm::dvec3 wanted = frame_of(before, id).origin + by;
        CHECK(glm::distance(wanted, frame_of(after, id).origin) <= 0.0867);
    }
}

TEST_CASE("numbers that do not change keep their text") {
    Piece piece = box_piece("a", 0, 0, 0, 10, 10, 10);
    piece.at.x = 1600.2;
    piece.at.x.as_read = "\"63 in\"";
    piece.at.facing = 400; // not as turns would be written
    piece.at.facing.as_read = "400";
    const Document before = with_piece(bare_scene(), piece);
    const Document after = done(before, move_by(before, {"a"}, {0, 12, 0}));
    CHECK(find_piece(after, "a")->at.x.as_read == "\"63 in\"");
    CHECK(find_piece(after, "a")->at.facing.as_read == "400");
    CHECK(find_piece(after, "a")->at.y.mm == 12);
    const auto nothing = move_by(before, {"a"}, {0, 0, 0});
    REQUIRE(nothing.ok());
    CHECK(nothing->steps.empty());
}

TEST_CASE("a locked piece and an unknown one refuse, by name") {
    Piece piece = box_piece("a", 0, 0, 0, 10, 10, 10);
    piece.name = "Tea stall";
    piece.locked = true;
    const Document document = with_piece(bare_scene(), piece);
    const auto moved = move_by(document, {"a"}, {1, 0, 0});
    REQUIRE_FALSE(moved.ok());
    CHECK(moved.error().message.find("Tea stall") != std::string::npos);
    CHECK(moved.error().message.find("locked") != std::string::npos);
    CHECK_FALSE(move_by(document, {"b"}, {1, 0, 0}).ok());
    CHECK_FALSE(move_by(document, {}, {1, 0, 0}).ok());
    CHECK_FALSE(set_place(document, "a", PlaceLength::x, 1).ok());
    CHECK_FALSE(turn_about(document, {"a"}, {0, 0, 0}, 5).ok());
    CHECK_FALSE(set_ratio(document, {"a"}, Ratio(2)).ok());
}

TEST_CASE("labels name one piece and count several, and a rise of nothing is no fall") {
    Document document = with_piece(bare_scene(), box_piece("a", 0, 0, 0, 10, 10, 10));
    document = with_piece(document, box_piece("b", 50, 0, 0, 10, 10, 10));
    CHECK(move_by(document, {"a"}, {1, 0, 0})->label == "Move a");
    CHECK(set_place(document, "a", PlaceLength::x, Length(7))->label == "Move a");
    CHECK(set_place(document, "a", PlaceAngle::facing, Angle(7))->label == "Turn a");
    CHECK(move_by(document, {"a", "b", "a"}, {1, 0, 0})->label == "Move 2 pieces");
    CHECK(raise_by(document, {"b"}, 10)->label == "Raise b");
    CHECK(raise_by(document, {"b"}, -10)->label == "Lower b");
    const Document after = done(document, raise_by(document, {"a", "b"}, 10));
    CHECK(find_piece(after, "a")->at.z.mm == 10);
    CHECK(find_piece(after, "b")->at.z.mm == 10);
}

TEST_CASE("a field set keeps the text typed") {
    const Document before = with_piece(bare_scene(), box_piece("a", 1, 2, 3, 10, 10, 10));
    Length typed = 1600;
    typed.as_read = "\"1.6 m\"";
    const Document after = done(before, set_place(before, "a", PlaceLength::y, typed));
    CHECK(find_piece(after, "a")->at.y.as_read == "\"1.6 m\"");
    CHECK(find_piece(after, "a")->at.x.mm == 1);
    const Document turned = done(after, set_place(after, "a", PlaceAngle::roll, 7.5));
    CHECK(find_piece(turned, "a")->at.roll.deg == 7.5);
}

TEST_CASE("an id changes together with everything that speaks of it") {
    Random random(15);
    for (int round = 0; round < 30; ++round) {
        Document before = random_boxes(random, 8, true);
        Target target;
        target.id = "sight";
        target.piece = random_ids(random, before, 1).front();
        before = with_target(before, target);
        const std::string id = target.piece;
        const Document after = done(before, set_id(before, id, "renamed"));
        CHECK(find_piece(after, id) == nullptr);
        CHECK(find_target(after, "sight")->piece == "renamed");
        for (std::size_t i = 0; i < before.pieces->size(); ++i)
            CHECK(apart(placements(before)[i].frame, placements(after)[i].frame) == 0);
        CHECK(same_content(done(after, set_id(after, "renamed", id)), before));
        CHECK_FALSE(set_id(before, id, "section-a").ok());
    }
}

TEST_CASE("fields of several pieces change in one step, and bad values are refused") {
    Document before = with_piece(bare_scene(), box_piece("a", 0, 0, 0, 10, 10, 10));
    before = with_piece(before, box_piece("b", 50, 0, 0, 10, 10, 10));
    const Document coloured = done(before, set_colour(before, {"a", "b"}, "#336699"));
    CHECK(find_piece(coloured, "b")->parts[0].colour == "#336699");
    CHECK_FALSE(apply(before, *set_colour(before, {"a"}, "blue")).ok());
    CHECK_FALSE(set_colour(before, {"a"}, "#336699", 1).ok());
    const Document clear = done(before, set_lets_through(before, {"a"}, Number(0.5), 0));
    CHECK(find_piece(clear, "a")->parts[0].lets_through->value == 0.5);
    CHECK(find_piece(clear, "b")->parts[0].lets_through == std::nullopt);
    CHECK_FALSE(apply(before, *set_gloss(before, {"a"}, Number(1.5))).ok());
    const Document kind = done(before, set_kind(before, {"a"}, PieceKind::lamp));
    CHECK(find_piece(kind, "a")->kind == PieceKind::lamp);
    const Document named = done(kind, set_name(kind, "a", "Lamp"));
    CHECK(find_piece(done(named, set_note(named, "a", "wants oil")), "a")->note == "wants oil");
    CHECK(find_piece(done(named, set_ratio(named, {"a"}, std::nullopt)), "a")->ratio ==
          std::nullopt);
    const Document grouped = done(before, set_group(before, {"a", "b"}, "stall"));
    CHECK(find_piece(grouped, "a")->group == "stall");
    CHECK(find_piece(grouped, "b")->group == "stall");
    const Document alone = done(grouped, set_group(grouped, {"a"}, ""));
    CHECK(find_piece(alone, "a")->group.empty());
    CHECK(find_piece(alone, "b")->group == "stall");
}

TEST_CASE("a ratio from sizes is built over original, within the limits") {
    CHECK(ratio_from_sizes(150, 1800)->value == 12);
    CHECK(ratio_from_sizes(1, 10000)->value == 10000);
    CHECK_FALSE(ratio_from_sizes(1, 10001).ok());
    CHECK(ratio_from_sizes(1000, 1)->value == 0.001);
    CHECK_FALSE(ratio_from_sizes(1000, 0.99).ok());
    CHECK_FALSE(ratio_from_sizes(0, 10).ok());
    CHECK_FALSE(ratio_from_sizes(10, -1).ok());
    CHECK(ratio_from_typed("150", "1.8 m", UnitSystem::metric)->value == 12);
    CHECK(ratio_from_typed("6\"", "6'", UnitSystem::metric)->value == doctest::Approx(12));
    CHECK(ratio_from_typed("6", "72", UnitSystem::imperial)->value == doctest::Approx(12));
    const auto refused = ratio_from_typed("small", "wide", UnitSystem::metric);
    REQUIRE_FALSE(refused.ok());
    CHECK(one_line(refused.error()).find("\"small\"") != std::string::npos);
    CHECK_FALSE(ratio_from_typed("150", "", UnitSystem::metric).ok());
}

TEST_CASE("new ids are free, well formed and count on") {
    CHECK(unique_id({}, "lamp") == "lamp");
    CHECK(unique_id({"lamp"}, "lamp") == "lamp-2");
    CHECK(unique_id({"lamp", "lamp-2"}, "lamp") == "lamp-3");
    CHECK(unique_id({"lamp-4"}, "lamp-4") == "lamp-5");
    CHECK(unique_id({}, "Tea stall (old)") == "tea-stall-old");
    CHECK(unique_id({}, "") == "piece");
    const std::string longest(64, 'x');
    CHECK(unique_id({}, longest) == longest);
    CHECK(unique_id({longest}, longest) == std::string(62, 'x') + "-2");
    CHECK(taken_ids(bare_scene()).contains("hall"));
    CHECK(taken_ids(bare_scene()).contains("section-a"));
}
