// Triangle meshes: bounds, joining, moving, and the colour and cut-outs of their materials.
#include "shape/mesh.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <glm/geometric.hpp>

#include "base/check.h"

namespace standpoint {

namespace {

// One vertex a corner, so that each triangle can carry its own normal.
Mesh with_flat_normals(const Mesh& mesh) {
    Mesh flat;
    flat.part_of = mesh.part_of;
    flat.parts = mesh.parts;
    flat.materials = mesh.materials;
    for (const glm::uvec3& t : mesh.triangles) {
        const glm::dvec3 a = mesh.positions[t.x];
        const glm::dvec3 across = glm::cross(mesh.positions[t.y] - a, mesh.positions[t.z] - a);
        const double length = glm::length(across);
        const glm::vec3 normal = length > 0 ? glm::vec3(across / length) : glm::vec3(0, 0, 1);
        const auto first = static_cast<std::uint32_t>(flat.positions.size());
        for (std::uint32_t corner : {t.x, t.y, t.z}) {
            flat.positions.push_back(mesh.positions[corner]);
            flat.normals.push_back(normal);
            if (!mesh.uvs.empty()) flat.uvs.push_back(mesh.uvs[corner]);
        }
        flat.triangles.emplace_back(first, first + 1, first + 2);
    }
    return flat;
}

void append_vertices(Mesh& mesh, const Mesh& more) {
    if (mesh.uvs.empty() != more.uvs.empty()) {
        mesh.uvs.resize(mesh.positions.size(), glm::vec2(0.0f));
    }
    const bool with_uvs = !mesh.uvs.empty() || !more.uvs.empty();
    mesh.positions.insert(mesh.positions.end(), more.positions.begin(), more.positions.end());
    mesh.normals.insert(mesh.normals.end(), more.normals.begin(), more.normals.end());
    mesh.uvs.insert(mesh.uvs.end(), more.uvs.begin(), more.uvs.end());
    if (with_uvs) mesh.uvs.resize(mesh.positions.size(), glm::vec2(0.0f));
}

// sRGB decoding (IEC 61966-2-1) of the 256 values a channel can have.
const std::array<float, 256>& decoded_srgb() {
    static const std::array<float, 256> table = [] {
        std::array<float, 256> made{};
        for (std::size_t i = 0; i < made.size(); ++i) {
            const double c = static_cast<double>(i) / 255.0;
            made[i] =
                static_cast<float>(c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4));
        }
        return made;
    }();
    return table;
}

int texel_index(double place, int count, bool repeat) {
    if (!std::isfinite(place)) return 0;
    const double inside = repeat ? place - std::floor(place) : std::clamp(place, 0.0, 1.0);
    return std::min(static_cast<int>(inside * count), count - 1);
}

} // namespace

Box bounds(const Mesh& mesh) {
    Box box;
    for (const glm::uvec3& t : mesh.triangles) {
        for (std::uint32_t corner : {t.x, t.y, t.z})
            box = grown(box, mesh.positions[corner]);
    }
    return box;
}

void append(Mesh& mesh, const Mesh& more) {
    if (more.triangles.empty()) return;
    if (!mesh.positions.empty() && mesh.normals.empty() != more.normals.empty()) {
        if (more.normals.empty()) return append(mesh, with_flat_normals(more));
        mesh = with_flat_normals(mesh);
    }
    STANDPOINT_CHECK(mesh.positions.size() + more.positions.size() < 0xffffffffULL);
    const auto vertices = static_cast<std::uint32_t>(mesh.positions.size());
    const auto parts = static_cast<std::uint32_t>(mesh.parts.size());
    const auto materials = static_cast<std::uint32_t>(mesh.materials.size());
    append_vertices(mesh, more);
    for (const glm::uvec3& t : more.triangles)
        mesh.triangles.push_back(t + vertices);
    for (std::uint32_t part : more.part_of)
        mesh.part_of.push_back(part + parts);
    for (MeshPart part : more.parts) {
        part.material += materials;
        mesh.parts.push_back(std::move(part));
    }
    mesh.materials.insert(mesh.materials.end(), more.materials.begin(), more.materials.end());
}

void transform(Mesh& mesh, const glm::dmat3& rotation, const glm::dvec3& offset, double scale) {
    STANDPOINT_CHECK(scale > 0);
    for (glm::dvec3& p : mesh.positions)
        p = rotation * (scale * p) + offset;
    for (glm::vec3& n : mesh.normals)
        n = glm::vec3(glm::normalize(rotation * glm::dvec3(n)));
}

float linear_of_srgb(std::uint8_t channel) {
    return decoded_srgb()[channel];
}

bool cut_out(const Mesh& mesh, std::uint32_t triangle, double u, double v) {
    const Material& material = mesh.materials[mesh.parts[mesh.part_of[triangle]].material];
    if (material.alpha_cutoff < 0) return false;
    glm::vec2 uv(0.0f);
    if (!mesh.uvs.empty()) {
        const glm::uvec3 t = mesh.triangles[triangle];
        uv = glm::vec2((1 - u - v) * glm::dvec2(mesh.uvs[t.x]) + u * glm::dvec2(mesh.uvs[t.y]) +
                       v * glm::dvec2(mesh.uvs[t.z]));
    }
    return texel(material, uv).a * material.colour.a < material.alpha_cutoff;
}

glm::vec4 texel(const Material& material, const glm::vec2& uv) {
    if (!material.image || material.image->width <= 0 || material.image->height <= 0) {
        return glm::vec4(1.0f);
    }
    const Image& image = *material.image;
    const int column = texel_index(uv.x, image.width, material.repeat_u);
    const int row = texel_index(uv.y, image.height, material.repeat_v);
    const std::size_t at =
        4 * (static_cast<std::size_t>(row) * static_cast<std::size_t>(image.width) +
             static_cast<std::size_t>(column));
    return {linear_of_srgb(image.rgba[at]), linear_of_srgb(image.rgba[at + 1]),
            linear_of_srgb(image.rgba[at + 2]), static_cast<float>(image.rgba[at + 3]) / 255.0f};
}

} // namespace standpoint
