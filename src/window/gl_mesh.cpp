// Sorts a mesh by material, finds its edges, and hands both to the GPU.
#include "window/gl_mesh.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <unordered_map>

#include <epoxy/gl.h>
#include <glm/geometric.hpp>
#include <glm/trigonometric.hpp>

namespace standpoint {

namespace {

struct GlVertex {
    glm::vec3 place, normal;
    glm::vec2 uv;
};

constexpr double sharp_deg = 32;

// Corners at the same place count as one, to a hundredth of a millimetre.
struct Welder {
    std::unordered_map<std::uint64_t, std::uint32_t> ids;
    std::uint32_t of(const glm::dvec3& p) {
        const auto cell = [](double v) {
            return static_cast<std::uint64_t>(std::llround(v * 100)) & 0x1fffff;
        };
        const std::uint64_t key = cell(p.x) << 42 | cell(p.y) << 21 | cell(p.z);
        return ids.emplace(key, static_cast<std::uint32_t>(ids.size())).first->second;
    }
};

struct EdgeUse {
    glm::vec3 normal{0.0f}, a{0.0f}, b{0.0f};
    int uses = 0;
    bool sharp = false;
};

unsigned upload_texture(const Image& image) {
    unsigned texture = 0;
    glGenTextures(1, &texture);
    glBindTexture(GL_TEXTURE_2D, texture);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_SRGB8_ALPHA8, image.width, image.height, 0, GL_RGBA,
                 GL_UNSIGNED_BYTE, image.rgba.data());
    glGenerateMipmap(GL_TEXTURE_2D);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR_MIPMAP_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    return texture;
}

std::vector<std::vector<std::uint32_t>> by_material(const Mesh& mesh) {
    std::vector<std::vector<std::uint32_t>> lists(mesh.materials.size());
    for (std::uint32_t t = 0; t < mesh.triangles.size(); ++t)
        lists[mesh.parts[mesh.part_of[t]].material].push_back(t);
    return lists;
}

void add_triangle(const Mesh& mesh, std::uint32_t t, std::vector<GlVertex>& out) {
    const glm::uvec3 corners = mesh.triangles[t];
    const glm::dvec3 a = mesh.positions[corners.x], b = mesh.positions[corners.y],
                     c = mesh.positions[corners.z];
    const glm::dvec3 across = glm::cross(b - a, c - a);
    const double area = glm::length(across);
    const glm::vec3 flat = area > 0 ? glm::vec3(across / area) : glm::vec3(0, 0, 1);
    for (const std::uint32_t corner : {corners.x, corners.y, corners.z})
        out.push_back({glm::vec3(mesh.positions[corner]),
                       mesh.normals.empty() ? flat : mesh.normals[corner],
                       mesh.uvs.empty() ? glm::vec2(0.0f) : mesh.uvs[corner]});
}

void describe_vertices() {
    const auto attribute = [](unsigned index, int count, std::size_t offset) {
        glEnableVertexAttribArray(index);
        glVertexAttribPointer(index, count, GL_FLOAT, GL_FALSE, sizeof(GlVertex),
                              reinterpret_cast<const void*>(offset));
    };
    attribute(0, 3, offsetof(GlVertex, place));
    attribute(1, 3, offsetof(GlVertex, normal));
    attribute(2, 2, offsetof(GlVertex, uv));
}

} // namespace

std::vector<glm::vec3> sharp_edges(const Mesh& mesh, double angle_deg) {
    Welder welder;
    std::vector<std::uint32_t> ids(mesh.positions.size());
    for (std::size_t i = 0; i < ids.size(); ++i)
        ids[i] = welder.of(mesh.positions[i]);
    const float least = static_cast<float>(std::cos(glm::radians(angle_deg)));
    std::unordered_map<std::uint64_t, EdgeUse> uses;
    uses.reserve(mesh.triangles.size() * 3 / 2);
    for (const glm::uvec3& t : mesh.triangles) {
        const std::uint32_t corners[] = {t.x, t.y, t.z};
        const glm::dvec3 across = glm::cross(mesh.positions[t.y] - mesh.positions[t.x],
                                             mesh.positions[t.z] - mesh.positions[t.x]);
        const double area = glm::length(across);
        if (!(area > 0)) continue;
        const glm::vec3 normal(across / area);
        for (int i = 0; i < 3; ++i) {
            const std::uint32_t from = corners[i], to = corners[(i + 1) % 3];
            const std::uint32_t a = ids[from], b = ids[to];
            if (a == b) continue;
            EdgeUse& use = uses[static_cast<std::uint64_t>(std::min(a, b)) << 32 | std::max(a, b)];
            if (use.uses++ == 0)
                use = {normal, glm::vec3(mesh.positions[from]), glm::vec3(mesh.positions[to]), 1,
                       false};
            else if (glm::dot(use.normal, normal) < least)
                use.sharp = true;
        }
    }
    std::vector<glm::vec3> ends;
    for (const auto& [key, use] : uses) {
        if (use.uses != 1 && !use.sharp) continue;
        ends.push_back(use.a);
        ends.push_back(use.b);
    }
    return ends;
}

GlMesh upload(const Mesh& mesh) {
    GlMesh out;
    out.triangles = mesh.triangles.size();
    std::vector<GlVertex> vertices;
    vertices.reserve(mesh.triangles.size() * 3);
    std::map<const Image*, unsigned> textures;
    const auto lists = by_material(mesh);
    for (std::size_t m = 0; m < lists.size(); ++m) {
        if (lists[m].empty()) continue;
        const Material& material = mesh.materials[m];
        GlBatch batch;
        batch.first = static_cast<int>(vertices.size());
        for (const std::uint32_t t : lists[m])
            add_triangle(mesh, t, vertices);
        batch.count = static_cast<int>(vertices.size()) - batch.first;
        batch.colour = material.colour;
        batch.lets_through = material.lets_through;
        batch.gloss = material.gloss;
        batch.alpha_cutoff = material.alpha_cutoff;
        if (material.image) {
            unsigned& texture = textures[material.image.get()];
            if (!texture) texture = upload_texture(*material.image);
            batch.texture = texture;
        }
        out.batches.push_back(batch);
    }
    glGenVertexArrays(1, &out.array);
    glGenBuffers(1, &out.buffer);
    glBindVertexArray(out.array);
    glBindBuffer(GL_ARRAY_BUFFER, out.buffer);
    glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(vertices.size() * sizeof(GlVertex)),
                 vertices.data(), GL_STATIC_DRAW);
    describe_vertices();
    const std::vector<glm::vec3> edges = sharp_edges(mesh, sharp_deg);
    out.edge_vertices = static_cast<int>(edges.size());
    glGenVertexArrays(1, &out.edge_array);
    glGenBuffers(1, &out.edge_buffer);
    glBindVertexArray(out.edge_array);
    glBindBuffer(GL_ARRAY_BUFFER, out.edge_buffer);
    glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(edges.size() * sizeof(glm::vec3)),
                 edges.data(), GL_STATIC_DRAW);
    glEnableVertexAttribArray(0);
    glVertexAttribPointer(0, 3, GL_FLOAT, GL_FALSE, sizeof(glm::vec3), nullptr);
    return out;
}

void release(GlMesh& mesh) {
    std::vector<unsigned> textures;
    for (const GlBatch& batch : mesh.batches)
        if (batch.texture) textures.push_back(batch.texture);
    std::sort(textures.begin(), textures.end());
    textures.erase(std::unique(textures.begin(), textures.end()), textures.end());
    glDeleteTextures(static_cast<int>(textures.size()), textures.data());
    glDeleteBuffers(1, &mesh.buffer);
    glDeleteBuffers(1, &mesh.edge_buffer);
    glDeleteVertexArrays(1, &mesh.array);
    glDeleteVertexArrays(1, &mesh.edge_array);
    mesh = {};
}

} // namespace standpoint
