// Fences: where posts stand, how rails and ropes run between them, and what is refused.
#include <algorithm>
#include <cmath>
#include <numbers>

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include "shape/mass_properties.h"
#include "shape/primitives.h"
#include "solid_check.h"

using namespace standpoint;
using solid_check::good_mesh;
using solid_check::refusal;

namespace {

FenceForm fence() {
    FenceForm form;
    form.run = {{0.0, 0.0}, {300.0, 0.0}};
    form.height = 90;
    form.post_diameter = 8;
    form.post_spacing = 100;
    form.rail_heights = {80.0, 40.0};
    form.rail_diameter = 3;
    return form;
}

std::size_t solid_count(const FenceForm& form) {
    return solid_check::solids(good_mesh(form)).size();
}

FenceForm bare(FenceForm form) { // posts alone
    form.rail_heights.clear();
    return form;
}

} // namespace

TEST_CASE("posts stand at every point of the run and evenly between, at most the spacing apart") {
    CHECK(solid_count(bare(fence())) == 4);
    FenceForm form = bare(fence());
    form.post_spacing = 99.9;
    CHECK(solid_count(form) == 5);
    form.post_spacing = 1000;
    CHECK(solid_count(form) == 2);
    form.run = {{0.0, 0.0}, {300.0, 0.0}, {300.0, 200.0}};
    CHECK(solid_count(form) == 3);
    form.post_spacing = 100;
    CHECK(solid_count(form) == 6);
    // Three times a tenth is more than three tenths by rounding alone: no post for that.
    form.run = {{0.0, 0.0}, {0.1 + 0.1 + 0.1, 0.0}};
    form.post_spacing = 0.1;
    form.post_diameter = 0.01;
    CHECK(solid_count(form) == 4);
}

TEST_CASE("a run that closes has no post twice, and rails all round") {
    FenceForm form = fence();
    form.run = {{0.0, 0.0}, {200.0, 0.0}, {200.0, 200.0}, {0.0, 200.0}, {0.0, 0.0}};
    CHECK(solid_count(bare(form)) == 8);
    CHECK(solid_count(form) == 8 + 2 * 8);
}

TEST_CASE("posts and straight rails have the volumes of their prisms") {
    const FenceForm form = fence();
    const MassProperties m = mass_properties(good_mesh(form));
    const double post = solid_check::polygon_area(round_facets) * 16 * 90;
    // Rails end half a post's radius short of both axes.
    const double rail = solid_check::polygon_area(rail_facets) * 1.5 * 1.5 * (100 - 4);
    CHECK(m.closed);
    CHECK(std::abs(m.volume - (4 * post + 6 * rail)) < 1e-7);
    CHECK(std::abs(m.centroid.x - 150) < 1e-9);
    CHECK(solid_count(form) == 4 + 6);
}

TEST_CASE("a rope hangs through by its sag at mid span, along a parabola") {
    FenceForm form = fence();
    form.run = {{0.0, 0.0}, {60.0, 80.0}}; // one span of 100, askew
    form.rail_heights = {80.0};
    form.sag = 20;
    const Mesh mesh = good_mesh(form);
    const double posts = 2 * solid_check::polygon_area(round_facets) * 16 * 90;
    double lowest = 1e9;
    for (const glm::dvec3& p : mesh.positions) {
        if (std::abs(p.x - 30) < 1 && std::abs(p.y - 40) < 1) lowest = std::min(lowest, p.z);
    }
    CHECK(std::abs(lowest - (80 - 20 - 1.5)) < 1e-9);
    // Length of a parabola y = k x^2 over [-a, a]; section times length, within a hundredth.
    const double k = 4 * 20.0 / (100 * 100), a = 48, s = 2 * k * a;
    const double length = a * std::sqrt(1 + s * s) + std::asinh(s) / (2 * k);
    const double rope = solid_check::polygon_area(rail_facets) * 1.5 * 1.5 * length;
    CHECK(std::abs(mass_properties(mesh).volume - posts - rope) < rope / 100);
}

TEST_CASE("rails stay between the posts' foot and top") {
    FenceForm form = fence();
    form.rail_heights = {90.0};
    good_mesh(form);
    form.rail_heights = {90.01};
    CHECK(refusal(form).find("a rail 90.01 high") != std::string::npos);
    form.rail_heights = {30.0};
    form.sag = 28.5;
    good_mesh(form);
    form.sag = 28.51;
    CHECK(refusal(form).find("with sag 28.51") != std::string::npos);
    form.sag = -1;
    CHECK(refusal(form).find("found sag -1") != std::string::npos);
    form = fence();
    form.rail_diameter = 0;
    CHECK(refusal(form).find("rail_diameter 0") != std::string::npos);
    good_mesh(bare(form));
}

TEST_CASE("runs and spacings that make no fence are refused") {
    FenceForm form = fence();
    form.run = {{5.0, 5.0}};
    CHECK(refusal(form) == "found a run of 1 points, expected at least 2");
    form.run = {{0.0, 0.0}, {50.0, 0.0}, {50.0, 0.0}};
    CHECK(refusal(form).find("after point 2 of the run") != std::string::npos);
    form = fence();
    form.post_spacing = 0;
    CHECK(refusal(form).find("post_spacing 0") != std::string::npos);
    form.post_spacing = 7.9;
    CHECK(refusal(form).find("stand apart") != std::string::npos);
    form.post_spacing = 0.001;
    CHECK(refusal(form).find("at most 10000 posts") != std::string::npos);
    form.post_spacing = 10;
    good_mesh(form);
}
