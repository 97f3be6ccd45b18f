// What both ray indexes promise: ends, ties, light let through, cut-outs, seams, threads.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <vector>

#include <glm/geometric.hpp>

#include "base/parallel.h"
#include "measure/tolerance.h"
#include "ray_scenes.h"

namespace standpoint {

namespace {

using namespace ray_scenes;

// A pane of 2 x 2 m square to Y, its middle at (0, y, 0).
Mesh screen(double y, const Material& material = opaque()) {
    return quad({-1000, y, -1000}, {1000, y, -1000}, {1000, y, 1000}, {-1000, y, 1000}, material);
}

Staging screens(const std::vector<double>& places) {
    Staging staging;
    for (const double y : places)
        staging.pieces.push_back(
            staged("screen" + std::to_string(staging.pieces.size()), screen(y)));
    return staging;
}

// Off the diagonal that the two triangles of a screen share.
Segment along_y(double from, double to) {
    return {{100, from, 30}, {100, to, 30}};
}

bool is_blocked(const RayIndex& index, const Segment& segment) {
    std::uint8_t out = 2;
    index.blocked({&segment, 1}, {&out, 1});
    CHECK(out < 2);
    return out == 1;
}

std::vector<std::uint32_t> pieces_across(const RayIndex& index, const Segment& segment) {
    std::vector<Crossing> crossings;
    index.crossings(segment, crossings);
    std::vector<std::uint32_t> pieces;
    for (const Crossing& crossing : crossings)
        pieces.push_back(crossing.piece);
    Crossing first;
    CHECK(index.nearest(segment, first) == !pieces.empty());
    if (!pieces.empty()) CHECK(first.piece == pieces.front());
    return pieces;
}

using Pieces = std::vector<std::uint32_t>;

template <class Body> void on_both(const Staging& staging, Body body) {
    SUBCASE("the index") {
        body(*make_ray_index(staging));
    }
    SUBCASE("the twin") {
        body(*make_brute_force(staging));
    }
}

} // namespace

TEST_CASE("a crossing says where it is") {
    const Staging staging = screens({500});
    on_both(staging, [&](const RayIndex& index) {
        Crossing crossing;
        // Across the screen at (100, 500, 130): in its second triangle, (1 - u - v) a + u c + v d.
        const Segment slanted{{100, 0, -370}, {100, 1000, 630}};
        REQUIRE(index.nearest(slanted, crossing));
        CHECK(std::abs(crossing.distance - 500 * std::sqrt(2.0)) <= 1e-9);
        CHECK(crossing.triangle == 1);
        CHECK(std::abs(crossing.u - 0.55f) <= 1e-6f);
        CHECK(std::abs(crossing.v - 0.015f) <= 1e-6f);
        const Triangle t = scene_triangle(staging.pieces[0], crossing.triangle);
        const double u = static_cast<double>(crossing.u), v = static_cast<double>(crossing.v);
        const glm::dvec3 point = t.a * (1 - u - v) + t.b * u + t.c * v;
        CHECK(glm::length(point - glm::dvec3(100, 500, 130)) <= 1e-3);
    });
}

TEST_CASE("both ends of a segment are drawn in by ray_end_mm") {
    on_both(screens({0}), [](const RayIndex& index) {
        for (const double sign : {1.0, -1.0}) {
            for (const double past : {0.0, 0.05, ray_end_mm - 0.01}) {
                const Segment leaving = along_y(-sign * past, sign * 1000);
                const Segment arriving = along_y(sign * 1000, -sign * past);
                CHECK(!is_blocked(index, leaving));
                CHECK(!is_blocked(index, arriving));
                CHECK(pieces_across(index, leaving).empty());
                CHECK(pieces_across(index, arriving).empty());
            }
            const Segment leaving = along_y(-sign * (ray_end_mm + 0.01), sign * 1000);
            const Segment arriving = along_y(sign * 1000, -sign * (ray_end_mm + 0.01));
            CHECK(is_blocked(index, leaving));
            CHECK(is_blocked(index, arriving));
            CHECK(pieces_across(index, leaving) == Pieces{0});
            CHECK(pieces_across(index, arriving) == Pieces{0});
        }
    });
}

TEST_CASE("a segment without inner length crosses nothing") {
    on_both(screens({0}), [](const RayIndex& index) {
        const double nan = std::numeric_limits<double>::quiet_NaN();
        for (const Segment& segment :
             {along_y(0, 0), along_y(-0.1, 0.1), along_y(-0.05, 0.05), along_y(nan, 100)}) {
            CHECK(!is_blocked(index, segment));
            CHECK(pieces_across(index, segment).empty());
        }
        CHECK(is_blocked(index, along_y(-0.11, 0.11)));
    });
}

TEST_CASE("an index of nothing blocks nothing") {
    Staging staging;
    on_both(staging, [](const RayIndex& index) {
        CHECK(!is_blocked(index, along_y(-100, 100)));
        CHECK(pieces_across(index, along_y(-100, 100)).empty());
        CHECK(index.facts().pieces == 0);
        CHECK(index.facts().triangles == 0);
    });
    staging.pieces.push_back(staged("bare", empty_mesh(opaque())));
    CHECK(make_ray_index(staging)->facts().pieces == 1);
    CHECK(!is_blocked(*make_ray_index(staging), along_y(-100, 100)));
}

TEST_CASE("crossings come by distance, and by piece where they are equally far") {
    const double tie = equal_distance_mm - 0.001, apart = equal_distance_mm + 0.001;
    on_both(screens({300, 100, 200}), [](const RayIndex& index) {
        CHECK(pieces_across(index, along_y(0, 1000)) == Pieces{1, 2, 0});
        CHECK(pieces_across(index, along_y(1000, 0)) == Pieces{0, 2, 1});
        CHECK(pieces_across(index, along_y(150, 1000)) == Pieces{2, 0});
    });
    on_both(screens({100 + tie, 100}), [](const RayIndex& index) {
        CHECK(pieces_across(index, along_y(0, 1000)) == Pieces{0, 1});
        CHECK(pieces_across(index, along_y(1000, 0)) == Pieces{0, 1});
    });
    on_both(screens({100 + apart, 100}), [](const RayIndex& index) {
        CHECK(pieces_across(index, along_y(0, 1000)) == Pieces{1, 0});
        CHECK(pieces_across(index, along_y(1000, 0)) == Pieces{0, 1});
    });
    // A group of ties reaches equal_distance_mm from its first, and no farther.
    on_both(screens({100 + 2 * tie, 100 + tie, 100}), [](const RayIndex& index) {
        CHECK(pieces_across(index, along_y(0, 1000)) == Pieces{1, 2, 0});
    });
    // Faces that lie in one another keep the order of the pieces, whatever their number.
    on_both(screens(std::vector<double>(40, 100.0)), [](const RayIndex& index) {
        const Pieces found = pieces_across(index, along_y(0, 1000));
        REQUIRE(found.size() == 40);
        for (std::uint32_t i = 0; i < 40; ++i)
            CHECK(found[i] == i);
    });
}

TEST_CASE("what lets light through is crossed but does not block") {
    Staging staging;
    staging.pieces.push_back(
        staged("pane", box({-1000, 100, -1000}, {1000, 110, 1000}, glass(0.6f))));
    staging.pieces.push_back(staged("net", screen(200, glass(0.25f))));
    staging.pieces.push_back(staged("wall", screen(300)));
    on_both(staging, [](const RayIndex& index) {
        CHECK(!is_blocked(index, along_y(0, 290)));
        CHECK(is_blocked(index, along_y(0, 310)));
        CHECK(pieces_across(index, along_y(0, 290)) == Pieces{0, 0, 1});
        std::vector<Crossing> room;
        const double pane = 0.6, net = 0.25; // as floats: within 1e-7
        CHECK(light_along(index, along_y(0, 50), room) == 1);
        CHECK(std::abs(light_along(index, along_y(0, 105), room) - pane) <= 1e-6);
        CHECK(std::abs(light_along(index, along_y(0, 150), room) - pane * pane) <= 1e-6);
        CHECK(std::abs(light_along(index, along_y(0, 290), room) - pane * pane * net) <= 1e-6);
        CHECK(room.size() == 3);
        CHECK(light_along(index, along_y(0, 310), room) == 0);
    });
}

TEST_CASE("one piece may have parts that block, parts that let through and cut-outs") {
    Mesh mesh = screen(100);
    append(mesh, screen(200, glass(0.5f)));
    auto image = std::make_shared<Image>();
    image->width = 2; // left half cut out, right half there
    image->height = 1;
    image->rgba = {0, 0, 0, 0, 0, 0, 0, 255};
    Material leaf;
    leaf.image = image;
    leaf.alpha_cutoff = 0.5f;
    append(mesh, screen(300, leaf));
    Staging staging;
    staging.pieces.push_back(staged("mixed", mesh));
    on_both(staging, [](const RayIndex& index) {
        const auto at = [](double x, double from, double to) {
            return Segment{{x, from, 30}, {x, to, 30}};
        };
        for (const double x : {-500.0, 500.0}) {
            CHECK(is_blocked(index, at(x, 0, 150)));
            CHECK(!is_blocked(index, at(x, 150, 250)));
            CHECK(pieces_across(index, at(x, 0, 250)) == Pieces{0, 0});
        }
        CHECK(!is_blocked(index, at(-500, 150, 400)));
        CHECK(is_blocked(index, at(500, 150, 400)));
        CHECK(pieces_across(index, at(-500, 0, 400)).size() == 2);
        CHECK(pieces_across(index, at(500, 0, 400)).size() == 3);
        // Both sides of the border between the texels.
        CHECK(!is_blocked(index, at(-0.01, 250, 400)));
        CHECK(is_blocked(index, at(0.01, 250, 400)));
    });
}

TEST_CASE("a batch answers as its segments do one by one, whatever its size") {
    const Staging staging = landing(11);
    const auto index = make_ray_index(staging);
    support::Random random(12);
    for (const std::size_t count : {0u, 1u, 7u, 511u, 512u, 513u, 1300u}) {
        std::vector<Segment> segments(count);
        for (Segment& s : segments) {
            s.from = point_in(random, {0, 0, 0}, {8000, 8000, 2300});
            s.to = random.integer(0, 9) == 0 ? s.from
                                             : point_in(random, {0, 0, 0}, {8000, 8000, 2300});
        }
        std::vector<std::uint8_t> out(count, 7);
        index->blocked(segments, out);
        for (std::size_t i = 0; i < count; ++i)
            CHECK(out[i] == (is_blocked(*index, segments[i]) ? 1 : 0));
    }
}

TEST_CASE("threads do not change an answer") {
    const Staging staging = landing(13);
    const auto index = make_ray_index(staging);
    support::Random random(14);
    std::vector<Segment> segments(4000);
    for (Segment& s : segments) {
        s.from = point_in(random, {0, 0, 0}, {8000, 8000, 2300});
        s.to = point_in(random, {0, 0, 0}, {8000, 8000, 2300});
    }
    const auto run = [&](unsigned threads, const RayIndex& asked) {
        std::vector<std::vector<Crossing>> all(segments.size());
        parallel_for(segments.size(), threads,
                     [&](std::size_t i) { asked.crossings(segments[i], all[i]); });
        return all;
    };
    const auto one = run(1, *index), many = run(8, *index),
               again = run(1, *make_ray_index(staging));
    for (std::size_t i = 0; i < segments.size(); ++i) {
        REQUIRE(one[i].size() == many[i].size());
        REQUIRE(one[i].size() == again[i].size());
        for (std::size_t k = 0; k < one[i].size(); ++k) {
            const Crossing &a = one[i][k], &b = many[i][k], &c = again[i][k];
            CHECK((a.distance == b.distance && a.distance == c.distance));
            CHECK((a.piece == b.piece && a.triangle == b.triangle && a.u == b.u && a.v == b.v));
            CHECK((a.piece == c.piece && a.triangle == c.triangle && a.u == c.u && a.v == c.v));
        }
    }
}

TEST_CASE("asking the index leaves arithmetic with tiny numbers as it was") {
    const Staging staging = screens({0});
    const auto index = make_ray_index(staging);
    const volatile double tiny = std::numeric_limits<double>::min();
    CHECK(tiny / 2 > 0);
    CHECK(is_blocked(*index, along_y(-100, 100)));
    CHECK(pieces_across(*index, along_y(-100, 100)) == Pieces{0});
    CHECK(tiny / 2 > 0);
}

} // namespace standpoint
