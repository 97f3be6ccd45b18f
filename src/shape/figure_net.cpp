// Surface nets: cells in blocks, of which those far from the surface are passed over.
#include "shape/figure_net.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <tuple>
#include <utility>

#include <glm/common.hpp>
#include <glm/geometric.hpp>

#include <fmt/format.h>

#include "base/check.h"

namespace standpoint {

namespace {

constexpr int block = 5;        // cells along a side
constexpr int drawings = 2;     // steps of Newton towards the surface
constexpr double margin = 0.04; // of a cell: points keep inside their own
constexpr std::uint32_t none = ~std::uint32_t{0};
constexpr double most_cells = 30e6;

class Netter {
  public:
    Netter(const FigureField& field, double cell) : field_(field), cell_(cell) {
        const Box box = field.bounds();
        for (int i = 0; i < 3; ++i) {
            low_[i] = static_cast<int>(std::floor(box.low[i] / cell)) - 1;
            const int high = static_cast<int>(std::ceil(box.high[i] / cell)) + 1;
            blocks_[i] = (high - low_[i]) / block + 1;
            nodes_[i] = blocks_[i] * block + 1;
        }
        const std::size_t count = std::size_t(nodes_.x) * nodes_.y * nodes_.z;
        values_.assign(count, 1.0f);
        point_of_.assign(count, none);
    }

    Net make() {
        fill();
        for (const glm::ivec3& at : active_)
            each_cell(at, [&](const glm::ivec3& cell) { add_point(cell); });
        for (const glm::ivec3& at : active_)
            each_cell(at, [&](const glm::ivec3& cell) { add_quads(cell); });
        return std::move(net_);
    }

  private:
    std::size_t index(const glm::ivec3& n) const {
        return (std::size_t(n.z) * nodes_.y + n.y) * nodes_.x + n.x;
    }
    glm::dvec3 place(const glm::dvec3& node) const { return cell_ * (node + glm::dvec3(low_)); }

    template <class Visit> void each_cell(const glm::ivec3& at, const Visit& visit) const {
        for (int z = 0; z < block; ++z)
            for (int y = 0; y < block; ++y)
                for (int x = 0; x < block; ++x)
                    visit(at * block + glm::ivec3(x, y, z));
    }

    // Values of nodes in blocks the surface may pass; elsewhere only the sign matters, and a block
    // without surface has the sign of its middle throughout.
    void fill() {
        const double reach = 0.5 * block * cell_ * std::sqrt(3.0);
        for (int z = 0; z < blocks_.z; ++z)
            for (int y = 0; y < blocks_.y; ++y)
                for (int x = 0; x < blocks_.x; ++x)
                    fill_block({x, y, z}, reach);
    }

    void fill_block(const glm::ivec3& at, double reach) {
        const glm::dvec3 middle = place(glm::dvec3(at * block) + 0.5 * block);
        const double value = field_.value(middle);
        const bool passed_over = std::abs(value) > reach * 1.001;
        FigureField::Few few;
        if (!passed_over) {
            field_.pick(middle, reach * 1.1, few);
            active_.push_back(at);
            few_.push_back(few);
        }
        if (passed_over && value > 0) return;
        for (int z = 0; z <= block; ++z)
            for (int y = 0; y <= block; ++y)
                for (int x = 0; x <= block; ++x) {
                    const glm::ivec3 node = at * block + glm::ivec3(x, y, z);
                    values_[index(node)] =
                        passed_over ? -1.0f : static_cast<float>(field_.value(place(node), few));
                }
    }

    bool inside(const glm::ivec3& node) const { return values_[index(node)] < 0; }

    const FigureField::Few& few_at(const glm::ivec3& cell) const {
        const glm::ivec3 at = cell / block;
        const auto before = [](const glm::ivec3& a, const glm::ivec3& b) {
            return std::tuple(a.z, a.y, a.x) < std::tuple(b.z, b.y, b.x);
        };
        const auto found = std::lower_bound(active_.begin(), active_.end(), at, before);
        return few_[found - active_.begin()];
    }

    void add_point(const glm::ivec3& cell) {
        glm::dvec3 sum(0.0);
        int crossed = 0;
        for (int axis = 0; axis < 3; ++axis)
            for (int corner = 0; corner < 4; ++corner) {
                glm::ivec3 from = cell;
                from[(axis + 1) % 3] += corner & 1;
                from[(axis + 2) % 3] += corner >> 1;
                glm::ivec3 to = from;
                ++to[axis];
                const double a = values_[index(from)], b = values_[index(to)];
                if ((a < 0) == (b < 0)) continue;
                glm::dvec3 at(from);
                at[axis] += a / (a - b);
                sum += at;
                ++crossed;
            }
        if (crossed == 0) return;
        point_of_[index(cell)] = static_cast<std::uint32_t>(net_.positions.size());
        settle(cell, place(sum / static_cast<double>(crossed)));
    }

    // Draws the point to the surface, within its own cell so that no two of them meet.
    void settle(const glm::ivec3& cell, glm::dvec3 point) {
        const FigureField::Few& few = few_at(cell);
        const glm::dvec3 low = place(glm::dvec3(cell) + margin);
        const glm::dvec3 high = place(glm::dvec3(cell) + 1.0 - margin);
        for (int i = 0; i < drawings; ++i) {
            const glm::dvec3 slope = field_.gradient(point, few);
            const double steep = std::max(glm::dot(slope, slope), 0.05);
            point -= field_.value(point, few) / steep * slope;
            point = glm::clamp(point, low, high);
        }
        const glm::dvec3 slope = field_.gradient(point, few);
        const double steep = glm::length(slope);
        net_.positions.push_back(point);
        net_.normals.emplace_back(steep > 1e-9 ? slope / steep : glm::dvec3(0, 0, 1));
    }

    // About the three edges that leave the cell's lowest node.
    void add_quads(const glm::ivec3& cell) {
        for (int axis = 0; axis < 3; ++axis) {
            glm::ivec3 far = cell;
            ++far[axis];
            const bool in = inside(cell);
            if (in == inside(far)) continue;
            const int u = (axis + 1) % 3, v = (axis + 2) % 3;
            glm::ivec3 corners[4] = {cell, cell, cell, cell};
            --corners[1][u];
            --corners[2][u];
            --corners[2][v];
            --corners[3][v];
            std::uint32_t points[4];
            for (int i = 0; i < 4; ++i) {
                points[i] = point_of_[index(corners[i])];
                STANDPOINT_CHECK(points[i] != none);
            }
            add_quad(points, in);
        }
    }

    void add_quad(const std::uint32_t (&p)[4], bool outward_along) {
        const auto& at = net_.positions;
        const auto put = [&](std::uint32_t a, std::uint32_t b, std::uint32_t c) {
            if (outward_along)
                net_.triangles.emplace_back(a, b, c);
            else
                net_.triangles.emplace_back(a, c, b);
        };
        if (glm::distance(at[p[0]], at[p[2]]) <= glm::distance(at[p[1]], at[p[3]])) {
            put(p[0], p[1], p[2]);
            put(p[0], p[2], p[3]);
        } else {
            put(p[0], p[1], p[3]);
            put(p[1], p[2], p[3]);
        }
    }

    const FigureField& field_;
    double cell_;
    glm::ivec3 low_{0}, blocks_{0}, nodes_{0};
    std::vector<float> values_;
    std::vector<std::uint32_t> point_of_;
    std::vector<glm::ivec3> active_; // in order of z, y, x
    std::vector<FigureField::Few> few_;
    Net net_;
};

} // namespace

Result<Net> net_over(const FigureField& field, double cell) {
    if (field.empty()) return Net{};
    const glm::dvec3 cells = (field.bounds().high - field.bounds().low) / cell;
    if (!(cells.x * cells.y * cells.z < most_cells) ||
        !(std::max({std::abs(field.bounds().low.x), std::abs(field.bounds().low.y),
                    std::abs(field.bounds().low.z), cells.x, cells.y, cells.z}) < 1e6 * cell)) {
        return input_error("", fmt::format("found cells of {:.3g} mm over {:.0f} x {:.0f} x {:.0f} "
                                           "mm, expected at most {:.0f} of them",
                                           cell, cells.x * cell, cells.y * cell, cells.z * cell,
                                           most_cells));
    }
    return Netter(field, cell).make();
}

} // namespace standpoint
