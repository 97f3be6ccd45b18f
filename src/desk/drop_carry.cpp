// Who carries a piece: put on, hang from, put into a section, let go.
#include <algorithm>
#include <cmath>

#include "desk/drop.h"
#include "desk/places.h"
#include "desk/rest_samples.h"

namespace standpoint {

namespace {

struct Carrier {
    Support support = Support::none;
    std::string host;
    Frame frame; // that places on it are given in
};

// The step that keeps or brings a piece at `wanted`; nothing when all stays as it is.
void carry(const Places& places, const std::string& id, const Frame& wanted, const Carrier& carrier,
           Rounding rounding, std::vector<EditStep>& steps) {
    const Piece& piece = places.piece(id);
    const Pose6 at = pose_in(carrier.frame, wanted, piece.at, rounding);
    if (piece.support == carrier.support && piece.host == carrier.host) {
        if (!(at == piece.at)) steps.push_back({MovePiece{id, at}});
    } else {
        steps.push_back({AttachPiece{id, carrier.support, carrier.host, at}});
    }
}

// A host that is there and that the set does not carry itself.
Status check_host(const Document& document, const Ids& ids, const std::string& host) {
    STANDPOINT_TRY_STATUS(check_movable(document, ids));
    const Piece* piece = find_piece(document, host);
    if (!piece) return input_error("", "found " + in_quotes(host) + ", expected the id of a piece");
    if (with_carried(document, ids).contains(host))
        return input_error("", "found that " + in_quotes(spoken(*piece)) +
                                   " would in the end be carried by itself, expected another host");
    return Done{};
}

// Plan points of the set's own lowest region, and how far under the origin it is.
struct Foot {
    std::vector<glm::dvec3> samples;
    double low = 0;
};
Foot foot_of(const Staging& staging, const std::string& id, const Placement& placement) {
    Foot foot{{placement.frame.origin}, placement.frame.origin.z};
    const StagedPiece* staged = find_staged(staging, id);
    if (!staged || staged->mesh->triangles.empty()) return foot;
    foot.low = placed_heights(*staged->mesh, placement).low;
    foot.samples = rest_samples(*staged->mesh, placement, foot.low + lowest_region_mm);
    return foot;
}

// How far a piece has to rise to rest on the top of its host; nothing: no part of it is over it.
std::optional<double> rise_onto(const RayIndex& host, const Foot& foot, double top,
                                std::vector<Crossing>& room) {
    std::optional<double> rise;
    constexpr double above_mm = 10;
    for (const glm::dvec3& at : foot.samples) {
        const Segment line{{at.x, at.y, top + above_mm}, {at.x, at.y, -top - 1e5}};
        host.crossings(line, room);
        if (room.empty()) continue;
        const double height = line.from.z - room.front().distance;
        rise = std::max(rise.value_or(height - at.z), height - at.z);
    }
    return rise;
}

// The frame of a piece once it rests on the host.
Frame settled_on(const StagedPiece& host, const RayIndex& index, const Staging& staging,
                 const std::string& id, Placement placement) {
    std::vector<Crossing> room;
    auto rise = rise_onto(index, foot_of(staging, id, placement), host.box.high.z, room);
    if (!rise) {
        placement.frame.origin.x = host.box.centre().x;
        placement.frame.origin.y = host.box.centre().y;
        const Foot foot = foot_of(staging, id, placement);
        rise = rise_onto(index, foot, host.box.high.z, room);
        if (!rise) rise = host.box.high.z - foot.low; // a ring: over its hole
    }
    placement.frame.origin.z += *rise;
    return placement.frame;
}

} // namespace

Result<Edit> put_on(const Document& document, const Staging& staging, const Ids& ids,
                    const std::string& host, Place place, Rounding rounding) {
    STANDPOINT_TRY_STATUS(check_host(document, ids, host));
    const Places places(document);
    const Carrier carrier{Support::stands_on, host, places.frame(host)};
    const StagedPiece* staged = find_staged(staging, host);
    std::unique_ptr<RayIndex> index;
    if (place == Place::settle && staged) {
        const auto at = static_cast<std::uint32_t>(staged - staging.pieces.data());
        index = make_ray_index(staging, IndexChoice{{at}});
    }
    std::vector<EditStep> steps;
    for (const std::string& id : roots_of(document, ids)) {
        Frame frame = places.frame(id);
        if (index) frame = settled_on(*staged, *index, staging, id, places.placement(id));
        carry(places, id, frame, carrier, rounding, steps);
    }
    return Edit("Put " + spoken(document, ids) + " on " + spoken(document, {host}),
                std::move(steps));
}

Result<Edit> hang_from(const Document& document, const Ids& ids, const std::string& host,
                       Rounding rounding) {
    STANDPOINT_TRY_STATUS(check_host(document, ids, host));
    const Places places(document);
    const Carrier carrier{Support::hangs_from, host, places.frame(host)};
    std::vector<EditStep> steps;
    for (const std::string& id : roots_of(document, ids))
        carry(places, id, places.frame(id), carrier, rounding, steps);
    return Edit("Hang " + spoken(document, ids) + " from " + spoken(document, {host}),
                std::move(steps));
}

Result<Edit> put_into_section(const Document& document, const Ids& ids, const std::string& section,
                              Place place, Rounding rounding) {
    STANDPOINT_TRY_STATUS(check_movable(document, ids));
    const Section* found = find_section(document, section);
    if (!found)
        return input_error("", "found " + in_quotes(section) + ", expected the id of a section");
    const Places places(document);
    Carrier carrier{Support::section, section, {}};
    carrier.frame.origin.z = found->height.mm;
    std::vector<EditStep> steps;
    for (const std::string& id : roots_of(document, ids)) {
        Frame frame = places.frame(id);
        if (place == Place::settle) {
            const double left = found->corner.x.mm, front = found->corner.y.mm;
            frame.origin.x = std::clamp(frame.origin.x, left, left + found->width.mm);
            frame.origin.y = std::clamp(frame.origin.y, front, front + found->depth.mm);
            frame.origin.z = found->height.mm;
        }
        carry(places, id, frame, carrier, rounding, steps);
    }
    const std::string name = found->name.empty() ? found->id : found->name;
    return Edit("Put " + spoken(document, ids) + " into section " + name, std::move(steps));
}

Result<Edit> let_go(const Document& document, const Ids& ids, Place place, Rounding rounding) {
    STANDPOINT_TRY_STATUS(check_movable(document, ids));
    const Places places(document);
    std::vector<EditStep> steps;
    for (const std::string& id : roots_of(document, ids)) {
        Frame frame = places.frame(id);
        if (place == Place::settle) frame.origin.z = 0;
        carry(places, id, frame, Carrier{}, rounding, steps);
    }
    return Edit("Let go of " + spoken(document, ids), std::move(steps));
}

} // namespace standpoint
