// What lies beneath, and putting pieces on it: dropping, resting, hanging, letting go.
//
// `index` is over `staging`. Both may lag behind `document` in where pieces are that are being
// moved: those take no part, and their own place is read from the document. All mm, scene axes.
// Beneath counts a surface that looks up (steeper than 60 degrees is no support) of a section or of
// a piece that is no effect, of a figure only for what is no wider in plan than it; where there is none, the hall floor at 0.
#pragma once

#include <optional>

#include <glm/vec2.hpp>

#include "desk/move.h"
#include "shape/ray_index.h"

namespace standpoint {

struct Beneath {
    Support support = Support::none; // none: hall floor; section; stands_on
    std::string host;                // id of the section or piece
    double height = 0;               // scene z of the surface there
    glm::dvec3 normal{0, 0, 1};      // unit
};
// Straight down from `from`: the first surface at or below it. The moving pieces, and what they
// carry, are looked through.
Beneath beneath(const Document& document, const Staging& staging, const RayIndex& index,
                const Ids& moving, const glm::dvec3& from);

// How far a set, moved as one body, has to go up (negative: down) until it just rests: its lowest
// region (what is within 2 mm of its lowest point) is sampled and each sample cast down from
// `from_height`, the least gap decides. On a stair the higher tread carries. Nothing: no mesh.
struct Rest {
    double rise = 0;
    Beneath on; // what carries it
};
std::optional<Rest> resting(const Document& document, const Staging& staging, const RayIndex& index,
                            const Ids& ids, double from_height);

// Lets each piece down (or up, out of what it is stuck in) onto what lies beneath it, looking down
// from its own top, and stands it on that. What hangs is left hanging.
Result<Edit> let_down(const Document& document, const Staging& staging, const RayIndex& index,
                      const Ids& ids, Rounding rounding = Rounding::tidy);

// Moves a set in plan so that the origin of the last id comes over `onto`, and lets each piece down
// there: the last one from its own height above `onto`, the rest as they stood to it. What hangs
// keeps its height and its host.
Result<Edit> drop(const Document& document, const Staging& staging, const RayIndex& index,
                  const Ids& ids, const glm::dvec3& onto, Rounding rounding = Rounding::tidy);

// -- dragging: lines of sight through the pointer when the drag began and now --

// Where a line of sight meets a plane; nothing when it runs along it or the plane is behind.
std::optional<glm::dvec3> on_plane(const Segment& line, const glm::dvec3& point,
                                   const glm::dvec3& normal);
// The movement within a plane through `grabbed`, the point first picked.
std::optional<glm::dvec3> drag_on_plane(const Segment& before, const Segment& now,
                                        const glm::dvec3& grabbed, const glm::dvec3& normal);
// Where the last id's origin comes to stand when the pointer drags it over what lies beneath; for
// `drop` (snap its x and y before). `grabbed` is the point first picked. What hid the foot of the
// piece when the drag began is looked through. Nothing: the line runs level or into the sky.
std::optional<glm::dvec3> drag_over(const Document& document, const Staging& staging,
                                    const RayIndex& index, const Ids& ids,
                                    const glm::dvec3& grabbed, const Segment& before,
                                    const Segment& now);

// -- who carries it; roots of the set only --

enum class Place {
    keep,  // stays where it is in the scene
    settle // put_on: rests on the host's top; section, floor: its origin comes to deck or floor
};
// Settle: where the piece is not over the host, it comes to the middle of the host first.
Result<Edit> put_on(const Document& document, const Staging& staging, const Ids& ids,
                    const std::string& host, Place place, Rounding rounding = Rounding::tidy);
Result<Edit> hang_from(const Document& document, const Ids& ids, const std::string& host,
                       Rounding rounding = Rounding::tidy);
// Settle: a piece whose origin is outside comes to the nearest point inside.
Result<Edit> put_into_section(const Document& document, const Ids& ids, const std::string& section,
                              Place place, Rounding rounding = Rounding::tidy);
Result<Edit> let_go(const Document& document, const Ids& ids, Place place,
                    Rounding rounding = Rounding::tidy); // to the hall floor

} // namespace standpoint
