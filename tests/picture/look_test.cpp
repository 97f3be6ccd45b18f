// Textures between texels, normals towards the eye, and the floor.
#include <cmath>

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include "measure/angle.h"
#include "picture/look.h"
#include "small_scenes.h"

using namespace standpoint;
using namespace standpoint::test;

namespace {

Material two_texels() { // black on the left, white on the right
    Image image;
    image.width = 2;
    image.height = 1;
    image.rgba = {0, 0, 0, 255, 255, 255, 255, 255};
    Material material;
    material.colour = glm::vec4(1);
    material.image = std::make_shared<const Image>(image);
    return material;
}

Look met(const Staging& staging, const glm::dvec3& from, const glm::dvec3& to) {
    const auto index = make_ray_index(staging);
    Crossing crossing;
    REQUIRE(index->nearest({from, to}, crossing));
    return look_at_crossing(staging, crossing, from, glm::normalize(to - from));
}

} // namespace

TEST_CASE("a texture is its texels at their middles and the mean between them") {
    Material material = two_texels();
    material.repeat_u = material.repeat_v = false;
    CHECK(smooth_texel(material, {0.25f, 0.5f}).x == 0);
    CHECK(std::abs(smooth_texel(material, {0.75f, 0.5f}).x - 1) < 1e-12);
    CHECK(std::abs(smooth_texel(material, {0.5f, 0.5f}).x - 0.5) < 1e-6);
    CHECK(std::abs(smooth_texel(material, {0.375f, 0.5f}).x - 0.25) < 1e-6);
    CHECK(smooth_texel(material, {0.0f, 0.5f}).x == 0); // clamped: no neighbour beyond the edge
    CHECK(std::abs(smooth_texel(material, {1.0f, 0.5f}).x - 1) < 1e-12);
    CHECK(smooth_texel(material, {-7.0f, 0.5f}).x == 0);
}

TEST_CASE("a repeated texture blends across its seam and looks the same a turn on") {
    const Material material = two_texels();
    CHECK(std::abs(smooth_texel(material, {0.0f, 0.5f}).x - 0.5) < 1e-6);
    for (const float u : {0.1f, 0.3f, 0.9f}) {
        const double here = smooth_texel(material, {u, 0.5f}).x;
        CHECK(std::abs(smooth_texel(material, {u + 3, 0.5f}).x - here) < 1e-5);
        CHECK(std::abs(smooth_texel(material, {u - 2, -4.5f}).x - here) < 1e-5);
    }
    CHECK(smooth_texel(Material{}, {0.3f, 0.3f}) == glm::dvec3(1));
}

TEST_CASE("normals turn to the eye from either side") {
    Staging staging = no_pieces();
    Material plain;
    add_mesh(staging, upright_sheet(1000, 1000, plain), {0, 0, 0});
    const Look front = met(staging, {50, -2000, 400}, {50, 2000, 400});
    const Look back = met(staging, {50, 2000, 400}, {50, -2000, 400});
    CHECK(glm::distance(front.normal, glm::dvec3(0, -1, 0)) < 1e-9);
    CHECK(glm::distance(back.normal, glm::dvec3(0, 1, 0)) < 1e-9);
    CHECK(glm::distance(front.place, glm::dvec3(50, 0, 400)) < 0.1);
}

TEST_CASE("a ball's normals are smooth and point away from its middle") {
    Staging staging = no_pieces();
    add_form(staging, SphereForm{1000.0}, {0, 0, 0}, {1, 1, 1});
    for (double x = -400; x <= 400; x += 100) {
        const Look look = met(staging, {x, -3000, 620}, {x, 3000, 620});
        const glm::dvec3 out = glm::normalize(look.place - glm::dvec3(0, 0, 500));
        CHECK(std::abs(std::acos(std::min(1.0, glm::dot(out, look.normal)))) < to_radians(1.5));
    }
}

TEST_CASE("glass and water mirror, other things do not") {
    Staging staging = no_pieces();
    Material glass;
    glass.lets_through = 0.5f;
    add_mesh(staging, upright_sheet(1000, 1000, glass), {0, 0, 0});
    add_mesh(staging, upright_sheet(1000, 1000, Material{}), {2000, 0, 0});
    // Fresnel at normal incidence, air to water: ((1.33 - 1) / (1.33 + 1))^2 = 0.0201.
    CHECK(std::abs(met(staging, {0, -2000, 500}, {0, 500, 500}).gloss - 0.0201) < 2e-4);
    CHECK(met(staging, {2000, -2000, 500}, {2000, 500, 500}).gloss == 0);
}

TEST_CASE("the floor lies level, is pale and is not the same everywhere") {
    const Look a = look_at_floor({100, 200, 0}), b = look_at_floor({107, 300, 0});
    CHECK(a.normal == glm::dvec3(0, 0, 1));
    CHECK(a.colour != b.colour);
    for (const Look& look : {a, b})
        for (int i = 0; i < 3; ++i)
            CHECK((look.colour[i] > 0.25 && look.colour[i] < 0.5));
}
