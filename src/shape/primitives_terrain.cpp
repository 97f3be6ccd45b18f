// Terrain patches: a grid of heights over a flat foot, one closed solid.
#include <array>
#include <utility>
#include <vector>

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include "shape/mesh_builder.h"
#include "shape/primitives_parts.h"

namespace standpoint {

namespace {

constexpr long long most_heights = 4'000'000;

Status expect_heights(const TerrainForm& form) {
    const long long count = static_cast<long long>(form.columns) * form.rows;
    if (form.columns < 2 || form.rows < 2 || count > most_heights) {
        return input_error("", fmt::format("found a terrain of {} columns and {} rows, expected 2 "
                                           "or more of each and at most {} heights",
                                           form.columns, form.rows, most_heights));
    }
    if (form.heights.size() != static_cast<std::size_t>(count)) {
        return input_error("", fmt::format("found {} heights, expected {} x {} = {}",
                                           form.heights.size(), form.columns, form.rows, count));
    }
    bool any = false;
    for (std::size_t i = 0; i < form.heights.size(); ++i) {
        any = any || form.heights[i].mm > 0;
        if (form.heights[i].mm < 0) {
            return input_error("", fmt::format("found height {} at place {}, expected 0 or more",
                                               print_exact(form.heights[i].mm), i + 1));
        }
    }
    if (!any) return input_error("", "found a terrain 0 high everywhere, expected some height");
    return Done{};
}

using Corners = std::array<std::uint32_t, 3>;

class TerrainBuilder {
  public:
    explicit TerrainBuilder(const TerrainForm& form)
        : form_(form), columns_(static_cast<std::uint32_t>(form.columns)),
          rows_(static_cast<std::uint32_t>(form.rows)), normals_(form.heights.size()) {}

    Mesh run() {
        std::vector<Corners> fields;
        for (std::uint32_t row = 0; row + 1 < rows_; ++row) {
            for (std::uint32_t column = 0; column + 1 < columns_; ++column) {
                const std::uint32_t at = row * columns_ + column;
                for (const Corners& t : {Corners{at, at + 1, at + columns_ + 1},
                                         Corners{at, at + columns_ + 1, at + columns_}}) {
                    if (height(t[0]) + height(t[1]) + height(t[2]) > 0) fields.push_back(t);
                }
            }
        }
        top_and_foot(fields);
        sides();
        return std::move(build_).finish();
    }

  private:
    double height(std::uint32_t i) const { return form_.heights[i].mm; }

    glm::dvec3 place(std::uint32_t i, bool top) const {
        const double x = form_.width.mm * (i % columns_) / (columns_ - 1);
        const double y = form_.depth.mm * (i / columns_) / (rows_ - 1);
        return {x - form_.width.mm / 2, y - form_.depth.mm / 2, top ? height(i) : 0};
    }

    void top_and_foot(const std::vector<Corners>& fields) {
        for (const Corners& t : fields) {
            const glm::dvec3 a = place(t[0], true);
            const glm::dvec3 across = glm::cross(place(t[1], true) - a, place(t[2], true) - a);
            for (std::uint32_t i : t)
                normals_[i] += across; // weighs by area
        }
        const auto count = static_cast<std::uint32_t>(form_.heights.size());
        for (std::uint32_t i = 0; i < count; ++i) {
            const bool used = glm::dot(normals_[i], normals_[i]) > 0;
            build_.vertex(place(i, true), used ? glm::normalize(normals_[i]) : glm::dvec3(0, 0, 1));
        }
        for (std::uint32_t i = 0; i < count; ++i)
            build_.vertex(place(i, false), {0, 0, -1});
        for (const Corners& t : fields) {
            build_.triangle(t[0], t[1], t[2]);
            build_.triangle(count + t[0], count + t[2], count + t[1]);
        }
    }

    void sides() {
        const std::uint32_t last_row = (rows_ - 1) * columns_;
        for (std::uint32_t c = 0; c + 1 < columns_; ++c) {
            side(c, c + 1);
            side(last_row + c + 1, last_row + c);
        }
        for (std::uint32_t r = 0; r + 1 < rows_; ++r) {
            side((r + 1) * columns_, r * columns_);
            side(r * columns_ + columns_ - 1, (r + 1) * columns_ + columns_ - 1);
        }
    }

    // Under the rim from a to b, the solid on the left; nothing where both are 0 high.
    void side(std::uint32_t a, std::uint32_t b) {
        const glm::dvec3 a_foot = place(a, false), b_foot = place(b, false);
        if (height(a) > 0 && height(b) > 0) {
            build_.flat_quad(a_foot, b_foot, place(b, true), place(a, true));
        } else if (height(a) > 0) {
            build_.flat_triangle(a_foot, b_foot, place(a, true));
        } else if (height(b) > 0) {
            build_.flat_triangle(a_foot, b_foot, place(b, true));
        }
    }

    const TerrainForm& form_;
    std::uint32_t columns_, rows_;
    std::vector<glm::dvec3> normals_;
    MeshBuilder build_;
};

} // namespace

Result<Mesh> terrain_mesh(const TerrainForm& form) {
    STANDPOINT_TRY_STATUS(expect_positive({{"width", form.width.mm}, {"depth", form.depth.mm}}));
    STANDPOINT_TRY_STATUS(expect_heights(form));
    return TerrainBuilder(form).run();
}

} // namespace standpoint
