// Ways to break a good glTF file, each with what the refusal must say.
#pragma once

#include <functional>
#include <vector>

#include "shape/gltf_samples.h"

namespace standpoint::gltf_samples {

// A textured square with normals. Accessors: 0 positions, 1 texture coordinates, 2 indices,
// 3 normals; views: the same numbers, except that 3 is the image and 4 the normals.
Sample square();

struct Wrong {
    const char* name;
    std::function<void(Json&)> change; // of the square's JSON
    const char* expected;              // part of the message
};

const std::vector<Wrong>& wrongs_of_the_file();
const std::vector<Wrong>& wrongs_of_buffers();
const std::vector<Wrong>& wrongs_of_accessors();
const std::vector<Wrong>& wrongs_of_sparse();
const std::vector<Wrong>& wrongs_of_meshes();
const std::vector<Wrong>& wrongs_of_nodes();
const std::vector<Wrong>& wrongs_of_materials();

} // namespace standpoint::gltf_samples
