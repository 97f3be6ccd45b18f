// The points of a solid that may touch what it is set down on.
#pragma once

#include <limits>
#include <vector>

#include "figure/placement.h"
#include "shape/mesh.h"

namespace standpoint {

inline constexpr double lowest_region_mm = 2; // above the lowest point
inline constexpr std::size_t most_rest_samples = 600;

struct Heights { // scene mm
    double low = std::numeric_limits<double>::infinity();
    double high = -std::numeric_limits<double>::infinity();
};
Heights placed_heights(const Mesh& mesh, const Placement& placement);
bool material_two_sided(const Mesh& mesh, std::uint32_t triangle);

// Corners of the surface at or below `height` (scene z), and points between them over triangles
// that lie wholly there, evenly thinned to at most most_rest_samples. Scene mm; samples are drawn
// in by 0.01 mm towards the middle of their triangle, so that a box on a tread's edge is on it.
std::vector<glm::dvec3> rest_samples(const Mesh& mesh, const Placement& placement, double height);

} // namespace standpoint
