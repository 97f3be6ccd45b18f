// Both ray indexes where geometry is at its worst: seams, slivers, flat pieces seen edge on.
#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include <glm/geometric.hpp>

#include "ray_compare.h"
#include "ray_scenes.h"

namespace standpoint {

namespace {

using namespace ray_scenes;
using ray_compare::Tally;

Tally compare_both(const Staging& staging, const std::vector<Segment>& segments) {
    const auto fast = make_ray_index(staging);
    const auto slow = make_brute_force(staging);
    return ray_compare::compare(staging, *fast, *slow, segments);
}

// From a sphere about the piece to its origin, each through a point of an edge of one of its
// triangles, clear of the corners, or through a corner, `off` mm beside it.
std::vector<Segment> into_seams(const StagedPiece& piece, double radius, std::uint64_t seed,
                                bool corners, double off = 0) {
    support::Random random(seed);
    const auto triangles = static_cast<std::int64_t>(piece.mesh->triangles.size());
    const glm::dvec3 inside = piece.placement.frame.origin;
    std::vector<Segment> segments;
    for (int i = 0; i < 3000; ++i) {
        const auto index = static_cast<std::uint32_t>(random.integer(0, triangles - 1));
        const Triangle t = scene_triangle(piece, index);
        const double share = corners ? 0 : random.uniform(0.02, 0.98);
        const glm::dvec3 aside = glm::normalize(point_in(random, {-1, -1, -1}, {1, 1, 1}));
        const glm::dvec3 seam = t.a * (1 - share) + t.b * share + aside * off;
        segments.push_back({inside + glm::normalize(seam - inside) * radius, inside});
    }
    return segments;
}

struct Entries {
    int leaks = 0;   // segments that come into the closed piece unhindered
    int repeats = 0; // segments that cross its surface more than once
};

Entries entries(const RayIndex& index, const std::vector<Segment>& segments) {
    std::vector<std::uint8_t> blocked(segments.size());
    index.blocked(segments, blocked);
    Entries all;
    std::vector<Crossing> crossings;
    for (std::size_t i = 0; i < segments.size(); ++i) {
        index.crossings(segments[i], crossings);
        CHECK((blocked[i] != 0) == !crossings.empty());
        all.leaks += crossings.empty();
        all.repeats += crossings.size() > 1;
    }
    return all;
}

void enters_once(const RayIndex& index, const std::vector<Segment>& segments) {
    const Entries all = entries(index, segments);
    CHECK(all.leaks == 0);
    CHECK(all.repeats == 0);
}

} // namespace

TEST_CASE("a ray through a seam of a closed surface enters it once") {
    struct Case {
        Mesh mesh;
        Placement placement;
        double radius;
    };
    const std::vector<Case> cases = {
        {box({-30, -20, -40}, {30, 20, 40}), placed({100, 200, 50}, 33, 12, -20, 12), 3000},
        {box({-30, -20, -40}, {30, 20, 40}), placed({0, 0, 0}), 200},
        {ball(30, 24, 12), placed({-300, 500, 400}, 77, 5, 60, 14), 4000},
        {ball(0.5, 16, 8), placed({10, 20, 30}, 10), 500},
        {ball(30, 24, 12), placed({20'000, 20'000, 400}, 77, 5, 60, 14), 4000},
    };
    for (std::size_t i = 0; i < cases.size(); ++i) {
        CAPTURE(i);
        Staging staging;
        staging.pieces.push_back(staged("solid", cases[i].mesh, cases[i].placement));
        const StagedPiece& piece = staging.pieces[0];
        const auto index = make_ray_index(staging), twin = make_brute_force(staging);
        const auto edges = into_seams(piece, cases[i].radius, 20 + i, false);
        enters_once(*index, edges);
        enters_once(*twin, edges);
        const auto corners = into_seams(piece, cases[i].radius, 40 + i, true);
        enters_once(*twin, corners);
        // In single precision the triangles about a corner do not quite close: of rays aimed at the
        // corner itself about one in a hundred slips through, 0.01 mm beside it none.
        const Entries at_corners = entries(*index, corners);
        CHECK(at_corners.leaks * 30 <= static_cast<int>(corners.size()));
        CHECK(at_corners.repeats == 0);
        enters_once(*index, into_seams(piece, cases[i].radius, 60 + i, true, 0.01));
    }
}

TEST_CASE("a ray through a seam of open ground crosses it once") {
    Staging staging;
    staging.pieces.push_back(
        staged("shore", terrain(8000, 8000, 12, 300, 3), placed({-4000, -4000, 0})));
    support::Random random(30);
    const Mesh& mesh = *staging.pieces[0].mesh;
    std::vector<Segment> segments;
    for (int i = 0; i < 3000; ++i) {
        const auto last = static_cast<std::int64_t>(mesh.triangles.size()) - 1;
        const Triangle t =
            scene_triangle(staging.pieces[0], static_cast<std::uint32_t>(random.integer(0, last)));
        const double share = random.uniform(0, 1);
        const glm::dvec3 seam = t.a * (1 - share) + t.b * share;
        const bool inner = std::abs(seam.x) < 3999 && std::abs(seam.y) < 3999;
        if (inner)
            segments.push_back({seam + glm::dvec3(0, 0, 2000), seam - glm::dvec3(0, 0, 1000)});
    }
    CHECK(segments.size() > 2000);
    enters_once(*make_ray_index(staging), segments);
    enters_once(*make_brute_force(staging), segments);
}

TEST_CASE("two faces of a thin wedge stay two crossings up to its edge") {
    // The faces meet along x = 0 and are 0.002 mm apart at x = 1: nearer than same_crossing_mm.
    Mesh wedge = quad({0, 0, -50}, {100, -0.1, -50}, {100, -0.1, 50}, {0, 0, 50}, glass(0.5f));
    append(wedge, quad({100, 0.1, -50}, {0, 0, -50}, {0, 0, 50}, {100, 0.1, 50}, glass(0.5f)));
    Staging staging;
    staging.pieces.push_back(staged("wedge", wedge));
    for (const auto& index : {make_ray_index(staging), make_brute_force(staging)})
        for (const double x : {0.005, 0.5, 1.0, 50.0}) {
            CAPTURE(x);
            std::vector<Crossing> crossings;
            index->crossings({{x, -100, 7}, {x, 100, 7}}, crossings);
            CHECK(crossings.size() == 2);
        }
}

TEST_CASE("triangles without area and slivers take nothing from the rest") {
    Staging plain = landing(31);
    Staging littered = plain;
    support::Random random(32);
    Mesh empty = empty_mesh(opaque()), slivers = empty_mesh(opaque());
    for (int i = 0; i < 200; ++i) {
        const glm::dvec3 a = point_in(random, {0, 0, 0}, {8000, 8000, 2000});
        const glm::dvec3 b = point_in(random, {0, 0, 0}, {8000, 8000, 2000});
        add_triangle(empty, a, a, a);
        add_triangle(empty, a, b, b);
        add_triangle(slivers, a, b,
                     (a + b) * 0.5 + point_in(random, {0, 0, 0}, {1e-4, 1e-4, 1e-4}));
    }
    littered.pieces.push_back(staged("empty", empty));
    littered.pieces.push_back(staged("slivers", slivers));
    const auto last = static_cast<std::uint32_t>(plain.pieces.size());
    std::vector<Segment> segments;
    for (int i = 0; i < 2000; ++i) {
        const glm::dvec3 from = point_in(random, {0, 0, 0}, {8000, 8000, 2300});
        segments.push_back({from, point_in(random, {0, 0, 0}, {8000, 8000, 2300})});
    }
    const Tally tally = compare_both(littered, segments);
    CHECK(tally.unexplained == 0);
    CHECK(tally.disordered == 0);
    CHECK(tally.differences * 1000 <= tally.rays);
    const auto bare = make_ray_index(plain), full = make_ray_index(littered);
    std::vector<Crossing> expected, found;
    for (const Segment& segment : segments) {
        bare->crossings(segment, expected);
        full->crossings(segment, found);
        for (const Crossing& c : found)
            CHECK(c.piece != last);
        std::erase_if(found, [&](const Crossing& c) { return c.piece >= last; });
        CHECK(found.size() == expected.size());
    }
}

TEST_CASE("a flat piece seen exactly edge on does not block, and a hair off it does") {
    Staging staging;
    staging.pieces.push_back(staged(
        "flat", quad({-500, -500, 100}, {500, -500, 100}, {500, 500, 100}, {-500, 500, 100})));
    for (const auto& index : {make_ray_index(staging), make_brute_force(staging)}) {
        std::vector<Crossing> crossings;
        index->crossings({{-1000, 20, 100}, {1000, 20, 100}}, crossings);
        CHECK(crossings.empty());
        index->crossings({{-1000, 20, 100.5}, {1000, 20, 99.5}}, crossings);
        CHECK(crossings.size() == 1);
        index->crossings({{-1000, 20, 100.5}, {1000, 20, 100.4}}, crossings);
        CHECK(crossings.empty());
    }
}

TEST_CASE("rays in the planes of tilted faces differ only along the edges they pass") {
    Staging staging;
    for (int i = 0; i < 10; ++i)
        staging.pieces.push_back(
            staged("box" + std::to_string(i), box({-20, -30, 0}, {20, 30, 50}),
                   placed({i * 900.0, 0, 0}, i * 31.0, i * 3.0, i * -5.0, 12)));
    support::Random random(33);
    std::vector<Segment> segments;
    for (int i = 0; i < 3000; ++i) {
        const StagedPiece& piece = staging.pieces[static_cast<std::size_t>(random.integer(0, 9))];
        const Triangle t = scene_triangle(piece, static_cast<std::uint32_t>(random.integer(0, 11)));
        const double r = random.uniform(0.1, 0.9), s = random.uniform(0.1, 0.9);
        const glm::dvec3 p = t.a * (1 - r) + t.b * r, q = t.a * (1 - s) + t.c * s;
        segments.push_back({p - (q - p), q + (q - p)});
    }
    const Tally tally = compare_both(staging, segments);
    INFO("farthest ", tally.farthest, " differences ", tally.differences);
    CHECK(tally.unexplained == 0);
    CHECK(tally.crossings > 0);
    // Which of two faces comes first means nothing where the ray runs within one of them.
    CHECK(tally.disordered * 50 <= tally.rays);
}

TEST_CASE("pieces of a millimetre are found among pieces of metres") {
    support::Random random(34);
    Staging staging = landing(35);
    const std::size_t first = staging.pieces.size();
    for (int i = 0; i < 60; ++i) {
        const Placement at = placed(point_in(random, {0, 0, 600}, {8000, 8000, 2000}), i * 17.0, i);
        Mesh mesh = i % 2 ? ball(0.5, 8, 6) : box({-0.5, -0.5, -0.5}, {0.5, 0.5, 0.5});
        staging.pieces.push_back(staged("crumb" + std::to_string(i), std::move(mesh), at));
    }
    std::vector<Segment> segments;
    for (int i = 0; i < 4000; ++i) {
        const auto index = first + static_cast<std::size_t>(random.integer(0, 59));
        const glm::dvec3 at = staging.pieces[index].placement.frame.origin;
        const glm::dvec3 from = point_in(random, {0, 0, 0}, {8000, 8000, 2300});
        segments.push_back({from, at + (at - from) * 0.01});
    }
    const Tally tally = compare_both(staging, segments);
    INFO("differences ", tally.differences, " farthest ", tally.farthest);
    CHECK(tally.unexplained == 0);
    CHECK(tally.disordered == 0);
    CHECK(tally.crossings > 2 * tally.rays);
    // Their edges are close together, so more rays than elsewhere pass one within rounding.
    CHECK(tally.differences * 500 <= tally.rays);
}

TEST_CASE("rays aimed at edges differ only where rounding decides") {
    const Staging staging = landing(36);
    support::Random random(37);
    std::vector<Segment> segments;
    for (int i = 0; i < 5000; ++i) {
        const auto piece = static_cast<std::size_t>(
            random.integer(0, static_cast<std::int64_t>(staging.pieces.size()) - 1));
        const auto last =
            static_cast<std::int64_t>(staging.pieces[piece].mesh->triangles.size()) - 1;
        const Triangle t = scene_triangle(staging.pieces[piece],
                                          static_cast<std::uint32_t>(random.integer(0, last)));
        const double share = random.uniform(0, 1);
        const glm::dvec3 edge = t.a * share + t.b * (1 - share);
        const glm::dvec3 off = point_in(random, {-0.1, -0.1, -0.1}, {0.1, 0.1, 0.1});
        const glm::dvec3 from = point_in(random, {0, 0, 0}, {8000, 8000, 2300});
        segments.push_back({from, edge + off + (edge - from) * 0.05});
    }
    const Tally tally = compare_both(staging, segments);
    INFO("differences ", tally.differences, " farthest ", tally.farthest);
    CHECK(tally.unexplained == 0);
    CHECK(tally.disordered == 0);
    CHECK(tally.differences * 100 <= tally.rays);
}

} // namespace standpoint
