// What is under the pointer, what is inside a rectangle, and measuring between points.
#include <doctest/doctest.h>

#include "desk/arranged.h"
#include "desk/measure_tool.h"
#include "desk/pick.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

std::optional<glm::dvec2> in_plan(const glm::dvec3& point) {
    return glm::dvec2(point);
}

Document two_boxes() { // one behind the other, seen from the front
    Document document = with_piece(bare_scene(), box_piece("near", 0, -500, 0, 100, 100, 300));
    return with_piece(document, box_piece("far", 0, 2500, 0, 100, 100, 300));
}

Segment from_front(double x, double z) {
    return {{x, -3000, z}, {x, 9000, z}};
}

} // namespace

TEST_CASE("the nearest thing is picked, with where it was met and which way it looks") {
    const Staging staging = staged_boxes(two_boxes());
    const auto index = make_ray_index(staging);
    const auto picked = pick(staging, *index, from_front(10, 250));
    REQUIRE(picked);
    CHECK(picked->id == "near");
    CHECK(picked->part == "body");
    CHECK(picked->kind == StagedKind::piece);
    CHECK(glm::distance(picked->at, glm::dvec3(10, -550, 250)) < 1e-3);
    CHECK(glm::distance(picked->normal, glm::dvec3(0, -1, 0)) < 1e-9);
    CHECK(picked->distance == doctest::Approx(2450));
    const auto deck = pick(staging, *index, {{1000, 1000, 900}, {1000, 1000, -100}});
    REQUIRE(deck);
    CHECK(deck->kind == StagedKind::section);
    CHECK(deck->id == "section-a");
    CHECK_FALSE(pick(staging, *index, {{0, -3000, 900}, {0, 900, 900}}));
}

TEST_CASE("a wall of the hall looked at from outside hides nothing, from inside it does") {
    const Staging staging = staged_boxes(two_boxes());
    const auto index = make_ray_index(staging);
    const Segment from_outside = {{10, -9000, 250}, {10, 9000, 250}};
    const auto picked = pick(staging, *index, from_outside);
    REQUIRE(picked);
    CHECK(picked->id == "near");
    CHECK(picked->distance == doctest::Approx(9000 - 550));
    CHECK(pick_all(staging, *index, from_outside).front().id == "near");
    const auto wall = pick(staging, *index, {{-3000, -3000, 900}, {-9000, -3000, 900}});
    REQUIRE(wall);
    CHECK(wall->kind == StagedKind::hall);
    CHECK_FALSE(pick(staging, *index, {{-9000, -3900, 900}, {-3000, -3900, 900}}));
}

TEST_CASE("picking goes through to what lies behind, and round again") {
    const Staging staging = staged_boxes(two_boxes());
    const auto index = make_ray_index(staging);
    const Segment line = from_front(10, 250);
    const auto all = pick_all(staging, *index, line);
    REQUIRE(all.size() == 3); // the wall of the hall comes last
    CHECK(all[0].id == "near");
    CHECK(all[1].id == "far");
    CHECK(all[2].kind == StagedKind::hall);
    CHECK(pick_next(staging, *index, line, "") == "near");
    CHECK(pick_next(staging, *index, line, "near") == "far");
    CHECK(pick_next(staging, *index, line, "far") == "near");
    CHECK(pick_next(staging, *index, from_front(900, 250), "near").empty());
}

TEST_CASE("a rectangle takes what it touches or what is wholly inside") {
    Piece turned = box_piece("turned", 0, 0, 0, 100, 100, 100);
    turned.at.facing = 45; // reaches 70.7 along X
    const Staging staging = staged_boxes(with_piece(bare_scene(), turned));
    const auto inside = [&](double left, double front, double right, double back, Inside how) {
        return !pick_inside(staging, in_plan, {left, front}, {right, back}, how).empty();
    };
    CHECK(inside(-71, -71, 71, 71, Inside::wholly));
    CHECK_FALSE(inside(-70, -71, 71, 71, Inside::wholly));
    CHECK(inside(70, -5, 90, 5, Inside::touching));
    CHECK_FALSE(inside(71, -5, 90, 5, Inside::touching));
    CHECK_FALSE(inside(60, 60, 90, 90, Inside::touching)); // in its box, beside its surface
    CHECK(inside(10, 10, -10, -10, Inside::touching));     // drawn the other way round
    CHECK(inside(-5, -5, 5, 5, Inside::touching));
    CHECK_FALSE(inside(-5, -5, 5, 5, Inside::wholly));
}

TEST_CASE("a rectangle agrees with every corner looked at alone") {
    Random random(51);
    for (int round = 0; round < 40; ++round) {
        const Document document = random_boxes(random, 8, true);
        const Staging staging = staged_boxes(document);
        const glm::dvec2 a{random.uniform(-3000, 4000), random.uniform(-2000, 3000)};
        const glm::dvec2 b{random.uniform(-3000, 4000), random.uniform(-2000, 3000)};
        const auto wholly = pick_inside(staging, in_plan, a, b, Inside::wholly);
        const auto touching = pick_inside(staging, in_plan, a, b, Inside::touching);
        for (const StagedPiece& piece : staging.pieces) {
            if (piece.staged != StagedKind::piece) continue;
            std::size_t in = 0;
            for (const glm::dvec3& position : piece.mesh->positions) {
                const glm::dvec3 at = to_scene(piece, position);
                in += at.x >= std::min(a.x, b.x) && at.x <= std::max(a.x, b.x) &&
                      at.y >= std::min(a.y, b.y) && at.y <= std::max(a.y, b.y);
            }
            CHECK(holds(wholly, piece.id) == (in == piece.mesh->positions.size()));
            if (in > 0) CHECK(holds(touching, piece.id));
        }
    }
}

TEST_CASE("what reaches behind the eye is touched but never wholly inside") {
    const Staging staging = staged_boxes(two_boxes());
    const Projection project = [](const glm::dvec3& point) -> std::optional<glm::dvec2> {
        if (point.y < 2500) return std::nullopt;
        return glm::dvec2(point.x, point.z);
    };
    CHECK(pick_inside(staging, project, {-900, -900}, {900, 900}, Inside::wholly).empty());
    const auto touched = pick_inside(staging, project, {-900, -900}, {900, 900}, Inside::touching);
    CHECK(touched == std::vector<std::string>{"far"});
}

TEST_CASE("measuring takes corners, middles of edges, marks and reference points near the line") {
    Piece piece = box_piece("stall", 0, 2500, 0, 400, 400, 300);
    piece.name = "Tea stall";
    piece.marks = {{"left foot", {0, -600, 0}}};
    Document document = with_piece(bare_scene(), piece);
    document.reference_points = std::make_shared<const std::vector<ReferencePoint>>(
        1, ReferencePoint{"R1", "", {-1500, 3500, 0}});
    const Staging staging = staged_boxes(document);
    const auto index = make_ray_index(staging);
    const auto down = [&](double x, double y) {
        const auto point = measure_point(staging, *index, {{x, y, 3000}, {x, y, -50}}, 10);
        REQUIRE(point);
        return *point;
    };
    CHECK(down(195, 2695).what == "corner of Tea stall");
    CHECK(glm::distance(down(195, 2695).at, glm::dvec3(200, 2700, 300)) < 1e-6);
    CHECK(down(4, 2695).what == "middle of an edge of Tea stall");
    CHECK(down(100, 2600).what.empty());
    CHECK(down(100, 2600).at.z == doctest::Approx(300));
    CHECK(down(190.1, 2699.9).what == "corner of Tea stall"); // 9.9 off
    CHECK(down(189.9, 2699.9).what.empty());                  // 10.1 off
    CHECK(down(204, 2704).what == "corner of Tea stall");     // beside it
    CHECK(down(3, 1902).what == "left foot of Tea stall");
    CHECK(down(-1494, 3500).what == "R1");
    CHECK(down(-1480, 3500).what.empty());
    CHECK(down(-1480, 3500).at.z == doctest::Approx(0));
    CHECK_FALSE(measure_point(staging, *index, {{0, -3000, 900}, {0, 900, 900}}, 10));
}

TEST_CASE("the edge between two triangles of a flat face is no edge") {
    const Staging staging =
        staged_boxes(with_piece(bare_scene(), box_piece("a", 0, 2500, 0, 400, 400, 300)));
    const auto index = make_ray_index(staging);
    const auto point =
        measure_point(staging, *index, {{1, 2501, 3000}, {1, 2501, -50}}, 10); // on the diagonal
    REQUIRE(point);
    CHECK(point->what.empty());
}

TEST_CASE("a measurement says every way between two points, in the scene's units") {
    LengthStyle style;
    const Measured result = measured({100, 200, 0}, {400, -200, 1200}, style);
    CHECK(result.straight == doctest::Approx(1300));
    CHECK(result.in_plan == doctest::Approx(500));
    CHECK(result.along_x == 300);
    CHECK(result.along_y == -400);
    CHECK(result.height == 1200);
    CHECK(result.text == "1300 mm straight, 300 mm along X, -400 mm along Y, 1200 mm up");
    CHECK(measured({0, 0, 0}, {0, -5, 0}, style).facing_deg == 0); // towards the front
    CHECK(measured({0, 0, 0}, {-5, 0, 0}, style).facing_deg == 90);
    style.system = UnitSystem::imperial;
    CHECK(measured({0, 0, 50.8}, {0, 0, 0}, style).text ==
          "2\" straight, 0\" along X, 0\" along Y, 2\" down");
}
