// Simple outlines: which corners count, whether an outline crosses itself, and its triangles.
#include "shape/primitives_outline.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <utility>

#include <fmt/format.h>
#include <glm/geometric.hpp>

namespace standpoint {

namespace {

using Points = std::vector<glm::dvec2>;

// The sum of six products, exactly: a growing expansion of parts that do not overlap, smallest
// first (Shewchuk 1997, "Adaptive precision floating-point arithmetic", from memory).
class ExactSum {
  public:
    void add_product(double x, double y) {
        const double product = x * y;
        grow(std::fma(x, y, -product));
        grow(product);
    }
    int sign() const {
        for (std::size_t i = count_; i-- > 0;) {
            if (parts_[i] != 0) return parts_[i] > 0 ? 1 : -1;
        }
        return 0;
    }

  private:
    void grow(double value) {
        for (std::size_t i = 0; i < count_; ++i) {
            const double sum = value + parts_[i];
            const double shared = sum - value;
            parts_[i] = (value - (sum - shared)) + (parts_[i] - shared);
            value = sum;
        }
        parts_[count_++] = value;
    }

    std::array<double, 12> parts_{};
    std::size_t count_ = 0;
};

bool between(const glm::dvec2& a, const glm::dvec2& p, const glm::dvec2& b) {
    return std::min(a.x, b.x) <= p.x && p.x <= std::max(a.x, b.x) && std::min(a.y, b.y) <= p.y &&
           p.y <= std::max(a.y, b.y);
}

bool sides_meet(const glm::dvec2& a, const glm::dvec2& b, const glm::dvec2& c,
                const glm::dvec2& d) {
    const int c_side = orientation(a, b, c), d_side = orientation(a, b, d);
    const int a_side = orientation(c, d, a), b_side = orientation(c, d, b);
    if (c_side * d_side < 0 && a_side * b_side < 0) return true;
    return (c_side == 0 && between(a, c, b)) || (d_side == 0 && between(a, d, b)) ||
           (a_side == 0 && between(c, a, d)) || (b_side == 0 && between(c, b, d));
}

enum class Corner { shapes, straight, turns_back };

Corner corner_kind(const glm::dvec2& before, const glm::dvec2& at, const glm::dvec2& after) {
    if (at == before || at == after) return Corner::straight;
    if (orientation(before, at, after) != 0) return Corner::shapes;
    return between(before, at, after) ? Corner::straight : Corner::turns_back;
}

// Leaves out what does not shape the outline, until nothing more goes; keeps the indices.
Result<std::vector<std::size_t>> shaping_corners(const Points& points, std::string_view what) {
    std::vector<std::size_t> kept(points.size());
    for (std::size_t i = 0; i < kept.size(); ++i)
        kept[i] = i;
    for (std::size_t i = 0, unchanged = 0; unchanged < kept.size() && kept.size() >= 3;) {
        const std::size_t count = kept.size();
        i %= count;
        const Corner kind = corner_kind(points[kept[(i + count - 1) % count]], points[kept[i]],
                                        points[kept[(i + 1) % count]]);
        if (kind == Corner::turns_back) {
            return input_error("", fmt::format("found {} that turns back on itself at point {}, "
                                               "expected one that does not touch itself",
                                               what, kept[i] + 1));
        }
        if (kind == Corner::shapes) {
            ++i, ++unchanged;
        } else {
            kept.erase(kept.begin() + static_cast<std::ptrdiff_t>(i));
            // The corner before may have become straight.
            i = (i + kept.size() - 1) % kept.size();
            unchanged = 0;
        }
    }
    if (kept.size() < 3) {
        return input_error("", fmt::format("found {} that encloses nothing, expected at least "
                                           "three corners that are not on one line",
                                           what));
    }
    return kept;
}

// Two sides that meet and are not neighbours: sorted by their left ends, so that only those that
// share a stretch of X are compared.
std::optional<std::pair<std::size_t, std::size_t>> meeting_sides(const Points& corners) {
    struct Side {
        std::size_t index;
        double low, high;
    };
    const std::size_t count = corners.size();
    std::vector<Side> sides(count);
    for (std::size_t i = 0; i < count; ++i) {
        const double a = corners[i].x, b = corners[(i + 1) % count].x;
        sides[i] = {i, std::min(a, b), std::max(a, b)};
    }
    std::sort(sides.begin(), sides.end(), [](const Side& a, const Side& b) {
        return std::pair(a.low, a.index) < std::pair(b.low, b.index);
    });
    for (std::size_t s = 0; s < count; ++s) {
        for (std::size_t t = s + 1; t < count && sides[t].low <= sides[s].high; ++t) {
            const auto [i, j] = std::minmax(sides[s].index, sides[t].index);
            if (j == i + 1 || (i == 0 && j == count - 1)) continue;
            if (sides_meet(corners[i], corners[i + 1], corners[j], corners[(j + 1) % count])) {
                return std::pair(i, j);
            }
        }
    }
    return std::nullopt;
}

// The ring of corners that are left while ears are cut off.
class EarClipper {
  public:
    explicit EarClipper(const Points& outline) : outline_(outline) {
        const auto count = static_cast<std::uint32_t>(outline.size());
        for (std::uint32_t i = 0; i < count; ++i) {
            before_.push_back((i + count - 1) % count);
            after_.push_back((i + 1) % count);
        }
        for (std::uint32_t i = 0; i < count; ++i) {
            if (turn(i) <= 0) inward_.push_back(i);
        }
    }

    std::vector<glm::uvec3> clip() {
        std::vector<glm::uvec3> triangles;
        std::uint32_t at = 0;
        std::size_t left = outline_.size(), tried = 0;
        while (left > 3) {
            // A simple outline always has an ear; predicates are exact, so one is always found.
            STANDPOINT_CHECK(tried++ <= left);
            if (!is_ear(at)) {
                at = after_[at];
                continue;
            }
            triangles.emplace_back(before_[at], at, after_[at]);
            cut(at);
            at = after_[after_[at]]; // not its neighbour: fans make needles
            --left;
            tried = 0;
        }
        triangles.emplace_back(before_[at], at, after_[at]);
        return triangles;
    }

  private:
    int turn(std::uint32_t i) const {
        return orientation(outline_[before_[i]], outline_[i], outline_[after_[i]]);
    }

    bool is_ear(std::uint32_t i) const {
        if (turn(i) <= 0) return false;
        const glm::dvec2 &a = outline_[before_[i]], &b = outline_[i], &c = outline_[after_[i]];
        const glm::dvec2 low = glm::min(glm::min(a, b), c), high = glm::max(glm::max(a, b), c);
        for (std::uint32_t other : inward_) {
            if (other == before_[i] || other == after_[i]) continue;
            const glm::dvec2& p = outline_[other];
            if (p.x < low.x || p.x > high.x || p.y < low.y || p.y > high.y) continue;
            if (orientation(a, b, p) >= 0 && orientation(b, c, p) >= 0 &&
                orientation(c, a, p) >= 0) {
                return false;
            }
        }
        return true;
    }

    void cut(std::uint32_t i) {
        const std::uint32_t neighbours[] = {before_[i], after_[i]};
        after_[neighbours[0]] = neighbours[1];
        before_[neighbours[1]] = neighbours[0];
        for (std::uint32_t n : neighbours) {
            if (turn(n) > 0) std::erase(inward_, n);
        }
    }

    const Points& outline_;
    std::vector<std::uint32_t> before_, after_;
    std::vector<std::uint32_t> inward_; // corners that are not convex: only they can spoil an ear
};

} // namespace

int orientation(const glm::dvec2& a, const glm::dvec2& b, const glm::dvec2& c) {
    const double left = (a.x - c.x) * (b.y - c.y);
    const double right = (a.y - c.y) * (b.x - c.x);
    const double twice_area = left - right;
    // Rounding of the three operations cannot turn the sign beyond this (Shewchuk 1997).
    const double bound = 3.3306690738754716e-16 * (std::abs(left) + std::abs(right));
    if (twice_area > bound) return 1;
    if (twice_area < -bound) return -1;
    ExactSum exact;
    exact.add_product(a.x, b.y);
    exact.add_product(-a.x, c.y);
    exact.add_product(b.x, c.y);
    exact.add_product(-b.x, a.y);
    exact.add_product(c.x, a.y);
    exact.add_product(-c.x, b.y);
    return exact.sign();
}

double signed_area(const std::vector<glm::dvec2>& outline) {
    double twice = 0;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const glm::dvec2 a = outline[i] - outline[0];
        const glm::dvec2 b = outline[(i + 1) % outline.size()] - outline[0];
        twice += a.x * b.y - a.y * b.x;
    }
    return twice / 2;
}

Result<std::vector<glm::dvec2>> simple_outline(const std::vector<glm::dvec2>& points,
                                               std::string_view what) {
    STANDPOINT_TRY(kept, shaping_corners(points, what));
    Points corners;
    for (std::size_t i : kept)
        corners.push_back(points[i]);
    if (const auto sides = meeting_sides(corners)) {
        const auto point = [&](std::size_t i) { return kept[i % kept.size()] + 1; };
        return input_error(
            "", fmt::format("found {} that crosses or touches itself: the side from point {} to {} "
                            "meets the side from point {} to {}; expected sides that stay apart",
                            what, point(sides->first), point(sides->first + 1),
                            point(sides->second), point(sides->second + 1)));
    }
    if (signed_area(corners) < 0) std::reverse(corners.begin() + 1, corners.end());
    return corners;
}

std::vector<glm::uvec3> triangulate(const std::vector<glm::dvec2>& outline) {
    STANDPOINT_CHECK(outline.size() >= 3);
    return EarClipper(outline).clip();
}

} // namespace standpoint
