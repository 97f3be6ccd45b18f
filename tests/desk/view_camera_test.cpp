// Views: pixels into the scene and back, moves that keep what is under the pointer, framing.
#include "desk/view_camera.h"

#include <algorithm>
#include <cmath>

#include <doctest/doctest.h>
#include <glm/vec4.hpp>

using namespace standpoint;

namespace {

constexpr ViewKind kinds[] = {ViewKind::plan, ViewKind::front, ViewKind::side, ViewKind::round,
                              ViewKind::eye};
const glm::ivec2 size(900, 600);
const Box scene = {{-2000, -1000, 0}, {6000, 5000, 2600}};

ViewCamera camera_of(ViewKind kind) {
    ViewCamera camera;
    camera.kind = kind;
    camera.eye = {1500, -4000, 1600};
    return framed(camera, size, scene);
}

double from_line(const Segment& line, const glm::dvec3& point) {
    const glm::dvec3 along = glm::normalize(line.to - line.from);
    return glm::length(glm::cross(point - line.from, along));
}

} // namespace

TEST_CASE("the line through a point's pixel passes through the point") {
    for (const ViewKind kind : kinds) {
        CAPTURE(static_cast<int>(kind));
        const ViewCamera camera = camera_of(kind);
        for (int i = 0; i < 27; ++i) {
            const glm::dvec3 share(i % 3 / 2.0, i / 3 % 3 / 2.0, i / 9 / 2.0);
            const glm::dvec3 point = scene.low + scene.size() * share;
            const auto pixel = pixel_of(camera, size, point);
            REQUIRE(pixel);
            CHECK(from_line(line_through(camera, size, *pixel, scene), point) < 1e-6);
        }
    }
}

TEST_CASE("the matrices put a point where pixel_of does") {
    for (const ViewKind kind : kinds) {
        const ViewCamera camera = camera_of(kind);
        const ViewMatrices m = matrices_of(camera, size, scene);
        for (const glm::dvec3& point : {scene.low, scene.high, scene.centre()}) {
            const glm::dvec4 clip = m.projection * m.view * glm::dvec4(point, 1);
            REQUIRE(clip.w > 0);
            const glm::dvec2 pixel((clip.x / clip.w + 1) / 2 * size.x,
                                   (1 - clip.y / clip.w) / 2 * size.y);
            const auto expected = pixel_of(camera, size, point);
            REQUIRE(expected);
            CHECK(glm::length(pixel - *expected) < 1e-6);
            CHECK(std::abs(clip.z) <= clip.w);
        }
    }
}

TEST_CASE("framing shows the whole box and little more") {
    for (const ViewKind kind : {ViewKind::plan, ViewKind::front, ViewKind::side, ViewKind::round}) {
        CAPTURE(static_cast<int>(kind));
        const ViewCamera camera = camera_of(kind);
        double widest = 0;
        for (int i = 0; i < 8; ++i) {
            const glm::dvec3 corner(i & 1 ? scene.high.x : scene.low.x,
                                    i & 2 ? scene.high.y : scene.low.y,
                                    i & 4 ? scene.high.z : scene.low.z);
            const auto pixel = pixel_of(camera, size, corner);
            REQUIRE(pixel);
            const glm::dvec2 share = glm::abs(*pixel / glm::dvec2(size) * 2.0 - 1.0);
            CHECK(share.x <= 1);
            CHECK(share.y <= 1);
            widest = std::max({widest, share.x, share.y});
        }
        CHECK(widest > 0.85);
    }
}

TEST_CASE("framing keeps what lies over the top of the view clear, up to a third of it") {
    for (const ViewKind kind : {ViewKind::plan, ViewKind::front, ViewKind::side, ViewKind::round}) {
        for (const double clear : {30.0, 120.0, 200.0, 450.0}) {
            CAPTURE(static_cast<int>(kind));
            CAPTURE(clear);
            ViewCamera camera;
            camera.kind = kind;
            camera = framed(camera, size, scene, clear);
            double highest = 1e9;
            for (int i = 0; i < 8; ++i) {
                const auto pixel = pixel_of(camera, size,
                                            {i & 1 ? scene.high.x : scene.low.x,
                                             i & 2 ? scene.high.y : scene.low.y,
                                             i & 4 ? scene.high.z : scene.low.z});
                REQUIRE(pixel);
                CHECK(pixel->x >= 0);
                CHECK(pixel->x <= size.x);
                CHECK(pixel->y <= size.y);
                highest = std::min(highest, pixel->y);
            }
            CHECK(highest >= std::min(clear, 200.0));
        }
    }
}

TEST_CASE("panning and zooming keep what is under the pointer") {
    const glm::dvec2 pixel(210, 433);
    for (const ViewKind kind : {ViewKind::plan, ViewKind::front, ViewKind::side}) {
        const ViewCamera camera = camera_of(kind);
        const glm::dvec3 point = line_through(camera, size, pixel, scene).from;
        const auto after_pan = pixel_of(panned(camera, size, {31, -17}), size, point);
        CHECK(glm::length(*after_pan - (pixel + glm::dvec2(31, -17))) < 1e-6);
        for (const double factor : {0.5, 1.2, 3.0}) {
            const auto after_zoom = pixel_of(zoomed(camera, size, pixel, factor), size, point);
            CHECK(glm::length(*after_zoom - pixel) < 1e-6);
        }
    }
    // Round: what lies at the depth of the middle.
    ViewCamera round = camera_of(ViewKind::round);
    const ViewMatrices m = matrices_of(round, size, scene);
    const Segment line = line_through(round, size, pixel, scene);
    const glm::dvec3 along = glm::normalize(line.to - line.from);
    const double depth = glm::dot(round.middle - m.eye, m.forward) / glm::dot(along, m.forward);
    const glm::dvec3 beside = m.eye + along * depth;
    CHECK(glm::length(*pixel_of(panned(round, size, {31, -17}), size, beside) -
                      (pixel + glm::dvec2(31, -17))) < 1e-6);
    for (const double factor : {0.5, 1.2, 3.0})
        CHECK(glm::length(*pixel_of(zoomed(round, size, pixel, factor), size, beside) - pixel) <
              1e-6);
    // An eye view: the direction that was in the middle follows the pointer.
    const ViewCamera eye = camera_of(ViewKind::eye);
    const auto followed = pixel_of(panned(eye, size, {40, 0}), size, eye.middle);
    REQUIRE(followed);
    CHECK(std::abs(followed->x - (size.x / 2.0 + 40)) < 2);
}

TEST_CASE("each view looks the way its name says") {
    const auto right_and_up = [](ViewKind kind, const glm::dvec3& right, const glm::dvec3& up) {
        const ViewCamera camera = camera_of(kind);
        const glm::dvec2 middle = *pixel_of(camera, size, camera.middle);
        const glm::dvec2 to_right = *pixel_of(camera, size, camera.middle + right * 100.0);
        const glm::dvec2 to_up = *pixel_of(camera, size, camera.middle + up * 100.0);
        CHECK(to_right.x > middle.x);
        CHECK(std::abs(to_right.y - middle.y) < 1e-6);
        CHECK(to_up.y < middle.y);
    };
    right_and_up(ViewKind::plan, {1, 0, 0}, {0, 1, 0});
    right_and_up(ViewKind::front, {1, 0, 0}, {0, 0, 1});
    right_and_up(ViewKind::side, {0, 1, 0}, {0, 0, 1});
    ViewCamera camera = camera_of(ViewKind::round);
    camera.around_deg = 0;
    // In front of the scene, looking to the back: X to the right.
    CHECK(matrices_of(camera, size, scene).eye.y < scene.low.y);
    camera.around_deg = 90;
    CHECK(matrices_of(camera, size, scene).eye.x > scene.high.x);
}

TEST_CASE("what a pixel covers agrees with where points fall") {
    for (const ViewKind kind : kinds) {
        CAPTURE(static_cast<int>(kind));
        const ViewCamera camera = camera_of(kind);
        const glm::dvec3 point = camera.middle;
        const glm::dmat4 view = matrices_of(camera, size, scene).view;
        const glm::dvec3 right(view[0][0], view[1][0], view[2][0]); // square to the line of sight
        const double mm = mm_a_pixel_at(camera, size, point);
        const glm::dvec2 a = *pixel_of(camera, size, point),
                         b = *pixel_of(camera, size, point + right * mm * 10.0);
        CHECK(std::abs(glm::length(b - a) - 10) < 1e-6);
    }
}

TEST_CASE("an eye view turns to what is framed, and nothing behind it has a pixel") {
    const ViewCamera eye = camera_of(ViewKind::eye);
    CHECK(glm::length(*pixel_of(eye, size, scene.centre()) - glm::dvec2(450, 300)) < 1e-6);
    CHECK_FALSE(pixel_of(eye, size, eye.eye - (eye.middle - eye.eye)));
    CHECK(eye.eye == glm::dvec3(1500, -4000, 1600));
}

TEST_CASE("zoom and orbit stop at their limits, a cut starts at its height") {
    ViewCamera camera = camera_of(ViewKind::plan);
    CHECK(zoomed(camera, size, {1, 1}, 1e9).mm_per_pixel == finest_mm_per_pixel);
    CHECK(zoomed(camera, size, {1, 1}, 1e-9).mm_per_pixel == coarsest_mm_per_pixel);
    CHECK(orbited(camera, {0, 1e6}).above_deg == highest_above_deg);
    CHECK(orbited(camera, {0, -1e6}).above_deg == lowest_above_deg);
    CHECK(std::abs(line_through(camera, size, {5, 5}, scene, 900.0).from.z - 900) < 1e-9);
    CHECK(line_through(camera, size, {5, 5}, scene).from.z > scene.high.z);
}
