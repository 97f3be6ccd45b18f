// Moving, turning and raising pieces, whatever they stand on or hang from.
//
// Movements are in scene axes, millimetres. A piece that another of the same set carries is moved
// with it and not a second time. A field of a place that does not change keeps its text. Errors
// everywhere (input): unknown id, a locked piece (named), a result that validate refuses.
#pragma once

#include <glm/vec3.hpp>

#include "desk/piece_ids.h"
#include "measure/frame.h"
#include "scene/edit.h"

namespace standpoint {

// Tidy: the numbers of a place that change are rounded to these steps in the axes of the host, so
// that a file stays readable; the scene place is then off by at most 0.87 of the step. Exact: the
// scene place is what was asked, to 1e-6 mm.
enum class Rounding { exact, tidy };
inline constexpr double tidy_mm = 0.1;
inline constexpr double tidy_deg = 0.1;

Result<Edit> move_by(const Document& document, const Ids& ids, const glm::dvec3& by_mm,
                     Rounding rounding = Rounding::tidy);
Result<Edit> raise_by(const Document& document, const Ids& ids, double by_mm,
                      Rounding rounding = Rounding::tidy);

// Together: as one body about a vertical through the pivot. Each: about the vertical through its
// own origin, the pivot is not looked at.
enum class TurnAbout { together, each };
// Clockwise seen from above.
Result<Edit> turn_about(const Document& document, const Ids& ids, const glm::dvec3& pivot,
                        double clockwise_deg, TurnAbout about = TurnAbout::together,
                        Rounding rounding = Rounding::tidy);

// One field of a place, in the axes it is given in (Piece::at), with its text.
enum class PlaceLength { x, y, z };
enum class PlaceAngle { facing, tilt, roll };
Result<Edit> set_place(const Document& document, const std::string& id, PlaceLength field,
                       const Length& value);
Result<Edit> set_place(const Document& document, const std::string& id, PlaceAngle field,
                       const Angle& value);

// The place, in the axes of `host`, that puts a piece at `wanted` in the scene. Fields that come
// out as `before` (to 1e-9) keep their number and text. For `before` in force, give its own place.
Pose6 pose_in(const Frame& host, const Frame& wanted, const Pose6& before, Rounding rounding);

// Steps that bring the roots of a set to their wanted frames in the scene, one a root that changes.
struct WantedFrame {
    std::string id;
    Frame frame;
};
std::vector<EditStep> steps_to(const Document& document, const std::vector<WantedFrame>& wanted,
                               Rounding rounding);

} // namespace standpoint
