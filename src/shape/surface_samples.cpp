// Even samples of a surface: triangles by area, places in them by a low-discrepancy sequence.
#include <algorithm>
#include <numeric>
#include <span>

#include "base/hash.h"
#include "shape/low_discrepancy.h"
#include "shape/surface.h"

namespace standpoint {

namespace {

// Puts the triangles of a patch in an order in which neighbours in the list are neighbours in
// space: halved again and again by area along the longest side of the box of their middles. Even
// steps along the list are then even steps over the surface.
class SpatialOrder {
  public:
    explicit SpatialOrder(const std::vector<SurfaceTriangle>& surface) : surface_(surface) {
        order_.resize(surface.size());
        std::iota(order_.begin(), order_.end(), std::size_t{0});
        middles_.reserve(surface.size());
        for (const SurfaceTriangle& t : surface)
            middles_.push_back((t.corners.a + t.corners.b + t.corners.c) / 3.0);
        halve(order_);
    }

    const std::vector<std::size_t>& order() const { return order_; }

  private:
    void halve(std::span<std::size_t> part) {
        if (part.size() < 2) return;
        const int axis = longest_axis(part);
        std::sort(part.begin(), part.end(), [&](std::size_t a, std::size_t b) {
            const double pa = middles_[a][axis], pb = middles_[b][axis];
            return pa != pb ? pa < pb : a < b;
        });
        const std::size_t half = half_by_area(part);
        halve(part.first(half));
        halve(part.subspan(half));
    }

    int longest_axis(std::span<const std::size_t> part) const {
        Box box;
        for (const std::size_t i : part)
            box = grown(box, middles_[i]);
        const glm::dvec3 size = box.size();
        return size.x >= size.y ? (size.x >= size.z ? 0 : 2) : (size.y >= size.z ? 1 : 2);
    }

    // Neither half is empty, and neither is much larger in number, so that the depth stays small.
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
    std::vector<std::size_t> order_;
    std::vector<glm::dvec3> middles_;
};

// How far a sample is pulled from where it falls towards the middle of its triangle, as a share:
// off edges and corners, where rays cannot tell one face from the next.
constexpr double inset = 1e-3;

// The square folded onto the triangle along its diagonal, areas kept: weights of corners a, b, c.
glm::dvec3 weights_at(double x, double y) {
    const double least = std::min(x, y) / 2;
    const glm::dvec2 folded(x - least, y - least);
    const glm::dvec3 weights(1 - folded.x - folded.y, folded.x, folded.y);
    return weights * (1 - inset) + glm::dvec3(inset / 3);
}

// Picks triangles by area: a number in (0, 1) says which, and how far into its share it fell.
class AreaPicker {
  public:
    explicit AreaPicker(const std::vector<SurfaceTriangle>& surface)
        : order_(SpatialOrder(surface).order()) {
        ends_.reserve(order_.size());
        for (const std::size_t i : order_)
            ends_.push_back(total_ += surface[i].area);
    }

    double total() const { return total_; }

    struct Pick {
        std::size_t triangle = 0;
        double rest = 0; // [0, 1]: as good as a fresh number
    };
    Pick pick(double share) const {
        const double area = share * total_;
        const auto end = std::upper_bound(ends_.begin(), ends_.end(), area);
        const auto place =
            std::min(static_cast<std::size_t>(end - ends_.begin()), ends_.size() - 1);
        const double start = place == 0 ? 0.0 : ends_[place - 1];
        const double rest = (area - start) / (ends_[place] - start);
        return {order_[place], std::clamp(rest, 0.0, 1.0)};
    }

  private:
    std::vector<std::size_t> order_;
    std::vector<double> ends_;
    double total_ = 0;
};

} // namespace

std::vector<SurfaceSample> sample_surface(const std::vector<SurfaceTriangle>& surface,
                                          int replicates, int per_replicate, std::uint64_t seed) {
    STANDPOINT_CHECK(replicates > 0 && per_replicate > 0);
    const AreaPicker picker(surface);
    STANDPOINT_CHECK(picker.total() > 0);
    const double share = picker.total() / replicates / per_replicate;
    std::vector<SurfaceSample> samples;
    samples.reserve(static_cast<std::size_t>(replicates) * static_cast<std::size_t>(per_replicate));
    for (int replicate = 0; replicate < replicates; ++replicate) {
        const std::uint64_t own = mix(mix(seed) + static_cast<std::uint64_t>(replicate));
        for (int i = 0; i < per_replicate; ++i) {
            const glm::dvec2 square = scrambled_point(static_cast<std::uint32_t>(i), own);
            const AreaPicker::Pick pick = picker.pick(square.x);
            const SurfaceTriangle& t = surface[pick.triangle];
            const glm::dvec3 weights = weights_at(pick.rest, square.y);
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
