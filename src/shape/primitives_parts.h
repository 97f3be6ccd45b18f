// The forms that have a file of their own; mesh_of in primitives.h chooses among them.
#pragma once

#include <initializer_list>

#include "base/result.h"
#include "scene/form.h"
#include "shape/mesh.h"

namespace standpoint {

Result<Mesh> fence_mesh(const FenceForm& form);
Result<Mesh> wall_mesh(const WallForm& form);
Result<Mesh> terrain_mesh(const TerrainForm& form);

struct NamedLength {
    const char* name;
    double mm;
};
// Refuses the first that is not more than nothing.
Status expect_positive(std::initializer_list<NamedLength> lengths);

} // namespace standpoint
