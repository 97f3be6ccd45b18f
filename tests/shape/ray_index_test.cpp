// The ray index against its brute-force twin, ray by ray, on random scenes.
#include <doctest/doctest.h>

#include <vector>

#include "ray_compare.h"
#include "ray_scenes.h"

namespace standpoint {

namespace {

using namespace ray_scenes;
using ray_compare::Tally;

constexpr int rays_a_scene = 10'000;

std::vector<Segment> random_segments(std::uint64_t seed, int count, const glm::dvec3& low,
                                     const glm::dvec3& high) {
    support::Random random(seed);
    std::vector<Segment> segments;
    for (int i = 0; i < count; ++i) {
        const glm::dvec3 from = point_in(random, low, high);
        segments.push_back({from, point_in(random, low, high)});
    }
    return segments;
}

Tally compare_both(const Staging& staging, const std::vector<Segment>& segments) {
    const auto fast = make_ray_index(staging);
    const auto slow = make_brute_force(staging);
    return ray_compare::compare(staging, *fast, *slow, segments);
}

void report(const Tally& tally) {
    INFO("rays ", tally.rays, ", crossings ", tally.crossings, ", blocked ", tally.blocked,
         ", differences ", tally.differences, ", farthest from an edge ", tally.farthest, " mm");
    CHECK(tally.unexplained == 0);
    CHECK(tally.disordered == 0);
    CHECK(tally.differences * 10'000 <= tally.rays);
}

} // namespace

TEST_CASE("the index agrees with its twin on random scenes") {
    for (const std::uint64_t seed : {1u, 2u, 3u}) {
        CAPTURE(seed);
        const Staging staging = landing(seed);
        const Tally tally =
            compare_both(staging, random_segments(seed + 100, rays_a_scene, {-1000, -1000, 0},
                                                  {9000, 9000, 2300}));
        report(tally);
        // The scene is neither empty nor a solid block.
        CHECK(tally.crossings > rays_a_scene);
        CHECK(tally.blocked > rays_a_scene / 5);
        CHECK(tally.blocked < rays_a_scene * 9 / 10);
    }
}

TEST_CASE("a scene 20 m off the datum is as exact as one at it") {
    const glm::dvec3 offset(20'000, -20'000, 500);
    const Staging staging = landing(4, offset);
    report(compare_both(
        staging, random_segments(5, rays_a_scene, offset, offset + glm::dvec3(8000, 8000, 2300))));
}

TEST_CASE("one piece a kilometre away costs the others no precision") {
    Staging staging = landing(6);
    staging.pieces.push_back(
        staged("lost", box({0, 0, 0}, {100, 100, 100}), placed({1e6, 1e6, 0})));
    report(compare_both(staging, random_segments(7, rays_a_scene, {0, 0, 0}, {8000, 8000, 2300})));
}

TEST_CASE("an index that is quick to build agrees with the twin as well") {
    const Staging staging = landing(10);
    const auto quick = make_ray_index(staging, {.quick = true});
    const auto slow = make_brute_force(staging);
    const auto segments = random_segments(11, rays_a_scene, {-1000, -1000, 0}, {9000, 9000, 2300});
    const Tally tally = ray_compare::compare(staging, *quick, *slow, segments);
    report(tally);
    CHECK(tally.crossings > rays_a_scene);
    CHECK(quick->facts().triangles == slow->facts().triangles);
}

TEST_CASE("an index of some pieces answers as if the others were not there") {
    const Staging staging = landing(8);
    IndexChoice choice;
    for (std::uint32_t i = 0; i < staging.pieces.size(); i += 3)
        choice.only.push_back(i);
    const auto fast = make_ray_index(staging, choice);
    const auto slow = make_brute_force(staging, choice);
    const auto whole = make_brute_force(staging);
    const auto segments = random_segments(9, 1000, {0, 0, 0}, {8000, 8000, 2300});
    const Tally tally = ray_compare::compare(staging, *fast, *slow, segments);
    CHECK(tally.differences == 0);
    std::vector<Crossing> some, all;
    for (const Segment& segment : segments) {
        slow->crossings(segment, some);
        whole->crossings(segment, all);
        std::erase_if(all, [](const Crossing& c) { return c.piece % 3 != 0; });
        REQUIRE(some.size() == all.size());
        for (std::size_t i = 0; i < some.size(); ++i)
            CHECK(some[i].piece % 3 == 0);
    }
    CHECK(fast->facts().pieces == choice.only.size());
    CHECK(fast->facts().triangles == slow->facts().triangles);
    CHECK(fast->facts().triangles < make_ray_index(staging)->facts().triangles);
}

} // namespace standpoint
