// Fences: posts along a run, joined by straight rails or by ropes that hang through.
#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include "shape/mesh_builder.h"
#include "shape/primitives.h"
#include "shape/primitives_parts.h"
#include "shape/primitives_round.h"

namespace standpoint {

namespace {

constexpr double most_posts = 10000; // a slip of the pen in the spacing, not a fence

Status expect_rails_hang_free(const FenceForm& form) {
    if (form.sag.mm < 0) {
        return input_error(
            "", fmt::format("found sag {}, expected 0 or more", print_exact(form.sag.mm)));
    }
    if (!form.rail_heights.empty()) {
        STANDPOINT_TRY_STATUS(expect_positive({{"rail_diameter", form.rail_diameter.mm}}));
    }
    for (const Length& rail : form.rail_heights) {
        if (rail.mm - form.sag.mm - form.rail_diameter.mm / 2 < 0 || rail.mm > form.height.mm) {
            return input_error(
                "", fmt::format("found a rail {} high with sag {} on posts {} high, expected one "
                                "that stays between the posts' foot and top",
                                print_exact(rail.mm), print_exact(form.sag.mm),
                                print_exact(form.height.mm)));
        }
    }
    return Done{};
}

// Posts in order along the run; the last one again at the end of a run that closes.
Result<std::vector<glm::dvec2>> post_places(const FenceForm& form) {
    if (form.run.size() < 2) {
        return input_error(
            "", fmt::format("found a run of {} points, expected at least 2", form.run.size()));
    }
    std::vector<glm::dvec2> posts;
    const auto point = [&](std::size_t i) {
        return glm::dvec2(form.run[i].x.mm, form.run[i].y.mm);
    };
    for (std::size_t i = 0; i + 1 < form.run.size(); ++i) {
        const glm::dvec2 a = point(i), b = point(i + 1);
        // A share of a spacing that rounding adds does not ask for one more post.
        const double spans =
            std::max(1.0, std::ceil(glm::distance(a, b) / form.post_spacing.mm - 1e-9));
        if (static_cast<double>(posts.size()) + spans > most_posts) {
            return input_error("", fmt::format("found posts {} apart on so long a run, expected at "
                                               "most {} posts",
                                               print_exact(form.post_spacing.mm), most_posts));
        }
        if (glm::distance(a, b) / spans < form.post_diameter.mm) {
            return input_error("", fmt::format("found posts {} apart and {} thick after point {} "
                                               "of the run, expected them to stand apart",
                                               print_exact(glm::distance(a, b) / spans),
                                               print_exact(form.post_diameter.mm), i + 1));
        }
        for (int k = 0; k < static_cast<int>(spans); ++k)
            posts.push_back(a + (b - a) * (k / spans));
    }
    posts.push_back(point(form.run.size() - 1));
    return posts;
}

// From inside one post to inside the next: half a post's radius short of both axes.
void add_rail(MeshBuilder& build, const FenceForm& form, const glm::dvec2& a, const glm::dvec2& b,
              double height) {
    const double span = glm::distance(a, b);
    const double inset = form.post_diameter.mm / 4 / span;
    const int segments = form.sag.mm > 0 ? rope_segments : 1;
    std::vector<glm::dvec3> line, along;
    for (int i = 0; i <= segments; ++i) {
        const double t = inset + (1 - 2 * inset) * i / segments;
        const double slope = -4 * form.sag.mm * (1 - 2 * t); // height by share of the span
        line.emplace_back(a + (b - a) * t, height - 4 * form.sag.mm * t * (1 - t));
        along.push_back(glm::normalize(glm::dvec3(b - a, slope)));
    }
    tube(build, line, along, form.rail_diameter.mm / 2);
}

} // namespace

Result<Mesh> fence_mesh(const FenceForm& form) {
    STANDPOINT_TRY_STATUS(expect_positive({{"height", form.height.mm},
                                           {"post_diameter", form.post_diameter.mm},
                                           {"post_spacing", form.post_spacing.mm}}));
    STANDPOINT_TRY_STATUS(expect_rails_hang_free(form));
    STANDPOINT_TRY(posts, post_places(form));
    MeshBuilder build;
    const double radius = form.post_diameter.mm / 2;
    const std::vector<glm::dvec2> outline = cone_outline(radius, radius, form.height.mm);
    const bool closes = posts.front() == posts.back();
    for (std::size_t i = 0; i + (closes ? 1 : 0) < posts.size(); ++i) {
        revolve(build, outline, glm::dvec3(posts[i], 0));
    }
    for (const Length& rail : form.rail_heights) {
        for (std::size_t i = 0; i + 1 < posts.size(); ++i) {
            add_rail(build, form, posts[i], posts[i + 1], rail.mm);
        }
    }
    return std::move(build).finish();
}

} // namespace standpoint
