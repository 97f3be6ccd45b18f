// Documents for the tests of staging: a hall of 10 x 8 m with one section, and pieces on it.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "base/files.h"
#include "scene/document.h"
#include "shape/staging.h"

namespace standpoint::staging_scenes {

inline constexpr const char* scene_file = "landing/scene.json";

Part part(const std::string& name, const Form& form, const Pose6& at = {});
Piece piece(const std::string& id, std::vector<Part> parts, const Pose6& at = {});
Document with_pieces(const std::vector<Piece>& pieces); // over empty_document(), valid
Document with_hall(Document document, const std::function<void(Hall&)>& change);

// stage() that must succeed.
Staging staged(const Document& document, const FileAccess& files = MemoryFiles{},
               StagedFor purpose = StagedFor::checks);
// The error of stage(), which must fail.
Error refused(const Document& document, const FileAccess& files = MemoryFiles{});
const StagedPiece& find(const Staging& staging, const std::string& id);

// Pieces, meshes by content, boxes: all of what two stagings say is the same.
bool same(const Staging& a, const Staging& b);

// A triangle of three points in metres as a .gltf with its buffer beside it in a file; the node is
// called `node`.
void add_model(MemoryFiles& files, const std::string& path, const std::string& node,
               const std::vector<float>& nine_coordinates);

} // namespace standpoint::staging_scenes
