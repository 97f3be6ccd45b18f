// Plan geometry on the integer grid: unions, crossings made corners, and faces, by GEOS.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <vector>

#include <glm/vec2.hpp>

#include "check/plan_outline.h"

namespace standpoint {

// Line work whose segments meet only at their ends, in steps of plan_grid_mm about an origin. No
// segment is given twice, none has length 0.
struct GridLines {
    glm::dvec2 origin{0.0};                            // scene mm
    std::vector<std::array<std::int32_t, 4>> segments; // ax, ay, bx, by

    glm::dvec2 scene(double x, double y) const;
};

// Largest distance of plan geometry from its origin that the grid holds.
inline constexpr double plan_reach_mm = 1e6;

// Snaps to the grid and makes a corner of every crossing. Moves nothing by more than a step or two.
// Segments beyond plan_reach_mm of the origin are a programmer error.
GridLines noded(const std::vector<PlanSegment>& segments, const glm::dvec2& origin);

// The outline of the union of polygons, on the grid, as segments of edge_owner.
std::vector<PlanSegment> union_outline(const std::vector<std::vector<glm::dvec2>>& polygons,
                                       const glm::dvec2& origin);

// A plane area, kept by GEOS.
class PlanArea {
  public:
    PlanArea();
    ~PlanArea();
    PlanArea(PlanArea&&) noexcept;
    PlanArea& operator=(PlanArea&&) noexcept;

    struct State;
    bool empty() const;
    std::unique_ptr<State> state;
};

// The face of the line work that holds the point; empty when the point lies in none.
PlanArea face_around(const GridLines& lines, const glm::dvec2& point);
// The part of an area inside the union of convex polygons (scene mm).
PlanArea common(const PlanArea& area, const std::vector<std::vector<glm::dvec2>>& polygons);
// Corners of what a polygon (3 or more points) or a segment (2) has in common with the area.
std::vector<glm::dvec2> corners_within(const PlanArea& area, const std::vector<glm::dvec2>& shape);

} // namespace standpoint
