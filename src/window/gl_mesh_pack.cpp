// Sorts triangles by look and writes vertices small.
#include "window/gl_mesh_pack.h"

#include <algorithm>
#include <cmath>

#include <glm/common.hpp>
#include <glm/geometric.hpp>

namespace standpoint {

namespace {

RangeLook look_of(const Material& material) {
    RangeLook look;
    look.lets_through = material.lets_through;
    if (!material.image) return look;
    look.image = material.image;
    look.repeat_u = material.repeat_u;
    look.repeat_v = material.repeat_v;
    look.cutoff = material.alpha_cutoff;
    return look;
}

std::uint32_t ten_bits(float value) {
    return static_cast<std::uint32_t>(std::lround(std::clamp(value, -1.0f, 1.0f) * 511)) & 0x3ff;
}

std::uint32_t packed_normal(const glm::vec3& n) {
    return ten_bits(n.x) | ten_bits(n.y) << 10 | ten_bits(n.z) << 20;
}

std::uint8_t eight_bits(float value) {
    return static_cast<std::uint8_t>(std::lround(std::clamp(value, 0.0f, 1.0f) * 255));
}

struct Packer {
    const Mesh& mesh;
    PackedMesh& out;
    // The last vertex made of each position, and the material it was made for.
    std::vector<std::uint32_t> vertex_of, material_of;

    void add_vertex(std::uint32_t corner, std::uint32_t material, const glm::vec3& normal) {
        const glm::vec3 place(mesh.positions[corner]);
        const Material& look = mesh.materials[material];
        const glm::vec2 uv = mesh.uvs.empty() ? glm::vec2(0.0f) : mesh.uvs[corner];
        PackedVertex vertex{};
        for (int i = 0; i < 3; ++i) {
            vertex.place[i] = place[i];
            vertex.colour[i] = eight_bits(std::sqrt(std::max(look.colour[i], 0.0f)));
        }
        vertex.colour[3] = eight_bits(look.gloss);
        vertex.normal = packed_normal(normal);
        vertex.uv[0] = uv.x;
        vertex.uv[1] = uv.y;
        out.vertices.push_back(vertex);
    }

    std::uint32_t shared_vertex(std::uint32_t corner, std::uint32_t material) {
        if (material_of[corner] == material) return vertex_of[corner];
        add_vertex(corner, material, mesh.normals[corner]);
        material_of[corner] = material;
        return vertex_of[corner] = static_cast<std::uint32_t>(out.vertices.size() - 1);
    }

    void add_triangle(std::uint32_t t) {
        const glm::uvec3 corners = mesh.triangles[t];
        const std::uint32_t material = mesh.parts[mesh.part_of[t]].material;
        out.part.push_back(mesh.part_of[t]);
        if (!mesh.normals.empty()) {
            for (int i = 0; i < 3; ++i)
                out.full.indices.push_back(shared_vertex(corners[i], material));
            return;
        }
        const glm::dvec3 across = glm::cross(mesh.positions[corners.y] - mesh.positions[corners.x],
                                             mesh.positions[corners.z] - mesh.positions[corners.x]);
        const double area = glm::length(across);
        const glm::vec3 flat = area > 0 ? glm::vec3(across / area) : glm::vec3(0, 0, 1);
        for (int i = 0; i < 3; ++i) {
            out.full.indices.push_back(static_cast<std::uint32_t>(out.vertices.size()));
            add_vertex(corners[i], material, flat);
        }
    }
};

// Which look each material has; looks that are equal are one.
std::vector<std::size_t> looks_of(const Mesh& mesh, std::vector<RangeLook>& looks) {
    std::vector<std::size_t> which;
    for (const Material& material : mesh.materials) {
        const RangeLook look = look_of(material);
        const auto found = std::find(looks.begin(), looks.end(), look);
        which.push_back(static_cast<std::size_t>(found - looks.begin()));
        if (found == looks.end()) looks.push_back(look);
    }
    return which;
}

} // namespace

PackedMesh packed(const Mesh& mesh) {
    PackedMesh out;
    const std::vector<std::size_t> which = looks_of(mesh, out.looks);
    std::vector<std::vector<std::uint32_t>> lists(out.looks.size());
    for (std::uint32_t t = 0; t < mesh.triangles.size(); ++t)
        lists[which[mesh.parts[mesh.part_of[t]].material]].push_back(t);
    Packer packer{mesh, out, {}, {}};
    packer.vertex_of.resize(mesh.positions.size());
    packer.material_of.assign(mesh.positions.size(), ~0U);
    out.full.indices.reserve(mesh.triangles.size() * 3);
    out.part.reserve(mesh.triangles.size());
    out.vertices.reserve(mesh.normals.empty() ? mesh.triangles.size() * 3 : mesh.positions.size());
    for (const auto& list : lists) {
        const auto first = static_cast<std::uint32_t>(out.full.indices.size());
        for (const std::uint32_t t : list)
            packer.add_triangle(t);
        out.full.spans.push_back({first, static_cast<std::uint32_t>(list.size() * 3)});
    }
    return out;
}

} // namespace standpoint
