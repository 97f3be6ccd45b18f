// glTF 2.0 in: .gltf and .glb to a Mesh in the piece's axes, everything validated before use.
#pragma once

#include <string>

#include "base/files.h"
#include "base/result.h"
#include "shape/mesh.h"

namespace standpoint {

// Reads `path` and what it refers to from inside the same folder. (x, y, z) of the file becomes
// (x, -z, y) * unit_mm. Parts are named by node. Errors: where = path, message names the JSON
// pointer inside the file, what was found and what was expected.
Result<Mesh> read_gltf(const std::string& path, const FileAccess& files, double unit_mm);

// Hash of the file and of every file it refers to, for keeping results by content.
Result<std::uint64_t> gltf_content_hash(const std::string& path, const FileAccess& files);

} // namespace standpoint
