// Stations and lanes: where eyes are along the visitor path.
#include <doctest/doctest.h>

#include <cmath>

#include <glm/geometric.hpp>

#include "check/stations.h"
#include "support/random.h"

using namespace standpoint;

namespace {

constexpr double close_mm = 1e-6;

Path round_three_sides() {
    return Path{{{-1500, 5000}, {-1500, -1500}, {7500, -1500}, {7500, 900}}, 2000};
}

Visitor visitor(double setback) {
    Visitor out;
    out.eye_height = 1500;
    out.setback = setback;
    return out;
}

double distance_to_line(const glm::dvec2& p, const glm::dvec2& a, const glm::dvec2& b) {
    const glm::dvec2 along = glm::normalize(b - a);
    return along.x * (p.y - a.y) - along.y * (p.x - a.x); // positive: to the left
}

} // namespace

TEST_CASE("stations stand at every step, corner and end, and share out the path") {
    const Path path = round_three_sides();
    const double length = 6500 + 9000 + 2400;
    CHECK(std::abs(path_length(path) - length) < close_mm);
    const std::vector<Station> stations = stations_of(path);
    // 72 steps from 0 to 17750, the end, and no double where a step falls on a corner.
    CHECK(stations.size() == 73);
    CHECK(stations.front().distance == 0);
    CHECK(std::abs(stations.back().distance - length) < close_mm);
    double sum = 0;
    int corners = 0;
    for (std::size_t i = 0; i < stations.size(); ++i) {
        sum += stations[i].length;
        corners += stations[i].corner ? 1 : 0;
        if (i == 0) continue;
        const double step = stations[i].distance - stations[i - 1].distance;
        CHECK(step > 0);
        CHECK(step <= station_step_mm + close_mm);
    }
    CHECK(std::abs(sum - length) < close_mm);
    CHECK(corners == 2);
}

TEST_CASE("a corner between two steps gets a station of its own") {
    const Path path{{{0, 0}, {600, 0}, {600, 600}}, 1000};
    const std::vector<Station> stations = stations_of(path);
    REQUIRE(stations.size() == 7); // 0 250 500 600 750 1000 1200
    CHECK(stations[3].distance == 600);
    CHECK(stations[3].corner);
    CHECK(glm::length(stations[3].direction - glm::normalize(glm::dvec2(1, 1))) < 1e-12);
    CHECK(stations[2].direction == glm::dvec2(1, 0));
    CHECK(stations[4].direction == glm::dvec2(0, 1));
    CHECK(stations[3].length == 125); // half of 100 and half of 150
}

TEST_CASE("lanes stay parallel to the edges of the path, at corners too") {
    support::Random random(7);
    for (int turn = 0; turn < 200; ++turn) {
        const double angle = random.uniform(-2.4, 2.4); // up to a sharp corner
        const glm::dvec2 corner(3000, 0);
        const glm::dvec2 end = corner + 3000.0 * glm::dvec2(std::cos(angle), std::sin(angle));
        const Path path{{{0, 0}, {corner.x, corner.y}, {end.x, end.y}}, 1600};
        const Station at_corner = station_at(path, 3000);
        REQUIRE(at_corner.corner);
        for (int lane = 0; lane < lane_count; ++lane) {
            const glm::dvec3 eye = eye_at(path, at_corner, visitor(150), lane);
            const double side = 650.0 * (1 - lane);
            CHECK(std::abs(distance_to_line({eye.x, eye.y}, {0, 0}, corner) - side) < close_mm);
            CHECK(std::abs(distance_to_line({eye.x, eye.y}, corner, end) - side) < close_mm);
            CHECK(eye.z == 1500);
        }
    }
}

TEST_CASE("side lanes keep their setback and never cross the middle") {
    const Path path{{{0, 0}, {1000, 0}}, 1000};
    const Station station = station_at(path, 500);
    CHECK(eye_at(path, station, visitor(150), 0) == glm::dvec3(500, 350, 1500));
    CHECK(eye_at(path, station, visitor(150), 1) == glm::dvec3(500, 0, 1500));
    CHECK(eye_at(path, station, visitor(150), 2) == glm::dvec3(500, -350, 1500));
    CHECK(eye_at(path, station, visitor(500), 0) == glm::dvec3(500, 0, 1500));
    CHECK(eye_at(path, station, visitor(700), 0) == glm::dvec3(500, 0, 1500));
}

TEST_CASE("a hairpin keeps its lanes within reach") {
    const Path path{{{0, 0}, {3000, 0}, {0, 1}}, 1000};
    const glm::dvec3 eye = eye_at(path, station_at(path, 3000), visitor(0), 0);
    CHECK(std::isfinite(eye.x));
    CHECK(glm::length(glm::dvec2(eye.x - 3000, eye.y)) <= 4 * 500 + close_mm);
}

TEST_CASE("points that repeat make no leg, and a path without length no station") {
    const Path twice{{{0, 0}, {0, 0}, {500, 0}, {500, 0}}, 1000};
    CHECK(path_length(twice) == 500);
    CHECK(stations_of(twice).size() == 3);
    CHECK(stations_of(Path{{{5, 5}, {5, 5}}, 1000}).empty());
    // Shorter than a step: both ends.
    CHECK(stations_of(Path{{{0, 0}, {100, 0}}, 1000}).size() == 2);
}

TEST_CASE("a station at any distance lies where the list puts it") {
    const Path path = round_three_sides();
    for (const Station& station : stations_of(path)) {
        const Station again = station_at(path, station.distance);
        CHECK(again.place == station.place);
        CHECK(again.direction == station.direction);
        CHECK(again.corner == station.corner);
    }
    CHECK(station_at(path, -5).distance == 0);
    CHECK(station_at(path, 1e9).distance == path_length(path));
}
