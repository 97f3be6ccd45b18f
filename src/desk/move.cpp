// Moving, turning and raising pieces.
#include "desk/move.h"

#include <cmath>

#include <fmt/format.h>

#include "desk/places.h"
#include "measure/angle.h"
#include "measure/steps.h"

namespace standpoint {

namespace {

constexpr double unchanged = 1e-9; // mm or degrees

Length length_now(const Length& before, double mm, Rounding rounding) {
    if (std::abs(mm - before.mm) <= unchanged) return before;
    return rounding == Rounding::tidy ? from_steps(steps_of(mm, tidy_mm), tidy_mm) : mm;
}

Angle angle_now(const Angle& before, double deg, Rounding rounding) {
    if (std::abs(deg - before.deg) <= unchanged) return before;
    return rounding == Rounding::tidy ? from_steps(steps_of(deg, tidy_deg), tidy_deg) : deg;
}

bool same_rotation(const glm::dmat3& a, const glm::dmat3& b) {
    constexpr double same = 1e-11; // radians, nearly; beyond it an angle moves by `unchanged`
    for (int i = 0; i < 3; ++i)
        for (int j = 0; j < 3; ++j)
            if (std::abs(a[i][j] - b[i][j]) > same) return false;
    return true;
}

glm::dvec3 turned_in_plan(const glm::dvec3& by, double clockwise_deg) {
    const auto [s, c] = sin_cos_deg(clockwise_deg);
    return {by.x * c + by.y * s, by.y * c - by.x * s, by.z};
}

Edit edit_of(std::string label, std::vector<EditStep> steps) {
    return Edit(std::move(label), std::move(steps));
}

Result<Edit> place_edit(const char* what, const Piece& piece, const Pose6& at) {
    return edit_of(what + spoken(piece), {{MovePiece{piece.id, at}}});
}

Result<const Piece*> one_movable(const Document& document, const std::string& id) {
    STANDPOINT_TRY_STATUS(check_movable(document, {id}));
    return find_piece(document, id);
}

} // namespace

Pose6 pose_in(const Frame& host, const Frame& wanted, const Pose6& before, Rounding rounding) {
    const Frame inner = compose(inverse(host), wanted);
    Pose6 at = before;
    at.x = length_now(before.x, inner.origin.x, rounding);
    at.y = length_now(before.y, inner.origin.y, rounding);
    at.z = length_now(before.z, inner.origin.z, rounding);
    const auto as_before = rotation_of(before.facing.deg, before.tilt.deg, before.roll.deg);
    if (same_rotation(inner.rotation, as_before)) return at;
    const Turns turns = turns_of(inner.rotation);
    at.facing = angle_now(before.facing, turns.facing_deg, rounding);
    if (at.facing.deg >= 360) at.facing = normalise_facing(at.facing.deg);
    at.tilt = angle_now(before.tilt, turns.tilt_deg, rounding);
    at.roll = angle_now(before.roll, turns.roll_deg, rounding);
    return at;
}

std::vector<EditStep> steps_to(const Document& document, const std::vector<WantedFrame>& wanted,
                               Rounding rounding) {
    const Places places(document);
    std::vector<EditStep> steps;
    for (const WantedFrame& one : wanted) {
        const Pose6& before = places.piece(one.id).at;
        const Pose6 at = pose_in(places.host_frame(one.id), one.frame, before, rounding);
        if (!(at == before)) steps.push_back({MovePiece{one.id, at}});
    }
    return steps;
}

Result<Edit> move_by(const Document& document, const Ids& ids, const glm::dvec3& by_mm,
                     Rounding rounding) {
    STANDPOINT_TRY_STATUS(check_movable(document, ids));
    const Places places(document);
    std::vector<WantedFrame> wanted;
    for (const std::string& id : roots_of(document, ids)) {
        Frame frame = places.frame(id);
        frame.origin += by_mm;
        wanted.push_back({id, frame});
    }
    return edit_of("Move " + spoken(document, ids), steps_to(document, wanted, rounding));
}

Result<Edit> raise_by(const Document& document, const Ids& ids, double by_mm, Rounding rounding) {
    STANDPOINT_TRY(edit, move_by(document, ids, {0, 0, by_mm}, rounding));
    edit.label = (by_mm < 0 ? "Lower " : "Raise ") + spoken(document, ids);
    return edit;
}

Result<Edit> turn_about(const Document& document, const Ids& ids, const glm::dvec3& pivot,
                        double clockwise_deg, TurnAbout about, Rounding rounding) {
    STANDPOINT_TRY_STATUS(check_movable(document, ids));
    if (!std::isfinite(clockwise_deg))
        return input_error("", "found no number for the turn, expected degrees");
    const Places places(document);
    const glm::dmat3 turn = rotation_of(clockwise_deg, 0, 0);
    std::vector<WantedFrame> wanted;
    for (const std::string& id : roots_of(document, ids)) {
        Frame frame = places.frame(id);
        frame.rotation = turn * frame.rotation;
        if (about == TurnAbout::together)
            frame.origin = pivot + turned_in_plan(frame.origin - pivot, clockwise_deg);
        wanted.push_back({id, frame});
    }
    return edit_of("Turn " + spoken(document, ids), steps_to(document, wanted, rounding));
}

Result<Edit> set_place(const Document& document, const std::string& id, PlaceLength field,
                       const Length& value) {
    STANDPOINT_TRY(piece, one_movable(document, id));
    Pose6 at = piece->at;
    (field == PlaceLength::x ? at.x : field == PlaceLength::y ? at.y : at.z) = value;
    return place_edit("Move ", *piece, at);
}

Result<Edit> set_place(const Document& document, const std::string& id, PlaceAngle field,
                       const Angle& value) {
    STANDPOINT_TRY(piece, one_movable(document, id));
    Pose6 at = piece->at;
    (field == PlaceAngle::facing ? at.facing
     : field == PlaceAngle::tilt ? at.tilt
                                 : at.roll) = value;
    return place_edit("Turn ", *piece, at);
}

} // namespace standpoint
