// glTF 2.0 in: .gltf and .glb to a Mesh in the piece's axes, everything validated before use.
//
// Read: triangles, strips and fans, indexed or not; sparse and normalised accessors; the default
// scene's nodes (all root nodes when there is none), mirrored ones too; base colour and its
// texture in PNG or JPEG, embedded or beside the model; alphaMode MASK as cut-outs; BLEND as
// lets_through = 1 - alpha factor, with texels under half alpha cut out; KHR_texture_transform,
// KHR_mesh_quantization, KHR_materials_transmission. Extensions that change only how a surface
// shines, and lamps, may be required and are passed over; any other required one is refused.
//
// Left aside: points and lines (a file with nothing else is refused), vertex colours, morph
// targets and animations; a skinned mesh stays in its bind pose under its own node's transform. A
// mirrored repeat of a texture is read as a plain one. Corners that coincide make no triangle.
#pragma once

#include <cstdint>
#include <string>

#include "base/files.h"
#include "base/result.h"
#include "shape/mesh.h"

namespace standpoint {

// Reads `path` and what it refers to from inside the same folder. (x, y, z) of the file becomes
// (x, -z, y) * unit_mm. One part a node and material, named by the node (else its mesh, else
// "node-3"); two nodes never share a name, the materials of one node do. Errors: where = path,
// message names the JSON pointer inside the file, what was found and what was expected.
Result<Mesh> read_gltf(const std::string& path, const FileAccess& files, double unit_mm);

// Hash of the file and of every file that read_gltf reads with it, for keeping results by content.
Result<std::uint64_t> gltf_content_hash(const std::string& path, const FileAccess& files);

} // namespace standpoint
