// Patches of surface: parts by name, exact cuts, errors.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include <glm/geometric.hpp>

#include "ray_scenes.h"
#include "shape/surface.h"

namespace standpoint {

namespace {

using namespace ray_scenes;

Patch boxed(const glm::dvec3& low, const glm::dvec3& high) {
    Patch patch;
    patch.low = Point3{low.x, low.y, low.z};
    patch.high = Point3{high.x, high.y, high.z};
    return patch;
}

Patch named(std::vector<std::string> parts) {
    Patch patch;
    patch.parts = std::move(parts);
    return patch;
}

std::vector<SurfaceTriangle> surface_of(const StagedPiece& piece, const Patch& patch) {
    const auto surface = patch_surface(piece, patch);
    REQUIRE(surface.ok());
    return *surface;
}

double area_of(const StagedPiece& piece, const Patch& patch) {
    const auto surface = patch_surface(piece, patch);
    if (!surface.ok()) return 0; // nothing of the piece lies there
    double area = 0;
    for (const SurfaceTriangle& t : *surface)
        area += t.area;
    return area;
}

std::string message_of(const StagedPiece& piece, const Patch& patch) {
    const auto surface = patch_surface(piece, patch);
    REQUIRE(!surface.ok());
    CHECK(surface.error().code == ErrorCode::input);
    return surface.error().message;
}

// A head on a body: a ball named by its node and its part, a box by its part alone.
StagedPiece seller() {
    Mesh mesh = box({-20, -10, 0}, {20, 10, 100});
    mesh.parts[0].name = mesh.parts[0].belongs_to = "body";
    Mesh head = ball(12, 24, 12);
    head.parts[0].name = "head-front";
    head.parts[0].belongs_to = "head";
    head.materials[0].two_sided = true;
    transform(head, glm::dmat3(1.0), {0, 0, 112}, 1);
    append(mesh, head);
    return staged("seller", mesh, placed({500, 700, 150}, 30, 4, -7, 14));
}

} // namespace

TEST_CASE("a whole piece has the area of its built size, facing out") {
    const StagedPiece piece =
        staged("crate", box({-10, -20, 0}, {10, 20, 30}), placed({100, 200, 300}, 40, 10, 20, 12));
    const auto surface = patch_surface(piece, {});
    REQUIRE(surface.ok());
    CHECK(surface->size() == 12);
    // 2 (20 x 40 + 20 x 30 + 40 x 30) mm2, at 12:1
    CHECK(std::abs(area_of(piece, {}) - 5200.0 * 144) <= 1e-6);
    const glm::dvec3 middle = to_scene(piece, {0, 0, 15});
    for (const SurfaceTriangle& t : *surface) {
        CHECK(std::abs(glm::length(t.normal) - 1) <= 1e-12);
        CHECK(glm::dot(t.normal, t.corners.a - middle) > 0);
        CHECK(!t.two_sided);
    }
}

TEST_CASE("a box cuts the surface exactly") {
    const StagedPiece crate = staged("crate", box({-10, -20, 0}, {10, 20, 30}));
    // The upper half without its top: four sides of 15 mm; with it as well, since the box touches.
    const double sides = 2 * (20 + 40) * 15;
    CHECK(std::abs(area_of(crate, boxed({-50, -50, 15}, {50, 50, 29.999})) -
                   2 * (20 + 40) * 14.999) <= 1e-9);
    CHECK(std::abs(area_of(crate, boxed({-50, -50, 15}, {50, 50, 30})) - sides - 800) <= 1e-9);
    // A corner of 1 x 2 x 3 mm.
    CHECK(std::abs(area_of(crate, boxed({9, 18, 27}, {50, 50, 50})) - (1 * 2 + 2 * 3 + 1 * 3)) <=
          1e-9);
    // A window within one face, touching no edge of it.
    CHECK(std::abs(area_of(crate, boxed({-1, -25, 10}, {2, -15, 14})) - 3 * 4) <= 1e-9);
    // A ball cut by a cube inside it has nothing left.
    const StagedPiece round = staged("ball", ball(30, 24, 12));
    CHECK(!patch_surface(round, boxed({-10, -10, -10}, {10, 10, 10})).ok());
}

TEST_CASE("boxes that share a piece out share its area out") {
    const StagedPiece piece = seller();
    support::Random random(1);
    for (int round = 0; round < 20; ++round) {
        const glm::dvec3 at = point_in(random, {-20, -12, 0}, {20, 12, 124});
        double sum = 0;
        for (int i = 0; i < 8; ++i) {
            const glm::dvec3 end(i & 1 ? 200 : -200, i & 2 ? 200 : -200, i & 4 ? 200 : -200);
            sum += area_of(piece, boxed(glm::min(at, end), glm::max(at, end)));
        }
        CHECK(std::abs(sum - area_of(piece, {})) <= 1e-6);
    }
}

TEST_CASE("what is cut lies in the box, on the triangle it came from") {
    const StagedPiece piece = staged("ball", ball(30, 24, 12));
    const auto surface = patch_surface(piece, boxed({-5, -40, 3}, {21, 0, 17}));
    REQUIRE(surface.ok());
    for (const SurfaceTriangle& t : *surface) {
        const Triangle whole = scene_triangle(piece, t.triangle);
        for (const glm::dvec3& p : {t.corners.a, t.corners.b, t.corners.c}) {
            CHECK((p.x >= -5 && p.x <= 21 && p.y <= 0 && p.z >= 3 && p.z <= 17));
            CHECK(std::abs(glm::dot(p - whole.a, t.normal)) <= 1e-9);
        }
    }
}

TEST_CASE("a face on the side of the box belongs to the patch, one beside it does not") {
    const StagedPiece flat =
        staged("flat", quad({0, 0, 10}, {100, 0, 10}, {100, 50, 10}, {0, 50, 10}));
    CHECK(std::abs(area_of(flat, boxed({0, 0, 10}, {100, 50, 20})) - 5000) <= 1e-9);
    CHECK(std::abs(area_of(flat, boxed({0, 0, 0}, {100, 50, 10})) - 5000) <= 1e-9);
    CHECK(std::abs(area_of(flat, boxed({0, 0, 10}, {100, 50, 10})) - 5000) <= 1e-9);
    CHECK(!patch_surface(flat, boxed({0, 0, 10.001}, {100, 50, 20})).ok());
    CHECK(!patch_surface(flat, boxed({0, 0, 0}, {100, 50, 9.999})).ok());
}

TEST_CASE("parts are chosen by their own name or their model's nodes") {
    const StagedPiece piece = seller();
    const double body = area_of(piece, named({"body"})), head = area_of(piece, named({"head"}));
    CHECK(body > 0);
    CHECK(head > 0);
    CHECK(area_of(piece, named({"head-front"})) == head);
    CHECK(std::abs(area_of(piece, named({"head", "body"})) - body - head) <= 1e-6);
    CHECK(std::abs(area_of(piece, {}) - body - head) <= 1e-6);
    Patch top_of_body = boxed({-20, -10, 90}, {20, 10, 200});
    const double both = area_of(piece, top_of_body);
    top_of_body.parts = {"body"};
    CHECK(std::abs(area_of(piece, top_of_body) - (2 * (40 + 20) * 10 + 800) * 196.0) <= 1e-6);
    CHECK(both > area_of(piece, top_of_body));
    for (const SurfaceTriangle& t : surface_of(piece, named({"head"})))
        CHECK(t.two_sided);
    for (const SurfaceTriangle& t : surface_of(piece, named({"body"})))
        CHECK(!t.two_sided);
}

TEST_CASE("what a patch cannot be is said with the names there are") {
    const StagedPiece piece = seller();
    CHECK(message_of(piece, named({"head", "hat"})) ==
          "piece \"seller\" has no part named \"hat\": expected \"body\", \"head\" or "
          "\"head-front\"");
    CHECK(message_of(piece, boxed({500, 500, 500}, {600, 600, 600})).find("no area") !=
          std::string::npos);
    // Touching along an edge is no area either; a box turned inside out holds nothing.
    CHECK(message_of(piece, boxed({20, 10, 0}, {90, 90, 90})).find("\"seller\"") !=
          std::string::npos);
    CHECK(message_of(piece, boxed({20, 10, 100}, {-20, -10, 0})).find("no area") !=
          std::string::npos);
    const StagedPiece plain = staged("crate", box({0, 0, 0}, {1, 1, 1}));
    CHECK(message_of(plain, named({"lid"})) ==
          "piece \"crate\" has no part named \"lid\": its parts have no names");
    Mesh flat = empty_mesh(opaque());
    add_triangle(flat, {0, 0, 0}, {1, 1, 1}, {2, 2, 2});
    CHECK(!patch_surface(staged("line", flat), {}).ok());
}

} // namespace standpoint
