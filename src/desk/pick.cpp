// What is under the pointer, and what is inside a rectangle.
#include "desk/pick.h"

#include <algorithm>
#include <unordered_set>

#include <glm/geometric.hpp>

namespace standpoint {

namespace {

Picked picked_of(const Staging& staging, const Segment& line, const Crossing& crossing) {
    const StagedPiece& piece = staging.pieces[crossing.piece];
    const Triangle triangle = scene_triangle(piece, crossing.triangle);
    Picked picked;
    picked.kind = piece.staged;
    picked.id = piece.id;
    if (piece.staged == StagedKind::piece)
        picked.part = piece.mesh->parts[piece.mesh->part_of[crossing.triangle]].belongs_to;
    const glm::dvec3 direction = glm::normalize(line.to - line.from);
    picked.at = line.from + direction * crossing.distance;
    picked.distance = crossing.distance;
    const glm::dvec3 across = glm::cross(triangle.b - triangle.a, triangle.c - triangle.a);
    if (glm::length(across) > 0) picked.normal = glm::normalize(across);
    if (glm::dot(picked.normal, direction) > 0) picked.normal = -picked.normal;
    return picked;
}

// The hall's walls have their front inside; views leave out those they look at from behind.
bool is_wall_from_behind(const Staging& staging, const Segment& line, const Crossing& crossing) {
    const StagedPiece& piece = staging.pieces[crossing.piece];
    if (piece.staged != StagedKind::hall) return false;
    const Triangle t = scene_triangle(piece, crossing.triangle);
    return glm::dot(glm::cross(t.b - t.a, t.c - t.a), line.to - line.from) > 0;
}

struct Rectangle {
    glm::dvec2 low, high;
    bool holds(const glm::dvec2& p) const {
        return p.x >= low.x && p.x <= high.x && p.y >= low.y && p.y <= high.y;
    }
};

// Separating axes of a triangle and a rectangle: the two sides, then the triangle's edges.
bool overlap(const Rectangle& rectangle, const glm::dvec2 (&corner)[3]) {
    const auto apart_along = [&](const glm::dvec2& axis) {
        double low = glm::dot(axis, corner[0]), high = low;
        for (const glm::dvec2& point : corner) {
            low = std::min(low, glm::dot(axis, point));
            high = std::max(high, glm::dot(axis, point));
        }
        const glm::dvec2 middle = (rectangle.low + rectangle.high) * 0.5;
        const glm::dvec2 half = (rectangle.high - rectangle.low) * 0.5;
        const double at = glm::dot(axis, middle);
        const double reach = std::abs(axis.x) * half.x + std::abs(axis.y) * half.y;
        return low > at + reach || high < at - reach;
    };
    if (apart_along({1, 0}) || apart_along({0, 1})) return false;
    for (int i = 0; i < 3; ++i) {
        const glm::dvec2 edge = corner[(i + 1) % 3] - corner[i];
        if (apart_along({-edge.y, edge.x})) return false;
    }
    return true;
}

struct BoxInView {
    Rectangle around{glm::dvec2(0.0), glm::dvec2(0.0)};
    bool whole = true; // no corner behind the eye
};

BoxInView box_in_view(const Box& box, const Projection& project) {
    BoxInView found;
    bool first = true;
    for (int i = 0; i < 8; ++i) {
        const glm::dvec3 corner{i & 1 ? box.high.x : box.low.x, i & 2 ? box.high.y : box.low.y,
                                i & 4 ? box.high.z : box.low.z};
        const auto at = project(corner);
        if (!at) {
            found.whole = false;
            continue;
        }
        found.around.low = first ? *at : glm::min(found.around.low, *at);
        found.around.high = first ? *at : glm::max(found.around.high, *at);
        first = false;
    }
    return found;
}

// The surface of a piece, point by point and triangle by triangle; ones that reach behind the eye
// are left aside for touching.
bool surface_inside(const StagedPiece& piece, const Projection& project, const Rectangle& rectangle,
                    Inside how) {
    std::vector<std::optional<glm::dvec2>> at;
    at.reserve(piece.mesh->positions.size());
    for (const glm::dvec3& position : piece.mesh->positions)
        at.push_back(project(to_scene(piece, position)));
    for (const glm::uvec3& triangle : piece.mesh->triangles) {
        const auto &a = at[triangle.x], &b = at[triangle.y], &c = at[triangle.z];
        const bool whole = a && b && c;
        if (how == Inside::wholly) {
            if (!whole || !rectangle.holds(*a) || !rectangle.holds(*b) || !rectangle.holds(*c))
                return false;
        } else if (whole && overlap(rectangle, {*a, *b, *c})) {
            return true;
        }
    }
    return how == Inside::wholly && !piece.mesh->triangles.empty();
}

bool inside(const StagedPiece& piece, const Projection& project, const Rectangle& rectangle,
            Inside how) {
    if (piece.box.empty()) return false;
    const BoxInView box = box_in_view(piece.box, project);
    if (box.whole) {
        if (rectangle.holds(box.around.low) && rectangle.holds(box.around.high)) return true;
        if (box.around.low.x > rectangle.high.x || box.around.high.x < rectangle.low.x ||
            box.around.low.y > rectangle.high.y || box.around.high.y < rectangle.low.y)
            return false;
    }
    return surface_inside(piece, project, rectangle, how);
}

} // namespace

std::optional<Picked> pick(const Staging& staging, const RayIndex& index, const Segment& line) {
    Crossing crossing;
    if (!index.nearest(line, crossing)) return std::nullopt;
    if (!is_wall_from_behind(staging, line, crossing)) return picked_of(staging, line, crossing);
    std::vector<Crossing> crossings;
    index.crossings(line, crossings);
    for (const Crossing& next : crossings)
        if (!is_wall_from_behind(staging, line, next)) return picked_of(staging, line, next);
    return std::nullopt;
}

std::vector<Picked> pick_all(const Staging& staging, const RayIndex& index, const Segment& line) {
    std::vector<Crossing> crossings;
    index.crossings(line, crossings);
    std::unordered_set<std::uint32_t> seen;
    std::vector<Picked> all;
    for (const Crossing& crossing : crossings)
        if (!is_wall_from_behind(staging, line, crossing) && seen.insert(crossing.piece).second)
            all.push_back(picked_of(staging, line, crossing));
    return all;
}

std::string pick_next(const Staging& staging, const RayIndex& index, const Segment& line,
                      const std::string& now) {
    std::vector<Picked> pieces = pick_all(staging, index, line);
    std::erase_if(pieces, [](const Picked& one) { return one.kind != StagedKind::piece; });
    if (pieces.empty()) return "";
    for (std::size_t i = 0; i < pieces.size(); ++i)
        if (pieces[i].id == now) return pieces[(i + 1) % pieces.size()].id;
    return pieces.front().id;
}

std::vector<std::string> pick_inside(const Staging& staging, const Projection& project,
                                     const glm::dvec2& corner, const glm::dvec2& opposite,
                                     Inside how) {
    const Rectangle rectangle{glm::min(corner, opposite), glm::max(corner, opposite)};
    std::vector<std::string> ids;
    for (const StagedPiece& piece : staging.pieces)
        if (piece.staged == StagedKind::piece && inside(piece, project, rectangle, how))
            ids.push_back(piece.id);
    return ids;
}

std::vector<std::string> pick_inside(const Staging& staging, const ViewCamera& camera,
                                     const glm::ivec2& size, const glm::dvec2& corner,
                                     const glm::dvec2& opposite, Inside how) {
    const auto project = [&](const glm::dvec3& point) { return pixel_of(camera, size, point); };
    return pick_inside(staging, project, corner, opposite, how);
}

} // namespace standpoint
