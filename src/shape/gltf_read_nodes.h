// The nodes of a glTF file that carry a mesh, each with its name and its matrix in the scene.
#pragma once

#include <string>
#include <vector>

#include <glm/mat4x4.hpp>

#include "shape/gltf_read_file.h"

namespace standpoint::gltf {

struct PlacedMesh {
    std::uint32_t mesh = 0;
    std::string name;       // of the node, else of the mesh, else "node-3"; no two alike
    glm::dmat4 matrix{1.0}; // affine; its determinant is not 0
};

// Of the default scene, or of all root nodes when there is none; depth first in the file's order.
// Nodes with a scale of 0 are left out with what hangs from them, as glTF means it.
Result<std::vector<PlacedMesh>> placed_meshes(const File& file);

} // namespace standpoint::gltf
