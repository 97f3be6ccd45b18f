// A staged piece's surface in scene millimetres, equal corners made one, and its connected bodies.
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "shape/staging.h"

namespace standpoint {

struct WeldedSurface {
    std::vector<glm::dvec3> points;
    std::vector<glm::uvec3> triangles;
};

// Corners within weld_mm are one. Only triangles that `keep` says yes to; all when it is empty.
using KeepTriangle =
    std::function<bool(const glm::dvec3& a, const glm::dvec3& b, const glm::dvec3& c)>;
WeldedSurface welded(const StagedPiece& piece, const KeepTriangle& keep = {});

// The surface parted into bodies that share no corner, in the order of their first triangle.
std::vector<WeldedSurface> bodies_of(const WeldedSurface& surface);

Box bounds_of(const WeldedSurface& surface);

} // namespace standpoint
