// Meshes of the primitive forms, closed and outward, in original's size.
#pragma once

#include "base/result.h"
#include "scene/form.h"
#include "shape/mesh.h"

namespace standpoint {

// Facets of a round thing: enough that the sagitta is at most this share of the radius.
inline constexpr int round_facets = 64;

// One part named "", one material. Errors (input): an outline that crosses itself, openings that
// meet or leave their wall, a profile with negative radius, a fence without length, ... The
// message says which; the caller adds the place. ModelForm is a programmer error here.
Result<Mesh> mesh_of(const Form& form);

} // namespace standpoint
