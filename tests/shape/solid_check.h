// Looks at a mesh the slow way: edges one by one, solids apart, normals against faces.
#pragma once

#include <string>
#include <vector>

#include "scene/form.h"
#include "shape/mesh.h"

namespace standpoint::solid_check {

struct Solid {
    double volume = 0;
    bool manifold = false; // each edge belongs to exactly two triangles, run opposite ways
};

// The solids that a mesh consists of: what hangs together by corners at the same place.
std::vector<Solid> solids(const Mesh& mesh);

// Empty when every solid is manifold and outward, every triangle has an area, all indices are in
// range and normals are unit vectors on the outer side of their triangles.
std::string fault(const Mesh& mesh);

// The mesh of a form that must be right; checked by fault().
Mesh good_mesh(const Form& form);
// The message of a form that must be refused.
std::string refusal(const Form& form);

// Area of the regular polygon of n corners on a circle of radius 1: (n / 2) sin(2 pi / n).
double polygon_area(int corners);
// Its polar second moment about the middle: (n / 12) sin a (2 + cos a), a = 2 pi / n.
double polygon_polar_moment(int corners);

} // namespace standpoint::solid_check
