// Where things let go over a view come to stand, looked at from above, from the front and aslant.
#include <doctest/doctest.h>

#include "desk/arranged.h"
#include "desk/landing.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

// On the section (0..3000 by 0..1800, deck 150): a table before a hoarding, both out of boxes.
Document stage_with_table() {
    Document document = bare_scene();
    document = with_piece(document, box_piece("table", 800, 600, 150, 800, 400, 700));
    return with_piece(document, box_piece("hoarding", 1500, 1400, 150, 3000, 100, 2000));
}

struct Room : Indexed {
    using Indexed::Indexed;

    std::optional<glm::dvec3> from_front(double x, double z, const LetGo& how = {}) const {
        return landing(document, staging, *index, {{x, -9000, z}, {x, 9000, z}}, how);
    }
    std::optional<glm::dvec3> from_right(double y, double z, const LetGo& how = {}) const {
        return landing(document, staging, *index, {{9000, y, z}, {-9000, y, z}}, how);
    }
    std::optional<glm::dvec3> from_above(double x, double y, const LetGo& how = {}) const {
        return landing(document, staging, *index, {{x, y, 9000}, {x, y, -100}}, how);
    }
};

void is_at(const std::optional<glm::dvec3>& found, const glm::dvec3& wanted, double within = 1e-6) {
    REQUIRE(found);
    CAPTURE(found->x);
    CAPTURE(found->y);
    CAPTURE(found->z);
    CHECK(glm::distance(*found, wanted) <= within);
}

} // namespace

TEST_CASE("in plan it stands on the surface that is pointed at") {
    const Room room(stage_with_table());
    is_at(room.from_above(800, 600), {800, 600, 850});
    is_at(room.from_above(2500, 600), {2500, 600, 150});
    is_at(room.from_above(5000, 600), {5000, 600, 0});
    // What moves itself is looked through.
    is_at(room.from_above(800, 600, {0, 0, {"table"}}), {800, 600, 150});
}

TEST_CASE("in the front view it comes down on the highest thing below the pointer") {
    const Room room(stage_with_table());
    // Over the table, before the hoarding.
    const auto on_table = room.from_front(800, 1200);
    REQUIRE(on_table);
    CHECK(on_table->z == doctest::Approx(850));
    CHECK(on_table->y > 400);
    CHECK(on_table->y < 800);
    // Beside the table the deck is next; the hoarding is in the way of the middle only when deep.
    is_at(room.from_front(2500, 1200), {2500, 900, 150});
    // Over the hoarding: its top is seen there.
    const auto on_top = room.from_front(2500, 2500);
    REQUIRE(on_top);
    CHECK(on_top->z == doctest::Approx(2150));
    // Beside the base: on the floor, level with the middle of the base.
    is_at(room.from_front(5000, 1200), {5000, 900, 0});
}

TEST_CASE("in the front view a piece keeps before what is pointed at by half its width") {
    const Room room(stage_with_table());
    // The hoarding's face is at 1350: half a width of 500 leaves 850, nearer than the middle.
    is_at(room.from_front(2500, 1200, {500, 0, {}}), {2500, 850, 150});
    is_at(room.from_front(2500, 1200, {450, 0, {}}), {2500, 900, 150});
    // The table's side: before the table, on the deck, in sight.
    const auto before = room.from_front(800, 500, {100, 0, {}});
    REQUIRE(before);
    CHECK(before->z == doctest::Approx(150));
    CHECK(before->y <= 300 + 1e-6);
    // The base's own front, 100 above the floor: on the floor before it.
    is_at(room.from_front(2500, 100, {200, 0, {}}), {2500, -200, 0});
}

TEST_CASE("a pointer a little below an edge means what is on it") {
    const Room room(stage_with_table());
    const auto just_below = room.from_front(800, 840, {0, 11, {}});
    REQUIRE(just_below);
    CHECK(just_below->z == doctest::Approx(850));
    const auto too_low = room.from_front(800, 838, {0, 11, {}});
    REQUIRE(too_low);
    CHECK(too_low->z == doctest::Approx(150));
    CHECK_FALSE(room.from_front(800, -12, {0, 11, {}}));
    CHECK(room.from_front(5000, -10, {0, 11, {}}));
}

TEST_CASE("the side view does the same, seen from the right") {
    const Room room(stage_with_table());
    is_at(room.from_right(600, 1200), {800, 600, 850}, 401); // anywhere on the table
    is_at(room.from_right(100, 1200), {1500, 100, 150});
    // The hoarding runs along: its end is at 3000, so it is stood beside that.
    is_at(room.from_right(1400, 1000, {200, 0, {}}), {3200, 1400, 0});
}

TEST_CASE("aslant it stands where it is seen, before a wall and not in it") {
    const Room room(stage_with_table());
    const auto towards = [&](const glm::dvec3& at, const LetGo& how) {
        const glm::dvec3 eye(2500, -6000, 4000);
        return landing(room.document, room.staging, *room.index, {eye, eye + (at - eye) * 2.0},
                       how);
    };
    is_at(towards({2500, 900, 150}, {}), {2500, 900, 150}, 1e-3);
    is_at(towards({800, 600, 850}, {}), {800, 600, 850}, 1e-3);
    is_at(towards({2500, 1350, 1000}, {300, 0, {}}), {2500, 1050, 150}, 1e-3);
    // Past everything, up into the air.
    const Segment up{{2500, -6000, 1600}, {2500, 9000, 9000}};
    CHECK_FALSE(landing(room.document, room.staging, *room.index, up, {}));
}

TEST_CASE("whatever the scene, what is let go in the front view is seen where it stands") {
    Random random(71);
    for (int round = 0; round < 40; ++round) {
        Document document = bare_scene();
        for (int i = 0; i < 6; ++i)
            document = with_piece(document,
                                  box_piece("box-" + std::to_string(i), random.uniform(0, 3000),
                                            random.uniform(0, 1800), 150, random.uniform(50, 900),
                                            random.uniform(50, 900), random.uniform(50, 1500)));
        const Room room(document);
        for (int i = 0; i < 20; ++i) {
            const double x = random.uniform(0, 3000), z = random.uniform(160, 1800);
            const auto at = room.from_front(x, z);
            REQUIRE(at);
            CHECK(at->x == doctest::Approx(x));
            CHECK(at->z <= z + 1e-6);
            // No box lies between the visitor and the place, at the height of the pointer; and none
            // that is wholly before the first thing met there is higher where it is crossed.
            double met = 1e300;
            for (const StagedPiece& piece : room.staging.pieces) {
                const Box& box = piece.box;
                if (piece.staged == StagedKind::hall || x < box.low.x || x > box.high.x) continue;
                if (box.low.z <= z && z <= box.high.z) met = std::min(met, box.low.y);
            }
            CHECK(at->y <= met + 1e-6);
            for (const StagedPiece& piece : room.staging.pieces) {
                const Box& box = piece.box;
                if (piece.staged == StagedKind::hall || x < box.low.x || x > box.high.x) continue;
                const double seen_to = std::min(met, box.high.y);
                // Thinner strips than the columns looked down at may be missed.
                if (box.high.z <= z && seen_to - box.low.y > 30) CHECK(at->z >= box.high.z - 1.001);
            }
        }
    }
}

TEST_CASE("a movement is held above the floor") {
    const Box box{{0, 0, 200}, {1, 1, 300}}, sunk{{0, 0, -50}, {1, 1, 300}};
    CHECK(kept_above_floor(box, {5, 6, -100}) == glm::dvec3(5, 6, -100));
    CHECK(kept_above_floor(box, {5, 6, -200}) == glm::dvec3(5, 6, -200));
    CHECK(kept_above_floor(box, {5, 6, -201}) == glm::dvec3(5, 6, -200));
    CHECK(kept_above_floor(sunk, {0, 0, -10}) == glm::dvec3(0));
    CHECK(kept_above_floor(sunk, {0, 0, 10}) == glm::dvec3(0, 0, 10));
    CHECK(kept_above_floor(Box{}, {0, 0, -10}) == glm::dvec3(0, 0, -10));
}
