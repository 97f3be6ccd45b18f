// Mass properties against closed forms, and what must not change when a solid moves.
#include "shape/mass_properties.h"

#include <cmath>
#include <numbers>

#include <doctest/doctest.h>
#include <glm/geometric.hpp>
#include <glm/matrix.hpp>

#include "measure/frame.h"
#include "measure/tolerance.h"
#include "shape/primitives.h"
#include "solid_check.h"
#include "support/random.h"

using namespace standpoint;
using solid_check::good_mesh;

namespace {

double largest_entry(const glm::dmat3& m) {
    double largest = 0;
    for (int c = 0; c < 3; ++c) {
        for (int r = 0; r < 3; ++r)
            largest = std::max(largest, std::abs(m[c][r]));
    }
    return largest;
}

glm::dmat3 diagonal(double x, double y, double z) {
    return {{x, 0, 0}, {0, y, 0}, {0, 0, z}};
}

Mesh box_at(const glm::dvec3& size, const glm::dvec3& foot) {
    Mesh mesh = good_mesh(BoxForm{size.x, size.y, size.z});
    transform(mesh, glm::dmat3(1.0), foot, 1);
    return mesh;
}

Mesh single_triangle() {
    Mesh mesh;
    mesh.positions = {{0, 0, 0}, {3, 0, 0}, {0, 4, 0}};
    mesh.triangles = {{0, 1, 2}};
    mesh.part_of = {0};
    mesh.parts = {MeshPart{}};
    mesh.materials = {Material{}};
    return mesh;
}

} // namespace

TEST_CASE("a box has the closed forms' volume, area, centroid and inertia") {
    // Closed form: m (b^2 + c^2) / 12 about each axis through the middle.
    const MassProperties m = mass_properties(good_mesh(BoxForm{30, 20, 50}));
    CHECK(m.closed);
    CHECK(std::abs(m.volume - 30000) < 1e-9);
    CHECK(std::abs(m.area - 2 * (30 * 20 + 20 * 50 + 30 * 50)) < 1e-9);
    CHECK(glm::length(m.centroid - glm::dvec3(0, 0, 25)) < 1e-12);
    const glm::dmat3 expected = diagonal(20 * 20 + 50 * 50, 30 * 30 + 50 * 50, 30 * 30 + 20 * 20);
    CHECK(largest_entry(m.inertia - 30000.0 / 12 * expected) < 1e-5);
}

TEST_CASE("a cylinder has the closed forms of a prism over a regular polygon") {
    const double r = 12, h = 40;
    const MassProperties m = mass_properties(good_mesh(CylinderForm{2 * r, h}));
    const double foot = solid_check::polygon_area(round_facets) * r * r;
    const double polar = solid_check::polygon_polar_moment(round_facets) * std::pow(r, 4);
    const double rim = round_facets * 2 * r * std::sin(std::numbers::pi / round_facets);
    CHECK(m.closed);
    CHECK(std::abs(m.volume - foot * h) < 1e-8);
    CHECK(std::abs(m.area - (2 * foot + rim * h)) < 1e-9);
    CHECK(glm::length(m.centroid - glm::dvec3(0, 0, h / 2)) < 1e-11);
    const double level = polar / 2 * h + foot * h * h * h / 12;
    CHECK(largest_entry(m.inertia - diagonal(level, level, polar * h)) < 1e-5);
    // The true cylinder is larger, by less than (2 pi / n)^2 / 6 of it.
    const double round = std::numbers::pi * r * r * h;
    CHECK(m.volume < round);
    CHECK(m.volume > round * (1 - std::pow(2 * std::numbers::pi / round_facets, 2) / 6));
}

TEST_CASE("cones, truncated and pointed, have the closed forms over a regular polygon") {
    const double h = 30, unit = solid_check::polygon_area(round_facets);
    for (const auto& [a, b] : {std::pair(10.0, 0.0), {10.0, 4.0}, {4.0, 10.0}, {0.0, 10.0}}) {
        CAPTURE(a);
        CAPTURE(b);
        const MassProperties m = mass_properties(good_mesh(ConeForm{2 * a, 2 * b, h}));
        const double sum = a * a + a * b + b * b;
        CHECK(m.closed);
        CHECK(std::abs(m.volume - unit * h / 3 * sum) < 1e-8);
        const double z = h / 4 * (a * a + 2 * a * b + 3 * b * b) / sum;
        CHECK(glm::length(m.centroid - glm::dvec3(0, 0, z)) < 1e-11);
    }
}

TEST_CASE("a sphere lies between the true one and the ball that fits inside its facets") {
    const double r = 25;
    const MassProperties m = mass_properties(good_mesh(SphereForm{2 * r}));
    const double ball = 4.0 / 3 * std::numbers::pi * r * r * r;
    const double inner = std::pow(std::cos(std::numbers::pi / round_facets), 2); // of the radius
    CHECK(m.closed);
    CHECK(m.volume < ball);
    CHECK(m.volume > ball * std::pow(inner, 3));
    CHECK(m.area < 4 * std::numbers::pi * r * r);
    CHECK(m.area > 4 * std::numbers::pi * r * r * inner * inner);
    CHECK(glm::length(m.centroid - glm::dvec3(0, 0, r)) < 1e-11);
    const double solid = 0.4 * ball * r * r; // 2/5 m r^2
    for (int axis = 0; axis < 3; ++axis) {
        CHECK(m.inertia[axis][axis] < solid);
        CHECK(m.inertia[axis][axis] > solid * std::pow(inner, 5));
    }
}

TEST_CASE("a capsule is its sphere and the cylinder between the caps") {
    const double r = 8, h = 50;
    const MassProperties capsule = mass_properties(good_mesh(CapsuleForm{2 * r, h}));
    const MassProperties sphere = mass_properties(good_mesh(SphereForm{2 * r}));
    const double middle = solid_check::polygon_area(round_facets) * r * r * (h - 2 * r);
    CHECK(capsule.closed);
    CHECK(std::abs(capsule.volume - sphere.volume - middle) < 1e-8);
    CHECK(glm::length(capsule.centroid - glm::dvec3(0, 0, h / 2)) < 1e-11);
    const MassProperties shortest = mass_properties(good_mesh(CapsuleForm{2 * r, 2 * r}));
    CHECK(std::abs(shortest.volume - sphere.volume) < 1e-12);
}

TEST_CASE("a hollow turned ring follows Pappus, either way round") {
    // Pappus's second theorem, with the regular polygon's area for the circle's: the area of the
    // profile times the way of its centroid.
    const std::vector<PlanPoint> profile{{10.0, 0.0}, {14.0, 0.0}, {12.0, 9.0}, {10.0, 0.0}};
    const double area = 4.0 * 9 / 2, middle = (10.0 + 14 + 12) / 3;
    const double expected = 2 * solid_check::polygon_area(round_facets) * middle * area;
    const MassProperties m = mass_properties(good_mesh(TurningForm{profile}));
    CHECK(m.closed);
    CHECK(std::abs(m.volume - expected) < 1e-8);
    const std::vector<PlanPoint> backwards(profile.rbegin(), profile.rend());
    CHECK(std::abs(mass_properties(good_mesh(TurningForm{backwards})).volume - expected) < 1e-8);
}

TEST_CASE("moving, turning and enlarging a solid does to its properties what it must") {
    support::Random random(11);
    const Mesh stairs = good_mesh(StairsForm{30, 8, 5, 4});
    const MassProperties still = mass_properties(stairs);
    for (int i = 0; i < 20; ++i) {
        const glm::dmat3 turn =
            rotation_of(random.uniform(0, 360), random.uniform(-90, 90), random.uniform(-180, 180));
        const glm::dvec3 offset(random.uniform(-1e4, 1e4), random.uniform(-1e4, 1e4),
                                random.uniform(-1e4, 1e4));
        const double scale = random.uniform(0.5, 24);
        Mesh moved = stairs;
        transform(moved, turn, offset, scale);
        const MassProperties m = mass_properties(moved);
        CHECK(m.closed);
        const double cube = std::pow(scale, 3);
        CHECK(std::abs(m.volume / cube - still.volume) < 1e-6);
        CHECK(std::abs(m.area / scale / scale - still.area) < 1e-6);
        CHECK(glm::length(m.centroid - (turn * (scale * still.centroid) + offset)) < 1e-7);
        const glm::dmat3 inertia = turn * still.inertia * glm::transpose(turn);
        CHECK(largest_entry(m.inertia / (cube * scale * scale) - inertia) < 1e-3);
    }
}

TEST_CASE("two solids apart add up, inertia by the parallel axis theorem") {
    const Mesh a = box_at({10, 20, 30}, {-40, 5, 0}), b = box_at({8, 6, 12}, {25, -9, 7});
    Mesh both = a;
    append(both, b);
    const MassProperties ma = mass_properties(a), mb = mass_properties(b);
    const MassProperties m = mass_properties(both);
    CHECK(m.closed);
    CHECK(std::abs(m.volume - ma.volume - mb.volume) < 1e-8);
    CHECK(std::abs(m.area - ma.area - mb.area) < 1e-9);
    const glm::dvec3 centre = (ma.volume * ma.centroid + mb.volume * mb.centroid) / m.volume;
    CHECK(glm::length(m.centroid - centre) < 1e-11);
    glm::dmat3 inertia(0.0);
    for (const MassProperties& part : {ma, mb}) {
        const glm::dvec3 d = part.centroid - centre;
        inertia +=
            part.inertia + part.volume * (glm::dmat3(glm::dot(d, d)) - glm::outerProduct(d, d));
    }
    CHECK(largest_entry(m.inertia - inertia) < 1e-4);
}

TEST_CASE("solids that share a face or an edge are closed") {
    Mesh stack = box_at({10, 10, 10}, {0, 0, 0});
    append(stack, box_at({10, 10, 10}, {0, 0, 10}));
    CHECK(mass_properties(stack).closed);
    append(stack, box_at({10, 10, 10}, {10, 10, 0}));
    CHECK(mass_properties(stack).closed);
    CHECK(std::abs(mass_properties(stack).volume - 3000) < 1e-9);
}

TEST_CASE("a mesh with a hole, a flipped triangle or a single triangle is open") {
    Mesh hole = good_mesh(BoxForm{10, 10, 10});
    hole.triangles.pop_back();
    hole.part_of.pop_back();
    CHECK(!mass_properties(hole).closed);
    Mesh flipped = good_mesh(BoxForm{10, 10, 10});
    std::swap(flipped.triangles[3].x, flipped.triangles[3].y);
    CHECK(!mass_properties(flipped).closed);
    const MassProperties sheet = mass_properties(single_triangle());
    CHECK(!sheet.closed);
    CHECK(std::abs(sheet.area - 6) < 1e-12);
    CHECK(glm::length(sheet.centroid - glm::dvec3(1, 4.0 / 3, 0)) < 1e-12);
    CHECK(!mass_properties(Mesh{}).closed);
}

TEST_CASE("a solid inside out is closed with a volume below 0") {
    Mesh mesh = good_mesh(BoxForm{10, 10, 10});
    for (glm::uvec3& t : mesh.triangles)
        std::swap(t.y, t.z);
    const MassProperties m = mass_properties(mesh);
    CHECK(m.closed);
    CHECK(std::abs(m.volume + 1000) < 1e-9);
}

TEST_CASE("corners weld up to weld_mm and no farther") {
    for (const auto& [gap, closed] : {std::pair(0.9 * weld_mm, true), {1.1 * weld_mm, false}}) {
        Mesh mesh = good_mesh(BoxForm{10, 10, 10});
        for (int i = 0; i < 4; ++i)
            mesh.positions[i].y -= gap; // the front's own four corners
        CHECK(mass_properties(mesh).closed == closed);
    }
}
