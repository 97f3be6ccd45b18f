// What lies beneath, resting, dragging over it, and who carries whom.
#include <doctest/doctest.h>

#include "desk/arranged.h"
#include "desk/drop.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

using Scene = Indexed; // short, for it is in every line

Piece on_host(Piece piece, Support support, const std::string& host) {
    piece.support = support;
    piece.host = host;
    return piece;
}

// A table (top at 700) beside the section, a stair of two treads (100 and 200), a mist over all.
Document furnished() {
    Document document = bare_scene();
    document = with_piece(document, box_piece("table", -1000, 0, 0, 800, 600, 700));
    Piece stair = box_piece("stair", 4500, 0, 0, 1, 1, 1);
    stair.parts[0].form = StairsForm{600, 300, 100, 2};
    document = with_piece(document, stair);
    Piece mist = box_piece("mist", 0, 0, 900, 20000, 20000, 50);
    mist.kind = PieceKind::effect;
    return with_piece(document, mist);
}

// Where upright boxes on level ground rest, without rays: the highest top under any of the plan.
double box_rest(const Document& document, const Box& moved, const std::string& id) {
    const Staging staging = staged_boxes(document);
    double rest = 0;
    for (const StagedPiece& piece : staging.pieces) {
        if (piece.id == id || piece.staged == StagedKind::hall) continue;
        const Box& box = piece.box;
        const bool under = box.low.x < moved.high.x && moved.low.x < box.high.x &&
                           box.low.y < moved.high.y && moved.low.y < box.high.y;
        if (under && box.high.z <= moved.high.z) rest = std::max(rest, box.high.z);
    }
    return rest;
}

double foot_of(const Document& document, const std::string& id) {
    const Staging staging = staged_boxes(document);
    return find_staged(staging, id)->box.low.z;
}

} // namespace

TEST_CASE("a figure carries a hat, but no table that is let down beside its feet") {
    Piece figure = box_piece("keeper", 1000, 2000, 0, 500, 300, 1700);
    figure.kind = PieceKind::figure;
    Document document = with_piece(bare_scene(), figure);
    for (const double width : {400.0, 499.0, 501.0, 900.0}) {
        CAPTURE(width);
        const bool carried = width <= 500;
        const Scene scene(with_piece(document, box_piece("thing", 4000, 2000, 0, width, 200, 150)));
        const glm::dvec3 head(1000, 2000, 1700);
        const Document dropped = done(
            scene.document, drop(scene.document, scene.staging, *scene.index, {"thing"}, head));
        const Piece& thing = *find_piece(dropped, "thing");
        CHECK((thing.host == "keeper") == carried);
        CHECK(foot_of(dropped, "thing") == doctest::Approx(carried ? 1700 : 0));
        CHECK((beneath(scene.document, scene.staging, *scene.index, {"thing"}, head).host ==
               "keeper") == carried);
    }
    const Scene bare(document);
    CHECK(beneath(bare.document, bare.staging, *bare.index, {}, {1000, 2000, 1700}).host ==
          "keeper");
}

TEST_CASE("beneath a point lies a deck, a piece's top or the floor") {
    const Scene scene(furnished());
    const auto look = [&](double x, double y, double z, const Ids& moving = {}) {
        return beneath(scene.document, scene.staging, *scene.index, moving, {x, y, z});
    };
    CHECK(look(-1000, 0, 5000).host == "table");
    CHECK(look(-1000, 0, 5000).height == doctest::Approx(700));
    CHECK(look(-1000, 0, 700).host == "table");          // at it
    CHECK(look(-1000, 0, 699).support == Support::none); // from inside: the floor
    CHECK(look(-1000, 0, 5000, {"table"}).support == Support::none);
    CHECK(look(1000, 1000, 5000).support == Support::section);
    CHECK(look(1000, 1000, 5000).height == doctest::Approx(150));
    CHECK(look(-3000, -3000, 5000).support == Support::none);
    CHECK(look(-3000, -3000, 5000).height == 0);
}

TEST_CASE("a steep slope carries nothing, a gentler one does") {
    for (const double tilt : {59.0, 61.0}) {
        Piece board = box_piece("board", 0, 3000, 500, 400, 20, 400);
        board.at.tilt = -(90 - tilt); // leans back, so that its front looks up
        const Scene scene(with_piece(bare_scene(), board));
        const auto under =
            beneath(scene.document, scene.staging, *scene.index, {}, {0, 3080, 3000});
        if (tilt > 60)
            CHECK(under.support == Support::none);
        else
            CHECK(under.host == "board");
    }
}

TEST_CASE("boxes rest where a plain comparison of their plans says") {
    Random random(31);
    for (int round = 0; round < 60; ++round) {
        Document document = bare_scene();
        for (int i = 0; i < 8; ++i) {
            Piece piece = box_piece("box-" + std::to_string(i), random.uniform(-800, 800),
                                    random.uniform(2200, 3600), 0, random.uniform(100, 700),
                                    random.uniform(100, 700), random.uniform(20, 300));
            piece.at.facing = 90.0 * static_cast<double>(random.integer(0, 3));
            document = with_piece(document, piece);
        }
        document = with_piece(document, box_piece("moved", random.uniform(-800, 800),
                                                  random.uniform(2200, 3600), 600, 300, 300, 400));
        const Scene scene(document);
        const Document after = done(
            document, let_down(document, scene.staging, *scene.index, {"moved"}, Rounding::exact));
        const double wanted = box_rest(document, find_staged(scene.staging, "moved")->box, "moved");
        CHECK(std::abs(foot_of(after, "moved") - wanted) < 0.01);
        const Piece& piece = *find_piece(after, "moved");
        CHECK((piece.support == Support::stands_on) == (wanted > 0));
        if (wanted > 0) {
            const Staging staging = staged_boxes(after);
            CHECK(std::abs(find_staged(staging, piece.host)->box.high.z - wanted) < 0.01);
        }
    }
}

TEST_CASE("a box across two treads rests on the higher one, and a carried one comes along") {
    Document document = furnished();
    document = with_piece(document, box_piece("crate", 4500, -310, 500, 200, 200, 200));
    document = with_piece(
        document, on_host(box_piece("cup", 0, 0, 200, 50, 50, 50), Support::stands_on, "crate"));
    const Scene scene(document);
    const Box stair = find_staged(scene.staging, "stair")->box;
    const double middle = stair.centre().y; // the edge of the higher tread
    for (const double off : {-101.0, -99.0, 0.0, 50.0}) {
        const Document after = done(document, drop(document, scene.staging, *scene.index, {"crate"},
                                                   {4500, middle + off, 0}));
        CHECK(foot_of(after, "crate") == doctest::Approx(off < -100 ? 100 : 200));
        CHECK(find_piece(after, "crate")->host == "stair");
        CHECK(foot_of(after, "cup") - foot_of(after, "crate") == doctest::Approx(200));
    }
}

TEST_CASE("resting tells the rise of a set as one body, and finds no mesh for what is off") {
    const Scene scene(with_piece(furnished(), box_piece("crate", -1000, 0, 1000, 100, 100, 100)));
    const auto down = resting(scene.document, scene.staging, *scene.index, {"crate"}, 2000);
    REQUIRE(down);
    CHECK(down->rise == doctest::Approx(-300));
    CHECK(down->on.host == "table");
    const auto under = resting(scene.document, scene.staging, *scene.index, {"crate"}, 650);
    REQUIRE(under);
    CHECK(under->rise == doctest::Approx(-1000));
    CHECK_FALSE(resting(scene.document, scene.staging, *scene.index, {"nobody"}, 650));
}

TEST_CASE("a dropped piece keeps under a table that is higher than it, or lands on top of it") {
    const Scene scene(with_piece(furnished(), box_piece("crate", 2000, -3000, 0, 100, 100, 100)));
    const auto onto = [&](double height) {
        const Document after =
            done(scene.document,
                 drop(scene.document, scene.staging, *scene.index, {"crate"}, {-1000, 0, height}));
        CHECK(frame_of(after, "crate").origin.x == doctest::Approx(-1000));
        return find_piece(after, "crate")->host;
    };
    CHECK(onto(0).empty());
    CHECK(onto(700) == "table");
    CHECK(onto(2000) == "table");
}

TEST_CASE("what hangs keeps its height and its host when it is dropped") {
    Document document = furnished();
    document = with_piece(document, on_host(box_piece("sign", 0, 0, 1500, 100, 10, 100),
                                            Support::hangs_from, "table"));
    const Scene scene(document);
    const Document after =
        done(document, drop(document, scene.staging, *scene.index, {"sign"}, {1000, 1000, 0}));
    CHECK(find_piece(after, "sign")->support == Support::hangs_from);
    CHECK(glm::distance(frame_of(after, "sign").origin, glm::dvec3(1000, 1000, 1500)) < 1e-6);
}

TEST_CASE("a drag within a plane moves by the way the lines make in it") {
    const glm::dvec3 grabbed{0, 0, 500};
    const Segment before{{0, -1000, 1500}, {0, 1000, -500}}; // through the grabbed point
    const Segment now{{300, -1000, 1500}, {300, 1000, -500}};
    const auto by = drag_on_plane(before, now, grabbed, {0, 0, 1});
    REQUIRE(by);
    CHECK(glm::distance(*by, glm::dvec3(300, 0, 0)) < 1e-9);
    CHECK_FALSE(on_plane({{0, 0, 0}, {1, 0, 0}}, {0, 0, 5}, {0, 0, 1}));
    CHECK_FALSE(on_plane({{0, 0, 10}, {0, 0, 20}}, {0, 0, 5}, {0, 0, 1}));
    CHECK(on_plane({{0, 0, 10}, {0, 0, 9}}, {0, 0, 5}, {0, 0, 1})->z == doctest::Approx(5));
}

TEST_CASE("a drag that has not moved yet leaves the piece where it is, from any side") {
    Random random(32);
    for (int round = 0; round < 40; ++round) {
        Document document = random_boxes(random, 8, false);
        document = with_piece(document, box_piece("moved", random.uniform(-1500, 3500),
                                                  random.uniform(-1500, 3000), 0, 80, 80, 300));
        Scene lifted(document);
        document = done(document, let_down(document, lifted.staging, *lifted.index, {"moved"},
                                           Rounding::exact));
        const Scene scene(document);
        const glm::dvec3 origin = frame_of(document, "moved").origin;
        const glm::dvec3 grabbed = origin + glm::dvec3(0, -40, 150);
        const glm::dvec3 eye = grabbed + glm::dvec3(random.uniform(-4000, 4000), -6000, 3000);
        const Segment line{eye, eye + (grabbed - eye) * 4.0};
        const auto to =
            drag_over(document, scene.staging, *scene.index, {"moved"}, grabbed, line, line);
        REQUIRE(to);
        CHECK(std::abs(to->x - origin.x) < 1e-6);
        CHECK(std::abs(to->y - origin.y) < 1e-6);
    }
}

TEST_CASE("dragged over a table in plan, a cup climbs onto it; in the sky there is nothing") {
    const Document document =
        with_piece(furnished(), box_piece("cup", 2000, -3000, 0, 80, 80, 100));
    const Scene scene(document);
    const auto down = [](double x, double y) { return Segment{{x, y, 5000}, {x, y, -100}}; };
    const auto to = drag_over(document, scene.staging, *scene.index, {"cup"}, {2010, -3010, 100},
                              down(2010, -3010), down(-990, -10));
    REQUIRE(to);
    CHECK(glm::distance(*to, glm::dvec3(-1000, 0, 700)) < 0.01);
    const Document after =
        done(document, drop(document, scene.staging, *scene.index, {"cup"}, *to));
    CHECK(find_piece(after, "cup")->host == "table");
    CHECK(foot_of(after, "cup") == doctest::Approx(700));
    const Segment level{{2010, -9000, 100}, {2010, 9000, 100}};
    CHECK_FALSE(drag_over(document, scene.staging, *scene.index, {"cup"}, {2010, -3010, 100},
                          down(2010, -3010), level));
}

TEST_CASE("another carrier with the place kept changes nothing in the scene") {
    Random random(33);
    for (int round = 0; round < 60; ++round) {
        const Document before = random_boxes(random, 9, true);
        const Staging staging = staged_boxes(before);
        const Ids ids = random_ids(random, before, 3);
        const std::string host = "box-" + std::to_string(random.integer(0, 8));
        const bool cycle = with_carried(before, ids).contains(host);
        const auto put = put_on(before, staging, ids, host, Place::keep, Rounding::exact);
        const auto hung = hang_from(before, ids, host, Rounding::exact);
        CHECK(put.ok() != cycle);
        CHECK(hung.ok() != cycle);
        std::vector<Result<Edit>> edits;
        edits.push_back(put_into_section(before, ids, "section-a", Place::keep, Rounding::exact));
        edits.push_back(let_go(before, ids, Place::keep, Rounding::exact));
        if (!cycle) edits.push_back(put);
        if (!cycle) edits.push_back(hung);
        for (const auto& edit : edits) {
            const Document after = done(before, edit);
            for (const auto& piece : *before.pieces)
                CHECK(apart(frame_of(before, piece->id), frame_of(after, piece->id)) < 1e-6);
        }
        const Document section = done(before, edits[0]);
        for (const std::string& id : roots_of(before, ids))
            CHECK(find_piece(section, id)->host == "section-a");
    }
}

TEST_CASE("settled pieces rest on the host, come inside the section, or stand on the floor") {
    Document document = furnished();
    document = with_piece(document, box_piece("crate", 2000, -3000, 40, 100, 100, 100));
    const Staging staging = staged_boxes(document);
    const Document on =
        done(document, put_on(document, staging, {"crate"}, "table", Place::settle));
    CHECK(foot_of(on, "crate") == doctest::Approx(700));
    CHECK(frame_of(on, "crate").origin.x == doctest::Approx(-1000)); // the middle of the table
    const Document in =
        done(document, put_into_section(document, {"crate"}, "section-a", Place::settle));
    CHECK(glm::distance(frame_of(in, "crate").origin, glm::dvec3(2000, 0, 150)) < 1e-6);
    const Document gone = done(on, let_go(on, {"crate"}, Place::settle));
    CHECK(foot_of(gone, "crate") == doctest::Approx(0));
    CHECK(find_piece(gone, "crate")->support == Support::none);
    CHECK_FALSE(put_on(document, staging, {"crate"}, "crate", Place::settle).ok());
    CHECK_FALSE(put_on(document, staging, {"crate"}, "nobody", Place::settle).ok());
    CHECK_FALSE(put_into_section(document, {"crate"}, "table", Place::keep).ok());
}
