// The body of a figure: one closed skin over its posed skeleton, named and coloured by region.
#pragma once

#include "base/result.h"
#include "scene/form.h"
#include "shape/mesh.h"

namespace standpoint {

// In the original's size, in the axes of the form (scene/form.h). Parts are the regions: "face",
// "hair", "left hand", "coat", ...; each has a material of its own. Closed, outward, unit normals.
Result<Mesh> figure_mesh(const FigureForm& form);

} // namespace standpoint
