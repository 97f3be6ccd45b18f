// What may carry a piece, down from a point or along a line of sight.
#include "desk/look_down.h"

#include <algorithm>

#include <glm/geometric.hpp>

#include "desk/places.h"
#include "desk/rest_samples.h"

namespace standpoint {

namespace {

constexpr double below_floor_mm = 1e5;

bool may_carry(const StagedPiece& piece) {
    if (piece.staged == StagedKind::section) return true;
    return piece.staged == StagedKind::piece && piece.piece->kind != PieceKind::effect;
}

bool is_figure(const StagedPiece& piece) {
    return piece.staged == StagedKind::piece && piece.piece->kind == PieceKind::figure;
}

Segment straight_down(const glm::dvec3& from) {
    const double top = std::min(from.z, below_floor_mm) + look_from_above_mm;
    return {{from.x, from.y, top}, {from.x, from.y, -below_floor_mm}};
}

double plan_width(const Box& box) {
    return box.empty() ? 0 : std::max(box.size().x, box.size().y);
}

} // namespace

LookDown::LookDown(const Document& document, const Staging& staging, const RayIndex& index,
                   const Ids& moving)
    : staging_(staging), index_(index), skipped_(staging.pieces.size(), false) {
    const std::set<std::string> gone = with_carried(document, moving);
    const std::set<std::string> there = taken_ids(document);
    for (std::size_t i = 0; i < staging.pieces.size(); ++i) {
        const StagedPiece& piece = staging.pieces[i];
        skipped_[i] = !may_carry(piece) || gone.contains(piece.id) || !there.contains(piece.id);
    }
    Box moved;
    for (const StagedPiece& piece : staging.pieces)
        if (gone.contains(piece.id)) moved = joined(moved, piece.box);
    for (std::size_t i = 0; i < staging.pieces.size(); ++i)
        if (is_figure(staging.pieces[i]) && plan_width(staging.pieces[i].box) < plan_width(moved))
            skipped_[i] = true;
}

Beneath LookDown::down(const glm::dvec3& from) {
    // What lies within the slack above the start but not at it does not count.
    constexpr double at_start_mm = 0.01;
    const Segment line = straight_down(from);
    for (const Crossing& crossing : along(line)) {
        if (skipped_[crossing.piece]) continue;
        const double height = line.from.z - crossing.distance;
        if (height > from.z + at_start_mm) continue;
        if (height < 0) break;
        const glm::dvec3 normal = upward_normal(crossing);
        if (normal.z < carries_from_cos) continue;
        const StagedPiece& piece = staging_.pieces[crossing.piece];
        const bool section = piece.staged == StagedKind::section;
        return {section ? Support::section : Support::stands_on, piece.id, height, normal};
    }
    return {};
}

const std::vector<Crossing>& LookDown::along(const Segment& line) {
    index_.crossings(line, room_);
    return room_;
}

glm::dvec3 LookDown::upward_normal(const Crossing& crossing) const {
    const StagedPiece& piece = staging_.pieces[crossing.piece];
    const Triangle t = scene_triangle(piece, crossing.triangle);
    const glm::dvec3 across = glm::cross(t.b - t.a, t.c - t.a);
    const double size = glm::length(across);
    if (!(size > 0)) return glm::dvec3(0.0);
    const glm::dvec3 normal = across / size;
    return normal.z < 0 && material_two_sided(*piece.mesh, crossing.triangle) ? -normal : normal;
}

std::optional<glm::dvec3> first_landing(LookDown& looker, const Segment& line) {
    const glm::dvec3 direction = glm::normalize(line.to - line.from);
    for (const Crossing& crossing : looker.along(line)) {
        if (looker.skips(crossing.piece)) continue;
        const glm::dvec3 at = line.from + direction * crossing.distance;
        if (at.z < 0) break;
        const auto normal = looker.upward_normal(crossing);
        if (normal.z >= carries_from_cos && glm::dot(normal, direction) < 0) return at;
    }
    if (!(direction.z < 0)) return std::nullopt;
    return on_plane(line, {0, 0, 0}, {0, 0, 1});
}

} // namespace standpoint
