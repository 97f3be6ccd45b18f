// Snapping: both sides of the tolerance, the order of ties, idempotence, and far many bodies.
#include <doctest/doctest.h>

#include "desk/arranged.h"
#include "desk/snap.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

SnapBody body(const std::string& name, double x, double y, double width, double depth) {
    return {name, {{x, y, 0}, {x + width, y + depth, 100}}, {}};
}

Snapping only(SnapKind kind, double tolerance = 10) {
    Snapping how;
    for (bool& enabled : how.enabled)
        enabled = false;
    how.enabled[static_cast<int>(kind)] = true;
    how.tolerance_mm = tolerance;
    return how;
}

} // namespace

TEST_CASE("the grid takes the anchor within the tolerance and not beyond") {
    const SnapBody moved = body("m", 0, 0, 30, 30);
    const auto x = [&](double by) {
        return snap(moved, {0, 0, 0}, {by, 50, 0}, {}, only(SnapKind::grid)).by.x;
    };
    CHECK(x(95) == 100);
    CHECK(x(90) == 100);
    CHECK(x(89.9) == 89.9);
    CHECK(x(110) == 100);
    CHECK(x(110.1) == 110.1);
    CHECK(x(-4) == 0);
    const auto done_so = snap(moved, {0, 0, 0}, {95, 50, 0}, {}, only(SnapKind::grid));
    REQUIRE(done_so.guides.size() == 1);
    CHECK(done_so.guides[0].text == "grid");
    CHECK(done_so.guides[0].from.x == 100);
}

TEST_CASE("edges and centres meet those of another body, named in the guide") {
    const SnapBody moved = body("m", 0, 0, 40, 40);
    const std::vector<SnapBody> others{body("Tea stall", 200, 500, 100, 60)};
    const auto edge = snap(moved, {0, 0, 0}, {157, 0, 0}, others, only(SnapKind::edge));
    CHECK(edge.by.x == 160); // side by side
    REQUIRE(edge.guides.size() == 1);
    CHECK(edge.guides[0].text == "edge of Tea stall");
    CHECK(edge.guides[0].from.y == 0);
    CHECK(edge.guides[0].to.y == 560);
    const auto centre = snap(moved, {0, 0, 0}, {233, 0, 0}, others, only(SnapKind::centre));
    CHECK(centre.by.x == 230);
    CHECK(centre.guides[0].text == "centre of Tea stall");
    CHECK(snap(moved, {0, 0, 0}, {233, 0, 0}, others, only(SnapKind::edge)).by.x == 233);
}

TEST_CASE("gaps come out equal between two bodies and at the end of a row") {
    const SnapBody moved = body("m", 0, 0, 40, 40);
    const std::vector<SnapBody> two{body("a", -500, 0, 100, 40), body("b", 640, 0, 100, 40)};
    const auto middle = snap(moved, {0, 0, 0}, {105, 0, 0}, two, only(SnapKind::spacing));
    CHECK(middle.by.x - -400 == 640 - (middle.by.x + 40));
    REQUIRE_FALSE(middle.guides.empty());
    CHECK(middle.guides[0].text == "equal 500 mm");
    const std::vector<SnapBody> row{body("a", 0, 0, 100, 40), body("b", 400, 0, 100, 40)};
    const auto next = snap(moved, {0, 0, 0}, {795, 0, 0}, row, only(SnapKind::spacing));
    CHECK(next.by.x == 800);
    CHECK(next.guides[0].text == "equal 300 mm");
    const std::vector<SnapBody> aside{body("a", 0, 900, 100, 40), body("b", 400, 900, 100, 40)};
    CHECK(snap(moved, {0, 0, 0}, {795, 0, 0}, aside, only(SnapKind::spacing)).by.x == 795);
}

TEST_CASE("a turned face pulls a corner onto its plane") {
    Piece wall = box_piece("wall", 1000, 2500, 0, 800, 100, 500);
    wall.at.facing = 30;
    Document document = with_piece(bare_scene(), wall);
    document = with_piece(document, box_piece("crate", 0, 2500, 0, 100, 100, 100));
    const Staging staging = staged_boxes(document);
    const auto others = snap_others(staging, {"crate"});
    const SnapBody moved = snap_moved(staging, {"crate"});
    const auto with_faces = std::find_if(others.begin(), others.end(),
                                         [](const SnapBody& one) { return one.name == "wall"; });
    REQUIRE(with_faces != others.end());
    REQUIRE(with_faces->faces.size() == 4);
    // The crate's corner a little off the wall's front.
    const glm::dmat3 turn = rotation_of(30, 0, 0);
    const glm::dvec3 front = -turn[1];
    const glm::dvec3 on_face = glm::dvec3(1000, 2500, 0) + front * 50.0;
    for (const double off : {-9.9, 4.0, 9.9, 10.1}) {
        // The corner at the back on the side the face leans away from touches first.
        const glm::dvec3 corner{front.x < 0 ? 50 : -50, 50, 0};
        const glm::dvec3 by = on_face + front * off - corner - glm::dvec3(0, 2500, 0);
        const Snapped got = snap(moved, {0, 2500, 0}, by, others, only(SnapKind::face));
        const double pulled = glm::dot(got.by - by, front);
        CHECK(pulled == doctest::Approx(std::abs(off) <= 10 ? -off : 0));
        CHECK(got.guides.empty() == (std::abs(off) > 10));
    }
}

TEST_CASE("nearest wins; equally near, the kind of lower order, then the body that comes first") {
    const SnapBody moved = body("m", 0, 0, 40, 40);
    Snapping how;
    how.axes[1] = false;
    how.enabled[static_cast<int>(SnapKind::spacing)] = false;
    // An edge at 303 and the grid at 300: the moved edge is 1 and 2 off.
    const std::vector<SnapBody> near{body("a", 303, 300, 10, 10)};
    const Snapped edge = snap(moved, {0, 0, 0}, {302, 0, 0}, near, how);
    CHECK(edge.by.x == 303);
    CHECK(snap(moved, {0, 0, 0}, {301, 0, 0}, near, how).by.x == 300);
    const std::vector<SnapBody> tie{body("a", 302, 300, 10, 10), body("b", 302, 400, 10, 10)};
    const Snapped first = snap(moved, {0, 0, 0}, {301, 0, 0}, tie, how);
    CHECK(first.by.x == 302);
    CHECK(first.guides[0].text == "edge of a");
    CHECK(snap(moved, {0, 0, 0}, {301, 0, 0}, tie, how).by ==
          snap(moved, {0, 0, 0}, {301, 0, 0}, tie, how).by);
}

TEST_CASE("snapping what has snapped changes nothing, and nothing goes beyond the tolerance") {
    Random random(41);
    int moved_some = 0;
    for (int round = 0; round < 300; ++round) {
        std::vector<SnapBody> others;
        for (int i = 0; i < 12; ++i)
            others.push_back(body("b" + std::to_string(i), random.uniform(-900, 900),
                                  random.uniform(-900, 900), random.uniform(20, 300),
                                  random.uniform(20, 300)));
        const SnapBody moved = body("m", 0, 0, 130, 90);
        Snapping how;
        how.tolerance_mm = 25;
        const glm::dvec3 by{random.uniform(-900, 900), random.uniform(-900, 900), 0};
        const Snapped once = snap(moved, {65, 45, 0}, by, others, how);
        const Snapped twice = snap(moved, {65, 45, 0}, once.by, others, how);
        CHECK(glm::distance(once.by, twice.by) < 1e-9);
        CHECK(twice.guides.size() == once.guides.size());
        CHECK(once.by.z == by.z);
        moved_some += once.by != by;
    }
    CHECK(moved_some > 100);
}

TEST_CASE("turned bodies with faces: snapping twice changes nothing either") {
    Random random(42);
    for (int round = 0; round < 40; ++round) {
        Document document = random_boxes(random, 10, false);
        document = with_piece(document, box_piece("moved", 0, 0, 0, 120, 200, 100));
        const Staging staging = staged_boxes(document);
        const auto others = snap_others(staging, {"moved"});
        const SnapBody moved = snap_moved(staging, {"moved"});
        Snapping how;
        how.tolerance_mm = 30;
        const glm::dvec3 by{random.uniform(-1500, 3000), random.uniform(-1500, 2000), 0};
        const Snapped once = snap(moved, {0, 0, 0}, by, others, how);
        const Snapped twice = snap(moved, {0, 0, 0}, once.by, others, how);
        CHECK(glm::distance(once.by, twice.by) < 1e-9);
    }
}

TEST_CASE("bodies out of reach, nothing enabled, and what is carried take no part") {
    const SnapBody moved = body("m", 0, 0, 40, 40);
    const std::vector<SnapBody> far{body("a", 45, 5000, 100, 40)};
    Snapping how = only(SnapKind::edge);
    CHECK(snap(moved, {0, 0, 0}, {0, 0, 0}, far, how).by.x == 0);
    how.reach_mm = 5000;
    CHECK(snap(moved, {0, 0, 0}, {0, 0, 0}, far, how).by.x == 5);
    how.enabled[static_cast<int>(SnapKind::edge)] = false;
    CHECK(snap(moved, {0, 0, 0}, {0, 0, 0}, far, how).by.x == 0);
    Document document = with_piece(bare_scene(), box_piece("host", 0, 0, 0, 10, 10, 10));
    Piece cup = box_piece("cup", 0, 0, 10, 5, 5, 5);
    cup.support = Support::stands_on;
    cup.host = "host";
    document = with_piece(document, cup);
    for (const SnapBody& other : snap_others(staged_boxes(document), {"host"}))
        CHECK(other.name == "section A");
}
