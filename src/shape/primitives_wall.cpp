// Walls with openings: one closed solid with the openings' reveals. Front and back are cut along
// every edge of every opening, so that all faces meet corner to corner.
#include <algorithm>
#include <optional>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "shape/mesh_builder.h"
#include "shape/primitives_parts.h"

namespace standpoint {

namespace {

struct Rectangle { // from the wall's left foot, seen from the front
    double left, right, foot, top;
};

Rectangle rectangle_of(const WallOpening& opening) {
    return {opening.from_left.mm, opening.from_left.mm + opening.width.mm, opening.sill.mm,
            opening.sill.mm + opening.height.mm};
}

// Sums of lengths may miss the wall's own by their rounding; what is this near lies on its edge.
constexpr double edge_slack_mm = 1e-6;

void snap(double& value, double edge) {
    if (value > edge - edge_slack_mm && value < edge + edge_slack_mm) value = edge;
}

Result<std::vector<Rectangle>> openings_of(const WallForm& form) {
    std::vector<Rectangle> openings;
    for (const WallOpening& opening : form.openings) {
        const std::size_t number = openings.size() + 1;
        STANDPOINT_TRY_STATUS(expect_positive(
            {{"opening width", opening.width.mm}, {"opening height", opening.height.mm}}));
        Rectangle r = rectangle_of(opening);
        snap(r.right, form.width.mm);
        snap(r.top, form.height.mm);
        if (r.left < 0 || r.foot < 0 || r.right > form.width.mm || r.top > form.height.mm) {
            return input_error(
                "", fmt::format("found opening {} from {} to {} along and {} to {} up, expected it "
                                "inside the wall of {} x {}",
                                number, print_exact(r.left), print_exact(r.right),
                                print_exact(r.foot), print_exact(r.top), print_exact(form.width.mm),
                                print_exact(form.height.mm)));
        }
        for (std::size_t i = 0; i < openings.size(); ++i) {
            const Rectangle& o = openings[i];
            if (r.left <= o.right && o.left <= r.right && r.foot <= o.top && o.foot <= r.top) {
                return input_error("", fmt::format("found openings {} and {} that meet, expected "
                                                   "wall between them",
                                                   i + 1, number));
            }
        }
        openings.push_back(r);
    }
    return openings;
}

std::vector<double> sorted_once(std::vector<double> values) {
    std::sort(values.begin(), values.end());
    values.erase(std::unique(values.begin(), values.end()), values.end());
    return values;
}

class WallBuilder {
  public:
    WallBuilder(const WallForm& form, const std::vector<Rectangle>& openings) : form_(form) {
        xs_ = {0, form.width.mm};
        zs_ = {0, form.height.mm};
        for (const Rectangle& o : openings) {
            xs_.insert(xs_.end(), {o.left, o.right});
            zs_.insert(zs_.end(), {o.foot, o.top});
        }
        xs_ = sorted_once(xs_);
        zs_ = sorted_once(zs_);
        solid_.assign((xs_.size() - 1) * (zs_.size() - 1), true);
        for (const Rectangle& o : openings)
            cut(o);
    }

    bool any_solid() const { return std::find(solid_.begin(), solid_.end(), true) != solid_.end(); }

    Mesh run() {
        for (std::size_t z = 0; z + 1 < zs_.size(); ++z) {
            for (std::size_t x = 0; x + 1 < xs_.size(); ++x) {
                if (is_solid(x, z)) field(x, z);
            }
        }
        return std::move(build_).finish();
    }

  private:
    void cut(const Rectangle& o) {
        for (std::size_t z = 0; z + 1 < zs_.size(); ++z) {
            for (std::size_t x = 0; x + 1 < xs_.size(); ++x) {
                if (o.left <= xs_[x] && xs_[x + 1] <= o.right && o.foot <= zs_[z] &&
                    zs_[z + 1] <= o.top) {
                    solid_[z * (xs_.size() - 1) + x] = false;
                }
            }
        }
    }

    // Outside the wall there is none; -1 wraps to a column or row that is not there.
    bool is_solid(std::size_t x, std::size_t z) const {
        return x < xs_.size() - 1 && z < zs_.size() - 1 && solid_[z * (xs_.size() - 1) + x];
    }

    void field(std::size_t x, std::size_t z) {
        const double left = xs_[x] - form_.width.mm / 2, right = xs_[x + 1] - form_.width.mm / 2;
        const double foot = zs_[z], top = zs_[z + 1];
        const double front = -form_.thickness.mm / 2, back = form_.thickness.mm / 2;
        build_.flat_quad({left, front, foot}, {right, front, foot}, {right, front, top},
                         {left, front, top});
        build_.flat_quad({right, back, foot}, {left, back, foot}, {left, back, top},
                         {right, back, top});
        if (!is_solid(x - 1, z)) {
            build_.flat_quad({left, back, foot}, {left, front, foot}, {left, front, top},
                             {left, back, top});
        }
        if (!is_solid(x + 1, z)) {
            build_.flat_quad({right, front, foot}, {right, back, foot}, {right, back, top},
                             {right, front, top});
        }
        if (!is_solid(x, z - 1)) {
            build_.flat_quad({left, back, foot}, {right, back, foot}, {right, front, foot},
                             {left, front, foot});
        }
        if (!is_solid(x, z + 1)) {
            build_.flat_quad({left, front, top}, {right, front, top}, {right, back, top},
                             {left, back, top});
        }
    }

    const WallForm& form_;
    std::vector<double> xs_, zs_;
    std::vector<bool> solid_;
    MeshBuilder build_;
};

} // namespace

Result<Mesh> wall_mesh(const WallForm& form) {
    STANDPOINT_TRY_STATUS(expect_positive(
        {{"width", form.width.mm}, {"thickness", form.thickness.mm}, {"height", form.height.mm}}));
    constexpr std::size_t most_openings = 500;
    if (form.openings.size() > most_openings) {
        return input_error("", fmt::format("found {} openings in a wall, expected at most {}",
                                           form.openings.size(), most_openings));
    }
    STANDPOINT_TRY(openings, openings_of(form));
    WallBuilder build(form, openings);
    if (!build.any_solid()) {
        return input_error("", "found an opening that leaves no wall, expected a smaller one");
    }
    return build.run();
}

} // namespace standpoint
