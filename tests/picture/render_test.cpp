// Light against closed forms: furnace, shadow, wall and sky, glass, cut-outs; and the same bytes
// for any number of threads.
#include <atomic>
#include <cmath>
#include <numbers>

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include "measure/angle.h"
#include "picture/look.h"
#include "small_scenes.h"

using namespace standpoint;
using namespace standpoint::test;

namespace {

Camera camera_at(const glm::dvec3& eye, const glm::dvec3& look_at, double field = 60) {
    Camera camera;
    camera.eye = eye;
    camera.look_at = look_at;
    camera.field_of_view_deg = field;
    return camera;
}

Light lamp_overhead() {
    Light light = even_light(0);
    light.sun = glm::dvec3(std::numbers::pi);
    light.sun_direction = {0, 0, 1};
    light.sun_half_angle_deg = 0.5;
    light.floor = true;
    return light;
}

// A few things with textures, glass and shadows for comparing whole pictures.
Staging mixed_scene() {
    Staging staging = no_pieces();
    add_form(staging, SphereForm{700.0}, {-600, 300, 0}, {0.7f, 0.4f, 0.3f});
    add_form(staging, BoxForm{600.0, 600.0, 900.0}, {500, 200, 0}, {0.3f, 0.5f, 0.6f});
    Material glass;
    glass.lets_through = 0.6f;
    add_mesh(staging, upright_sheet(900, 900, glass), {0, -500, 0});
    return staging;
}

} // namespace

TEST_CASE("under an even sky a white ball cannot be told from the sky") {
    // The furnace test: a convex body that reflects everything sends back what it gets.
    Staging staging = no_pieces();
    add_form(staging, SphereForm{1000.0}, {0, 0, 0}, {1, 1, 1});
    const Radiance picture = drawn(staging, camera_at({0, -2500, 500}, {0, 0, 500}),
                                   even_light(0.8), small_options(4, 16));
    for (const glm::dvec3& pixel : picture.pixels)
        for (int i = 0; i < 3; ++i)
            CHECK(std::abs(pixel[i] - 0.8) < 0.8 * 0.02);
}

TEST_CASE("a coloured ball sends back its own share") {
    Staging staging = no_pieces();
    add_form(staging, SphereForm{1000.0}, {0, 0, 0}, {0.6f, 0.3f, 0.1f});
    const Radiance picture = drawn(staging, camera_at({0, -2500, 500}, {0, 0, 500}), even_light(2),
                                   small_options(4, 16));
    const glm::dvec3 middle = pixel_at(picture, 32, 18);
    CHECK(std::abs(middle.x - 1.2) < 0.03);
    CHECK(std::abs(middle.y - 0.6) < 0.015);
    CHECK(std::abs(middle.z - 0.2) < 0.005);
}

TEST_CASE("a lamp overhead lights the open floor fully and none of it under a box") {
    Staging staging = no_pieces();
    add_form(staging, BoxForm{1000.0, 1000.0, 100.0}, {0, 0, 600}, {0.5f, 0.5f, 0.5f});
    // Radiance of a matt floor under an irradiance E square to it: colour * E / pi = colour.
    const glm::dvec3 eye(0, -3000, 500);
    const auto options = small_options(1, 1);
    for (const double x : {-900.0, -620.0, -380.0, 0.0, 300.0, 700.0}) {
        const Camera camera = camera_at(eye, {x, 0, 0}, 1);
        const glm::dvec3 seen = pixel_at(drawn(staging, camera, lamp_overhead(), options), 32, 18);
        const glm::dvec3 colour = look_at_floor({x, 0, 0}).colour;
        const double lit = seen.y / colour.y;
        // The floor's sheen mirrors the dark sky: Schlick's share is missing from the rest.
        const double cosine = eye.z / glm::length(eye - glm::dvec3(x, 0, 0));
        const double matt = 1 - (0.018 + 0.982 * std::pow(1 - cosine, 5));
        CAPTURE(x);
        if (std::abs(x) > 600)
            CHECK(std::abs(lit - matt) < 0.03); // the grain changes a little within the pixel
        else
            CHECK(lit < 1e-9);
    }
}

TEST_CASE("a slanting lamp lights by the cosine") {
    Staging staging = no_pieces();
    add_form(staging, BoxForm{400.0, 400.0, 400.0}, {0, 0, 0}, {0.5f, 0.5f, 0.5f});
    Light light = even_light(0);
    light.sun = glm::dvec3(std::numbers::pi);
    light.sun_half_angle_deg = 0.2;
    for (const double from_top : {0.0, 30.0, 60.0, 80.0}) {
        const SinCos turn = sin_cos_deg(from_top);
        light.sun_direction = {turn.sin, 0, turn.cos};
        const Radiance top =
            drawn(staging, camera_at({0, -1, 3000}, {0, 0, 400}, 5), light, small_options(16, 1));
        CHECK(std::abs(pixel_at(top, 32, 18).y - 0.5 * turn.cos) < 0.003);
    }
}

TEST_CASE("the sky beside a long wall is cut by (1 - cos)/2") {
    // Configuration factor from a small plane to a long strip square to it, seen up to the
    // elevation t: (1 - cos t)/2 (Hottel's crossed strings, from memory; checked by integrating
    // the cosine law over the wedge).
    Staging staging = no_pieces();
    add_form(staging, BoxForm{400.0, 400.0, 10.0}, {0, 0, 1000}, {1, 1, 1});
    add_form(staging, BoxForm{17000.0, 50.0, 500.0}, {0, 525, 1010}, {0, 0, 0});
    for (const double y : {100.0, 0.0, -150.0}) {
        const double t = std::atan2(500.0, 500.0 - y);
        const Radiance picture = drawn(staging, camera_at({0, y - 400, 1900}, {0, y, 1010}, 1),
                                       even_light(1), small_options(36, 64));
        CHECK(std::abs(pixel_at(picture, 32, 18).y - (1 - (1 - std::cos(t)) / 2)) < 0.008);
    }
}

TEST_CASE("what stands in the way of the sky sends back its share") {
    Staging staging = no_pieces();
    add_form(staging, BoxForm{400.0, 400.0, 10.0}, {0, 0, 0}, {0.5f, 0.5f, 0.5f});
    add_form(staging, BoxForm{9000.0, 9000.0, 10.0}, {0, 0, 100}, {0, 0, 0}); // a lid
    Light light = even_light(1);
    light.bounce = glm::dvec3(0.4);
    const Radiance picture =
        drawn(staging, camera_at({0, -1500, 80}, {0, 0, 10}, 2), light, small_options(4, 16));
    // Closed off all round: colour * bounce * colour = 0.5 * 0.4 * 0.5, but for the open rim.
    CHECK(std::abs(pixel_at(picture, 32, 18).y - 0.1) < 0.01);
}

TEST_CASE("glass lets through its share and mirrors the rest of the sky") {
    Staging staging = no_pieces();
    Material glass;
    glass.colour = {0, 0, 0, 1};
    glass.lets_through = 0.5f;
    for (int panes = 1; panes <= 3; ++panes) {
        add_mesh(staging, upright_sheet(4000, 4000, glass), {0, 100.0 * panes, -2000});
        const Radiance picture = drawn(staging, camera_at({0, -1000, 0}, {0, 100, 0}, 2),
                                       even_light(1), small_options(1, 1));
        // One pane: mirrored 0.0201, and half of the rest comes through. A mirrored ray runs
        // back into the open; between panes it meets black glass that half lets it through.
        const double f = 0.02, through = (1 - f) * 0.5;
        double expected = 0, arriving = 1, behind = 1;
        for (int k = 0; k < panes; ++k) {
            expected += arriving * f * behind;
            arriving *= through;
            behind *= 0.5;
        }
        expected += arriving;
        CHECK(std::abs(pixel_at(picture, 32, 18).y - expected) < 1e-6);
    }
}

TEST_CASE("a cut-out shows what is behind it") {
    Image image;
    image.width = 2;
    image.height = 1;
    image.rgba = {255, 255, 255, 0, 255, 255, 255, 255}; // the left half is cut out
    Material material;
    material.colour = {0, 0, 0, 1};
    material.image = std::make_shared<const Image>(image);
    material.alpha_cutoff = 0.5f;
    Staging staging = no_pieces();
    add_mesh(staging, upright_sheet(2000, 2000, material), {0, 0, -1000});
    const Radiance picture = drawn(staging, camera_at({0, -2000, 0}, {0, 0, 0}, 30),
                                   even_light(0.9), small_options(1, 1));
    CHECK(std::abs(pixel_at(picture, 10, 18).y - 0.9) < 1e-9);
    CHECK(std::abs(pixel_at(picture, 54, 18).y) < 1e-9);
}

TEST_CASE("edges fall where the pinhole formula says") {
    Staging staging = no_pieces();
    Material black;
    black.colour = {0, 0, 0, 1};
    add_mesh(staging, upright_sheet(1000, 1000, black), {500, 0, -500}); // x from 0 to 1000
    const Camera camera = camera_at({150, -2000, 0}, {150, 0, 0}, 60);
    const Radiance picture = drawn(staging, camera, even_light(1), small_options(64, 1));
    for (const double x : {0.0, 1000.0}) {
        const double edge = project(camera, 64, 36, {x, 0, 0})->x;
        const int column = static_cast<int>(edge);
        const double dark = x == 0 ? column + 1 - edge : edge - column; // share of the pixel
        CHECK(std::abs((1 - pixel_at(picture, column, 18).y) - dark) < 0.05);
        CHECK(pixel_at(picture, column - 1, 18).y == (x == 0 ? 1.0 : 0.0));
        CHECK(pixel_at(picture, column + 1, 18).y == (x == 0 ? 0.0 : 1.0));
    }
}

TEST_CASE("light falls off around the display and nowhere else") {
    Light light;
    CHECK(light_share(light, {9000, 0, 0}) == 1); // no circle: even
    light.lit_middle = {1000, 500};
    light.lit_radius = 2000;
    light.dim = 0.3;
    CHECK(light_share(light, {1000, 500, 900}) == 1);
    CHECK(light_share(light, {2599, 500, 0}) == 1);
    CHECK(light_share(light, {2700, 500, 0}) < 1);
    CHECK(light_share(light, {4900, 500, 0}) > 0.3);
    CHECK(std::abs(light_share(light, {5001, 500, 0}) - 0.3) < 1e-12);
}

TEST_CASE("the same picture for any number of threads, and a different one for another eye") {
    const Staging staging = mixed_scene();
    const auto index = make_ray_index(staging);
    PictureOptions options = small_options(3, 2);
    options.width = 101; // tiles that do not fit
    options.height = 57;
    const Camera camera = camera_at({300, -2500, 1200}, {0, 200, 300});
    options.threads = 1;
    const Image one = *draw_picture(staging, *index, camera, options, {});
    CHECK(one.rgba.size() == 4u * 101 * 57);
    for (const unsigned threads : {2u, 3u, 7u}) {
        options.threads = threads;
        CHECK(draw_picture(staging, *index, camera, options, {})->rgba == one.rgba);
    }
    const Camera other = camera_at({310, -2500, 1200}, {0, 200, 300});
    CHECK(draw_picture(staging, *index, other, options, {})->rgba != one.rgba);
    for (std::size_t i = 3; i < one.rgba.size(); i += 4)
        REQUIRE(one.rgba[i] == 255);
}

TEST_CASE("the fast index and its slow twin draw the same") {
    const Staging staging = mixed_scene();
    const auto fast = make_ray_index(staging), slow = make_brute_force(staging);
    PictureOptions options = small_options(1, 1);
    options.width = 32;
    options.height = 18;
    const Camera camera = camera_at({300, -2500, 1200}, {0, 200, 300});
    const Light light = hall_light(staging);
    const Radiance a = *render(staging, *fast, *fast, camera, light, options, {});
    const Radiance b = *render(staging, *slow, *slow, camera, light, options, {});
    int apart = 0;
    for (std::size_t i = 0; i < a.pixels.size(); ++i)
        if (glm::distance(a.pixels[i], b.pixels[i]) > 1e-3) ++apart;
    CHECK(apart <= 3); // single-precision rays may graze an edge the other way
}

TEST_CASE("drawing reports how far it is and can be cancelled") {
    const Staging staging = mixed_scene();
    const auto index = make_ray_index(staging);
    const PictureOptions options = small_options(1, 1);
    const Camera camera = camera_at({300, -2500, 1200}, {0, 200, 300});
    Progress progress;
    std::atomic<bool> whole = false;
    progress.report = [&](double share, std::string_view) {
        if (share == 1) whole = true;
    };
    CHECK(draw_picture(staging, *index, camera, options, progress).ok());
    CHECK(whole);
    progress.cancelled = [] { return true; };
    const auto stopped = draw_picture(staging, *index, camera, options, progress);
    REQUIRE_FALSE(stopped.ok());
    CHECK(stopped.error().code == ErrorCode::cancelled);
}
