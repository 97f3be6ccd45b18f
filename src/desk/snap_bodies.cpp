// What can be snapped to: boxes of what stays, and the upright flat faces of turned things.
#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>
#include <unordered_set>

#include <glm/geometric.hpp>

#include "desk/snap.h"

namespace standpoint {

namespace {

constexpr std::size_t most_face_triangles = 400; // more is no box-like thing
constexpr std::size_t most_faces = 16;

using PlaneKey = std::tuple<long, long, long>;

// The trace of one upright triangle, and the plane it lies in.
struct Trace {
    PlaneKey key;
    SnapFace face;
};

std::optional<Trace> trace_of(const Triangle& t) {
    const glm::dvec3 across = glm::cross(t.b - t.a, t.c - t.a);
    const double size = glm::length(across);
    constexpr double upright = 1e-6, along_axis = 1e-6;
    if (!(size > 0) || std::abs(across.z) > upright * size) return std::nullopt;
    const glm::dvec2 outward = glm::normalize(glm::dvec2(across));
    if (std::abs(outward.x) < along_axis || std::abs(outward.y) < along_axis) return std::nullopt;
    const glm::dvec2 run(-outward.y, outward.x);
    double low = INFINITY, high = -INFINITY;
    for (const glm::dvec3& corner : {t.a, t.b, t.c}) {
        low = std::min(low, glm::dot(glm::dvec2(corner), run));
        high = std::max(high, glm::dot(glm::dvec2(corner), run));
    }
    const double off = glm::dot(glm::dvec2(t.a), outward);
    const PlaneKey key{std::lround(outward.x * 1e5), std::lround(outward.y * 1e5),
                       std::lround(off * 10)};
    return Trace{key, {outward * off + run * low, outward * off + run * high, outward}};
}

void widen(SnapFace& face, const SnapFace& by) {
    const glm::dvec2 run(-face.outward.y, face.outward.x);
    for (const glm::dvec2& point : {by.from, by.to}) {
        if (glm::dot(point, run) < glm::dot(face.from, run)) face.from = point;
        if (glm::dot(point, run) > glm::dot(face.to, run)) face.to = point;
    }
}

std::vector<SnapFace> turned_faces(const StagedPiece& piece) {
    if (piece.mesh->triangles.size() > most_face_triangles) return {};
    std::map<PlaneKey, SnapFace> faces;
    for (std::uint32_t i = 0; i < piece.mesh->triangles.size(); ++i) {
        const auto trace = trace_of(scene_triangle(piece, i));
        if (!trace) continue;
        const auto [at, fresh] = faces.emplace(trace->key, trace->face);
        if (!fresh) widen(at->second, trace->face);
    }
    if (faces.size() > most_faces) return {}; // a round thing
    std::vector<SnapFace> all;
    for (const auto& [key, face] : faces)
        all.push_back(face);
    return all;
}

} // namespace

std::vector<SnapBody> snap_others(const Staging& staging, const Ids& moving) {
    const std::set<std::string> gone = with_carried(staging.document, moving);
    std::vector<SnapBody> bodies;
    for (const StagedPiece& piece : staging.pieces) {
        if (piece.staged == StagedKind::hall || piece.box.empty() || gone.contains(piece.id))
            continue;
        std::string name = piece.id;
        if (piece.staged == StagedKind::piece) name = spoken(*piece.piece);
        const Section* section = find_section(staging.document, piece.id);
        if (section && !section->name.empty()) name = "section " + section->name;
        bodies.push_back({std::move(name), piece.box, turned_faces(piece)});
    }
    return bodies;
}

SnapBody snap_moved(const Staging& staging, const Ids& moving) {
    SnapBody body;
    body.name = spoken(staging.document, moving);
    const std::unordered_set<std::string_view> chosen(moving.begin(), moving.end());
    for (const StagedPiece& piece : staging.pieces) {
        if (piece.staged != StagedKind::piece || !chosen.contains(piece.id)) continue;
        if (!piece.box.empty()) body.box = joined(body.box, piece.box);
        for (const SnapFace& face : turned_faces(piece))
            body.faces.push_back(face);
    }
    return body;
}

} // namespace standpoint
