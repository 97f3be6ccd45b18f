// Coarser levels of a mesh, and which of its parts are closed.
#include "window/gl_mesh_pack.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <map>
#include <unordered_map>

#include <glm/geometric.hpp>
#include <glm/vec3.hpp>
#include <meshoptimizer.h>

namespace standpoint {

namespace {

constexpr std::size_t fewest_triangles = 64; // what has no more is not made coarser
constexpr std::size_t worth_a_sketch = 600;  // triangles
constexpr double coarser_by = 0.4;           // triangles of a level, of those of the one before
constexpr float most_error = 0.08f;          // of the mesh's size

const float* places_of(const PackedMesh& mesh) {
    return mesh.vertices.front().place;
}

glm::vec3 place_at(const PackedMesh& mesh, std::uint32_t vertex) {
    const float* p = mesh.vertices[vertex].place;
    return {p[0], p[1], p[2]};
}

// One range made coarser; `error` grows to what it strays by, a share of the mesh's size.
std::vector<std::uint32_t> fewer(const PackedMesh& mesh, const std::uint32_t* indices,
                                 std::size_t count, float& error) {
    std::vector<std::uint32_t> out(count);
    const std::size_t target =
        static_cast<std::size_t>(static_cast<double>(count) / 3 * coarser_by) * 3;
    float strayed = 0;
    std::size_t made =
        meshopt_simplify(out.data(), indices, count, places_of(mesh), mesh.vertices.size(),
                         sizeof(PackedVertex), target, most_error, 0, &strayed);
    // Seams and borders can hold everything fast; then shape goes before order.
    if (made > count - (count - target) / 3) {
        made = meshopt_simplifySloppy(out.data(), indices, count, places_of(mesh),
                                      mesh.vertices.size(), sizeof(PackedVertex), target,
                                      most_error, &strayed);
        if (made == 0) { // more than it may stray
            out.assign(indices, indices + count);
            return out;
        }
    }
    out.resize(made);
    error = std::max(error, strayed);
    return out;
}

std::vector<PackedLevel> coarser_levels(const PackedMesh& mesh) {
    std::vector<PackedLevel> levels;
    if (mesh.vertices.empty()) return levels;
    const double size = static_cast<double>(
        meshopt_simplifyScale(places_of(mesh), mesh.vertices.size(), sizeof(PackedVertex)));
    const PackedLevel* finer = &mesh.full;
    levels.reserve(8);
    while (levels.size() < 7 && finer->indices.size() > fewest_triangles * 3) {
        PackedLevel level;
        float error = 0;
        for (const IndexSpan& span : finer->spans) {
            const std::uint32_t* from = finer->indices.data() + span.first;
            std::vector<std::uint32_t> kept(from, from + span.count);
            if (span.count > 24 * 3) kept = fewer(mesh, from, span.count, error);
            level.spans.push_back({static_cast<std::uint32_t>(level.indices.size()),
                                   static_cast<std::uint32_t>(kept.size())});
            level.indices.insert(level.indices.end(), kept.begin(), kept.end());
        }
        if (level.indices.size() > finer->indices.size() * 9 / 10) break;
        level.error_mm = finer->error_mm + static_cast<double>(error) * size;
        levels.push_back(std::move(level));
        finer = &levels.back();
    }
    return levels;
}

// Cells along the longest side, so that a few hundred to two thousand triangles are left.
int cells_for(std::size_t triangles) {
    return std::clamp(static_cast<int>(std::sqrt(static_cast<double>(triangles) / 40)), 6, 20);
}

// The first vertex met in each cell, for every vertex.
std::vector<std::uint32_t> cell_leaders(const PackedMesh& mesh, int cells, double& cell_mm) {
    glm::vec3 low(place_at(mesh, 0)), high(low);
    for (std::uint32_t i = 1; i < mesh.vertices.size(); ++i) {
        low = glm::min(low, place_at(mesh, i));
        high = glm::max(high, place_at(mesh, i));
    }
    const glm::vec3 size = high - low;
    const float step = std::max({size.x, size.y, size.z, 1e-6f}) / static_cast<float>(cells);
    cell_mm = static_cast<double>(step);
    const auto wide = static_cast<std::size_t>(cells) + 1;
    std::vector<std::uint32_t> first(wide * wide * wide, ~0U), leaders(mesh.vertices.size());
    for (std::uint32_t i = 0; i < mesh.vertices.size(); ++i) {
        const glm::uvec3 cell((place_at(mesh, i) - low) / step);
        std::uint32_t& leader = first[(cell.z * wide + cell.y) * wide + cell.x];
        if (leader == ~0U) leader = i;
        leaders[i] = leader;
    }
    return leaders;
}

struct PlaceHash {
    std::size_t operator()(const glm::vec3& p) const {
        std::uint32_t bits[3];
        std::memcpy(bits, &p, sizeof bits);
        std::uint64_t h = bits[0];
        h = (h * 0x9e3779b97f4a7c15ULL) ^ bits[1];
        h = (h * 0x9e3779b97f4a7c15ULL) ^ bits[2];
        return static_cast<std::size_t>(h * 0x9e3779b97f4a7c15ULL ^ (h >> 29));
    }
};

struct PartCount {
    std::vector<std::uint64_t> edges; // from << 32 | to, welded
    double volume = 0;
    bool opaque = true;
};

// Closed: each edge is walked as often one way as the other.
bool is_closed(PartCount& part) {
    std::vector<std::uint64_t> back(part.edges.size());
    std::transform(part.edges.begin(), part.edges.end(), back.begin(),
                   [](std::uint64_t e) { return e << 32 | e >> 32; });
    std::sort(part.edges.begin(), part.edges.end());
    std::sort(back.begin(), back.end());
    return part.edges == back && part.volume > 0;
}

std::vector<std::uint32_t> welded(const PackedMesh& mesh) {
    std::unordered_map<glm::vec3, std::uint32_t, PlaceHash> ids;
    ids.reserve(mesh.vertices.size());
    std::vector<std::uint32_t> out;
    out.reserve(mesh.vertices.size());
    for (std::uint32_t i = 0; i < mesh.vertices.size(); ++i) {
        // -0 and 0 are one place
        const glm::vec3 place = place_at(mesh, i) + glm::vec3(0.0f);
        out.push_back(ids.emplace(place, i).first->second);
    }
    return out;
}

void find_solids(const PackedMesh& mesh, MeshDetails& out) {
    const std::vector<std::uint32_t> id = welded(mesh);
    std::map<std::uint32_t, PartCount> parts;
    bool any_holes = false;
    for (std::size_t r = 0; r < mesh.looks.size(); ++r) {
        const IndexSpan span = mesh.full.spans[r];
        const RangeLook& look = mesh.looks[r];
        any_holes = any_holes || (look.cutoff >= 0 && span.count > 0);
        for (std::uint32_t i = span.first; i < span.first + span.count; i += 3) {
            PartCount& part = parts[mesh.part[i / 3]];
            const std::uint32_t* corner = &mesh.full.indices[i];
            part.opaque = part.opaque && look.lets_through <= 0 && look.cutoff < 0;
            part.volume += glm::dot(glm::dvec3(place_at(mesh, corner[0])),
                                    glm::cross(glm::dvec3(place_at(mesh, corner[1])),
                                               glm::dvec3(place_at(mesh, corner[2]))));
            for (int k = 0; k < 3; ++k) {
                const std::uint64_t from = id[corner[k]], to = id[corner[(k + 1) % 3]];
                if (from != to) part.edges.push_back(from << 32 | to);
            }
        }
    }
    out.closed = !any_holes;
    std::map<std::uint32_t, bool> solid;
    for (auto& [number, part] : parts) {
        const bool closed = is_closed(part);
        out.closed = out.closed && closed;
        solid[number] = closed && part.opaque;
    }
    for (std::size_t t = 0; t < mesh.part.size(); ++t)
        if (solid[mesh.part[t]])
            for (std::size_t k = 0; k < 3; ++k)
                out.solids.push_back(mesh.full.indices[t * 3 + k]);
}

} // namespace

PackedLevel sketch_of(const PackedMesh& mesh) {
    PackedLevel out;
    const std::size_t triangles = mesh.full.indices.size() / 3;
    if (triangles <= worth_a_sketch) return out;
    const std::vector<std::uint32_t> leaders =
        cell_leaders(mesh, cells_for(triangles), out.error_mm);
    for (const IndexSpan& span : mesh.full.spans) {
        const auto first = static_cast<std::uint32_t>(out.indices.size());
        for (std::uint32_t i = span.first; i < span.first + span.count; i += 3) {
            const std::uint32_t a = leaders[mesh.full.indices[i]],
                                b = leaders[mesh.full.indices[i + 1]],
                                c = leaders[mesh.full.indices[i + 2]];
            if (a != b && b != c && c != a) out.indices.insert(out.indices.end(), {a, b, c});
        }
        out.spans.push_back({first, static_cast<std::uint32_t>(out.indices.size()) - first});
    }
    if (out.indices.size() > mesh.full.indices.size() / 2) return {};
    return out;
}

MeshDetails details_of(const PackedMesh& mesh) {
    MeshDetails out;
    out.coarser = coarser_levels(mesh);
    find_solids(mesh, out);
    return out;
}

} // namespace standpoint
