// glTF 2.0 in: the placed primitives of a file gathered into one mesh in the piece's axes.
#include "shape/gltf_read.h"

#include <cmath>
#include <map>

#include <fmt/format.h>
#include <glm/geometric.hpp>
#include <glm/mat4x4.hpp>
#include <glm/matrix.hpp>

#include "base/hash.h"
#include "measure/length.h"
#include "shape/gltf_read_nodes.h"
#include "shape/gltf_read_primitive.h"

namespace standpoint {

namespace {

using namespace gltf;

// Many nodes that share a mesh of many primitives make a small file a long read.
constexpr std::size_t most_placed_primitives = 1'000'000;

glm::dvec3 piece_axes(const glm::dvec3& v) {
    return {v.x, -v.z, v.y};
}

// Normals turn by the cofactors, which stay finite where the inverse would not.
glm::dmat3 normal_matrix(const glm::dmat3& m) {
    const glm::dmat3 cofactors(glm::cross(m[1], m[2]), glm::cross(m[2], m[0]),
                               glm::cross(m[0], m[1]));
    return glm::determinant(m) < 0 ? -cofactors : cofactors;
}

glm::dvec3 unit_or_zero(const glm::dvec3& v) {
    const double size = glm::length(v);
    return size > 0 && std::isfinite(size) ? v / size : glm::dvec3(0.0);
}

// Corners whose normal is (0, 0, 0) get that of their face; a corner that faces of several
// directions share is split.
void fill_flat_normals(Mesh& mesh) {
    const std::size_t count = mesh.positions.size();
    std::vector<bool> flat(count);
    for (std::size_t i = 0; i < count; ++i)
        flat[i] = mesh.normals[i] == glm::vec3(0.0f);
    for (glm::uvec3& t : mesh.triangles) {
        const glm::dvec3 across = glm::cross(mesh.positions[t.y] - mesh.positions[t.x],
                                             mesh.positions[t.z] - mesh.positions[t.x]);
        const glm::dvec3 unit = unit_or_zero(across);
        const glm::vec3 normal(unit == glm::dvec3(0.0) ? glm::dvec3(0, 0, 1) : unit);
        for (int c = 0; c < 3; ++c) {
            const std::uint32_t corner = t[c];
            if (!flat[corner] || mesh.normals[corner] == normal) continue;
            if (mesh.normals[corner] == glm::vec3(0.0f)) {
                mesh.normals[corner] = normal;
                continue;
            }
            t[c] = static_cast<std::uint32_t>(mesh.positions.size());
            mesh.positions.push_back(mesh.positions[corner]);
            mesh.normals.push_back(normal);
            mesh.uvs.push_back(mesh.uvs[corner]);
        }
    }
}

class Gatherer {
  public:
    Gatherer(const File& file, Buffers& buffers, const FileAccess& files, double unit_mm)
        : file_(file), buffers_(buffers), looks_(file, buffers, files), unit_mm_(unit_mm) {}

    Status add(const PlacedMesh& placed) {
        const Spot mesh = item(member(file_.root(), "meshes"), placed.mesh);
        STANDPOINT_TRY(primitives, list_member(mesh, "primitives"));
        if (length(primitives) == 0)
            return wrong(primitives, describe(primitives), "at least one primitive");
        if (length(primitives) > primitives_left_)
            return wrong(primitives, fmt::format("{} placed primitives more", length(primitives)),
                         fmt::format("at most {} in a scene", most_placed_primitives));
        primitives_left_ -= length(primitives);
        std::map<std::uint32_t, std::uint32_t> parts; // of this node, by material
        for (std::size_t i = 0; i < length(primitives); ++i) {
            STANDPOINT_TRY(spot, object_item(primitives, i));
            STANDPOINT_TRY_STATUS(add_primitive(placed, spot, parts));
        }
        return Done{};
    }

    Result<Mesh> finish() {
        if (mesh_.triangles.empty())
            return input_error(file_.path,
                               "found no triangles in the scene, expected at least one");
        if (any_normals_)
            fill_flat_normals(mesh_);
        else
            mesh_.normals.clear();
        if (!any_uvs_) mesh_.uvs.clear();
        return std::move(mesh_);
    }

  private:
    const File& file_;
    Buffers& buffers_;
    Looks looks_;
    double unit_mm_;
    Mesh mesh_;
    std::map<const Look*, std::uint32_t> materials_;
    std::size_t triangles_left_ = largest_mesh_triangles;
    std::size_t primitives_left_ = most_placed_primitives;
    bool any_normals_ = false, any_uvs_ = false;

    std::uint32_t material_of(const Look* look) {
        const auto next = static_cast<std::uint32_t>(mesh_.materials.size());
        const auto [at, added] = materials_.try_emplace(look, next);
        if (added) mesh_.materials.push_back(look->material);
        return at->second;
    }

    Status add_primitive(const PlacedMesh& placed, const Spot& spot,
                         std::map<std::uint32_t, std::uint32_t>& parts) {
        STANDPOINT_TRY(materials, list_member(file_.root(), "materials"));
        STANDPOINT_TRY(index, index_member(spot, "material", materials, "materials"));
        STANDPOINT_TRY(look, looks_.get(index));
        STANDPOINT_TRY(read, read_primitive(file_, spot, buffers_, *look, triangles_left_));
        if (!read) return Done{};
        triangles_left_ -= read->triangles_in_file;
        STANDPOINT_TRY_STATUS(place(placed.matrix, spot, *read));
        const std::uint32_t material = material_of(look);
        const auto next = static_cast<std::uint32_t>(mesh_.parts.size());
        const auto [part, added] = parts.try_emplace(material, next);
        if (added) mesh_.parts.push_back({placed.name, material});
        append_primitive(*read, part->second);
        return Done{};
    }

    Status place(const glm::dmat4& matrix, const Spot& spot, Primitive& primitive) const {
        for (glm::dvec3& p : primitive.positions) {
            p = piece_axes(glm::dvec3(matrix * glm::dvec4(p, 1))) * unit_mm_;
            for (int c = 0; c < 3; ++c)
                if (!(std::abs(p[c]) <= largest_length_mm))
                    return wrong(spot, fmt::format("a position {:.3g} mm from the origin", p[c]),
                                 fmt::format("at most {} mm", largest_length_mm));
        }
        const glm::dmat3 turn = normal_matrix(glm::dmat3(matrix));
        for (glm::dvec3& n : primitive.normals)
            n = piece_axes(unit_or_zero(turn * n));
        if (glm::determinant(glm::dmat3(matrix)) < 0)
            for (glm::uvec3& t : primitive.triangles)
                std::swap(t.y, t.z);
        return Done{};
    }

    // A mesh has normals for all its corners or for none; until the end, (0, 0, 0) stands for flat.
    void append_primitive(const Primitive& p, std::uint32_t part) {
        const auto first = static_cast<std::uint32_t>(mesh_.positions.size());
        mesh_.positions.insert(mesh_.positions.end(), p.positions.begin(), p.positions.end());
        for (const glm::dvec3& n : p.normals)
            mesh_.normals.push_back(glm::vec3(n));
        mesh_.normals.resize(mesh_.positions.size(), glm::vec3(0.0f));
        mesh_.uvs.insert(mesh_.uvs.end(), p.uvs.begin(), p.uvs.end());
        mesh_.uvs.resize(mesh_.positions.size(), glm::vec2(0.0f));
        any_normals_ |= !p.normals.empty();
        any_uvs_ |= !p.uvs.empty();
        for (const glm::uvec3& t : p.triangles)
            mesh_.triangles.push_back(t + first);
        mesh_.part_of.resize(mesh_.triangles.size(), part);
    }
};

std::uint64_t hash_file(std::uint64_t hash, std::string_view bytes) {
    return hash_bytes(bytes, mix(hash ^ bytes.size()));
}

} // namespace

Result<Mesh> read_gltf(const std::string& path, const FileAccess& files, double unit_mm) {
    STANDPOINT_CHECK(unit_mm > 0);
    STANDPOINT_TRY(file, open_file(path, files));
    STANDPOINT_TRY(buffers, Buffers::load(*file, files));
    STANDPOINT_TRY(placed, placed_meshes(*file));
    Gatherer gatherer(*file, buffers, files, unit_mm);
    for (const PlacedMesh& each : placed)
        STANDPOINT_TRY_STATUS(gatherer.add(each));
    return gatherer.finish();
}

Result<std::uint64_t> gltf_content_hash(const std::string& path, const FileAccess& files) {
    STANDPOINT_TRY(file, open_file(path, files));
    std::uint64_t hash = hash_file(0, file->bytes);
    std::size_t total = 0;
    const auto add = [&](const Spot& owner) -> Status {
        STANDPOINT_TRY(uri, text_member(owner, "uri"));
        if (!uri || is_data_uri(*uri)) return Done{};
        STANDPOINT_TRY(bytes, uri_bytes(member(owner, "uri"), *uri, files));
        total += bytes.size();
        if (total > most_neighbour_bytes)
            return wrong(owner, fmt::format("{} bytes so far", total),
                         fmt::format("at most {} beside the model", most_neighbour_bytes));
        hash = hash_file(hash, bytes);
        return Done{};
    };
    STANDPOINT_TRY(buffers, list_member(file->root(), "buffers"));
    for (std::size_t i = 0; i < length(buffers); ++i) {
        STANDPOINT_TRY(buffer, object_item(buffers, i));
        STANDPOINT_TRY_STATUS(add(buffer));
    }
    STANDPOINT_TRY(images, list_member(file->root(), "images"));
    STANDPOINT_TRY(used, base_colour_images(*file));
    for (const std::uint32_t index : used) {
        STANDPOINT_TRY(image, object_item(images, index));
        STANDPOINT_TRY_STATUS(add(image));
    }
    return hash;
}

} // namespace standpoint
