// The binary chunk, meshes and materials of a .glb that is being written.
#include "shape/gltf_write_parts.h"

#include <algorithm>
#include <cmath>
#include <cstring>

#include <glm/geometric.hpp>

#include "shape/image_encode.h"

namespace standpoint::gltf {

namespace {

template <class T> std::string_view as_bytes(const std::vector<T>& values) {
    return {reinterpret_cast<const char*>(values.data()), values.size() * sizeof(T)};
}

// Z up in the piece's axes becomes Y up. Adding 0 turns -0 into 0.
void push_y_up(std::vector<float>& out, const glm::dvec3& v) {
    for (const double each : {v.x, v.z, -v.y})
        out.push_back(static_cast<float>(each) + 0.0f);
}

std::vector<glm::uvec3> triangles_with(const Mesh& mesh, std::uint32_t material) {
    std::vector<glm::uvec3> out;
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
        const glm::uvec3& t = mesh.triangles[i];
        if (mesh.parts[mesh.part_of[i]].material == material && t.x != t.y && t.y != t.z &&
            t.z != t.x)
            out.push_back(t);
    }
    return out;
}

std::vector<std::uint32_t> used_by(const std::vector<glm::uvec3>& triangles) {
    std::vector<std::uint32_t> used;
    used.reserve(triangles.size() * 3);
    for (const glm::uvec3& t : triangles)
        used.insert(used.end(), {t.x, t.y, t.z});
    std::sort(used.begin(), used.end());
    used.erase(std::unique(used.begin(), used.end()), used.end());
    return used;
}

PrimitiveOut write_primitive(const Mesh& mesh, const std::vector<glm::uvec3>& triangles,
                             bool with_uvs, Binary& binary) {
    const std::vector<std::uint32_t> used = used_by(triangles);
    std::vector<float> positions, normals, uvs;
    for (const std::uint32_t i : used) {
        push_y_up(positions, mesh.positions[i] / 1000.0);
        if (!mesh.normals.empty()) {
            const glm::dvec3 n(mesh.normals[i]);
            const double size = glm::length(n);
            push_y_up(normals, size > 0 ? n / size : glm::dvec3(0, 0, 1));
        }
        if (with_uvs) uvs.insert(uvs.end(), {mesh.uvs[i].x, mesh.uvs[i].y});
    }
    std::vector<std::uint32_t> indices;
    indices.reserve(triangles.size() * 3);
    for (const glm::uvec3& t : triangles)
        for (int c = 0; c < 3; ++c)
            indices.push_back(static_cast<std::uint32_t>(
                std::lower_bound(used.begin(), used.end(), t[c]) - used.begin()));
    PrimitiveOut out;
    out.position = binary.add_floats(positions, 3, true);
    if (!normals.empty()) out.normal = binary.add_floats(normals, 3, false);
    if (with_uvs) out.uv = binary.add_floats(uvs, 2, false);
    out.indices = binary.add_indices(indices, used.size());
    return out;
}

} // namespace

std::uint32_t Binary::add_view(std::string_view data, ViewUse use) {
    views.push_back({bytes.size(), data.size(), use});
    bytes.append(data);
    bytes.resize((bytes.size() + 3) / 4 * 4, '\0');
    return static_cast<std::uint32_t>(views.size() - 1);
}

std::uint32_t Binary::add_floats(const std::vector<float>& values, int width, bool with_bounds) {
    const auto stride = static_cast<std::size_t>(width);
    AccessorOut out{add_view(as_bytes(values), ViewUse::vertices),
                    5126,
                    values.size() / stride,
                    width == 2 ? "VEC2" : "VEC3",
                    {},
                    {}};
    if (with_bounds) {
        out.low.assign(values.begin(), values.begin() + width);
        out.high = out.low;
        for (std::size_t i = 0; i < values.size(); ++i) {
            out.low[i % stride] = std::min(out.low[i % stride], values[i]);
            out.high[i % stride] = std::max(out.high[i % stride], values[i]);
        }
    }
    accessors.push_back(std::move(out));
    return static_cast<std::uint32_t>(accessors.size() - 1);
}

std::uint32_t Binary::add_indices(const std::vector<std::uint32_t>& values, std::size_t vertices) {
    // 65535 is no index of 16 bits: it restarts a primitive.
    const bool narrow = vertices <= 65535;
    std::uint32_t view = 0;
    if (narrow) {
        const std::vector<std::uint16_t> halves(values.begin(), values.end());
        view = add_view(as_bytes(halves), ViewUse::indices);
    } else {
        view = add_view(as_bytes(values), ViewUse::indices);
    }
    accessors.push_back({view, narrow ? 5123 : 5125, values.size(), "SCALAR", {}, {}});
    return static_cast<std::uint32_t>(accessors.size() - 1);
}

Result<std::uint32_t> MaterialsOut::index_of(const Material& material, bool with_image,
                                             Binary& binary) {
    MaterialOut out;
    for (int i = 0; i < 4; ++i)
        out.colour[static_cast<std::size_t>(i)] = std::clamp(material.colour[i], 0.0f, 1.0f);
    out.two_sided = material.two_sided;
    if (material.lets_through > 0) {
        out.alpha_mode = "BLEND";
        out.colour[3] = std::clamp(1 - material.lets_through, 0.0f, 1.0f);
    } else if (material.alpha_cutoff >= 0) {
        out.alpha_mode = "MASK";
        out.cutoff = material.alpha_cutoff;
    } else {
        out.alpha_mode = "OPAQUE";
        out.colour[3] = 1;
    }
    if (with_image && material.image) {
        STANDPOINT_TRY(index, texture(material, binary));
        out.texture = index;
    }
    const Key key{out.colour, out.alpha_mode, out.cutoff, out.two_sided, out.texture};
    const auto [at, added] = known_.try_emplace(key, static_cast<std::uint32_t>(materials.size()));
    if (added) materials.push_back(std::move(out));
    return at->second;
}

Result<std::uint32_t> MaterialsOut::texture(const Material& material, Binary& binary) {
    STANDPOINT_TRY(image_index, image(material.image, binary));
    const std::array<bool, 2> wrap{material.repeat_u, material.repeat_v};
    const auto at = std::find(samplers.begin(), samplers.end(), wrap);
    const auto sampler = static_cast<std::uint32_t>(at - samplers.begin());
    if (at == samplers.end()) samplers.push_back(wrap);
    for (std::uint32_t i = 0; i < textures.size(); ++i)
        if (textures[i].image == image_index && textures[i].sampler == sampler) return i;
    textures.push_back({image_index, sampler});
    return static_cast<std::uint32_t>(textures.size() - 1);
}

Result<std::uint32_t> MaterialsOut::image(const std::shared_ptr<const Image>& image,
                                          Binary& binary) {
    for (std::uint32_t i = 0; i < images_.size(); ++i)
        if (images_[i] == image ||
            (images_[i]->width == image->width && images_[i]->rgba == image->rgba))
            return i;
    STANDPOINT_TRY(png, encode_png(*image));
    images_.push_back(image);
    image_views.push_back(binary.add_view(png, ViewUse::none));
    return static_cast<std::uint32_t>(images_.size() - 1);
}

Result<std::vector<PrimitiveOut>> write_mesh(const Mesh& mesh, MaterialsOut& materials,
                                             Binary& binary) {
    std::vector<PrimitiveOut> out;
    for (std::uint32_t m = 0; m < mesh.materials.size(); ++m) {
        const std::vector<glm::uvec3> triangles = triangles_with(mesh, m);
        if (triangles.empty()) continue;
        const bool with_uvs = mesh.materials[m].image && !mesh.uvs.empty();
        STANDPOINT_TRY(material, materials.index_of(mesh.materials[m], with_uvs, binary));
        PrimitiveOut primitive = write_primitive(mesh, triangles, with_uvs, binary);
        primitive.material = material;
        out.push_back(primitive);
    }
    return out;
}

} // namespace standpoint::gltf
