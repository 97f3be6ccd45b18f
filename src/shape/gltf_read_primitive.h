// One primitive of a glTF mesh as triangles over just the vertices they use.
#pragma once

#include <optional>
#include <vector>

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include "shape/gltf_read_accessor.h"
#include "shape/gltf_read_material.h"

namespace standpoint::gltf {

struct Primitive { // in the mesh's own axes and unit
    std::vector<glm::dvec3> positions;
    std::vector<glm::dvec3> normals; // as in the file, one a position, or empty
    std::vector<glm::vec2> uvs;      // one a position when the look has an image, else empty
    std::vector<glm::uvec3> triangles;
    std::size_t triangles_in_file = 0; // with those that collapse to a line or point
};

// Nothing for points and lines. `triangles_left`: how many more the model may have.
Result<std::optional<Primitive>> read_primitive(const File& file, const Spot& spot,
                                                Buffers& buffers, const Look& look,
                                                std::size_t triangles_left);

} // namespace standpoint::gltf
