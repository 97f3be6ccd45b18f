// What lies beneath, and letting pieces down onto it.
#include "desk/drop.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include <glm/geometric.hpp>

#include "desk/look_down.h"
#include "desk/places.h"
#include "desk/rest_samples.h"

namespace standpoint {

namespace {

constexpr double off_ground_mm = 1;

// Of a piece as it would stand at a frame; what is staged there is known already.
std::optional<Heights> heights_at(const Staging& staging, const std::string& id,
                                  const Placement& placement) {
    const StagedPiece* staged = find_staged(staging, id);
    if (!staged || staged->mesh->triangles.empty()) return std::nullopt;
    const Placement& there = staged->placement;
    if (there.scale == placement.scale && there.frame.origin == placement.frame.origin &&
        there.frame.rotation == placement.frame.rotation)
        return Heights{staged->box.low.z, staged->box.high.z};
    return placed_heights(*staged->mesh, placement);
}

// A piece as it would stand at a frame: its lowest points and how tall it is above them.
struct Standing {
    std::vector<glm::dvec3> feet; // scene mm
    double low = 0, high = 0;
};
std::optional<Standing> standing_at(const Staging& staging, const std::string& id,
                                    const Placement& placement) {
    const auto heights = heights_at(staging, id, placement);
    if (!heights) return std::nullopt;
    const Mesh& mesh = *find_staged(staging, id)->mesh;
    return Standing{rest_samples(mesh, placement, heights->low + lowest_region_mm), heights->low,
                    heights->high};
}

std::optional<Rest> rest_of(LookDown& looker, const std::vector<glm::dvec3>& feet,
                            double from_height) {
    std::optional<Rest> rest;
    for (const glm::dvec3& foot : feet) {
        const Beneath under = looker.down({foot.x, foot.y, from_height});
        const double rise = under.height - foot.z;
        if (!rest || rise > rest->rise) rest = Rest{rise, under};
    }
    return rest;
}

// The step that brings one piece to a frame on another support; nothing when all stays.
void attach_step(const Document& document, const Places& places, const std::string& id,
                 const Frame& wanted, Support support, const std::string& host, Rounding rounding,
                 std::vector<EditStep>& steps) {
    const Piece& piece = places.piece(id);
    Piece there = piece;
    there.support = support;
    there.host = host;
    const bool on_piece = support == Support::stands_on || support == Support::hangs_from;
    const Frame outer = on_piece ? places.frame(host) : host_frame(document, there);
    const Pose6 at = pose_in(outer, wanted, piece.at, rounding);
    if (support == piece.support && host == piece.host) {
        if (!(at == piece.at)) steps.push_back({MovePiece{id, at}});
    } else {
        steps.push_back({AttachPiece{id, support, host, at}});
    }
}

// Lets one piece down from a frame it is held at, looking down from `height` above its foot.
void land(const Document& document, const Staging& staging, const Places& places, LookDown& looker,
          const std::string& id, Frame frame, double raise, Rounding rounding,
          std::vector<EditStep>& steps) {
    const Piece& piece = places.piece(id);
    if (piece.support == Support::hangs_from)
        return attach_step(document, places, id, frame, piece.support, piece.host, rounding, steps);
    frame.origin.z += raise;
    const auto standing = standing_at(staging, id, {frame, places.placement(id).scale});
    Rest rest;
    if (standing) {
        rest = *rest_of(looker, standing->feet, standing->high);
    } else {
        rest.on = looker.down(frame.origin);
        rest.rise = rest.on.height - frame.origin.z;
    }
    frame.origin.z += rest.rise;
    // The net over a figure's soles is a little off the ground it stands on: its origin counts.
    if (piece.kind == PieceKind::figure &&
        std::abs(frame.origin.z - rest.on.height) < off_ground_mm)
        frame.origin.z = rest.on.height;
    attach_step(document, places, id, frame, rest.on.support, rest.on.host, rounding, steps);
}

} // namespace

Beneath beneath(const Document& document, const Staging& staging, const RayIndex& index,
                const Ids& moving, const glm::dvec3& from) {
    return LookDown(document, staging, index, moving).down(from);
}

std::optional<Rest> resting(const Document& document, const Staging& staging, const RayIndex& index,
                            const Ids& ids, double from_height) {
    const Places places(document);
    std::vector<Standing> all;
    double low = std::numeric_limits<double>::infinity();
    for (const std::string& id : ids) {
        if (!places.has(id)) continue;
        auto standing = standing_at(staging, id, places.placement(id));
        if (!standing) continue;
        low = std::min(low, standing->low);
        all.push_back(std::move(*standing));
    }
    LookDown looker(document, staging, index, ids);
    std::vector<glm::dvec3> feet;
    for (const Standing& standing : all)
        for (const glm::dvec3& foot : standing.feet)
            if (foot.z <= low + lowest_region_mm) feet.push_back(foot);
    return rest_of(looker, feet, from_height);
}

Result<Edit> let_down(const Document& document, const Staging& staging, const RayIndex& index,
                      const Ids& ids, Rounding rounding) {
    STANDPOINT_TRY_STATUS(check_movable(document, ids));
    const Places places(document);
    LookDown looker(document, staging, index, ids);
    std::vector<EditStep> steps;
    for (const std::string& id : roots_of(document, ids))
        land(document, staging, places, looker, id, places.frame(id), 0, rounding, steps);
    return Edit("Let down " + spoken(document, ids), std::move(steps));
}

Result<Edit> drop(const Document& document, const Staging& staging, const RayIndex& index,
                  const Ids& ids, const glm::dvec3& onto, Rounding rounding) {
    STANDPOINT_TRY_STATUS(check_movable(document, ids));
    const Places places(document);
    const Frame lead = places.frame(ids.back());
    const glm::dvec3 by{onto.x - lead.origin.x, onto.y - lead.origin.y, 0};
    // The leading piece is held with its foot at the height of `onto`.
    double raise = onto.z - lead.origin.z;
    if (const auto heights = heights_at(staging, ids.back(), places.placement(ids.back())))
        raise = onto.z - heights->low;
    LookDown looker(document, staging, index, ids);
    std::vector<EditStep> steps;
    for (const std::string& id : roots_of(document, ids)) {
        Frame frame = places.frame(id);
        frame.origin += by;
        land(document, staging, places, looker, id, frame, raise, rounding, steps);
    }
    return Edit("Move " + spoken(document, ids), std::move(steps));
}

// -- dragging --

std::optional<glm::dvec3> on_plane(const Segment& line, const glm::dvec3& point,
                                   const glm::dvec3& normal) {
    const glm::dvec3 along = line.to - line.from;
    const double towards = glm::dot(along, normal);
    constexpr double level = 1e-6; // sine of the angle between line and plane
    if (!(std::abs(towards) > level * glm::length(along) * glm::length(normal)))
        return std::nullopt;
    const double share = glm::dot(point - line.from, normal) / towards;
    if (share < 0) return std::nullopt;
    return line.from + along * share;
}

std::optional<glm::dvec3> drag_on_plane(const Segment& before, const Segment& now,
                                        const glm::dvec3& grabbed, const glm::dvec3& normal) {
    const auto start = on_plane(before, grabbed, normal);
    const auto end = on_plane(now, grabbed, normal);
    if (!start || !end) return std::nullopt;
    return *end - *start;
}

namespace {

Segment moved(const Segment& line, const glm::dvec3& by) {
    return {line.from + by, line.to + by};
}

// What already stood between the eye and the foot when the drag began is looked through ever after.
void skip_what_hides(const Staging& staging, LookDown& looker, const Segment& line,
                     const glm::dvec3& foot, const std::string& carrier) {
    const double reach = glm::length(foot - line.from);
    constexpr double at_foot_mm = 5;
    for (const Crossing& crossing : looker.along(line))
        if (crossing.distance < reach - at_foot_mm && staging.pieces[crossing.piece].id != carrier)
            looker.skip(crossing.piece);
}

} // namespace

std::optional<glm::dvec3> drag_over(const Document& document, const Staging& staging,
                                    const RayIndex& index, const Ids& ids,
                                    const glm::dvec3& grabbed, const Segment& before,
                                    const Segment& now) {
    if (ids.empty() || !find_piece(document, ids.back())) return std::nullopt;
    const Places places(document);
    const glm::dvec3 origin = places.frame(ids.back()).origin;
    double low = origin.z;
    if (const auto heights = heights_at(staging, ids.back(), places.placement(ids.back())))
        low = heights->low;
    LookDown looker(document, staging, index, ids);
    const Beneath under = looker.down({origin.x, origin.y, low + look_from_above_mm});
    const glm::dvec3 foot{grabbed.x, grabbed.y, under.height};
    const glm::dvec3 to_foot = foot - grabbed;
    skip_what_hides(staging, looker, moved(before, to_foot), foot, under.host);
    const auto start = first_landing(looker, moved(before, to_foot));
    const auto end = first_landing(looker, moved(now, to_foot));
    if (!start || !end) return std::nullopt;
    return glm::dvec3(origin.x + end->x - start->x, origin.y + end->y - start->y, end->z);
}

} // namespace standpoint
