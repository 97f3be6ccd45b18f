// What a .glb is made of while it is written: the binary chunk with its views and accessors, and
// the materials with their textures, each kept once.
#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <tuple>
#include <vector>

#include "base/result.h"
#include "shape/mesh.h"

namespace standpoint::gltf {

enum class ViewUse { none, vertices = 34962, indices = 34963 };

struct ViewOut {
    std::size_t offset = 0, size = 0;
    ViewUse use = ViewUse::none;
};

struct AccessorOut {
    std::uint32_t view = 0;
    int component = 0; // 5123, 5125 or 5126
    std::size_t count = 0;
    std::string type;
    std::vector<float> low, high; // of positions, else empty
};

struct Binary {
    std::string bytes;
    std::vector<ViewOut> views;
    std::vector<AccessorOut> accessors;

    std::uint32_t add_view(std::string_view data, ViewUse use); // at a multiple of 4
    // `width` floats an element, 2 or 3.
    std::uint32_t add_floats(const std::vector<float>& values, int width, bool with_bounds);
    std::uint32_t add_indices(const std::vector<std::uint32_t>& values, std::size_t vertices);
};

struct PrimitiveOut {
    std::uint32_t position = 0, indices = 0, material = 0;
    std::int64_t normal = -1, uv = -1; // accessors, or -1
};

struct MaterialOut {
    std::array<float, 4> colour{};
    std::string alpha_mode; // OPAQUE, MASK or BLEND
    float cutoff = 0;
    bool two_sided = false;
    std::int64_t texture = -1;
};

struct TextureOut {
    std::uint32_t image = 0, sampler = 0;
};

class MaterialsOut {
  public:
    std::vector<MaterialOut> materials;
    std::vector<TextureOut> textures;
    std::vector<std::array<bool, 2>> samplers; // repeats along u, along v
    std::vector<std::uint32_t> image_views;    // view of each image's PNG

    // The index of a material like this; added with its texture when it is new.
    Result<std::uint32_t> index_of(const Material& material, bool with_image, Binary& binary);

  private:
    using Key = std::tuple<std::array<float, 4>, std::string, float, bool, std::int64_t>;
    std::map<Key, std::uint32_t> known_;
    std::vector<std::shared_ptr<const Image>> images_;

    Result<std::uint32_t> texture(const Material& material, Binary& binary);
    Result<std::uint32_t> image(const std::shared_ptr<const Image>& image, Binary& binary);
};

// The triangles of one mesh, one primitive a material; nothing without triangles.
Result<std::vector<PrimitiveOut>> write_mesh(const Mesh& mesh, MaterialsOut& materials,
                                             Binary& binary);

} // namespace standpoint::gltf
