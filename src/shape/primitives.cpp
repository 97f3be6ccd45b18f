// Meshes of the primitive forms: the choice among them, and those with flat sides or a profile.
#include "shape/primitives.h"

#include <cstdint>
#include <utility>
#include <variant>
#include <vector>

#include <fmt/format.h>

#include "base/check.h"
#include "measure/length.h"
#include "shape/mesh_builder.h"
#include "shape/primitives_outline.h"
#include "shape/primitives_parts.h"
#include "shape/primitives_round.h"

namespace standpoint {

namespace {

using Points = std::vector<glm::dvec2>;

// A prism over a simple outline; `place` puts a corner in space, at the foot or at the top.
template <class Place>
Mesh prism(const Points& outline, const std::vector<glm::uvec3>& triangles, const Place& place) {
    MeshBuilder build;
    for (const glm::uvec3& t : triangles) {
        const glm::dvec2 &a = outline[t.x], &b = outline[t.y], &c = outline[t.z];
        build.flat_triangle(place(a, false), place(c, false), place(b, false));
        build.flat_triangle(place(a, true), place(b, true), place(c, true));
    }
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const glm::dvec2 &a = outline[i], &b = outline[(i + 1) % outline.size()];
        build.flat_quad(place(a, false), place(b, false), place(b, true), place(a, true));
    }
    return std::move(build).finish();
}

Mesh revolved(const Points& outline) {
    MeshBuilder build;
    revolve(build, outline, glm::dvec3(0.0));
    return std::move(build).finish();
}

Points plan_points(const std::vector<PlanPoint>& points) {
    Points plan;
    for (const PlanPoint& p : points)
        plan.emplace_back(p.x.mm, p.y.mm);
    return plan;
}

Result<Mesh> build(const BoxForm& form) {
    STANDPOINT_TRY_STATUS(expect_positive(
        {{"width", form.width.mm}, {"depth", form.depth.mm}, {"height", form.height.mm}}));
    const double x = form.width.mm / 2, y = form.depth.mm / 2;
    return box_between({-x, -y, 0}, {x, y, form.height.mm});
}

Result<Mesh> build(const CylinderForm& form) {
    STANDPOINT_TRY_STATUS(
        expect_positive({{"diameter", form.diameter.mm}, {"height", form.height.mm}}));
    return revolved(cone_outline(form.diameter.mm / 2, form.diameter.mm / 2, form.height.mm));
}

Result<Mesh> build(const ConeForm& form) {
    STANDPOINT_TRY_STATUS(expect_positive({{"height", form.height.mm}}));
    if (form.diameter.mm < 0 || form.top_diameter.mm < 0 ||
        (form.diameter.mm == 0 && form.top_diameter.mm == 0)) {
        return input_error("", fmt::format("found a cone of diameter {} and top diameter {}, "
                                           "expected none below 0 and one above 0",
                                           print_exact(form.diameter.mm),
                                           print_exact(form.top_diameter.mm)));
    }
    return revolved(cone_outline(form.diameter.mm / 2, form.top_diameter.mm / 2, form.height.mm));
}

Result<Mesh> build(const SphereForm& form) {
    STANDPOINT_TRY_STATUS(expect_positive({{"diameter", form.diameter.mm}}));
    return revolved(capsule_outline(form.diameter.mm / 2, form.diameter.mm));
}

Result<Mesh> build(const CapsuleForm& form) {
    STANDPOINT_TRY_STATUS(expect_positive({{"diameter", form.diameter.mm}}));
    if (form.height.mm < form.diameter.mm) {
        return input_error("",
                           fmt::format("found a capsule {} high and {} across, expected a "
                                       "height over both caps of at least the diameter",
                                       print_exact(form.height.mm), print_exact(form.diameter.mm)));
    }
    return revolved(capsule_outline(form.diameter.mm / 2, form.height.mm));
}

Result<Mesh> build(const ExtrusionForm& form) {
    STANDPOINT_TRY_STATUS(expect_positive({{"height", form.height.mm}}));
    STANDPOINT_TRY(outline, simple_outline(plan_points(form.outline), "an outline"));
    return prism(outline, triangulate(outline), [&](const glm::dvec2& p, bool top) {
        return glm::dvec3(p, top ? form.height.mm : 0);
    });
}

Result<Mesh> build(const TurningForm& form) {
    Points points = plan_points(form.profile);
    for (std::size_t i = 0; i < points.size(); ++i) {
        const bool is_end = i == 0 || i + 1 == points.size();
        if (points[i].x < 0 || (points[i].x == 0 && !is_end)) {
            return input_error("", fmt::format("found radius {} at point {} of a profile, expected "
                                               "more than 0, or 0 at its first or last point",
                                               print_exact(points[i].x), i + 1));
        }
    }
    if (points.size() < 2) {
        return input_error(
            "", fmt::format("found a profile of {} points, expected at least 2", points.size()));
    }
    if (points.front() != points.back()) {
        points.emplace_back(0, points.back().y);
        points.emplace_back(0, points.front().y);
    }
    STANDPOINT_TRY(outline, simple_outline(points, "a profile, closed along its axis,"));
    return revolved(outline);
}

Result<Mesh> build(const StairsForm& form) {
    STANDPOINT_TRY_STATUS(expect_positive(
        {{"width", form.width.mm}, {"going", form.going.mm}, {"rise", form.rise.mm}}));
    constexpr int most_steps = 10000;
    if (form.steps < 1 || form.steps > most_steps) {
        return input_error("",
                           fmt::format("found {} steps, expected 1 to {}", form.steps, most_steps));
    }
    // Seen from the left: corner 0 is the foot of the back, from which every other corner is in
    // sight, so that the sides are fans.
    const double front = -form.going.mm * form.steps / 2;
    Points outline{{-front, 0}};
    std::vector<glm::uvec3> fan;
    for (int i = 0; i < form.steps; ++i) {
        const double y = front + form.going.mm * i;
        if (i == 0) outline.emplace_back(y, 0);
        outline.emplace_back(y, form.rise.mm * (i + 1));
        outline.emplace_back(i + 1 == form.steps ? -front : front + form.going.mm * (i + 1),
                             form.rise.mm * (i + 1));
    }
    for (std::uint32_t i = 1; i + 1 < outline.size(); ++i)
        fan.emplace_back(0, i, i + 1);
    const double half = form.width.mm / 2;
    return prism(outline, fan, [&](const glm::dvec2& p, bool top) {
        return glm::dvec3(top ? -half : half, p.x, p.y);
    });
}

Result<Mesh> build(const FenceForm& form) {
    return fence_mesh(form);
}
Result<Mesh> build(const WallForm& form) {
    return wall_mesh(form);
}
Result<Mesh> build(const TerrainForm& form) {
    return terrain_mesh(form);
}

Result<Mesh> build(const ModelForm&) {
    STANDPOINT_CHECK(!"a model file is read by read_gltf");
    return Mesh{};
}
Result<Mesh> build(const FigureForm&) {
    STANDPOINT_CHECK(!"a figure is made by figure_mesh");
    return Mesh{};
}

} // namespace

Status expect_positive(std::initializer_list<NamedLength> lengths) {
    for (const NamedLength& length : lengths) {
        if (!(length.mm > 0)) {
            return input_error("", fmt::format("found {} {}, expected more than 0", length.name,
                                               print_exact(length.mm)));
        }
    }
    return Done{};
}

Result<Mesh> mesh_of(const Form& form) {
    return std::visit([](const auto& f) { return build(f); }, form);
}

} // namespace standpoint
