// Samples of a surface: by area, evenly, repeatable, with an honest standard error.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>

#include <glm/geometric.hpp>

#include "ray_scenes.h"
#include "shape/surface.h"

namespace standpoint {

namespace {

using namespace ray_scenes;
using Surface = std::vector<SurfaceTriangle>;

Surface whole(const Mesh& mesh) {
    const auto surface = patch_surface(staged("piece", mesh, placed({10, 20, 30}, 25, 5, 8)), {});
    REQUIRE(surface.ok());
    return *surface;
}

double area_of(const Surface& surface) {
    double area = 0;
    for (const SurfaceTriangle& t : surface)
        area += t.area;
    return area;
}

Surface scraps(std::uint64_t seed, int count) {
    support::Random random(seed);
    Mesh mesh = empty_mesh(opaque());
    for (int i = 0; i < count; ++i) {
        const glm::dvec3 at = point_in(random, {0, 0, 0}, {500, 500, 500});
        const double size = std::exp(random.uniform(-2, 4));
        add_triangle(mesh, at, at + size * point_in(random, {-1, -1, -1}, {1, 1, 1}),
                     at + size * point_in(random, {-1, -1, -1}, {1, 1, 1}));
    }
    return whole(mesh);
}

bool same_point(const SurfaceSample& a, const SurfaceSample& b) {
    return a.point == b.point && a.normal == b.normal && a.triangle == b.triangle;
}

using Function = std::function<double(const glm::dvec3&)>;

// The mean of a function over the surface from one call of sample_surface, replicate by replicate.
std::vector<double> replicate_means(const Surface& surface, int replicates, int per_replicate,
                                    std::uint64_t seed, const Function& f) {
    const auto samples = sample_surface(surface, replicates, per_replicate, seed);
    std::vector<double> means;
    for (int r = 0; r < replicates; ++r) {
        double sum = 0;
        for (int i = 0; i < per_replicate; ++i)
            sum += f(samples[static_cast<std::size_t>(r * per_replicate + i)].point);
        means.push_back(sum / per_replicate);
    }
    return means;
}

struct Spread {
    double mean = 0, variance = 0;
};
Spread spread(const std::vector<double>& values) {
    Spread s;
    for (const double v : values)
        s.mean += v / static_cast<double>(values.size());
    for (const double v : values)
        s.variance += (v - s.mean) * (v - s.mean) / static_cast<double>(values.size() - 1);
    return s;
}

// How much smaller the spread of the mean of `count` samples is than by pure chance.
double gain_over_chance(const Surface& surface, int count, const Function& f) {
    const Spread of_means = spread(replicate_means(surface, 200, count, 3, f));
    const Spread of_points = spread(replicate_means(surface, 20'000, 1, 4, f));
    return std::sqrt(of_points.variance / count / of_means.variance);
}

} // namespace

TEST_CASE("samples share the area out among them, and lie off edges and corners") {
    const Surface surface = scraps(1, 60);
    const auto samples = sample_surface(surface, 8, 64, 9);
    REQUIRE(samples.size() == 512);
    std::map<std::uint32_t, const SurfaceTriangle*> by_triangle;
    for (const SurfaceTriangle& t : surface)
        by_triangle[t.triangle] = &t;
    double sum = 0;
    for (const SurfaceSample& s : samples) {
        sum += s.area;
        CHECK(s.area == samples[0].area);
        REQUIRE(by_triangle.count(s.triangle) == 1);
        const SurfaceTriangle& t = *by_triangle[s.triangle];
        const Triangle& k = t.corners;
        CHECK(s.normal == t.normal);
        CHECK(std::abs(glm::dot(s.point - k.a, t.normal)) <= 1e-9);
        const auto weight = [&](const glm::dvec3& a, const glm::dvec3& b) {
            return glm::dot(glm::cross(b - a, s.point - a), t.normal) / (2 * t.area);
        };
        CHECK(std::min({weight(k.a, k.b), weight(k.b, k.c), weight(k.c, k.a)}) >= 3e-4);
    }
    CHECK(std::abs(sum - area_of(surface)) <= 1e-9 * area_of(surface));
}

TEST_CASE("triangles get samples by their area") {
    const Surface surface = scraps(2, 40);
    const double area = area_of(surface);
    for (const int count : {64, 256, 1000}) {
        std::map<std::uint32_t, double> got;
        for (const SurfaceSample& s : sample_surface(surface, 1, count, 5))
            got[s.triangle] += 1;
        // Even points leave an interval at most log2(count) + 2 too many or too few.
        for (const SurfaceTriangle& t : surface)
            CHECK(std::abs(got[t.triangle] - count * t.area / area) <= std::log2(count) + 2);
    }
    // Over many sets each triangle gets its share: 64 000 samples, 5 standard deviations.
    std::map<std::uint32_t, double> got;
    for (const SurfaceSample& s : sample_surface(surface, 1000, 64, 6))
        got[s.triangle] += 1;
    for (const SurfaceTriangle& t : surface) {
        const double share = t.area / area;
        CHECK(std::abs(got[t.triangle] - 64'000 * share) <=
              5 * std::sqrt(64'000 * share * (1 - share)) + 1);
    }
}

TEST_CASE("samples depend on the surface and the seed alone") {
    const Surface surface = scraps(3, 30);
    const auto samples = sample_surface(surface, 4, 32, 7);
    const auto again = sample_surface(surface, 4, 32, 7);
    const auto other = sample_surface(surface, 4, 32, 8);
    const auto more = sample_surface(surface, 6, 32, 7);
    const auto longer = sample_surface(surface, 1, 64, 7);
    Surface turned(surface.rbegin(), surface.rend());
    const auto reordered = sample_surface(turned, 4, 32, 7);
    int same_as_other = 0, same_as_next = 0;
    for (std::size_t i = 0; i < samples.size(); ++i) {
        CHECK(same_point(samples[i], again[i]));
        CHECK(same_point(samples[i], more[i]));
        if (i < 32) CHECK(same_point(samples[i], longer[i]));
        // The order in which the mesh lists its triangles does not matter either.
        CHECK(glm::length(samples[i].point - reordered[i].point) <= 1e-6);
        CHECK(samples[i].triangle == reordered[i].triangle);
        same_as_other += same_point(samples[i], other[i]);
        same_as_next += i + 32 < samples.size() && same_point(samples[i], samples[i + 32]);
    }
    CHECK(same_as_other == 0);
    CHECK(same_as_next == 0);
}

TEST_CASE("the mean of the samples is the centroid") {
    const Surface surface = scraps(4, 25);
    glm::dvec3 centroid(0.0), mean(0.0);
    for (const SurfaceTriangle& t : surface)
        centroid += t.area / area_of(surface) * (t.corners.a + t.corners.b + t.corners.c) / 3.0;
    const int sets = 400;
    std::vector<double> x;
    for (const SurfaceSample& s : sample_surface(surface, sets, 64, 11))
        mean += s.point / (64.0 * sets);
    const Function along_x = [](const glm::dvec3& p) { return p.x; };
    const Spread spread_x = spread(replicate_means(surface, sets, 64, 11, along_x));
    CHECK(std::abs(mean.x - centroid.x) <= 4 * std::sqrt(spread_x.variance / sets));
    CHECK(glm::length(mean - centroid) <= 0.5); // mm, of a heap of 500 mm
}

TEST_CASE("a smooth function is averaged far better than by chance") {
    const Function smooth = [](const glm::dvec3& p) {
        return std::sin(p.x / 15) + std::cos(p.y / 20) * p.z / 40;
    };
    const Surface face = whole(quad({0, 0, 0}, {60, 0, 0}, {60, 0, 40}, {0, 0, 40}));
    const Surface round = whole(ball(30, 24, 12));
    CHECK(gain_over_chance(face, 64, smooth) >= 5);
    CHECK(gain_over_chance(face, 256, smooth) >= 10);
    CHECK(gain_over_chance(round, 64, smooth) >= 2.5);
    CHECK(gain_over_chance(round, 256, smooth) >= 3.5);
}

TEST_CASE("the share of a surface on one side of a plane is within a percent") {
    // Both are their own image through their middle, so a plane through it halves them.
    const Surface face = whole(quad({-30, 0, -20}, {30, 0, -20}, {30, 0, 20}, {-30, 0, 20}));
    const Surface round = whole(ball(30, 24, 12));
    for (const Surface* surface : {&face, &round}) {
        support::Random random(12);
        double squares = 0;
        const int planes = 200;
        for (int i = 0; i < planes; ++i) {
            const glm::dvec3 across = glm::normalize(point_in(random, {-1, -1, -1}, {1, 1, 1}));
            const Function side = [&](const glm::dvec3& p) {
                return glm::dot(p - glm::dvec3(10, 20, 30), across) > 0 ? 1.0 : 0.0;
            };
            const auto means = replicate_means(*surface, 8, 64, random.next(), side);
            const double error = spread(means).mean - 0.5;
            squares += error * error;
            CHECK(std::abs(error) <= 0.025);
        }
        // One standard error; by pure chance it would be 0.022.
        CHECK(std::sqrt(squares / planes) <= 0.01);
    }
}

TEST_CASE("the spread of the replicates tells the error of their mean") {
    const Surface round = whole(ball(30, 24, 12));
    const Function side = [](const glm::dvec3& p) { return p.x + p.z * 0.3 > 35 ? 1.0 : 0.0; };
    std::vector<double> means;
    double told = 0;
    const int runs = 400;
    for (int i = 0; i < runs; ++i) {
        const Spread s =
            spread(replicate_means(round, 8, 64, 1000 + static_cast<std::uint64_t>(i), side));
        means.push_back(s.mean);
        told += s.variance / 8 / runs;
    }
    // The variance of 400 means is known to 7 %: 4 of those, and some for the other side.
    const double ratio = spread(means).variance / told;
    CHECK(ratio > 0.7);
    CHECK(ratio < 1.3);
}

} // namespace standpoint
