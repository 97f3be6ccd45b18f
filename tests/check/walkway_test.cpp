// Widths of the way in scenes whose answer is known in closed form.
#include <algorithm>
#include <cmath>
#include <numbers>

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include "check/staged_scene.h"
#include "check/walkway.h"
#include "support/reference.h"

using namespace standpoint;
using support::box_mesh;
using support::prism;
using support::round_mesh;
using support::rules_of;
using support::StagedScene;

namespace {

constexpr double promised_mm = 0.01; // of the walkway: house plan, "exact to 0.01 mm"

Walkway walk(const StagedScene& scene, const std::vector<Rule>& rules = rules_of({"ada-2010"})) {
    return check_walkway(scene.staging, rules, 1, {}).value();
}

bool near(double a, double b, double tolerance = promised_mm) {
    return std::abs(a - b) <= tolerance;
}

StagedScene corridor(double width = 2000) {
    return StagedScene({{0, 0}, {6000, 0}}, width);
}

const WidthAt& at(const Walkway& walkway, double distance) {
    return *std::min_element(
        walkway.widths.begin(), walkway.widths.end(), [&](const WidthAt& a, const WidthAt& b) {
            return std::abs(a.distance - distance) < std::abs(b.distance - distance);
        });
}

std::vector<Finding> of(const Walkway& walkway, const std::string& check) {
    std::vector<Finding> out;
    for (const Finding& finding : walkway.findings)
        if (finding.check == check) out.push_back(finding);
    return out;
}

} // namespace

TEST_CASE("an empty path is as wide as it is drawn, straight or round corners") {
    for (const auto& points :
         std::vector<std::vector<glm::dvec2>>{{{0, 0}, {6000, 0}},
                                              {{0, 0}, {6000, 0}, {6000, 5000}},
                                              {{0, 0}, {6000, 0}, {6000, 5000}, {0, 5000}},
                                              {{0, 0}, {4000, 100}, {7000, 3000}, {7100, 9000}}}) {
        const Walkway walkway = walk(StagedScene(points, 2000));
        CHECK(near(walkway.width, 2000));
        REQUIRE(!walkway.widths.empty());
        for (const WidthAt& width : walkway.widths)
            CHECK(near(width.width, 2000));
        CHECK(walkway.findings.empty());
    }
}

TEST_CASE("a path drawn narrower than the rule fails as a whole, without a piece to blame") {
    const Walkway walkway = walk(corridor(900));
    REQUIRE(walkway.findings.size() == 1);
    CHECK(walkway.findings[0].grade == Grade::fail);
    CHECK(walkway.findings[0].pieces.empty());
    CHECK(near(*walkway.findings[0].measured, 900));
}

TEST_CASE("two boxes either side leave the gap between them") {
    StagedScene scene = corridor();
    scene.add("left-box", box_mesh({3000, 450, 0}, {3400, 1000, 800}));
    scene.add("right-box", box_mesh({3000, -1000, 0}, {3400, -420, 800}));
    const Walkway walkway = walk(scene);
    CHECK(near(walkway.width, 870));
    REQUIRE(walkway.narrowest);
    CHECK(walkway.narrowest->left == "left-box");
    CHECK(walkway.narrowest->right == "right-box");
    CHECK(near(walkway.narrowest->left_point.y, 450));
    CHECK(near(walkway.narrowest->right_point.y, -420));
    CHECK(near(at(walkway, 3250).width, 870));
    CHECK(near(at(walkway, 500).width, 2000));
    // By the cut 250 mm before the gap the disc touches both corners: centre (2750, 15).
    CHECK(near(at(walkway, 2750).width, 2 * std::hypot(250, 435)));
}

TEST_CASE("columns one after the other leave the slanting distance between them") {
    StagedScene scene = corridor();
    scene.add("a", round_mesh({2500, 900}, 800, 0, 3600), StagedKind::column);
    scene.add("b", round_mesh({3300, -700}, 1000, 0, 3600), StagedKind::column);
    // Closed form: the distance of the two regular 64-gons is found corner by corner.
    const auto corners = [](glm::dvec2 centre, double radius) {
        std::vector<glm::dvec2> out;
        for (int i = 0; i <= 64; ++i) {
            const double angle = 2 * std::numbers::pi * i / 64;
            out.push_back(centre + radius * glm::dvec2(std::cos(angle), std::sin(angle)));
        }
        return out;
    };
    const auto p = corners({2500, 900}, 400), q = corners({3300, -700}, 500);
    double least = 1e9;
    const auto to_side = [&](glm::dvec2 c, glm::dvec2 a, glm::dvec2 b) {
        const double t = std::clamp(glm::dot(c - a, b - a) / glm::dot(b - a, b - a), 0.0, 1.0);
        least = std::min(least, glm::distance(c, a + (b - a) * t));
    };
    for (std::size_t i = 0; i < 64; ++i)
        for (std::size_t j = 0; j < 64; ++j) {
            to_side(p[i], q[j], q[j + 1]);
            to_side(q[j], p[i], p[i + 1]);
        }
    const Walkway walkway = walk(scene);
    CHECK(near(walkway.width, least));
    CHECK(near(least, std::hypot(800, 1600) - 900, 2)); // as round columns, less the facets
    CHECK(walkway.narrowest->left == "a");
    CHECK(walkway.narrowest->right == "b");
}

TEST_CASE("a round column beside a wall: 64 facets, a corner towards the wall") {
    StagedScene scene = corridor();
    scene.add("wall", box_mesh({1000, 500, 0}, {5000, 620, 2400}));
    scene.add("column", round_mesh({3000, -700}, 500, 0, 3600), StagedKind::column);
    const Walkway walkway = walk(scene);
    CHECK(near(walkway.width, 500 - (-700 + 250))); // 950: a corner stands at 90 degrees
    CHECK(walkway.narrowest->left == "wall");
    CHECK(walkway.narrowest->right == "column");
    CHECK(near(walkway.narrowest->distance, 3000, 0.1));
}

TEST_CASE("diagonal boxes: corner to face") {
    StagedScene scene = corridor();
    // A square standing on its corner: that corner reaches to y = 300.
    scene.add("diamond", prism({{3000, 300}, {3500, 800}, {3000, 1300}, {2500, 800}}, 0, 900));
    scene.add("bench", box_mesh({2000, -1000, 0}, {4000, -500, 450}));
    CHECK(near(walk(scene).width, 800));
}

TEST_CASE("an island is passed on its wider side, a tie is passed on the left") {
    StagedScene scene = corridor();
    scene.add("island", box_mesh({2500, -100, 0}, {3500, 400, 900}));
    Walkway walkway = walk(scene);
    CHECK(near(walkway.width, 900));
    CHECK(walkway.narrowest->left == "island");
    CHECK(walkway.narrowest->right == "edge");
    StagedScene even = corridor();
    even.add("island", box_mesh({2500, -200, 0}, {3500, 200, 900}));
    walkway = walk(even);
    CHECK(near(walkway.width, 800));
    CHECK(walkway.narrowest->right == "island");
}

TEST_CASE("round the inner side of a corner") {
    // A post on the inner corner of the band, the outer corner being round.
    StagedScene scene({{0, 0}, {5000, 0}, {5000, 5000}}, 2000);
    scene.add("post", round_mesh({4000, 1000}, 400, 0, 1000));
    // The way goes between the post and the outer arc about (5000, 0): along the diagonal.
    const Walkway walkway = walk(scene);
    const double free = 1000 + std::hypot(1000, 1000) - 200;
    CHECK(free > 2000); // so that the corner itself is no pinch
    CHECK(walkway.width < 2000);
    // Before the corner the post reaches 200 mm into the band from its left edge.
    CHECK(near(walkway.width, 1800, 0.5));
    CHECK(walkway.narrowest->left == "post");
    CHECK(walkway.narrowest->right == "edge");
}

TEST_CASE("round three sides: each leg has its own pinch") {
    StagedScene scene({{0, 8000}, {0, 0}, {9000, 0}, {9000, 8000}}, 2000);
    scene.add("one", box_mesh({-1000, 4000, 0}, {-100, 4300, 900}));
    scene.add("two", box_mesh({4000, -1000, 0}, {4300, 150, 900}));
    scene.add("three", box_mesh({8200, 4000, 0}, {10000, 4300, 900}));
    const Walkway walkway = walk(scene);
    CHECK(near(walkway.width, 200));
    CHECK(near(at(walkway, 4000).width, 1100));
    CHECK(near(at(walkway, 8000 + 4250).width, 850));
    CHECK(near(at(walkway, 17000 + 4250).width, 200));
    // one stands on the right of somebody who walks towards -Y, the edge is on the left
    CHECK(at(walkway, 4000).right == "one");
    CHECK(at(walkway, 4000).left == "edge");
    const auto findings = of(walkway, "walkway");
    REQUIRE(findings.size() == 2);
    CHECK(findings[0].pieces == std::vector<std::string>{"three"});
    CHECK(findings[0].grade == Grade::fail);
    CHECK(findings[1].pieces == std::vector<std::string>{"two"});
    CHECK(findings[1].grade == Grade::warn); // 850 for 300 mm: the exception of the rule
}

TEST_CASE("a path that comes back beside itself: each leg keeps to its own band") {
    // Legs 1500 mm apart, the band 2000 wide: they share half a metre of floor.
    StagedScene scene({{0, 0}, {12000, 0}, {12000, 1500}, {0, 1500}}, 2000);
    CHECK(near(walk(scene).width, 2000));
    // A box between the legs takes 450 of the first, 550 of the second.
    scene.add("box", box_mesh({2000, 550, 0}, {2600, 1050, 900}));
    Walkway walkway = walk(scene);
    CHECK(near(at(walkway, 2250).width, 1550));
    CHECK(near(at(walkway, 12000 + 1500 + 12000 - 2250).width, 1450));
    // What closes the first leg alone leaves the second open.
    scene.add("bar", box_mesh({4000, -1000, 0}, {4100, 450, 900}));
    walkway = walk(scene);
    CHECK(near(at(walkway, 4000).width, 550));
    CHECK(near(at(walkway, 12000 + 1500 + 12000 - 4000).width, 2000));
    CHECK(near(walkway.width, 550));
}

TEST_CASE("a path that closes on itself has a width everywhere") {
    StagedScene scene({{0, 0}, {8000, 0}, {8000, 6000}, {0, 6000}, {0, 0}}, 1500);
    Walkway walkway = walk(scene);
    CHECK(near(walkway.width, 1500));
    scene.add("box", box_mesh({-750, 3000, 0}, {-50, 3200, 900}));
    walkway = walk(scene);
    CHECK(near(walkway.width, 800));
    CHECK(near(at(walkway, 4000).width, 1500));
}

TEST_CASE("a sheet without thickness is a wall") {
    StagedScene scene = corridor();
    Mesh sheet;
    sheet.positions = {{3000, 1000, 0}, {3000, 100, 0}, {3000, 100, 900}, {3000, 1000, 900}};
    sheet.triangles = {{0, 1, 2}, {0, 2, 3}};
    scene.add("sheet", sheet);
    const Walkway walkway = walk(scene);
    CHECK(near(walkway.width, 1100));
    CHECK(walkway.narrowest->left == "sheet");
}

TEST_CASE("what closes the way is named and the way is measured on without it") {
    StagedScene scene = corridor();
    scene.add("bar", box_mesh({2000, -1500, 0}, {2100, 1500, 900}));
    scene.add("post", box_mesh({4000, 0, 0}, {4100, 1000, 900}));
    const Walkway walkway = walk(scene, rules_of({}, {{"route-width", "1200 mm", "shop"}}));
    CHECK(walkway.width == 0);
    REQUIRE(walkway.narrowest);
    CHECK(walkway.narrowest->left == "bar");
    CHECK(at(walkway, 2000).width == 0);
    CHECK(near(at(walkway, 4000).width, 1000));
    REQUIRE(walkway.findings.size() == 2);
    CHECK(walkway.findings[0].pieces == std::vector<std::string>{"bar"});
    CHECK(*walkway.findings[0].measured == 0);
    CHECK(near(*walkway.findings[0].distance, 2050, 1));
    CHECK(walkway.findings[1].pieces == std::vector<std::string>{"post"});
}

TEST_CASE("two that touch close the way together, a hair of a gap does not") {
    for (const double gap : {-10.0, 0.0, 0.1}) {
        StagedScene scene = corridor();
        scene.add("one", box_mesh({2000, -1000, 0}, {2500, 100, 900}));
        scene.add("two", box_mesh({2500 + gap, -50, 0}, {3000, 1000, 900}));
        const Walkway walkway = walk(scene);
        CAPTURE(gap);
        CHECK(near(walkway.width, std::max(gap, 0.0)));
        REQUIRE(!walkway.findings.empty());
        auto pieces = walkway.findings[0].pieces;
        std::sort(pieces.begin(), pieces.end());
        CHECK(pieces == std::vector<std::string>{"one", "two"});
    }
}

TEST_CASE("a solid that runs from before the start to past the end closes the way") {
    StagedScene scene = corridor();
    scene.add("shingle", box_mesh({-500, -2000, 0}, {6500, 2000, 40}));
    const Walkway walkway = walk(scene);
    CHECK(walkway.width == 0);
    REQUIRE(!walkway.findings.empty());
    CHECK(walkway.findings[0].pieces == std::vector<std::string>{"shingle"});
    // A block higher than a head has no top in the slab; it is no less solid.
    StagedScene block = corridor();
    block.add("block", box_mesh({-500, -2000, 0}, {6500, 2000, 3000}));
    CHECK(walk(block).width == 0);
}

TEST_CASE("a hall round the path is no solid, whichever way its walls look") {
    for (const bool inward : {false, true}) {
        StagedScene scene = corridor();
        Mesh walls = box_mesh({-5000, -5000, 0}, {11000, 5000, 3600});
        std::erase_if(walls.triangles, [&](const glm::uvec3& t) { // no floor, no ceiling
            const double z = walls.positions[t.x].z;
            return walls.positions[t.y].z == z && walls.positions[t.z].z == z;
        });
        if (inward)
            for (glm::uvec3& t : walls.triangles)
                std::swap(t.y, t.z);
        scene.add("hall", walls, StagedKind::hall);
        CHECK(near(walk(scene).width, 2000));
    }
}

TEST_CASE("what stands before the start or past the end is in nobody's way") {
    StagedScene scene = corridor();
    scene.add("before", box_mesh({-900, -1000, 0}, {-100, 1000, 900}));
    scene.add("past", box_mesh({6100, -1000, 0}, {6900, 1000, 900}));
    CHECK(near(walk(scene).width, 2000));
    scene.add("at-start", box_mesh({-300, 0, 0}, {200, 1000, 900}));
    CHECK(near(walk(scene).width, 1000));
}

TEST_CASE("a dead end beside the way is not the way") {
    StagedScene scene = corridor();
    // A pocket 900 wide between two walls, closed at its end; the way beside it is 700.
    scene.add("divider", box_mesh({1500, -350, 0}, {4500, -300, 900}));
    scene.add("end", box_mesh({4400, -300, 0}, {4500, 1000, 900}));
    const Walkway walkway = walk(scene);
    CHECK(near(walkway.width, 650));
    CHECK(near(at(walkway, 3000).width, 650));
}

TEST_CASE("heights: what is walked over, what hangs at 1 m, what is over all heads") {
    const auto width = [](double low, double high) {
        StagedScene scene = corridor();
        scene.add("slab", box_mesh({3000, 0, low}, {3200, 1000, high}));
        return walk(scene).width;
    };
    CHECK(near(width(0, walk_over_mm), 2000));
    CHECK(near(width(0, walk_over_mm + 0.1), 1000));
    CHECK(near(width(1000, 1100), 1000)); // hangs at one metre
    const support::Reference rows("access_clearance");
    const double headroom = rows.row("ada_headroom").value_si * 1000; // ADA 307.4, 80 in
    CHECK(near(headroom, 2032));
    CHECK(near(width(headroom, 2500), 2000));
    CHECK(near(width(headroom - 0.1, 2500), 1000));
    CHECK(near(rows.row("ada_lvl_bevel").value_si * 1000, walk_over_mm)); // 303.3
}

TEST_CASE("a slope is cut exactly at the height that is walked over") {
    StagedScene scene = corridor();
    // A wedge that rises from y = -600 towards the left edge, 1 in 10.
    Mesh wedge;
    wedge.positions = {{2000, -600, 0}, {4000, -600, 0},   {4000, 1400, 0},
                       {2000, 1400, 0}, {4000, 1400, 200}, {2000, 1400, 200}};
    wedge.triangles = {{0, 2, 1}, {0, 3, 2}, {0, 1, 4}, {0, 4, 5},
                       {2, 3, 5}, {2, 5, 4}, {1, 2, 4}, {0, 5, 3}};
    scene.add("wedge", wedge);
    CHECK(near(walk(scene).width, 400 + walk_over_mm * 10));
}
