// The meshes of pieces: parts put together, coloured, named, and told apart by content.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>

#include "base/files.h"
#include "base/result.h"
#include "scene/document.h"
#include "shape/mesh.h"

namespace standpoint {

struct SharedMesh {
    std::shared_ptr<const Mesh> mesh;
    std::uint64_t hash = 0;
};

glm::vec4 default_colour(PieceKind kind);              // linear
Result<glm::vec4> parse_colour(std::string_view text); // "#rrggbb" to linear, opaque

// Makes each mesh once; pieces with equal parts share it.
class MeshStore {
  public:
    MeshStore(std::string scene_file, const FileAccess& files)
        : scene_file_(std::move(scene_file)), files_(files) {}

    void keep(const SharedMesh& shared) { meshes_.emplace(shared.hash, shared.mesh); }

    // `index` is the piece's place in the document, for messages.
    Result<SharedMesh> mesh_of_piece(const Piece& piece, std::size_t index);
    // Of a thing that is no piece: `key` tells its kind and size.
    template <class Make> SharedMesh mesh_by_key(std::string_view key, const Make& make);

  private:
    Result<std::uint64_t> hash_of_piece(const Piece& piece, std::size_t index);
    Result<Mesh> mesh_of_part(const Part& part, PieceKind kind);
    Result<std::uint64_t> model_hash(const ModelForm& form);
    Result<Mesh> model_mesh(const ModelForm& form);
    Result<std::uint64_t> figure_hash(const FigureForm& form);
    Result<Mesh> mesh_of_figure(const FigureForm& form);
    Error placed_error(const Error& error, const Piece& piece, std::size_t index,
                       std::size_t part) const;

    std::string scene_file_;
    const FileAccess& files_;
    std::unordered_map<std::uint64_t, std::shared_ptr<const Mesh>> meshes_;
    std::map<std::string, std::uint64_t> model_hashes_;           // by file
    std::map<std::pair<std::string, double>, Mesh> model_meshes_; // by file and unit
};

std::uint64_t hash_of_key(std::string_view key);

template <class Make> SharedMesh MeshStore::mesh_by_key(std::string_view key, const Make& make) {
    const std::uint64_t hash = hash_of_key(key);
    std::shared_ptr<const Mesh>& mesh = meshes_[hash];
    if (!mesh) mesh = std::make_shared<const Mesh>(make());
    return {mesh, hash};
}

} // namespace standpoint
