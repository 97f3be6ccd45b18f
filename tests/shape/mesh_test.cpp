// Meshes: bounds, joining, moving, texels and cut-outs.
#include "shape/mesh.h"

#include <cmath>
#include <limits>

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include "measure/frame.h"

using namespace standpoint;

namespace {

Mesh triangle(bool normals, bool uvs) {
    Mesh mesh;
    mesh.positions = {{0, 0, 0}, {2, 0, 0}, {0, 2, 0}};
    if (normals) mesh.normals.assign(3, glm::vec3(0, 0, 1));
    if (uvs) mesh.uvs = {{0, 0}, {1, 0}, {0, 1}};
    mesh.triangles = {{0, 1, 2}};
    mesh.part_of = {0};
    mesh.parts = {MeshPart{"leaf"}};
    mesh.materials = {Material{}};
    return mesh;
}

// Two by two: black, white / mid grey half clear, red clear.
std::shared_ptr<const Image> four_texels() {
    auto image = std::make_shared<Image>();
    image->width = image->height = 2;
    image->rgba = {0, 0, 0, 255, 255, 255, 255, 255, 188, 188, 188, 128, 255, 0, 0, 0};
    return image;
}

} // namespace

TEST_CASE("bounds are those of the corners in use") {
    Mesh mesh = triangle(false, false);
    mesh.positions.push_back({100, 100, 100});
    CHECK(bounds(mesh).low == glm::dvec3(0, 0, 0));
    CHECK(bounds(mesh).high == glm::dvec3(2, 2, 0));
    CHECK(bounds(Mesh{}).empty());
}

TEST_CASE("joining keeps parts and materials apart") {
    Mesh mesh = triangle(true, true);
    Mesh more = triangle(true, true);
    more.parts[0].name = "stem";
    more.materials[0].lets_through = 0.5f;
    append(mesh, more);
    REQUIRE(mesh.triangles.size() == 2);
    CHECK(mesh.triangles[1] == glm::uvec3(3, 4, 5));
    CHECK(mesh.part_of[1] == 1);
    CHECK(mesh.parts[1].name == "stem");
    CHECK(mesh.materials[mesh.parts[0].material].lets_through == 0);
    CHECK(mesh.materials[mesh.parts[1].material].lets_through == 0.5f);
}

TEST_CASE("joining fills in the normals and texture places that one side lacks") {
    for (int with = 0; with < 16; ++with) {
        CAPTURE(with);
        Mesh mesh = triangle(with & 1, with & 2);
        append(mesh, triangle(with & 4, with & 8));
        CHECK(mesh.positions.size() == 6);
        CHECK(mesh.normals.size() == (with & 5 ? 6 : 0));
        CHECK(mesh.uvs.size() == (with & 10 ? 6 : 0));
        for (const glm::vec3& n : mesh.normals)
            CHECK(n == glm::vec3(0, 0, 1));
        if (with & 2) CHECK(mesh.uvs[1] == glm::vec2(1, 0));
        if (with & 8) CHECK(mesh.uvs[4] == glm::vec2(1, 0));
        if ((with & 10) == 2) CHECK(mesh.uvs[4] == glm::vec2(0, 0));
    }
    Mesh from_nothing;
    append(from_nothing, triangle(false, true));
    append(from_nothing, Mesh{});
    CHECK(from_nothing.triangles.size() == 1);
    CHECK(from_nothing.normals.empty());
}

TEST_CASE("moving turns first, then sets off; normals turn along") {
    Mesh mesh = triangle(true, false);
    transform(mesh, rotation_of(0, 90, 0), {10, 0, 0}, 3);
    // Tilted towards its front, -Y, the upward face looks that way.
    CHECK(glm::length(glm::dvec3(mesh.normals[0]) - glm::dvec3(0, -1, 0)) < 1e-7);
    CHECK(mesh.positions[1] == glm::dvec3(16, 0, 0));
    CHECK(mesh.positions[2] == glm::dvec3(10, 0, 6));
}

TEST_CASE("texels are the nearest, rows from the top, sRGB made linear, alpha as stored") {
    Material material;
    CHECK(texel(material, {0.3f, 0.3f}) == glm::vec4(1.0f));
    material.image = four_texels();
    CHECK(texel(material, {0.25f, 0.25f}) == glm::vec4(0, 0, 0, 1));
    CHECK(texel(material, {0.75f, 0.25f}) == glm::vec4(1, 1, 1, 1));
    const glm::vec4 grey = texel(material, {0.25f, 0.75f});
    // IEC 61966-2-1: ((188 / 255 + 0.055) / 1.055) ^ 2.4 = 0.50289.
    CHECK(std::abs(grey.r - 0.50289) < 1e-5);
    CHECK(std::abs(grey.a - 128.0 / 255) < 1e-6);
    CHECK(texel(material, {0.75f, 0.75f}) == glm::vec4(1, 0, 0, 0));
    // The dark end of the curve is straight: 10 / 255 / 12.92.
    CHECK(std::abs(linear_of_srgb(10) - 10.0 / 255 / 12.92) < 1e-8);
}

TEST_CASE("texels beyond the image repeat or stay at its edge") {
    Material material;
    material.image = four_texels();
    for (float away : {-3.0f, -1.0f, 0.0f, 1.0f, 250.0f}) {
        CHECK(texel(material, {0.75f + away, 0.25f}).r == 1);
        CHECK(texel(material, {0.25f, 0.25f + away}).r == 0);
    }
    material.repeat_u = material.repeat_v = false;
    CHECK(texel(material, {-0.3f, 0.2f}).r == 0);
    CHECK(texel(material, {7.0f, 0.2f}).r == 1);
    CHECK(texel(material, {1.0f, 1.0f}).a == 0);
    for (float odd : {std::numeric_limits<float>::quiet_NaN(),
                      std::numeric_limits<float>::infinity(), -1e30f, 1e30f, -1e-12f}) {
        for (bool repeat : {false, true}) {
            material.repeat_u = material.repeat_v = repeat;
            const glm::vec4 colour = texel(material, {odd, odd});
            CHECK((colour.a == 0 || colour.a == 1));
        }
    }
}

TEST_CASE("a triangle is cut out where texel and colour together are below the cutoff") {
    Mesh mesh = triangle(false, true);
    Material& material = mesh.materials[0];
    material.image = four_texels();
    CHECK(!cut_out(mesh, 0, 0.75, 0.2)); // no cutoff: never
    material.alpha_cutoff = 0.5f;
    CHECK(!cut_out(mesh, 0, 0.2, 0.2));
    CHECK(!cut_out(mesh, 0, 0.2, 0.7)); // 128 / 255 is above a half
    material.colour.a = 0.9f;
    CHECK(cut_out(mesh, 0, 0.2, 0.7)); // nine tenths of it is below
    CHECK(!cut_out(mesh, 0, 0.2, 0.2));
    mesh.uvs = {{0.75f, 0.75f}, {0.75f, 0.75f}, {0.75f, 0.75f}};
    CHECK(cut_out(mesh, 0, 0.2, 0.2));
    // Without an image the colour's own alpha decides.
    material.image = nullptr;
    CHECK(!cut_out(mesh, 0, 0.2, 0.2));
    material.colour.a = 0.4f;
    CHECK(cut_out(mesh, 0, 0.2, 0.2));
}
