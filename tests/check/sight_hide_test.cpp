// What must stay hidden: cracks, leaning, heights, and how "none found" is said.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "check/sight_hide.h"
#include "sight_scene.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

// A pump behind a long wall with an upright crack of this width, 500 mm behind the wall.
SightScene behind_wall(double crack, double wall_height = 4000) {
    SightScene scene;
    scene.add("pump", BoxForm{60, 60, 60}, {0, 600, 1000});
    scene.add("wall-west", BoxForm{6000, 100, wall_height}, {-3000 - crack / 2, 100, 0});
    scene.add("wall-east", BoxForm{6000, 100, wall_height}, {3000 + crack / 2, 100, 0});
    scene.add_target("pump", "pump", Aim::hide);
    return scene;
}

const Finding& said_of(const Sightlines& lines, const std::string& subject) {
    const auto at = std::find_if(lines.findings.begin(), lines.findings.end(),
                                 [&](const Finding& f) { return f.subject == subject; });
    REQUIRE(at != lines.findings.end());
    return *at;
}

} // namespace

TEST_CASE("a crack that shows a pump from a hand's breadth of path is found") {
    const Sightlines lines = sightlines_of(behind_wall(6).staging());
    REQUIRE(lines.hidden.size() == 1);
    const HideExposure& exposure = lines.hidden[0];
    CHECK(exposure.open > 0);
    CHECK(exposure.greatest_share > 0);
    CHECK(std::abs(exposure.eye.x) < 400);
    const Finding& fail = said_of(lines, "pump");
    CHECK(fail.grade == Grade::fail);
    CHECK(fail.rule == "hide-share.default");
    CHECK(*fail.required == 0);
    CHECK(*fail.measured == exposure.greatest_share);
    CHECK(*fail.distance == exposure.distance);
    CHECK(fail.pieces == std::vector<std::string>{"pump"});
}

TEST_CASE("a closed wall hides it, and that is said with its bound") {
    const Sightlines lines = sightlines_of(behind_wall(0).staging());
    REQUIRE(lines.hidden.size() == 1);
    const HideExposure& exposure = lines.hidden[0];
    CHECK(exposure.open == 0);
    CHECK(exposure.greatest_share == 0);
    CHECK(exposure.length_exposed == 0);
    CHECK(exposure.samples > 100000);
    const Finding& note = said_of(lines, "pump");
    CHECK(note.grade == Grade::note);
    CHECK(note.message.find("none of " + std::to_string(exposure.samples)) != std::string::npos);
    CHECK(note.message.find("at most 3/" + std::to_string(exposure.samples)) != std::string::npos);
}

TEST_CASE("the exposed length of path is that of the crack's shadow") {
    // One lane: eyes on Y = -2000. The crack's inner and outer faces at Y = 50 and 150 bound what
    // of the pump's front (Y = 570, X = -30..30) shows; the widest line runs from one end of the
    // front through the near edge of the crack.
    const double crack = 60;
    SightScene scene = behind_wall(crack);
    scene.set_path({{-2000, -2000}, {2000, -2000}}, 10);
    scene.set_visitors({adult(1030, 100)});
    RuleChoice only_lane; // leaning adds nothing here: same line, other heights
    only_lane.own = {
        {"lean", "0 mm", ""}, {"lowest-eye", "1030 mm", ""}, {"highest-eye", "1030 mm", ""}};
    scene.set_rules(only_lane);
    const HideExposure exposure = sightlines_of(scene.staging()).hidden.at(0);
    // From (-30, 570) past (30, 50) [near face, far jamb] to Y = -2000, and past (30, 150): the
    // steeper of the two decides.
    const double from_near = -30 + 60.0 * (570 + 2000) / (570 - 50);
    const double from_far = -30 + 60.0 * (570 + 2000) / (570 - 150);
    const double half = std::min(from_near, from_far);
    CHECK(std::abs(exposure.length_exposed - 2 * half) < 4 * hide_ends_mm);
    CHECK(exposure.length_exposed > 0);
}

TEST_CASE("a child on shoulders looks over a wall that hides it from everyone standing") {
    for (const double height : {1300.0, 3600.0}) {
        const Sightlines lines = sightlines_of(behind_wall(0, height).staging());
        // No sampled visitor sees it either way.
        for (const TargetSights& sights : lines.targets)
            for (const Sight& sight : sights.sights)
                CHECK(sight.visible == 0);
        const HideExposure& exposure = lines.hidden.at(0);
        CHECK((exposure.open > 0) == (height < 2000));
        if (exposure.open == 0) continue;
        CHECK(exposure.visitor.empty());
        CHECK(exposure.eye.z == 2300);
        CHECK(said_of(lines, "pump").message.find("anyone leaning over its") != std::string::npos);
        CHECK(said_of(lines, "pump").grade == Grade::fail);
    }
}

TEST_CASE("leaning past the edge shows what no one on the path sees, unless a wall stops them") {
    // A screen square to the path hides the pump from the path's band; 300 mm past it does not.
    for (const bool stopped : {false, true}) {
        SightScene scene;
        scene.set_path({{-1500, -2000}, {-200, -2000}}, 1000);
        scene.add("pump", BoxForm{60, 60, 60}, {3000, -1250, 1000});
        scene.add("screen", BoxForm{100, 1000, 4000}, {100, -2000, 0});
        scene.add("screen-two", BoxForm{100, 1800, 4000}, {1500, -2200, 0});
        if (stopped) scene.add("wall", BoxForm{2000, 50, 4000}, {-850, -1450, 0});
        scene.add_target("pump", "pump", Aim::hide);
        const Sightlines lines = sightlines_of(scene.staging());
        for (const Sight& sight : lines.targets.at(0).sights)
            CHECK(sight.visible == 0);
        CHECK((lines.hidden.at(0).open > 0) == !stopped);
        if (!stopped) CHECK(lines.hidden.at(0).lane == -1); // walking to the right, +Y is left
    }
}

TEST_CASE("a hide target seen from the path itself counts every station that sees it") {
    SightScene scene;
    scene.add("pump", BoxForm{300, 300, 900}, {0, 600, 0});
    scene.add_target("pump", "pump", Aim::hide);
    const Sightlines lines = sightlines_of(scene.staging());
    CHECK(lines.targets.at(0).share_of_path == 1);
    CHECK(lines.targets.at(0).aim == Aim::hide);
    CHECK(lines.hidden.at(0).greatest_share == 1);
    CHECK(std::abs(lines.hidden.at(0).length_exposed - 3000) < 1e-6);
}

TEST_CASE("the rule of three bounds what none found leaves open") {
    // The exact 95 % bound with none of n found is 1 - 0.05^(1/n) (binomial distribution).
    for (const std::uint64_t n : {10u, 100u, 1000u, 1000000u}) {
        const double exact = 1 - std::pow(0.05, 1.0 / static_cast<double>(n));
        CHECK(at_most_share(n) >= exact);
        CHECK(at_most_share(n) <= exact * 1.16);
    }
    CHECK(at_most_share(0) == 1);
    CHECK(at_most_share(2) == 1);
}
