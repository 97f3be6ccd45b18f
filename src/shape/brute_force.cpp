// The twin of the ray index: plain loops over every triangle in double, slow and easy to trust.
#include <chrono>
#include <cmath>

#include <glm/geometric.hpp>

#include "shape/crossings.h"

namespace standpoint {

namespace {

struct PlacedTriangle {
    Triangle corners;
    std::uint32_t piece = 0, triangle = 0;
    bool opaque = true;
};

struct Axes { // of a ray: its longest direction last, handedness kept
    int x = 0, y = 1, z = 2;
};

Axes axes_of(const glm::dvec3& direction) {
    const glm::dvec3 size = glm::abs(direction);
    Axes axes;
    axes.z = size.x > size.y ? (size.x > size.z ? 0 : 2) : (size.y > size.z ? 1 : 2);
    axes.x = (axes.z + 1) % 3;
    axes.y = (axes.z + 2) % 3;
    if (direction[axes.z] < 0) std::swap(axes.x, axes.y);
    return axes;
}

// A corner as the ray sees it: x and y across the ray, z along its longest direction.
glm::dvec3 sheared(const glm::dvec3& corner, const Ray& ray, const Axes& axes) {
    const glm::dvec3 p = corner - ray.from;
    const double z = p[axes.z];
    const double depth = z / ray.direction[axes.z];
    return {p[axes.x] - ray.direction[axes.x] * depth, p[axes.y] - ray.direction[axes.y] * depth,
            depth};
}

double side(const glm::dvec3& a, const glm::dvec3& b) {
    return a.x * b.y - a.y * b.x;
}

// Watertight: the side of an edge comes out the same, sign turned, for both its triangles, and on
// the edge itself both are hit. In the plane of the triangle there is no crossing.
bool hit(const Triangle& triangle, const Ray& ray, const Axes& axes, double& distance, double& u,
         double& v) {
    const glm::dvec3 a = sheared(triangle.a, ray, axes);
    const glm::dvec3 b = sheared(triangle.b, ray, axes);
    const glm::dvec3 c = sheared(triangle.c, ray, axes);
    const double at_a = side(b, c), at_b = side(c, a), at_c = side(a, b);
    const bool inside =
        (at_a >= 0 && at_b >= 0 && at_c >= 0) || (at_a <= 0 && at_b <= 0 && at_c <= 0);
    const double all = at_a + at_b + at_c;
    if (!inside || all == 0) return false;
    u = at_b / all;
    v = at_c / all;
    distance = (at_a * a.z + at_b * b.z + at_c * c.z) / all;
    return ray.low < distance && distance < ray.high;
}

class BruteForce final : public RayIndex {
  public:
    BruteForce(const Staging& staging, const IndexChoice& choice) : staging_(staging) {
        const auto start = std::chrono::steady_clock::now();
        for (const std::uint32_t piece : chosen_pieces(staging, choice))
            add(piece);
        facts_.triangles = triangles_.size();
        facts_.build_seconds =
            std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    }

    bool nearest(const Segment& segment, Crossing& crossing) const override {
        std::vector<Crossing> all;
        crossings(segment, all);
        if (all.empty()) return false;
        crossing = all.front();
        return true;
    }

    void crossings(const Segment& segment, std::vector<Crossing>& out) const override {
        out.clear();
        const Ray ray = ray_along(segment);
        if (ray.low >= ray.high) return;
        const Axes axes = axes_of(ray.direction);
        for (const PlacedTriangle& placed : triangles_) {
            Crossing crossing;
            if (cross(placed, ray, axes, crossing)) out.push_back(crossing);
        }
        settle_crossings(staging_, ray, out);
    }

    void blocked(std::span<const Segment> segments, std::span<std::uint8_t> out) const override {
        STANDPOINT_CHECK(segments.size() == out.size());
        for (std::size_t i = 0; i < segments.size(); ++i)
            out[i] = is_blocked(segments[i]) ? 1 : 0;
    }

    IndexFacts facts() const override { return facts_; }

  private:
    void add(std::uint32_t index) {
        const StagedPiece& piece = staging_.pieces[index];
        ++facts_.pieces;
        for (std::uint32_t t = 0; t < piece.mesh->triangles.size(); ++t)
            triangles_.push_back({scene_triangle(piece, t), index, t,
                                  material_of(*piece.mesh, t).lets_through == 0});
    }

    bool cross(const PlacedTriangle& placed, const Ray& ray, const Axes& axes,
               Crossing& crossing) const {
        double distance = 0, u = 0, v = 0;
        if (!hit(placed.corners, ray, axes, distance, u, v)) return false;
        const Mesh& mesh = *staging_.pieces[placed.piece].mesh;
        if (cut_out(mesh, placed.triangle, u, v)) return false;
        crossing = {distance,
                    placed.piece,
                    placed.triangle,
                    material_of(mesh, placed.triangle).lets_through,
                    static_cast<float>(u),
                    static_cast<float>(v)};
        return true;
    }

    bool is_blocked(const Segment& segment) const {
        const Ray ray = ray_along(segment);
        if (ray.low >= ray.high) return false;
        const Axes axes = axes_of(ray.direction);
        Crossing crossing;
        for (const PlacedTriangle& placed : triangles_)
            if (placed.opaque && cross(placed, ray, axes, crossing)) return true;
        return false;
    }

    const Staging& staging_;
    std::vector<PlacedTriangle> triangles_;
    IndexFacts facts_;
};

} // namespace

std::unique_ptr<RayIndex> make_brute_force(const Staging& staging, const IndexChoice& choice) {
    return std::make_unique<BruteForce>(staging, choice);
}

} // namespace standpoint
