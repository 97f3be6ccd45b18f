// Plan outlines against exact areas, and labels that keep clear of each other.
#include <cmath>

#include <glm/geometric.hpp>

#include "sheet/footprint.h"
#include "sheet/labels.h"
#include "sheet_scenes.h"
#include "support/random.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

PlanShape shape_of(const Piece& piece) {
    const Staging staging = staged(with_piece(bare_scene(), piece));
    return plan_shape(staging.pieces.front());
}

} // namespace

TEST_CASE("a box covers width times depth, whichever way it faces") {
    for (const double facing : {0.0, 30.0, 90.0, 211.0}) {
        Piece box = box_piece("crate", 700, 800, 0, 300, 200, 500);
        box.at.facing = facing;
        // Corners move to the 0.1 mm grid: area within perimeter times half a grid step.
        CHECK(std::abs(shape_of(box).area - 60000) < 1000 * 0.1);
    }
}

TEST_CASE("an L covers its two legs and not the rest of its hull") {
    Piece piece = box_piece("crate", 500, 500, 0, 300, 100, 100);
    Part leg = piece.parts.front();
    leg.name = "leg";
    leg.form = BoxForm{100, 300, 100};
    leg.at.x = -100;
    leg.at.y = 100;
    piece.parts.push_back(leg);
    const PlanShape shape = shape_of(piece);
    CHECK(std::abs(shape.area - (300 * 100 + 100 * 200)) < 200);
    CHECK(shape.rings.size() == 1);
}

TEST_CASE("a frame keeps its hole") {
    Piece piece = box_piece("frame", 500, 500, 0, 1000, 100, 100);
    for (const double y : {300.0, 600.0}) {
        Part part = piece.parts.front();
        part.name = "b" + std::to_string(static_cast<int>(y));
        part.at.y = y;
        piece.parts.push_back(part);
    }
    for (const double x : {-450.0, 450.0}) {
        Part part;
        part.name = x < 0 ? "left" : "right";
        part.form = BoxForm{100, 700, 100};
        part.at.x = x;
        part.at.y = 300;
        piece.parts.push_back(part);
    }
    CHECK(shape_of(piece).rings.size() == 3); // the outside and two holes
}

TEST_CASE("a number stands where its piece shows most freely") {
    const PlanShape square{{{{0, 0}, {100, 0}, {100, 100}, {0, 100}}}, 10000};
    const PlanShape half{{{{-10, -10}, {50, -10}, {50, 110}, {-10, 110}}}, 7200};
    const Box box{{0, 0, 0}, {100, 100, 10}};
    CHECK(covers(square, {1, 99}));
    CHECK(!covers(square, {101, 50}));
    CHECK(distance_to_outline(square, {30, 40}) == 30);
    CHECK(last_crossing(square, {50, 50}, {0, -1}) == 50);
    CHECK(last_crossing(square, {50, 150}, {0, 1}) == 0);
    CHECK(std::abs(clear_spot(square, {}, box).room - 50) < 100.0 / 24);
    const Spot beside = clear_spot(square, {&half}, box);
    CHECK(beside.place.x > 50);
    CHECK(std::abs(beside.room - 25) < 100.0 / 24);
    const PlanShape all{{{{-1, -1}, {101, -1}, {101, 101}, {-1, 101}}}, 10404};
    CHECK(clear_spot(square, {&all}, box).room == 0);
}

TEST_CASE("labels that name the same place stand apart") {
    const std::vector<LabelWish> wishes(5, {"1", {100, 100}, 10});
    const std::vector<PlacedLabel> labels = place_labels(wishes, {0, 0, 200, 200}, {});
    for (std::size_t i = 0; i < labels.size(); ++i)
        for (std::size_t j = 0; j < i; ++j)
            CHECK(glm::length(labels[i].centre - labels[j].centre) >= labels[i].radius * 2);
}

TEST_CASE("labels do not touch, and no leader crosses another") {
    Random random(7);
    std::vector<LabelWish> wishes;
    for (int i = 0; i < 60; ++i)
        wishes.push_back(
            {std::to_string(i + 1), {random.uniform(120, 280), random.uniform(80, 180)}, 0});
    const Rect area{30, 20, 380, 230};
    const Rect taken{150, 100, 40, 10};
    const std::vector<PlacedLabel> labels = place_labels(wishes, area, {taken});
    REQUIRE(labels.size() == wishes.size());
    for (std::size_t i = 0; i < labels.size(); ++i) {
        const PlacedLabel& a = labels[i];
        const Rect box{a.centre.x - a.radius, a.centre.y - a.radius, 2 * a.radius, 2 * a.radius};
        CHECK(inside(box, area));
        CHECK(!overlap(box, taken));
        for (std::size_t j = 0; j < i; ++j)
            CHECK(glm::length(a.centre - labels[j].centre) >= a.radius + labels[j].radius);
    }
}

TEST_CASE("a label stays on a piece that has room for it") {
    const std::vector<LabelWish> roomy = {{"1", {100, 100}, 10}};
    CHECK(!place_labels(roomy, {0, 0, 200, 200}, {}).front().leader);
    const std::vector<LabelWish> tight = {{"1", {100, 100}, 1}};
    CHECK(place_labels(tight, {0, 0, 200, 200}, {}).front().leader);
}
