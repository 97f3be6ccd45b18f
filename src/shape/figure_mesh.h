// The body of a figure: a closed skin over each region of its posed skeleton.
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "figure/figures.h"
#include "shape/mesh.h"

namespace standpoint {

// In the original's size, in the axes of the form (scene/form.h). Parts are the regions that are
// worn: "face", "head", "hair", "left hand", "coat", ...; each has a material of its own. Every
// region is closed and outward; regions run into each other, so volumes count twice what they
// share.
// Errors (input): a colour that is none.
Result<Mesh> figure_mesh(const Figure& figure);

// The names of the parts the mesh will have, in order.
std::vector<std::string> figure_part_names(const Figure& figure);

} // namespace standpoint
