// The primitive forms: closed, outward, the size that was asked for, and what is refused.
#include "shape/primitives.h"

#include <cmath>
#include <numbers>

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include "shape/mass_properties.h"
#include "solid_check.h"
#include "support/random.h"

using namespace standpoint;
using solid_check::good_mesh;
using solid_check::refusal;

namespace {

void check_box(const Mesh& mesh, const glm::dvec3& low, const glm::dvec3& high) {
    const Box box = bounds(mesh);
    CHECK(glm::length(box.low - low) < 1e-9);
    CHECK(glm::length(box.high - high) < 1e-9);
}

double volume(const Mesh& mesh) {
    const MassProperties m = mass_properties(mesh);
    CHECK(m.closed);
    return m.volume;
}

} // namespace

TEST_CASE("each form stands on the middle of its foot") {
    check_box(good_mesh(BoxForm{30, 20, 50}), {-15, -10, 0}, {15, 10, 50});
    check_box(good_mesh(CylinderForm{20, 7}), {-10, -10, 0}, {10, 10, 7});
    check_box(good_mesh(ConeForm{20, 30, 7}), {-15, -15, 0}, {15, 15, 7});
    check_box(good_mesh(SphereForm{20}), {-10, -10, 0}, {10, 10, 20});
    check_box(good_mesh(CapsuleForm{20, 65}), {-10, -10, 0}, {10, 10, 65});
    check_box(good_mesh(StairsForm{30, 8, 5, 4}), {-15, -16, 0}, {15, 16, 20});
    check_box(good_mesh(WallForm{120, 4, 80, {}}), {-60, -2, 0}, {60, 2, 80});
    check_box(good_mesh(TerrainForm{60, 40, 2, 2, {1.0, 2.0, 3.0, 4.0}}), {-30, -20, 0},
              {30, 20, 4});
}

TEST_CASE("sizes must be more than 0") {
    CHECK(refusal(BoxForm{0, 1, 1}) == "found width 0, expected more than 0");
    CHECK(refusal(BoxForm{1, -2, 1}) == "found depth -2, expected more than 0");
    CHECK(refusal(CylinderForm{10, 0}).find("height 0") != std::string::npos);
    CHECK(refusal(ConeForm{0, 0, 5}).find("one above 0") != std::string::npos);
    CHECK(refusal(ConeForm{-1, 2, 5}).find("none below 0") != std::string::npos);
    CHECK(refusal(SphereForm{0}).find("diameter 0") != std::string::npos);
    CHECK(refusal(CapsuleForm{10, 9.999}).find("at least the diameter") != std::string::npos);
    good_mesh(CapsuleForm{10, 10});
    good_mesh(BoxForm{1e-3, 1e-3, 1e-3});
}

TEST_CASE("round things have smooth normals, and hard edges are split") {
    const Mesh sphere = good_mesh(SphereForm{20});
    for (std::size_t i = 0; i < sphere.positions.size(); ++i) {
        const glm::dvec3 out = glm::normalize(sphere.positions[i] - glm::dvec3(0, 0, 10));
        CHECK(glm::length(out - glm::dvec3(sphere.normals[i])) < 1e-6);
    }
    const Mesh cylinder = good_mesh(CylinderForm{20, 30});
    int level = 0, upright = 0;
    for (std::size_t i = 0; i < cylinder.positions.size(); ++i) {
        const glm::dvec3 p = cylinder.positions[i], n(cylinder.normals[i]);
        if (std::abs(n.z) < 1e-6) {
            CHECK(glm::length(n - glm::dvec3(p.x / 10, p.y / 10, 0)) < 1e-6);
            ++level;
        } else {
            CHECK(std::abs(n.z) > 1 - 1e-6);
            ++upright;
        }
    }
    CHECK(level == 2 * round_facets);
    CHECK(upright == 2 * (round_facets + 1));
    // A cone of 45 degrees: its normals lean as its side does, at the point as well.
    const Mesh cone = good_mesh(ConeForm{20, 0, 10});
    int at_point = 0;
    for (std::size_t i = 0; i < cone.positions.size(); ++i) {
        if (cone.positions[i].z < 9) continue;
        CHECK(std::abs(cone.normals[i].z - std::sqrt(0.5)) < 1e-6);
        ++at_point;
    }
    CHECK(at_point == round_facets);
}

TEST_CASE("corners of a turned profile are smooth below 40 degrees and hard above") {
    const auto corners_of = [](double lean_deg) {
        const double r = 10 - 10 * std::tan(lean_deg * std::numbers::pi / 180);
        return good_mesh(TurningForm{{{10.0, 0.0}, {10.0, 10.0}, {r, 20.0}}}).positions.size();
    };
    CHECK(corners_of(41) - corners_of(39) == round_facets);
}

TEST_CASE("extrusions hold their outline's area times their height, either way round") {
    const std::vector<PlanPoint> hook{{0.0, 0.0}, {9.0, 0.0}, {9.0, 6.0}, {6.0, 6.0}, {6.0, 3.0},
                                      {3.0, 3.0}, {3.0, 3.0}, {1.5, 3.0}, {0.0, 3.0}};
    const std::vector<PlanPoint> backwards(hook.rbegin(), hook.rend());
    for (const auto& outline : {hook, backwards}) {
        const Mesh mesh = good_mesh(ExtrusionForm{outline, 4});
        CHECK(std::abs(volume(mesh) - (27 + 9) * 4) < 1e-9);
        check_box(mesh, {0, 0, 0}, {9, 6, 4});
    }
    CHECK(refusal(ExtrusionForm{{{0.0, 0.0}, {4.0, 4.0}, {4.0, 0.0}, {0.0, 4.0}}, 1}) ==
          "found an outline that crosses or touches itself: the side from point 1 to 2 meets the "
          "side from point 3 to 4; expected sides that stay apart");
    CHECK(refusal(ExtrusionForm{hook, 0}).find("height 0") != std::string::npos);
}

TEST_CASE("turned profiles close to a point at radius 0 and by a flat cap elsewhere") {
    const double unit = solid_check::polygon_area(round_facets);
    // Flat at both ends: the cylinder.
    CHECK(std::abs(volume(good_mesh(TurningForm{{{5.0, 0.0}, {5.0, 9.0}}})) - unit * 25 * 9) <
          1e-9);
    // A point at the top: the cone; at both ends: two cones foot to foot.
    CHECK(std::abs(volume(good_mesh(TurningForm{{{5.0, 0.0}, {0.0, 9.0}}})) - unit * 25 * 3) <
          1e-9);
    const Mesh top = good_mesh(TurningForm{{{0.0, 0.0}, {5.0, 3.0}, {0.0, 9.0}}});
    CHECK(std::abs(volume(top) - unit * 25 * 3) < 1e-9);
    // A bowl: out and up, then in and down again.
    const Mesh bowl = good_mesh(
        TurningForm{{{0.0, 0.0}, {6.0, 0.0}, {6.0, 8.0}, {5.0, 8.0}, {5.0, 1.0}, {0.0, 1.0}}});
    CHECK(std::abs(volume(bowl) - unit * (36 * 8 - 25 * 7)) < 1e-9);
    // From the top down it is the same solid.
    const Mesh down = good_mesh(TurningForm{{{0.0, 9.0}, {5.0, 3.0}, {0.0, 0.0}}});
    CHECK(std::abs(volume(down) - volume(top)) < 1e-9);
}

TEST_CASE("turned profiles that make no solid are refused") {
    CHECK(refusal(TurningForm{{{5.0, 0.0}}}).find("1 points") != std::string::npos);
    CHECK(
        refusal(TurningForm{{{5.0, 0.0}, {-1.0, 4.0}, {5.0, 9.0}}}).find("radius -1 at point 2") !=
        std::string::npos);
    CHECK(refusal(TurningForm{{{5.0, 0.0}, {0.0, 4.0}, {5.0, 9.0}}}).find("radius 0 at point 2") !=
          std::string::npos);
    CHECK(refusal(TurningForm{{{5.0, 2.0}, {8.0, 2.0}}}).find("encloses nothing") !=
          std::string::npos);
    CHECK(refusal(TurningForm{{{5.0, 0.0}, {5.0, 9.0}, {8.0, 3.0}, {2.0, 3.0}}})
              .find("crosses or touches itself") != std::string::npos);
}

TEST_CASE("stairs are one solid whose first riser is at the front edge") {
    for (int steps : {1, 2, 7, 60}) {
        const Mesh mesh = good_mesh(StairsForm{30, 8, 5, steps});
        // Step i is i rises high: n (n + 1) / 2 blocks of going by rise.
        CHECK(std::abs(volume(mesh) - 30.0 * 8 * 5 * steps * (steps + 1) / 2) < 1e-6);
        CHECK(solid_check::solids(mesh).size() == 1);
        double riser = 0;
        for (const glm::dvec3& p : mesh.positions) {
            if (p.y < -4.0 * steps + 1e-9) riser = std::max(riser, p.z);
        }
        CHECK(std::abs(riser - 5) < 1e-12);
    }
    CHECK(refusal(StairsForm{30, 8, 5, 0}).find("0 steps") != std::string::npos);
    CHECK(refusal(StairsForm{30, 8, 5, 10001}).find("10001 steps") != std::string::npos);
    CHECK(mesh_of(StairsForm{30, 8, 5, 10000}).ok());
}

TEST_CASE("terrain holds what lies under its fields") {
    support::Random random(9);
    for (int i = 0; i < 20; ++i) {
        const int columns = static_cast<int>(random.integer(2, 9));
        const int rows = static_cast<int>(random.integer(2, 9));
        TerrainForm form{60, 40, columns, rows, {}};
        for (int k = 0; k < columns * rows; ++k)
            form.heights.emplace_back(random.uniform(4, 7));
        double sum = 0; // a prism cut by a slope: foot times the mean of its three heights
        for (int r = 0; r + 1 < rows; ++r) {
            for (int c = 0; c + 1 < columns; ++c) {
                const auto h = [&](int dr, int dc) {
                    return form.heights[(r + dr) * columns + c + dc].mm;
                };
                sum += (h(0, 0) + h(0, 1) + h(1, 1)) / 6 + (h(0, 0) + h(1, 1) + h(1, 0)) / 6;
            }
        }
        const Mesh mesh = good_mesh(form);
        CHECK(std::abs(volume(mesh) - sum * 60 * 40 / (columns - 1) / (rows - 1)) < 1e-8);
        CHECK(solid_check::solids(mesh).size() == 1);
    }
}

TEST_CASE("terrain that runs out to 0 ends there") {
    // A pyramid in the middle of nine places: a third of its foot times its height.
    const Mesh pyramid =
        good_mesh(TerrainForm{20, 20, 3, 3, {0.0, 0.0, 0.0, 0.0, 6.0, 0.0, 0.0, 0.0, 0.0}});
    CHECK(std::abs(volume(pyramid) - 6 * (100 * 6.0 / 6)) < 1e-9);
    // A beach: front row under water, back row up. No surface where all of it is 0.
    const Mesh beach =
        good_mesh(TerrainForm{20, 30, 2, 4, {0.0, 0.0, 0.0, 0.0, 3.0, 3.0, 3.0, 3.0}});
    CHECK(std::abs(volume(beach) - 20 * 10 * (1.5 + 3)) < 1e-9);
    check_box(beach, {-10, -5, 0}, {10, 15, 3});
}

TEST_CASE("terrain with wrong heights is refused") {
    CHECK(refusal(TerrainForm{9, 9, 2, 2, {1.0, 1.0, 1.0}}) ==
          "found 3 heights, expected 2 x 2 = 4");
    CHECK(refusal(TerrainForm{9, 9, 1, 4, {1.0, 1.0, 1.0, 1.0}}).find("1 columns") !=
          std::string::npos);
    CHECK(refusal(TerrainForm{9, 9, 2, 2, {1.0, -1.0, 1.0, 1.0}}).find("height -1 at place 2") !=
          std::string::npos);
    CHECK(refusal(TerrainForm{9, 9, 2, 2, {0.0, 0.0, 0.0, 0.0}}).find("0 high everywhere") !=
          std::string::npos);
}
