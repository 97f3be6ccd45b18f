// Findings of the walkway and of headroom: both sides of every limit, who is named, what to move.
#include <algorithm>
#include <cmath>

#include <doctest/doctest.h>

#include "check/staged_scene.h"
#include "check/walkway.h"
#include "support/reference.h"

using namespace standpoint;
using support::box_mesh;
using support::rules_of;
using support::StagedScene;

namespace {

Walkway walk(const StagedScene& scene, const std::vector<Rule>& rules) {
    return check_walkway(scene.staging, rules, 1, {}).value();
}

std::vector<Finding> findings_of(const StagedScene& scene, const std::string& check,
                                 const std::vector<Rule>& rules = rules_of({"ada-2010"})) {
    std::vector<Finding> out;
    for (const Finding& finding : walk(scene, rules).findings)
        if (finding.check == check) out.push_back(finding);
    return out;
}

// A gap of `width` and `length` between two boxes at 2 m along a 2 m wide path.
StagedScene gap(double width, double length) {
    StagedScene scene({{0, 0}, {8000, 0}}, 2000);
    scene.add("hut", box_mesh({2000, width / 2, 0}, {2000 + length, 1500, 900}));
    scene.add("stall", box_mesh({2000, -1500, 0}, {2000 + length, -width / 2, 900}));
    return scene;
}

StagedScene under(double low, double from_edge = 2000) {
    StagedScene scene({{0, 0}, {8000, 0}}, 2000);
    scene.add("beam", box_mesh({3900, 1000 - from_edge, low}, {4100, 1500, low + 200}));
    return scene;
}

bool says(const Finding& finding, const std::string& words) {
    return finding.message.find(words) != std::string::npos;
}

} // namespace

TEST_CASE("width against ADA 403.5.1: both sides of 36 in, and the margin of placing") {
    const support::Reference rows("access_clearance");
    const double limit = rows.row("ada_route_w").value_si * 1000;
    CHECK(std::abs(limit - 914.4) < 1e-9);
    auto findings = findings_of(gap(limit - 0.1, 2000), "walkway");
    REQUIRE(findings.size() == 1);
    CHECK(findings[0].grade == Grade::fail);
    CHECK(findings[0].rule == "route-width.ada-2010");
    CHECK(findings[0].source == "2010 ADA Standards for Accessible Design, 403.5.1");
    CHECK(std::abs(*findings[0].measured - (limit - 0.1)) < 1e-6);
    CHECK(findings[0].pieces == std::vector<std::string>{"hut", "stall"});
    CHECK(says(findings[0], "move hut 1 mm to the left"));
    findings = findings_of(gap(limit, 2000), "walkway"); // holds exactly: a warning, it dies at 0
    REQUIRE(findings.size() == 1);
    CHECK(findings[0].grade == Grade::warn);
    findings = findings_of(gap(limit + 12, 2000), "walkway");
    REQUIRE(findings.size() == 1);
    CHECK(findings[0].grade == Grade::warn);
    CHECK(says(findings[0], "6.0 mm off"));
    // Twice the placing tolerance of 10 mm (common practice, no source).
    CHECK(findings_of(gap(limit + 19.9, 2000), "walkway").size() == 1);
    CHECK(findings_of(gap(limit + 20.1, 2000), "walkway").empty());
}

TEST_CASE("the exception for short narrow places: width, length and distance apart") {
    const support::Reference rows("access_clearance");
    const double least = rows.row("ada_route_w_reduced").value_si * 1000;
    const double longest = rows.row("ada_route_reduced_len").value_si * 1000;
    const double apart = rows.row("ada_route_sep_len").value_si * 1000;
    const auto grade = [](const StagedScene& scene) {
        const auto findings = findings_of(scene, "walkway");
        REQUIRE(!findings.empty());
        return findings[0].grade;
    };
    CHECK(grade(gap(least, longest)) == Grade::warn);
    CHECK(grade(gap(least - 0.1, longest)) == Grade::fail);
    CHECK(grade(gap(least, longest + 0.1)) == Grade::fail);
    CHECK(says(findings_of(gap(least, longest), "walkway")[0], "403.5.1 Exception"));
    for (const double slack : {-0.1, 0.1}) {
        StagedScene scene = gap(850, 300);
        const double x = 2300 + apart + slack;
        scene.add("bench", box_mesh({x, 425, 0}, {x + 300, 1500, 900}));
        scene.add("cart", box_mesh({x, -1500, 0}, {x + 300, -425, 900}));
        const auto findings = findings_of(scene, "walkway");
        REQUIRE(findings.size() == 2);
        for (const Finding& finding : findings)
            CHECK(finding.grade == (slack < 0 ? Grade::fail : Grade::warn));
    }
}

TEST_CASE("the shop's own limit has no exception") {
    const auto rules = rules_of({}, {{"route-width", "1200 mm", "shop standard"}});
    const auto findings = findings_of(gap(1199, 50), "walkway", rules);
    REQUIRE(findings.size() == 1);
    CHECK(findings[0].grade == Grade::fail);
    CHECK(findings[0].rule == "route-width.own");
}

TEST_CASE("one finding a pinch, at its narrowest place between stations") {
    StagedScene scene({{0, 0}, {8000, 0}}, 2000);
    scene.add("a", box_mesh({2060, -1000, 0}, {2110, 300, 900}));
    scene.add("b", box_mesh({5310, -300, 0}, {5320, 1000, 900}));
    const auto findings = findings_of(scene, "walkway");
    REQUIRE(findings.size() == 2);
    CHECK(findings[0].pieces == std::vector<std::string>{"a"});
    CHECK(std::abs(*findings[0].distance - 2085) < 26);
    CHECK(std::abs(*findings[1].distance - 5315) < 6);
    CHECK(says(findings[0], "move a 215 mm to the right"));
    CHECK(says(findings[1], "move b 215 mm to the left"));
    CHECK(says(findings[0], "the edge of the path"));
}

TEST_CASE("a column is named after the piece that can be moved") {
    StagedScene scene({{0, 0}, {8000, 0}}, 2000);
    scene.add("column-west", box_mesh({4000, 300, 0}, {4400, 700, 3600}), StagedKind::column);
    scene.add("cart", box_mesh({4000, -1000, 0}, {4400, -500, 900}));
    const auto findings = findings_of(scene, "walkway");
    REQUIRE(!findings.empty());
    CHECK(findings[0].pieces == std::vector<std::string>{"cart", "column-west"});
    CHECK(says(findings[0], "move cart 115 mm to the right"));
}

TEST_CASE("headroom: both sides of 80 in, the ceiling, and the least over the band") {
    const support::Reference rows("access_clearance");
    const double limit = rows.row("ada_headroom").value_si * 1000; // ADA 307.4
    auto findings = findings_of(under(limit - 1, 300), "headroom");
    REQUIRE(findings.size() == 1);
    CHECK(findings[0].grade == Grade::fail);
    CHECK(std::abs(*findings[0].measured - (limit - 1)) < 1e-6);
    CHECK(findings[0].pieces == std::vector<std::string>{"beam"});
    CHECK(std::abs(*findings[0].distance - 4000) < 126);
    CHECK(says(findings[0], "1 mm less than"));
    findings = findings_of(under(limit, 300), "headroom");
    REQUIRE(findings.size() == 1);
    CHECK(findings[0].grade == Grade::warn);
    CHECK(findings_of(under(limit + 9.9), "headroom").size() == 1);
    CHECK(findings_of(under(limit + 10.1), "headroom").empty());
    const Walkway walkway = walk(under(2500), rules_of({"ada-2010"}));
    for (const HeadroomAt& at : walkway.headroom) {
        // The cell of a station reaches half-way to the next: 125 mm.
        const bool below = at.distance > 3900 - 125 - 1e-6 && at.distance < 4100 + 125 + 1e-6;
        CHECK(std::abs(at.height - (below ? 2500 : 3600)) < 1e-6);
        CHECK(at.piece == (below ? "beam" : ""));
    }
}

TEST_CASE("what is in the way only by hanging too low is to be raised") {
    auto findings = findings_of(under(1950), "walkway"); // from edge to edge
    REQUIRE(findings.size() == 1);
    CHECK(*findings[0].measured == 0);
    CHECK(says(findings[0], "raise beam, which hangs too low, by 82 mm"));
    findings = findings_of(under(1950, 1500), "walkway"); // leaves 500 mm beside it
    REQUIRE(findings.size() == 1);
    CHECK(std::abs(*findings[0].measured - 500) < 0.01);
    CHECK(says(findings[0], "raise beam, which hangs too low, by 82 mm"));
    // The same piece where it stands on the floor is to be moved.
    StagedScene scene({{0, 0}, {8000, 0}}, 2000);
    Mesh porch = box_mesh({3000, -200, 0}, {3200, 1500, 2200});
    append(porch, box_mesh({5000, 700, 1950}, {5200, 1500, 2150}));
    scene.add("porch", porch);
    findings = findings_of(scene, "walkway");
    REQUIRE(findings.size() == 1);
    CHECK(says(findings[0], "move porch"));
}

TEST_CASE("a slanting underside counts where it is over the path, not beyond") {
    StagedScene scene({{0, 0}, {8000, 0}}, 2000);
    Mesh sail; // falls from 3000 at y = 0 to 1800 at y = 2000: 2400 over the edge of the path
    sail.positions = {{3000, 0, 3000}, {5000, 0, 3000}, {5000, 2000, 1800}, {3000, 2000, 1800}};
    sail.triangles = {{0, 1, 2}, {0, 2, 3}};
    scene.add("sail", sail);
    const Walkway walkway = walk(scene, rules_of({"ada-2010"}));
    double least = 1e9;
    for (const HeadroomAt& at : walkway.headroom)
        least = std::min(least, at.height);
    CHECK(std::abs(least - 2400) < 0.01);
    CHECK(std::abs(walkway.width - 2000) < 0.01);
}

TEST_CASE("what stands on the floor is an obstacle, not headroom") {
    StagedScene scene({{0, 0}, {8000, 0}}, 2000);
    // A figure: a body and, as a part of its own, a head above it; and a counter at 800 mm.
    Mesh figure = box_mesh({4000, 500, 0}, {4400, 900, 1450});
    append(figure, box_mesh({4100, 600, 1450}, {4300, 800, 1750}));
    scene.add("figure", figure);
    Mesh table = box_mesh({5000, 700, 0}, {5100, 800, 800});
    append(table, box_mesh({4900, 600, 800}, {5300, 1000, 830}));
    scene.add("table", table);
    const Walkway walkway = walk(scene, rules_of({"ada-2010"}));
    for (const HeadroomAt& at : walkway.headroom)
        CHECK(at.height == 3600);
    CHECK(std::abs(walkway.width - 1500) < 0.01);
}

TEST_CASE("eaves of a hut beside the path, and an arch in one piece") {
    StagedScene scene({{0, 0}, {8000, 0}}, 2000);
    Mesh hut = box_mesh({3000, 900, 0}, {4000, 2000, 2200});
    append(hut, box_mesh({2800, 600, 1900}, {4200, 2000, 2000}));
    scene.add("hut", hut);
    const auto findings = findings_of(scene, "headroom");
    REQUIRE(findings.size() == 1);
    CHECK(std::abs(*findings[0].measured - 1900) < 1e-6);
    // An arch whose feet and lintel share their corners.
    StagedScene arch({{0, 0}, {8000, 0}}, 2000);
    Mesh one = support::prism({{-900, 0}, {-800, 0}, {-800, 2100}, {-900, 2100}}, 0, 100);
    append(one, support::prism({{-800, 2000}, {800, 2000}, {800, 2100}, {-800, 2100}}, 0, 100));
    append(one, support::prism({{800, 0}, {900, 0}, {900, 2100}, {800, 2100}}, 0, 100));
    for (glm::dvec3& p : one.positions)
        p = {4000 + p.z, p.x, p.y};
    arch.add("arch", one);
    const auto low = findings_of(arch, "headroom");
    REQUIRE(low.size() == 1);
    CHECK(std::abs(*low[0].measured - 2000) < 1e-6);
    CHECK(low[0].pieces == std::vector<std::string>{"arch"});
}

TEST_CASE("a cancelled check stops with that error") {
    Progress progress;
    progress.cancelled = [] { return true; };
    const StagedScene scene = gap(900, 300);
    const auto result = check_walkway(scene.staging, rules_of({}), 1, progress);
    REQUIRE(!result.ok());
    CHECK(result.error().code == ErrorCode::cancelled);
}
