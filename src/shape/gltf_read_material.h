// Materials of a glTF file: base colour and its texture, cut-outs, light let through.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <vector>

#include <glm/mat3x2.hpp>

#include "shape/gltf_read_accessor.h"
#include "shape/mesh.h"

namespace standpoint::gltf {

struct Look {
    Material material;
    std::uint32_t uv_set = 0;       // TEXCOORD_n that the image is laid by
    glm::dmat3x2 uv_transform{1.0}; // KHR_texture_transform
};

class Looks {
  public:
    Looks(const File& file, const Buffers& buffers, const FileAccess& files)
        : file_(file), buffers_(buffers), files_(files) {}

    // The same look object for the same index; nothing: the default material.
    Result<const Look*> get(std::optional<std::uint32_t> index);

  private:
    const File& file_;
    const Buffers& buffers_;
    const FileAccess& files_;
    std::map<std::int64_t, Look> looks_; // -1: default
    std::map<std::uint32_t, std::shared_ptr<const Image>> images_;
    std::size_t bytes_left_ = most_neighbour_bytes;
    std::size_t pixels_left_ = std::size_t{1} << 26; // of all images of a model: 256 MB

    Result<Look> read(const Spot& material);
    Status read_texture(const Spot& info, Look& look);
    Result<std::shared_ptr<const Image>> image(std::uint32_t index);
};

// The images that base colours are taken from, each once, in order of the materials.
Result<std::vector<std::uint32_t>> base_colour_images(const File& file);

} // namespace standpoint::gltf
