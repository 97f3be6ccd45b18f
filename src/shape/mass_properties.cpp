// Volume, area, centroid and inertia of meshes by the divergence theorem.
#include "shape/mass_properties.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <unordered_map>
#include <utility>
#include <vector>

#include <glm/geometric.hpp>
#include <glm/matrix.hpp>

#include "base/hash.h"
#include "measure/tolerance.h"

namespace standpoint {

namespace {

using Cell = std::array<std::int64_t, 3>;

struct CellHash {
    std::size_t operator()(const Cell& cell) const {
        std::uint64_t h = 0;
        for (std::int64_t c : cell)
            h = mix(h ^ static_cast<std::uint64_t>(c));
        return h;
    }
};

constexpr double cell_mm = 4 * weld_mm;

Cell cell_of(const glm::dvec3& p) {
    return {std::llround(std::floor(p.x / cell_mm)), std::llround(std::floor(p.y / cell_mm)),
            std::llround(std::floor(p.z / cell_mm))};
}

// Vertices within weld_mm of an earlier one take its number.
class Welder {
  public:
    explicit Welder(std::size_t vertices) { newest_in_.reserve(vertices); }

    std::uint32_t number_of(const glm::dvec3& p) {
        const Cell low = cell_of(p - weld_mm), high = cell_of(p + weld_mm);
        std::uint32_t found = none;
        for (std::int64_t x = low[0]; x <= high[0]; ++x) {
            for (std::int64_t y = low[1]; y <= high[1]; ++y) {
                for (std::int64_t z = low[2]; z <= high[2]; ++z) {
                    found = std::min(found, look({x, y, z}, p));
                }
            }
        }
        if (found != none) return found;
        const auto number = static_cast<std::uint32_t>(points_.size());
        const auto [newest, first_there] = newest_in_.emplace(cell_of(p), number);
        points_.push_back({p, first_there ? none : newest->second});
        newest->second = number;
        return number;
    }

  private:
    static constexpr std::uint32_t none = 0xffffffff;

    std::uint32_t look(const Cell& cell, const glm::dvec3& p) const {
        const auto newest = newest_in_.find(cell);
        std::uint32_t found = none;
        for (std::uint32_t i = newest == newest_in_.end() ? none : newest->second; i != none;
             i = points_[i].older) {
            if (glm::distance(points_[i].place, p) <= weld_mm) found = i;
        }
        return found; // the oldest
    }

    struct Point {
        glm::dvec3 place;
        std::uint32_t older; // the one before it in its cell
    };
    std::vector<Point> points_;
    std::unordered_map<Cell, std::uint32_t, CellHash> newest_in_;
};

bool edges_cancel(const Mesh& mesh) {
    Welder welder(mesh.positions.size());
    std::vector<std::uint32_t> number(mesh.positions.size());
    for (std::size_t i = 0; i < number.size(); ++i)
        number[i] = welder.number_of(mesh.positions[i]);
    struct Edge {
        std::uint32_t low, high;
        int way;
        bool operator<(const Edge& other) const {
            return std::pair(low, high) < std::pair(other.low, other.high);
        }
    };
    std::vector<Edge> edges;
    edges.reserve(3 * mesh.triangles.size());
    for (const glm::uvec3& t : mesh.triangles) {
        const std::uint32_t corner[] = {number[t.x], number[t.y], number[t.z]};
        for (int k = 0; k < 3; ++k) {
            const std::uint32_t a = corner[k], b = corner[(k + 1) % 3];
            if (a != b) edges.push_back({std::min(a, b), std::max(a, b), a < b ? 1 : -1});
        }
    }
    std::sort(edges.begin(), edges.end());
    for (std::size_t i = 0; i < edges.size();) {
        int sum = 0;
        std::size_t j = i;
        for (; j < edges.size() && !(edges[i] < edges[j]); ++j)
            sum += edges[j].way;
        if (sum != 0) return false;
        i = j;
    }
    return !edges.empty();
}

// Integrals of 1, x and x x^T over the solid, about `origin`, and the surface's own.
struct Integrals {
    double volume = 0, area = 0;
    glm::dvec3 first{0.0}, surface_first{0.0};
    glm::dmat3 second{0.0};
};

Integrals integrate(const Mesh& mesh, const glm::dvec3& origin) {
    Integrals sum;
    for (const glm::uvec3& t : mesh.triangles) {
        const glm::dvec3 a = mesh.positions[t.x] - origin;
        const glm::dvec3 b = mesh.positions[t.y] - origin;
        const glm::dvec3 c = mesh.positions[t.z] - origin;
        const glm::dvec3 s = a + b + c;
        const double area = glm::length(glm::cross(b - a, c - a)) / 2;
        const double volume = glm::dot(a, glm::cross(b, c)) / 6; // of the tetrahedron to origin
        sum.area += area;
        sum.surface_first += area / 3 * s;
        sum.volume += volume;
        sum.first += volume / 4 * s;
        sum.second += volume / 20 *
                      (glm::outerProduct(a, a) + glm::outerProduct(b, b) + glm::outerProduct(c, c) +
                       glm::outerProduct(s, s));
    }
    return sum;
}

} // namespace

MassProperties mass_properties(const Mesh& mesh) {
    MassProperties result;
    const Box box = bounds(mesh);
    if (box.empty()) return result;
    // Near the solid, so that little is lost to cancellation.
    const glm::dvec3 origin = box.centre();
    const Integrals sum = integrate(mesh, origin);
    result.volume = sum.volume;
    result.area = sum.area;
    result.closed = edges_cancel(mesh);
    if (sum.volume == 0) {
        result.centroid = origin + (sum.area > 0 ? sum.surface_first / sum.area : glm::dvec3(0.0));
        return result;
    }
    const glm::dvec3 centre = sum.first / sum.volume;
    result.centroid = origin + centre;
    const glm::dmat3 about = sum.second - sum.volume * glm::outerProduct(centre, centre);
    result.inertia = glm::dmat3(about[0][0] + about[1][1] + about[2][2]) - about;
    return result;
}

} // namespace standpoint
