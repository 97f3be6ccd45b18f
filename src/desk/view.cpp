// Finds the eye of a visitor at a station and the point they look at.
#include "desk/view.h"

#include <algorithm>

#include <fmt/format.h>

#include "check/stations.h"
#include "measure/length.h"
#include "shape/surface.h"

namespace standpoint {
namespace {

template <class List> std::string ids_of(const List& list) {
    std::string ids;
    for (const auto& item : list)
        ids += (ids.empty() ? "" : ", ") + item.id;
    return ids.empty() ? "none" : ids;
}

Result<Visitor> visitor_of(const Document& document, const std::string& id) {
    const auto& visitors = *document.visitors;
    if (visitors.empty())
        return input_error("/visitors", "found no visitors, expected at least one");
    if (id.empty()) return visitors.front();
    if (const Visitor* visitor = find_visitor(document, id)) return *visitor;
    return input_error("--visitor",
                       fmt::format("found \"{}\", expected one of: {}", id, ids_of(visitors)));
}

Result<Station> station_near(const Path& path, double distance_mm) {
    const double length = path_length(path);
    // The end as printed in whole millimetres still counts as on the path.
    if (!(distance_mm >= 0 && distance_mm <= length + 1))
        return input_error("--at",
                           fmt::format("found {}, expected 0 to {}, the path's length",
                                       print_length(distance_mm, {}), print_length(length, {})));
    return station_at(path, std::min(distance_mm, length));
}

Box box_of_pieces(const Staging& staging) {
    Box box;
    for (const StagedPiece& piece : staging.pieces)
        if (piece.staged == StagedKind::section) box = joined(box, piece.box);
    if (box.empty())
        for (const StagedPiece& piece : staging.pieces)
            if (piece.staged == StagedKind::piece) box = joined(box, piece.box);
    return box;
}

// The middle of the footprint, at the height where most of a staging is looked at.
constexpr double middle_height_mm = 700;

Result<glm::dvec3> point_looked_at(const Staging& staging, const std::string& id) {
    if (id.empty()) {
        const Box box = box_of_pieces(staging);
        if (box.empty())
            return input_error("/pieces", "found nothing to look at, expected a piece or section");
        const glm::dvec3 centre = box.centre();
        return glm::dvec3(centre.x, centre.y, box.high.z + middle_height_mm);
    }
    if (const Target* target = find_target(staging.document, id)) {
        const StagedPiece* piece = find_staged(staging, target->piece);
        if (piece == nullptr)
            return input_error("--look",
                               fmt::format("found target \"{}\", whose piece is off", id));
        STANDPOINT_TRY(surface, patch_surface(*piece, target->patch));
        Box box;
        for (const SurfaceTriangle& triangle : surface)
            box = grown(grown(grown(box, triangle.corners.a), triangle.corners.b),
                        triangle.corners.c);
        return box.centre();
    }
    if (const StagedPiece* piece = find_staged(staging, id)) return piece->box.centre();
    return input_error(
        "--look",
        fmt::format("found \"{}\", expected the id of a piece, a section or a target", id));
}

} // namespace

Result<Camera> visitor_view(const Staging& staging, const ViewRequest& request) {
    const Path& path = *staging.document.path;
    STANDPOINT_TRY(visitor, visitor_of(staging.document, request.visitor));
    STANDPOINT_TRY(station, station_near(path, request.distance_mm));
    STANDPOINT_TRY(look_at, point_looked_at(staging, request.look_at));
    Camera camera;
    camera.eye = eye_at(path, station, visitor, request.lane);
    camera.look_at = look_at;
    return camera;
}

} // namespace standpoint
