// Making and reading what the drawing's tests look at.
#include "drawn.h"

#include <chrono>
#include <cmath>
#include <cstdlib>
#include <numbers>
#include <thread>

#include <doctest/doctest.h>
#include <epoxy/gl.h>
#include <glm/geometric.hpp>

namespace standpoint {

namespace {

StagedPiece placed(Mesh mesh, const glm::dvec3& origin, const glm::vec3& colour,
                   float lets_through) {
    mesh.part_of.assign(mesh.triangles.size(), 0);
    mesh.parts = {{"body", 0, "body"}};
    mesh.materials.resize(1);
    mesh.materials[0].colour = glm::vec4(colour, 1);
    mesh.materials[0].lets_through = lets_through;
    StagedPiece piece;
    piece.placement.frame.origin = origin;
    piece.placement.scale = 1;
    piece.box = bounds(mesh);
    piece.box.low += origin;
    piece.box.high += origin;
    piece.mesh = std::make_shared<const Mesh>(std::move(mesh));
    return piece;
}

void add_side(Mesh& mesh, const glm::dvec3& middle, const glm::dvec3& u, const glm::dvec3& v) {
    const auto first = static_cast<std::uint32_t>(mesh.positions.size());
    for (const auto& [a, b] : {std::pair(-1, -1), {1, -1}, {1, 1}, {-1, 1}}) {
        mesh.positions.push_back(middle + u * static_cast<double>(a) + v * static_cast<double>(b));
        mesh.normals.push_back(glm::vec3(glm::normalize(glm::cross(u, v))));
    }
    mesh.triangles.push_back({first, first + 1, first + 2});
    mesh.triangles.push_back({first, first + 2, first + 3});
}

} // namespace

StagedPiece drawn_box(const glm::dvec3& foot, const glm::dvec3& size, const glm::vec3& colour,
                      float lets_through) {
    Mesh mesh;
    const glm::dvec3 h = size / 2.0, x(h.x, 0, 0), y(0, h.y, 0), z(0, 0, h.z), up(0, 0, h.z);
    add_side(mesh, up + z, x, y);
    add_side(mesh, up - z, y, x);
    add_side(mesh, up + x, y, z);
    add_side(mesh, up - x, z, y);
    add_side(mesh, up + y, z, x);
    add_side(mesh, up - y, x, z);
    return placed(std::move(mesh), foot, colour, lets_through);
}

StagedPiece drawn_ball(const glm::dvec3& middle, double radius, int rings) {
    Mesh mesh;
    for (int i = 0; i <= rings; ++i)
        for (int j = 0; j <= rings; ++j) {
            const double up = std::numbers::pi * i / rings,
                         round = 2 * std::numbers::pi * j / rings;
            const glm::dvec3 n(std::sin(up) * std::cos(round), std::sin(up) * std::sin(round),
                               -std::cos(up));
            mesh.positions.push_back(n * radius);
            mesh.normals.push_back(glm::vec3(n));
        }
    for (int i = 0; i < rings; ++i)
        for (int j = 0; j < rings; ++j) {
            const auto a = static_cast<std::uint32_t>(i * (rings + 1) + j);
            const auto b = a + static_cast<std::uint32_t>(rings) + 1;
            mesh.triangles.push_back({a, a + 1, b + 1});
            mesh.triangles.push_back({a, b + 1, b});
        }
    return placed(std::move(mesh), middle, {0.2f, 0.5f, 0.3f}, 0);
}

std::shared_ptr<const Staging> staging_of(std::vector<StagedPiece> pieces) {
    auto staging = std::make_shared<Staging>();
    staging->pieces = std::move(pieces);
    return staging;
}

Pixels settled(SceneDrawing& drawing, int slot, const DrawRequest& request) {
    for (int i = 0; i < 20'000; ++i) {
        const unsigned texture = drawing.picture(slot, request);
        REQUIRE(glGetError() == GL_NO_ERROR);
        if (drawing.facts().finished) return pixels_of_texture(texture);
        if (!drawing.facts().redrawn) std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
    FAIL("the picture is never finished");
    return {};
}

Pixels at_once(SceneDrawing& drawing, int slot, const DrawRequest& request) {
    const unsigned texture = drawing.picture(slot, request);
    REQUIRE(glGetError() == GL_NO_ERROR);
    REQUIRE(texture != 0);
    return pixels_of_texture(texture);
}

DrawRequest plan_of(std::shared_ptr<const Staging> staging, const glm::ivec2& size,
                    double mm_per_pixel) {
    DrawRequest request;
    request.staging = std::move(staging);
    request.size = size;
    request.camera.mm_per_pixel = mm_per_pixel;
    request.leading = true;
    return request;
}

double mean_difference(const Pixels& a, const Pixels& b) {
    double sum = 0;
    for (int y = 0; y < b.size.y; ++y)
        for (int x = 0; x < b.size.x; ++x) {
            const Pixel& p = a.at(x * a.size.x / b.size.x, y * a.size.y / b.size.y);
            const Pixel& q = b.at(x, y);
            sum += std::abs(p.r - q.r) + std::abs(p.g - q.g) + std::abs(p.b - q.b) +
                   std::abs(p.a - q.a);
        }
    return sum / (4.0 * b.size.x * b.size.y);
}

} // namespace standpoint
