// A closed net of triangles over the surface of a field.
#pragma once

#include <vector>

#include <glm/vec3.hpp>

#include "base/result.h"
#include "shape/figure_field.h"

namespace standpoint {

struct Net {
    std::vector<glm::dvec3> positions;
    std::vector<glm::vec3> normals; // unit, outward
    std::vector<glm::uvec3> triangles;
};

// One point in each cell the surface passes, drawn to the surface, and a quad about each edge of
// the grid it crosses. Every edge of the net lies between as many triangles one way as the other.
// The grid is that of multiples of `cell`, so the same field gives the same net. Errors (input):
// more than 30 million cells.
Result<Net> net_over(const FigureField& field, double cell);

} // namespace standpoint
