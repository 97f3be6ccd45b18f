// How pieces stand, with exact answers on both sides of each limit.
#include <algorithm>
#include <cmath>
#include <vector>

#include <doctest/doctest.h>

#include "base/files.h"
#include "check/staged_scene.h"
#include "check/standing.h"
#include "support/scenes.h"

using namespace standpoint;
using support::bare_scene;
using support::box_piece;
using support::rules_of;
using support::with_piece;

namespace {

Standing standing_of(const Document& document, unsigned threads = 1) {
    const Staging staging =
        stage(document, "x.scene.json", MemoryFiles(), StagedFor::checks).value();
    return check_standing(staging, rules_of({}), threads, {}).value();
}

Document scene_with(const std::vector<Piece>& pieces) {
    Document document = bare_scene();
    for (const Piece& piece : pieces)
        document = with_piece(document, piece);
    return document;
}

Piece on(Piece piece, Support support, const std::string& host) {
    piece.support = support;
    piece.host = host;
    return piece;
}

std::size_t count(const Standing& standing, const std::string& check) {
    return static_cast<std::size_t>(
        std::count_if(standing.findings.begin(), standing.findings.end(),
                      [&](const Finding& finding) { return finding.check == check; }));
}

const Gap& gap_of(const Standing& standing, const std::string& piece) {
    const auto found = std::find_if(standing.gaps.begin(), standing.gaps.end(),
                                    [&](const Gap& gap) { return gap.piece == piece; });
    REQUIRE(found != standing.gaps.end());
    return *found;
}

bool near_mm(double a, double b, double slack = 0.01) {
    return std::abs(a - b) <= slack;
}

Document two_sections() {
    Document document = bare_scene();
    auto sections = *document.sections;
    sections.push_back({"section-b", "B", support::plan(3000, 0), 3000, 1800, 150});
    document.sections = std::make_shared<const std::vector<Section>>(sections);
    return document;
}

} // namespace

// The limits: 5 mm pressed in, 3 mm of gap, 1 mm over the edge; common practice, no source.
TEST_CASE("boxes pressed face to face: the depth is exact, the limit has two sides") {
    for (const double depth : {1.0, 4.99, 5.0, 5.01, 6.0, 40.0}) {
        CAPTURE(depth);
        // Sunk from above with overhang all round, and two of the same cross-section.
        for (const double width : {100.0, 300.0}) {
            const Standing standing = standing_of(
                scene_with({box_piece("crate", 0, -3000, 0, 300, 300, 200),
                            box_piece("lid", 0, -3000, 200 - depth, width, width, 90)}));
            REQUIRE(standing.overlaps.size() == 1);
            CHECK(near_mm(standing.overlaps[0].depth, depth));
            CHECK_FALSE(standing.overlaps[0].inside);
            CHECK(count(standing, "overlap") == (depth > 5 ? 1U : 0U));
        }
        // Side by side, of different depth.
        const Standing beside =
            standing_of(scene_with({box_piece("hut", 0, -3000, 0, 400, 300, 500),
                                    box_piece("stall", 300 - depth, -3000, 0, 200, 200, 300)}));
        REQUIRE(beside.overlaps.size() == 1);
        CHECK(near_mm(beside.overlaps[0].depth, depth));
        CHECK(count(beside, "overlap") == (depth > 5 ? 1U : 0U));
    }
}

TEST_CASE("touching is no meeting: on a face, beside, at an edge, in an inner corner") {
    const Piece floor_crate = box_piece("crate", 0, -3000, 0, 300, 300, 200);
    CHECK(standing_of(scene_with({floor_crate, box_piece("a", 0, -3000, 200, 300, 300, 50)}))
              .overlaps.empty());
    CHECK(standing_of(scene_with({floor_crate, box_piece("a", 300, -3000, 0, 300, 300, 200)}))
              .overlaps.empty());
    CHECK(standing_of(scene_with({floor_crate, box_piece("a", 300, -2700, 0, 300, 300, 200)}))
              .overlaps.empty());
    Piece corner = box_piece("corner", 0, -3000, 0, 300, 300, 20); // a floor and two walls
    corner.parts.push_back(corner.parts[0]);
    corner.parts[1].name = "back";
    corner.parts[1].form = BoxForm{300, 20, 300};
    corner.parts[1].at.y = 160;
    corner.parts.push_back(corner.parts[1]);
    corner.parts[2].name = "side";
    corner.parts[2].form = BoxForm{20, 300, 300};
    corner.parts[2].at = {160, 0, 0, 0, 0, 0};
    CHECK(standing_of(scene_with({corner, box_piece("a", 100, -2900, 20, 100, 100, 100)}))
              .overlaps.empty());
}

TEST_CASE("one inside the other, and the same piece twice") {
    const Standing standing =
        standing_of(scene_with({box_piece("crate", 0, -3000, 0, 300, 300, 300),
                                box_piece("pot", 0, -3000, 100, 100, 100, 100)}));
    REQUIRE(standing.overlaps.size() == 1);
    CHECK(standing.overlaps[0].inside);
    CHECK(near_mm(standing.overlaps[0].depth, 200)); // up, down, or out sideways
    const Piece pot = box_piece("pot", 0, -3000, 0, 100, 120, 140);
    Piece twin = pot;
    twin.id = twin.name = "twin";
    const Standing twice = standing_of(scene_with({pot, twin}));
    REQUIRE(twice.overlaps.size() == 1);
    CHECK(near_mm(twice.overlaps[0].depth, 100));
    CHECK(count(twice, "overlap") == 1);
}

TEST_CASE("a sheet without thickness that crosses a box counts") {
    support::StagedScene scene({{0, 0}, {8000, 0}}, 2000);
    scene.add("box", support::box_mesh({0, 0, 0}, {100, 100, 100}));
    Mesh leaf;
    leaf.positions = {{60, 50, -500}, {60, 50, 500}, {160, 50, 500}, {160, 50, -500}};
    leaf.triangles = {{0, 1, 2}, {0, 2, 3}};
    leaf.part_of = {0, 0};
    leaf.parts.resize(1);
    leaf.materials.resize(1);
    scene.add("leaf", leaf);
    const Standing standing = check_standing(scene.staging, rules_of({}), 1, {}).value();
    REQUIRE(standing.overlaps.size() == 1);
    CHECK(near_mm(standing.overlaps[0].depth, 40)); // out along +x
}

TEST_CASE("ground gives way to what stands in it as deep as it lies; mist meets nothing") {
    Piece mud = on(box_piece("mud", 1000, 900, 0, 800, 800, 60), Support::section, "section-a");
    mud.kind = PieceKind::ground;
    const Piece post =
        on(box_piece("post", 1000, 900, 0, 80, 80, 500), Support::section, "section-a");
    Standing standing = standing_of(scene_with({mud, post}));
    CHECK(standing.findings.empty());
    CHECK(near_mm(gap_of(standing, "post").gap, 0));
    const Piece hull =
        on(box_piece("hull", 1000, 900, 30, 300, 300, 200), Support::section, "section-a");
    standing = standing_of(scene_with({mud, hull}));
    CHECK(standing.findings.empty());
    REQUIRE(standing.overlaps.size() == 1);
    CHECK(near_mm(standing.overlaps[0].depth, 30));
    mud.kind = PieceKind::prop;
    standing = standing_of(scene_with({mud, hull}));
    CHECK(count(standing, "overlap") == 1);
    mud.kind = PieceKind::effect;
    CHECK(standing_of(scene_with({mud, post})).overlaps.empty());
}

TEST_CASE(
    "what belongs to a section and lies wholly beside the base stands on the floor or floats") {
    // The base is 3000 by 1800, its deck at 150; a box of 400 with its near side at `y`.
    const auto crate_at = [](double y, double z) {
        return standing_of(scene_with({on(box_piece("crate", 1500, y - 200, z, 400, 400, 300),
                                          Support::section, "section-a")}));
    };
    const Standing beside = crate_at(-1, 0); // a height of 0 is that of the deck
    CHECK(gap_of(beside, "crate").carrier == "floor");
    CHECK(near_mm(gap_of(beside, "crate").gap, 150));
    CHECK(count(beside, "floating") == 1);
    CHECK(count(beside, "outside-base") == 1);
    const Standing on_edge = crate_at(1, 0); // 1 mm of it is over the deck
    CHECK(gap_of(on_edge, "crate").carrier == "section-a");
    CHECK(count(on_edge, "floating") == 0);
    const Standing on_floor = crate_at(-1, -150);
    CHECK(near_mm(gap_of(on_floor, "crate").gap, 0));
    CHECK(count(on_floor, "floating") == 0);
}

TEST_CASE("what bears on the deck with what is above its foot does not float") {
    // A board with an apron that hangs down before the base's front edge.
    for (const double lift : {0.0, 3.0, 3.01}) {
        CAPTURE(lift);
        Piece board =
            on(box_piece("board", 1500, 0, lift, 400, 400, 20), Support::section, "section-a");
        Part apron = board.parts[0];
        apron.name = "apron";
        apron.at = {0, -201, -100, 0, 0, 0};
        board.parts.push_back(apron);
        CHECK(count(standing_of(scene_with({board})), "floating") == (lift > 3 ? 1U : 0U));
    }
}

TEST_CASE("gaps to floor, deck, host and hook, on both sides of the limit") {
    for (const double gap : {0.0, 2.99, 3.0, 3.01, 12.0}) {
        CAPTURE(gap);
        const std::size_t expected = gap > 3 ? 1 : 0;
        Standing standing = standing_of(scene_with({box_piece("a", 0, -3000, gap, 50, 50, 50)}));
        CHECK(near_mm(gap_of(standing, "a").gap, gap));
        CHECK(gap_of(standing, "a").carrier == "floor");
        CHECK(count(standing, "floating") == expected);
        standing = standing_of(scene_with(
            {on(box_piece("a", 500, 500, gap, 50, 50, 50), Support::section, "section-a")}));
        CHECK(near_mm(gap_of(standing, "a").gap, gap));
        CHECK(gap_of(standing, "a").carrier == "section-a");
        CHECK(count(standing, "floating") == expected);
        const Piece crate = box_piece("crate", 0, -3000, 0, 300, 300, 200);
        for (const double width : {100.0, 300.0, 400.0}) { // within, flush, with overhang
            standing =
                standing_of(scene_with({crate, on(box_piece("a", 0, 0, 200 + gap, width, width, 50),
                                                  Support::stands_on, "crate")}));
            CHECK(near_mm(gap_of(standing, "a").gap, gap));
            CHECK(count(standing, "floating") == expected);
        }
        standing = standing_of(scene_with(
            {box_piece("beam", 0, -3000, 0, 40, 40, 900),
             on(box_piece("lantern", 40 + gap, 0, 500, 40, 40, 60), Support::hangs_from, "beam")}));
        CHECK(near_mm(gap_of(standing, "lantern").gap, gap));
        CHECK(count(standing, "floating") == expected);
    }
}

TEST_CASE("sunk into floor, deck and host: a warning deeper than pieces may press") {
    for (const double depth : {1.0, 5.0, 5.01, 6.0}) {
        CAPTURE(depth);
        Standing standing = standing_of(scene_with(
            {on(box_piece("a", 500, 500, -depth, 50, 50, 50), Support::section, "section-a")}));
        CHECK(near_mm(gap_of(standing, "a").gap, -depth));
        CHECK(count(standing, "floating") == (depth > 5 ? 1U : 0U));
        CHECK(count(standing, "overlap") == (depth > 5 ? 1U : 0U));
        standing = standing_of(scene_with(
            {box_piece("crate", 0, -3000, 0, 300, 300, 200),
             on(box_piece("a", 0, 0, 200 - depth, 100, 100, 50), Support::stands_on, "crate")}));
        CHECK(near_mm(gap_of(standing, "a").gap, -depth));
        CHECK(count(standing, "floating") == (depth > 5 ? 1U : 0U));
        for (const Finding& finding : standing.findings)
            CHECK(finding.pieces.front() == "a");
    }
}

TEST_CASE("over the base's edge and over a join line") {
    for (const double over : {-10.0, 0.99, 1.0, 1.01, 30.0}) {
        CAPTURE(over);
        Standing standing = standing_of(scene_with(
            {on(box_piece("a", 500, 50 - over, 0, 100, 100, 50), Support::section, "section-a")}));
        CHECK(standing.outside_base.size() == (over > 0 ? 1U : 0U));
        if (over > 0) CHECK(near_mm(standing.outside_base[0].amount, over));
        CHECK(count(standing, "outside-base") == (over > 1 ? 1U : 0U));
        standing = standing_of(
            with_piece(two_sections(), on(box_piece("a", 2950 + over, 500, 0, 100, 100, 50),
                                          Support::section, "section-a")));
        CHECK(standing.outside_base.empty());
        CHECK(standing.across_join.size() == (over > 0 ? 1U : 0U));
        if (over > 0) {
            CHECK(near_mm(standing.across_join[0].amount, over));
            CHECK(standing.across_join[0].section_a == "section-a");
            CHECK(standing.across_join[0].section_b == "section-b");
        }
        CHECK(count(standing, "across-join") == (over > 1 ? 1U : 0U));
    }
    // Beyond a corner the reach is slantwise: 30 and 40 make 50.
    const Standing corner = standing_of(
        scene_with({on(box_piece("a", 20, 10, 0, 100, 100, 50), Support::section, "section-a")}));
    REQUIRE(corner.outside_base.size() == 1);
    CHECK(near_mm(corner.outside_base[0].amount, 50));
}

TEST_CASE("turning the layout, the order of pieces and threads change nothing") {
    const std::vector<Piece> pieces{
        box_piece("hut", 0, 0, 0, 400, 300, 500), box_piece("stall", 280, 40, 0, 200, 200, 300),
        box_piece("pot", 30, 190, 7, 80, 100, 120), box_piece("lid", -20, 10, 488, 300, 250, 40)};
    Document plain = scene_with(pieces);
    plain.sections = std::make_shared<const std::vector<Section>>();
    const Standing still = standing_of(plain);
    REQUIRE(still.overlaps.size() == 3);
    for (const double degrees : {17.0, 45.0, 90.0, 203.0}) {
        CAPTURE(degrees);
        const double angle = -degrees * std::acos(-1.0) / 180; // facing turns clockwise
        std::vector<Piece> turned = pieces;
        for (Piece& piece : turned) {
            const double x = piece.at.x.mm, y = piece.at.y.mm;
            piece.at.x = x * std::cos(angle) - y * std::sin(angle);
            piece.at.y = x * std::sin(angle) + y * std::cos(angle);
            piece.at.facing = degrees;
        }
        Document document = scene_with(turned);
        document.sections = plain.sections;
        const Standing after = standing_of(document, 3);
        REQUIRE(after.overlaps.size() == still.overlaps.size());
        for (std::size_t i = 0; i < after.overlaps.size(); ++i)
            CHECK(near_mm(after.overlaps[i].depth, still.overlaps[i].depth));
        for (std::size_t i = 0; i < after.gaps.size(); ++i)
            CHECK(near_mm(after.gaps[i].gap, still.gaps[i].gap));
        CHECK(after.findings.size() == still.findings.size());
    }
    std::vector<Piece> reversed(pieces.rbegin(), pieces.rend());
    Document document = scene_with(reversed);
    document.sections = plain.sections;
    const Standing other = standing_of(document, 2);
    REQUIRE(other.findings.size() == still.findings.size());
    for (std::size_t i = 0; i < other.findings.size(); ++i) {
        CHECK(other.findings[i].message == still.findings[i].message);
        CHECK(other.findings[i].pieces == still.findings[i].pieces);
    }
}
