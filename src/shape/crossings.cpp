// What counts as a crossing and in which order; the share of light that a line of sight keeps.
#include "shape/crossings.h"

#include <algorithm>
#include <numeric>
#include <optional>
#include <tuple>

#include <glm/geometric.hpp>

#include "measure/tolerance.h"

namespace standpoint {

namespace {

bool by_distance(const Crossing& a, const Crossing& b) {
    return std::tie(a.distance, a.piece, a.triangle) < std::tie(b.distance, b.piece, b.triangle);
}

bool by_piece(const Crossing& a, const Crossing& b) {
    return std::tie(a.piece, a.triangle, a.distance) < std::tie(b.piece, b.triangle, b.distance);
}

// Corners that two triangles of a mesh have in common, as places of the first. Compared by
// position: meshes keep a corner several times where its normals or texture places differ.
struct Shared {
    int count = 0;
    int corner[3] = {0, 0, 0};
};

Shared shared_corners(const Mesh& mesh, std::uint32_t first, std::uint32_t second) {
    const glm::uvec3 a = mesh.triangles[first], b = mesh.triangles[second];
    Shared shared;
    for (int i = 0; i < 3; ++i) {
        const glm::dvec3& corner = mesh.positions[a[i]];
        if (corner == mesh.positions[b[0]] || corner == mesh.positions[b[1]] ||
            corner == mesh.positions[b[2]])
            shared.corner[shared.count++] = i;
    }
    return shared;
}

double distance_to(const glm::dvec3& a, const glm::dvec3& b, const glm::dvec3& point) {
    const glm::dvec3 along = b - a;
    const double squared = glm::dot(along, along);
    const double share =
        squared > 0 ? std::clamp(glm::dot(point - a, along) / squared, 0.0, 1.0) : 0.0;
    return glm::length(point - (a + along * share));
}

bool faces_eye(const Triangle& t, const Ray& ray) {
    return glm::dot(glm::cross(t.b - t.a, t.c - t.a), ray.direction) < 0;
}

// Whether two crossings of one piece are the same crossing of its surface: the ray passes through
// an edge or a corner that both triangles have, and both face the same way. A thin wall whose two
// faces meet there turns one face to the eye and one away, and stays two crossings.
bool same_surface(const StagedPiece& piece, const Ray& ray, const Crossing& a, const Crossing& b) {
    if (a.triangle == b.triangle) return true;
    const Shared shared = shared_corners(*piece.mesh, a.triangle, b.triangle);
    if (shared.count != 1 && shared.count != 2) return false;
    const Triangle first = scene_triangle(piece, a.triangle);
    const Triangle second = scene_triangle(piece, b.triangle);
    if (faces_eye(first, ray) != faces_eye(second, ray)) return false;
    const glm::dvec3 corners[3] = {first.a, first.b, first.c};
    const glm::dvec3& start = corners[shared.corner[0]];
    const glm::dvec3& end = corners[shared.corner[shared.count - 1]];
    return distance_to(start, end, ray.from + ray.direction * b.distance) <= same_crossing_mm;
}

bool repeats_an_earlier(const Staging& staging, const Ray& ray, const std::vector<Crossing>& all,
                        std::size_t index) {
    const Crossing& later = all[index];
    for (std::size_t i = index; i-- > 0;) {
        const Crossing& earlier = all[i];
        if (later.distance - earlier.distance > same_crossing_mm) return false;
        if (earlier.piece == later.piece &&
            same_surface(staging.pieces[later.piece], ray, earlier, later))
            return true;
    }
    return false;
}

void drop_repeats(const Staging& staging, const Ray& ray, std::vector<Crossing>& crossings) {
    std::vector<std::size_t> repeats;
    for (std::size_t i = 1; i < crossings.size(); ++i)
        if (repeats_an_earlier(staging, ray, crossings, i)) repeats.push_back(i);
    for (std::size_t k = repeats.size(); k-- > 0;)
        crossings.erase(crossings.begin() + static_cast<std::ptrdiff_t>(repeats[k]));
}

} // namespace

Ray ray_along(const Segment& segment) {
    const glm::dvec3 along = segment.to - segment.from;
    const double length = glm::length(along);
    Ray ray;
    ray.from = segment.from;
    if (!(length > 2 * ray_end_mm)) return ray;
    ray.direction = along / length;
    ray.low = ray_end_mm;
    ray.high = length - ray_end_mm;
    return ray;
}

const Material& material_of(const Mesh& mesh, std::uint32_t triangle) {
    return mesh.materials[mesh.parts[mesh.part_of[triangle]].material];
}

void settle_crossings(const Staging& staging, const Ray& ray, std::vector<Crossing>& crossings) {
    if (crossings.size() < 2) return;
    std::sort(crossings.begin(), crossings.end(), by_distance);
    drop_repeats(staging, ray, crossings);
    for (auto first = crossings.begin(); first != crossings.end();) {
        const double limit = first->distance + equal_distance_mm;
        auto last = std::find_if(first, crossings.end(),
                                 [&](const Crossing& c) { return c.distance > limit; });
        std::sort(first, last, by_piece);
        first = last;
    }
}

std::vector<std::uint32_t> chosen_pieces(const Staging& staging, const IndexChoice& choice) {
    std::vector<std::uint32_t> pieces = choice.only;
    if (pieces.empty()) {
        pieces.resize(staging.pieces.size());
        std::iota(pieces.begin(), pieces.end(), 0u);
    }
    std::sort(pieces.begin(), pieces.end());
    pieces.erase(std::unique(pieces.begin(), pieces.end()), pieces.end());
    STANDPOINT_CHECK(pieces.empty() || pieces.back() < staging.pieces.size());
    return pieces;
}

double light_along(const RayIndex& index, const Segment& segment, std::vector<Crossing>& room) {
    index.crossings(segment, room);
    double share = 1;
    for (const Crossing& crossing : room)
        share *= static_cast<double>(crossing.lets_through);
    return share;
}

} // namespace standpoint
