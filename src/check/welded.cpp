// Welding by a grid of weld_mm, and connected bodies by joining the corners of each triangle.
#include "check/welded.h"

#include <cmath>
#include <numeric>
#include <unordered_map>

#include "base/hash.h"
#include "measure/tolerance.h"

namespace standpoint {

namespace {

constexpr std::uint32_t none = 0xffffffff;

struct Cell {
    std::int64_t x = 0, y = 0, z = 0;
    bool operator==(const Cell&) const = default;
};

struct CellHash {
    std::size_t operator()(const Cell& cell) const {
        std::uint64_t hash = mix(static_cast<std::uint64_t>(cell.x));
        hash = mix(hash ^ static_cast<std::uint64_t>(cell.y));
        return mix(hash ^ static_cast<std::uint64_t>(cell.z));
    }
};

Cell cell_of(const glm::dvec3& point) {
    return {std::llround(point.x / weld_mm), std::llround(point.y / weld_mm),
            std::llround(point.z / weld_mm)};
}

class Welder {
  public:
    explicit Welder(const std::vector<glm::dvec3>& from, WeldedSurface& to)
        : from_(from), to_(to), known_as_(from.size(), none) {}

    std::uint32_t operator()(std::uint32_t corner) {
        if (known_as_[corner] != none) return known_as_[corner];
        const auto fresh = static_cast<std::uint32_t>(to_.points.size());
        const auto [found, added] = at_.try_emplace(cell_of(from_[corner]), fresh);
        if (added) to_.points.push_back(from_[corner]);
        return known_as_[corner] = found->second;
    }

  private:
    const std::vector<glm::dvec3>& from_;
    WeldedSurface& to_;
    std::vector<std::uint32_t> known_as_;
    std::unordered_map<Cell, std::uint32_t, CellHash> at_;
};

std::uint32_t root_of(std::vector<std::uint32_t>& parent, std::uint32_t i) {
    while (parent[i] != i)
        i = parent[i] = parent[parent[i]];
    return i;
}

} // namespace

WeldedSurface welded(const StagedPiece& piece, const KeepTriangle& keep) {
    const Mesh& mesh = *piece.mesh;
    std::vector<glm::dvec3> scene(mesh.positions.size());
    for (std::size_t i = 0; i < scene.size(); ++i)
        scene[i] = to_scene(piece, mesh.positions[i]);
    WeldedSurface surface;
    Welder weld(scene, surface);
    for (const glm::uvec3& t : mesh.triangles)
        if (!keep || keep(scene[t.x], scene[t.y], scene[t.z])) {
            const std::uint32_t a = weld(t.x), b = weld(t.y), c = weld(t.z);
            surface.triangles.emplace_back(a, b, c);
        }
    return surface;
}

std::vector<WeldedSurface> bodies_of(const WeldedSurface& surface) {
    std::vector<std::uint32_t> parent(surface.points.size());
    std::iota(parent.begin(), parent.end(), 0U);
    for (const glm::uvec3& t : surface.triangles) {
        parent[root_of(parent, t.y)] = root_of(parent, t.x);
        parent[root_of(parent, t.z)] = root_of(parent, t.x);
    }
    std::vector<std::uint32_t> body_of(surface.points.size(), none);
    std::vector<std::uint32_t> place_in(surface.points.size(), none);
    std::vector<WeldedSurface> bodies;
    for (const glm::uvec3& t : surface.triangles) {
        const std::uint32_t root = root_of(parent, t.x);
        if (body_of[root] == none) {
            body_of[root] = static_cast<std::uint32_t>(bodies.size());
            bodies.emplace_back();
        }
        WeldedSurface& body = bodies[body_of[root]];
        glm::uvec3 corners(0);
        for (glm::length_t i = 0; i < 3; ++i) {
            std::uint32_t& place = place_in[t[i]];
            if (place == none) {
                place = static_cast<std::uint32_t>(body.points.size());
                body.points.push_back(surface.points[t[i]]);
            }
            corners[i] = place;
        }
        body.triangles.push_back(corners);
    }
    return bodies;
}

Box bounds_of(const WeldedSurface& surface) {
    Box box;
    for (const glm::dvec3& point : surface.points)
        box = grown(box, point);
    return box;
}

} // namespace standpoint
