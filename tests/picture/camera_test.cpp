// The pinhole: closed forms, round trips and framing.
#include <cmath>

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include "measure/angle.h"
#include "picture/camera.h"

using namespace standpoint;

namespace {

Camera camera_at(const glm::dvec3& eye, const glm::dvec3& look_at, double field) {
    Camera camera;
    camera.eye = eye;
    camera.look_at = look_at;
    camera.field_of_view_deg = field;
    return camera;
}

const Camera oblique = camera_at({-900, -2300, 1600}, {3000, 1800, 700}, 64);

} // namespace

TEST_CASE("the field of view is the angle between the picture's edges") {
    // Pinhole: x / (width / 2) = tan(angle) / tan(field / 2).
    for (const double field : {20.0, 70.0, 110.0}) {
        const Camera camera = camera_at({0, 0, 1500}, {0, 1000, 1500}, field);
        const Pinhole pinhole = pinhole_of(camera);
        const glm::dvec3 left = direction_through(pinhole, 1600, 900, {0, 450});
        const glm::dvec3 right = direction_through(pinhole, 1600, 900, {1600, 450});
        CHECK(std::abs(to_degrees(std::acos(glm::dot(left, right))) - field) < 1e-9);
        CHECK(left.x < 0);
        const double angle = field / 5;
        const auto place =
            project(camera, 1600, 900, {5000 * std::tan(to_radians(angle)), 5000, 1500});
        REQUIRE(place);
        const double expected =
            800 + 800 * std::tan(to_radians(angle)) / std::tan(to_radians(field / 2));
        CHECK(std::abs(place->x - expected) < 1e-9);
        CHECK(std::abs(place->y - 450) < 1e-9);
    }
}

TEST_CASE("up is up and right is right") {
    const auto middle = project(oblique, 1600, 900, oblique.look_at);
    REQUIRE(middle);
    CHECK(glm::distance(*middle, glm::dvec2(800, 450)) < 1e-9);
    CHECK(project(oblique, 1600, 900, oblique.look_at + glm::dvec3(0, 0, 100))->y < 450);
    CHECK(project(oblique, 1600, 900, oblique.look_at + glm::dvec3(100, 0, 0))->x > 800);
}

TEST_CASE("a pixel's ray projects back to the pixel") {
    const Pinhole pinhole = pinhole_of(oblique);
    for (double x = 3; x < 1600; x += 211)
        for (double y = 5; y < 900; y += 127) {
            const glm::dvec3 d = direction_through(pinhole, 1600, 900, {x, y});
            const auto back = project(oblique, 1600, 900, oblique.eye + d * 3456.0);
            REQUIRE(back);
            CHECK(glm::distance(*back, glm::dvec2(x, y)) < 1e-8);
        }
}

TEST_CASE("straight lines stay straight") {
    const glm::dvec3 a(200, 500, 100), b(4800, 2500, 2300);
    const glm::dvec2 pa = *project(oblique, 1600, 900, a), pb = *project(oblique, 1600, 900, b);
    for (double t = 0.1; t < 1; t += 0.1) {
        const glm::dvec2 p = *project(oblique, 1600, 900, a + (b - a) * t);
        const glm::dvec2 u = pb - pa, v = p - pa;
        CHECK(std::abs(u.x * v.y - u.y * v.x) / glm::length(u) < 1e-8);
    }
}

TEST_CASE("what is beside or behind the eye has no place") {
    const Camera camera = camera_at({0, 0, 1500}, {0, 1000, 1500}, 70);
    CHECK(project(camera, 1600, 900, {0, 0.01, 1500}));
    CHECK_FALSE(project(camera, 1600, 900, {500, 0, 1500}));
    CHECK_FALSE(project(camera, 1600, 900, {0, -1000, 1500}));
}

TEST_CASE("looking straight down still has a way up") {
    const Camera camera = camera_at({100, 200, 3000}, {100, 200, 0}, 70);
    const auto right = project(camera, 1600, 900, {200, 200, 0});
    const auto away = project(camera, 1600, 900, {100, 300, 0});
    REQUIRE((right && away));
    CHECK(right->x > 800);
    CHECK(away->y < 450);
}

TEST_CASE("framing takes the box in, and no more than it must") {
    Box box;
    box = grown(grown(box, {0, 0, 0}), {6000, 3600, 2500});
    for (const glm::dvec3 eye : {glm::dvec3(3000, -4500, 1600), glm::dvec3(-2500, -2500, 1000),
                                 glm::dvec3(9000, 1000, 1753)}) {
        const Camera camera = framing(eye, box);
        REQUIRE(camera.field_of_view_deg < 110); // else the limit was met
        double nearest_edge = INFINITY;
        for (int i = 0; i < 8; ++i) {
            const auto p =
                project(camera, 1600, 900,
                        {i & 1 ? 6000.0 : 0.0, i & 2 ? 3600.0 : 0.0, i & 4 ? 2500.0 : 0.0});
            REQUIRE(p);
            CHECK((p->x >= 0 && p->x <= 1600 && p->y >= 0 && p->y <= 900));
            nearest_edge = std::min({nearest_edge, p->x, 1600 - p->x, p->y, 900 - p->y});
        }
        CHECK(nearest_edge < 60);
    }
    CHECK(framing({3000, 1800, 1200}, box).field_of_view_deg == 110); // from inside
    CHECK(framing({3000, -90000, 1200}, box).field_of_view_deg == 20);
}
