// Volume, area, centroid and inertia of meshes by the divergence theorem.
#pragma once

#include <glm/mat3x3.hpp>
#include <glm/vec3.hpp>

#include "shape/mesh.h"

namespace standpoint {

struct MassProperties { // of unit density; lengths in the mesh's unit
    double volume = 0;  // signed: negative when inside out
    double area = 0;
    glm::dvec3 centroid{0.0}; // of the volume; of the surface when the volume is 0
    glm::dmat3 inertia{0.0};  // about the centroid, for density 1
    // Corners within weld_mm being one, every edge is run along as often one way as the other: what
    // the divergence theorem needs. Solids that touch along an edge or a face are closed as well.
    bool closed = false;
};
// Volume, centroid and inertia mean something only when closed.
MassProperties mass_properties(const Mesh& mesh);

} // namespace standpoint
