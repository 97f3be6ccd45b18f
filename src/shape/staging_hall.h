// What of the hall and the base is solid: sections, columns, walls with their doors.
#pragma once

#include <string>

#include "base/result.h"
#include "scene/document.h"
#include "shape/mesh.h"

namespace standpoint {

// From its left front corner, which is at the origin.
Mesh section_mesh(const Section& section);
// Its foot's middle is at the origin.
Mesh column_mesh(const Column& column, double ceiling_mm);

// In scene axes; no triangles when there is no hall. Errors (input): a door that is not in the
// outline, or higher or wider than its wall; where = `scene_file` with the door's pointer.
Result<Mesh> wall_sheet(const Hall& hall, const std::string& scene_file);

} // namespace standpoint
