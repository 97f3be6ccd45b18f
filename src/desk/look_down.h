// Looks for what may carry a piece: down from a point, or along a line of sight.
//
// A surface carries when it looks up (steeper than 60 degrees does not) and belongs to a section or
// to a piece that is no effect; a figure carries only what is no wider in plan than itself (a table
// brought beside it is not to stand on its shoes, a hat is to lie on its head). `index` is over `staging`; both outlive this. All mm, scene axes.
#pragma once

#include <optional>
#include <vector>

#include "desk/drop.h"

namespace standpoint {

inline constexpr double carries_from_cos = 0.5; // 60 degrees
// Rays begin this far short of their start (ray_end_mm), and a surface at the start counts.
inline constexpr double look_from_above_mm = 1;

// Keeps its room for the crossings of the next look. What is moving, what it carries and what an
// edit has taken out since the index was made is looked through.
class LookDown {
  public:
    LookDown(const Document& document, const Staging& staging, const RayIndex& index,
             const Ids& moving);

    void skip(std::uint32_t piece) { skipped_[piece] = true; }
    bool skips(std::uint32_t piece) const { return skipped_[piece]; }

    // The first surface that carries at or below a point; else the hall floor.
    Beneath down(const glm::dvec3& from);

    // All that lies along a line, nearest first; until the next look.
    const std::vector<Crossing>& along(const Segment& line);

    // Unit; of a face seen from both sides the one that looks up.
    glm::dvec3 upward_normal(const Crossing& crossing) const;

  private:
    const Staging& staging_;
    const RayIndex& index_;
    std::vector<bool> skipped_;
    std::vector<Crossing> room_;
};

// The first surface along a line of sight that carries, walls looked through; where there is none,
// the hall floor. Nothing: the line goes level or up into the air.
std::optional<glm::dvec3> first_landing(LookDown& looker, const Segment& line);

} // namespace standpoint
