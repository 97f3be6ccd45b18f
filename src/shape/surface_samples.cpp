// Even samples of a surface: triangles by area, places in them by a low-discrepancy sequence.
#include <algorithm>
#include <span>

#include "base/hash.h"
#include "measure/tolerance.h"
#include "shape/low_discrepancy.h"
#include "shape/surface.h"

namespace standpoint {

namespace {

// Shares the unit square out among the triangles of a patch by area, neighbours to neighbours: the
// surface is halved again and again along the longest side of the box of its triangles' middles,
// the square across and along in turn. Points that are even in the square are then even over the
// surface, however many triangles it has.
class AreaTree {
  public:
    explicit AreaTree(const std::vector<SurfaceTriangle>& surface) : surface_(surface) {
        middles_.reserve(surface.size());
        for (const SurfaceTriangle& t : surface)
            middles_.push_back((t.corners.a + t.corners.b + t.corners.c) / 3.0);
        std::vector<std::size_t> all;
        for (std::size_t i = 0; i < surface.size(); ++i)
            if (surface[i].area > 0) all.push_back(i);
        STANDPOINT_CHECK(!all.empty());
        nodes_.reserve(2 * all.size());
        grow(all);
    }

    double area() const { return nodes_.front().area; }

    struct Pick {
        std::size_t triangle = 0;
        glm::dvec2 place{0.0}; // in [0, 1]^2: where in the triangle's part of the square
    };
    Pick pick(glm::dvec2 place) const {
        std::size_t at = 0;
        for (int axis = 0; nodes_[at].second != 0; axis = 1 - axis) {
            const std::size_t first = at + 1, second = nodes_[at].second;
            const double share = nodes_[first].area / (nodes_[first].area + nodes_[second].area);
            double& x = place[axis];
            const bool in_first = x < share;
            x = std::clamp(in_first ? x / share : (x - share) / (1 - share), 0.0, 1.0);
            at = in_first ? first : second;
        }
        return {nodes_[at].triangle, place};
    }

  private:
    struct Node { // the first half follows its node; second == 0: a single triangle
        double area = 0;
        std::size_t second = 0;
        std::size_t triangle = 0;
    };

    std::size_t grow(std::span<std::size_t> part) {
        const std::size_t node = nodes_.size();
        nodes_.emplace_back();
        if (part.size() == 1) {
            nodes_[node] = {surface_[part[0]].area, 0, part[0]};
            return node;
        }
        sort_along(part, longest_axis(part));
        const std::size_t half = half_by_area(part);
        const std::size_t first = grow(part.first(half));
        const std::size_t second = grow(part.subspan(half));
        nodes_[node] = {nodes_[first].area + nodes_[second].area, second, 0};
        return node;
    }

    int longest_axis(std::span<const std::size_t> part) const {
        Box box;
        for (const std::size_t i : part)
            box = grown(box, middles_[i]);
        const glm::dvec3 size = box.size();
        return size.x >= size.y ? (size.x >= size.z ? 0 : 2) : (size.y >= size.z ? 1 : 2);
    }

    void sort_along(std::span<std::size_t> part, int axis) const {
        std::sort(part.begin(), part.end(), [&](std::size_t a, std::size_t b) {
            const double at_a = middles_[a][axis], at_b = middles_[b][axis];
            return at_a != at_b ? at_a < at_b : surface_[a].triangle < surface_[b].triangle;
        });
    }

    // Neither half is empty, nor much smaller in number than the other, so that the tree is low.
    std::size_t half_by_area(std::span<const std::size_t> part) const {
        double all = 0;
        for (const std::size_t i : part)
            all += surface_[i].area;
        double sum = 0;
        std::size_t half = 0;
        while (half < part.size() && sum + surface_[part[half]].area / 2 < all / 2)
            sum += surface_[part[half++]].area;
        const std::size_t least = std::max<std::size_t>(1, part.size() / 16);
        return std::clamp(half, least, part.size() - least);
    }

    const std::vector<SurfaceTriangle>& surface_;
    std::vector<glm::dvec3> middles_;
    std::vector<Node> nodes_;
};

// The square folded onto the triangle along its diagonal, areas kept: weights of corners a, b, c.
glm::dvec3 weights_at(double x, double y) {
    const double least = std::min(x, y) / 2;
    const glm::dvec2 folded(x - least, y - least);
    const glm::dvec3 weights(1 - folded.x - folded.y, folded.x, folded.y);
    return weights * (1 - sample_inset) + glm::dvec3(sample_inset / 3);
}

} // namespace

std::vector<SurfaceSample> sample_surface(const std::vector<SurfaceTriangle>& surface,
                                          int replicates, int per_replicate, std::uint64_t seed) {
    STANDPOINT_CHECK(replicates > 0 && per_replicate > 0);
    const AreaTree tree(surface);
    const double share = tree.area() / replicates / per_replicate;
    std::vector<SurfaceSample> samples;
    samples.reserve(static_cast<std::size_t>(replicates) * static_cast<std::size_t>(per_replicate));
    for (int replicate = 0; replicate < replicates; ++replicate) {
        const std::uint64_t own = mix(mix(seed) + static_cast<std::uint64_t>(replicate));
        for (int i = 0; i < per_replicate; ++i) {
            const glm::dvec2 square = scrambled_point(static_cast<std::uint32_t>(i), own);
            const AreaTree::Pick pick = tree.pick(square);
            const SurfaceTriangle& t = surface[pick.triangle];
            const glm::dvec3 weights = weights_at(pick.place.x, pick.place.y);
            SurfaceSample sample;
            sample.point =
                t.corners.a * weights.x + t.corners.b * weights.y + t.corners.c * weights.z;
            sample.normal = t.normal;
            sample.area = share;
            sample.two_sided = t.two_sided;
            sample.triangle = t.triangle;
            samples.push_back(sample);
        }
    }
    return samples;
}

} // namespace standpoint
