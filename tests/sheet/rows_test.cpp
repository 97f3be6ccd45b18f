// Rows against arithmetic done here by hand.
#include <cmath>

#include "sheet/cells.h"
#include "sheet_scenes.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

void check_point(const glm::dvec3& found, double x, double y, double z) {
    CHECK(std::abs(found.x - x) < 1e-9);
    CHECK(std::abs(found.y - y) < 1e-9);
    CHECK(std::abs(found.z - z) < 1e-9);
}

} // namespace

TEST_CASE("rows say where a piece is, on its section, on another piece, on the floor") {
    const std::vector<PlacementRow> rows = placement_rows(staged(landing()));
    REQUIRE(rows.size() == 3);
    CHECK(rows[0].support == "on section A");
    check_point(rows[0].at, 1500, 900, 150);
    CHECK(rows[0].facing == 90);
    // The jetty faces left: its own +X points away from the front, its +Y to the right... by a
    // clockwise quarter turn seen from above (x, y) becomes (y, -x).
    CHECK(rows[1].support == "held by jetty");
    check_point(rows[1].at, 1500 + 200, 900 - 100, 150 + 300);
    CHECK(rows[1].facing == 90);
    CHECK(rows[1].section == "A");
    CHECK(rows[2].support == "on the floor");
    CHECK(rows[2].section.empty());
    CHECK(rows[2].number == 3);
}

TEST_CASE("marks are turned with the piece") {
    const PlacementRow crate = placement_rows(staged(landing()))[2];
    REQUIRE(crate.marks.size() == 2);
    const double c = std::sqrt(3.0) / 2, s = 0.5; // a turn of 30 degrees clockwise
    check_point(crate.marks[0].scene, 3500 + c * 250 + s * -200, 2500 - s * 250 + c * -200, 0);
    const double apart = glm::length(crate.marks[0].scene - crate.marks[1].scene);
    CHECK(std::abs(apart - 500) < 1e-9);
}

TEST_CASE("a piece without marks gets two opposite corners of its foot") {
    const PlacementRow jetty = placement_rows(staged(landing()))[0];
    REQUIRE(jetty.marks.size() == 2);
    CHECK(jetty.marks[0].name == "left front corner");
    // Its front looks to the visitor's left; who stands there and looks at it has the back on the
    // left hand.
    check_point(jetty.marks[0].scene, 1500 - 300, 900 + 600, 150);
    check_point(jetty.marks[1].scene, 1500 + 300, 900 - 600, 150);
}

TEST_CASE("left is where the visitor has it, on the base and on what faces the visitor") {
    const Document document = with_piece(landing(), box_piece("trunk", 900, 500, 0, 400, 200, 100));
    const PlacementRow trunk = placement_rows(staged(document)).back();
    CHECK(trunk.marks[0].name == "left front corner");
    check_point(trunk.marks[0].scene, 900 - 200, 500 - 100, 0);
    CHECK(trunk.marks[1].name == "right back corner");
    check_point(trunk.marks[1].scene, 900 + 200, 500 + 100, 0);
}

TEST_CASE("a figure keeps its own left and right, wherever it faces") {
    Piece figure = box_piece("angler", 1000, 500, 0, 40, 20, 100);
    figure.kind = PieceKind::figure;
    const PlacementRow row = placement_rows(staged(with_piece(bare_scene(), figure)))[0];
    // It faces the visitor: its right hand is on the visitor's left.
    CHECK(row.marks[0].name == "front corner on its right");
    check_point(row.marks[0].scene, 1000 - 20, 500 - 10, 0);
    CHECK(row.marks[1].name == "back corner on its left");
    check_point(row.marks[1].scene, 1000 + 20, 500 + 10, 0);
}

TEST_CASE("built size is the original times its ratio, unturned") {
    Document document = bare_scene();
    Piece figure = box_piece("angler", 500, 500, 0, 40, 25, 125);
    figure.ratio = 14;
    figure.at.facing = 45;
    const PlacementRow row = placement_rows(staged(with_piece(document, figure)))[0];
    check_point(row.built_size, 560, 350, 1750);
    CHECK(cells_of(row, document).ratio == "14:1");
}

TEST_CASE("a height is whole courses and the rest, above the deck") {
    Document document = landing();
    PlacementRow row;
    row.section = "A";
    row.at.z = 150 + 3 * 96 + 12;
    CHECK(course_text(row, document) == "3 + 12");
    row.at.z = 150 + 3 * 96;
    CHECK(course_text(row, document) == "3 + 0");
    row.at.z = 150 + 3 * 96 - 1;
    CHECK(course_text(row, document) == "2 + 95");
    row.section.clear();
    row.at.z = 97;
    CHECK(course_text(row, document) == "1 + 1");
    CHECK(course_text(row, bare_scene()).empty());
}

TEST_CASE("a facing that rounds to a whole turn is printed 0") {
    PlacementRow row;
    row.facing = 359.8;
    CHECK(cells_of(row, bare_scene()).facing == "0");
    row.facing = 359.7;
    CHECK(cells_of(row, bare_scene()).facing == "359.5");
}
