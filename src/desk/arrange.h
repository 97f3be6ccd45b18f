// Several pieces in order: align, spread, copy, repeat, group, lock, switch off, delete.
//
// Boxes are those of the staging, which shows `document`. Movements are in scene axes and exact.
// Errors everywhere (input): unknown id, a locked piece that would move or go (named), too few.
#pragma once

#include <glm/vec2.hpp>

#include "desk/move.h"
#include "shape/staging.h"

namespace standpoint {

enum class Align { left, right, front, back, centre_x, centre_y, top, bottom };
inline constexpr const char* align_names[] = {"Left",     "Right",    "Front", "Back",
                                              "Centre X", "Centre Y", "Top",   "Bottom"};
// To the last id, which stays; at least two pieces, none of which is switched off.
Result<Edit> align(const Document& document, const Staging& staging, const Ids& ids, Align how);

enum class SpreadBy { gaps, centres };
// Along axis 0 X, 1 Y, 2 Z between the outermost two, which stay; at least three pieces that do not
// carry each other. Gaps may come out negative: overlaps are then equal.
Result<Edit> spread(const Document& document, const Staging& staging, const Ids& ids, int axis,
                    SpreadBy by);

// What spread by gaps would leave between each two neighbours, mm; negative: how far they overlap.
// The same errors, but locked pieces are counted like any other.
Result<double> gap_when_spread(const Document& document, const Staging& staging, const Ids& ids,
                               int axis);

struct Copied {
    Edit edit;
    Ids ids; // of the copies, in document order of their originals
};
// Put at the end of the list, each moved by `by_mm`, under numbered names. Pieces and their marks,
// not their targets. One that a copied piece carries is carried by its copy; one that comes over
// another section belongs to that, where it is in the scene; groups become new groups; copies are
// not locked.
Result<Copied> copy(const Document& document, const Ids& ids, const glm::dvec3& by_mm);

// Pieces that were copied earlier, perhaps from another scene, put at the end of the list under free
// ids, each moved by `by_mm` unless another of them carries it. A host that is not in the scene is
// let go of; groups become new groups, one for each; none is locked. Errors (input): no piece, or
// one that validate refuses.
Result<Copied> paste(const Document& document, const std::vector<Piece>& pieces,
                     const glm::dvec3& by_mm);

struct Repeat {
    std::vector<glm::dvec2> line; // plan, at least two points; the originals are at the first
    int count = 2;                // with the originals, evenly to the line's end; >= 2
    double spacing_mm = 0;        // > 0: instead of count, as many as fit
    bool turn_with_line = false;  // copies turn as the line turns from its first stretch
};
inline constexpr int most_repeats = 1000; // copies of the set
Result<Copied> repeat_along(const Document& document, const Ids& ids, const Repeat& repeat);

Result<Edit> group(const Document& document, const Ids& ids); // one new group; at least two
Result<Edit> ungroup(const Document& document, const Ids& ids);
Result<Edit> lock(const Document& document, const Ids& ids, bool locked);
Result<Edit> switch_off(const Document& document, const Ids& ids, Off off);

// Their targets go with them; what they carry stays where it is and is carried by what carried
// them. The label says how many of each.
Result<Edit> remove_pieces(const Document& document, const Ids& ids);

} // namespace standpoint
