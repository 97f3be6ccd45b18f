// Puts a mesh of one part and one material together, corner by corner.
#include "shape/mesh_builder.h"

#include <utility>

#include <glm/geometric.hpp>

namespace standpoint {

namespace {

glm::dvec3 unit_or_up(const glm::dvec3& v) {
    const double length = glm::length(v);
    return length > 0 ? v / length : glm::dvec3(0, 0, 1);
}

} // namespace

std::uint32_t MeshBuilder::vertex(const glm::dvec3& position, const glm::dvec3& normal) {
    mesh_.positions.push_back(position);
    mesh_.normals.emplace_back(normal);
    return static_cast<std::uint32_t>(mesh_.positions.size() - 1);
}

void MeshBuilder::triangle(std::uint32_t a, std::uint32_t b, std::uint32_t c) {
    mesh_.triangles.emplace_back(a, b, c);
}

void MeshBuilder::flat_triangle(const glm::dvec3& a, const glm::dvec3& b, const glm::dvec3& c) {
    const glm::dvec3 normal = unit_or_up(glm::cross(b - a, c - a));
    const std::uint32_t first = vertex(a, normal);
    vertex(b, normal);
    vertex(c, normal);
    triangle(first, first + 1, first + 2);
}

void MeshBuilder::flat_quad(const glm::dvec3& a, const glm::dvec3& b, const glm::dvec3& c,
                            const glm::dvec3& d) {
    const glm::dvec3 normal = unit_or_up(glm::cross(c - a, d - b));
    const std::uint32_t first = vertex(a, normal);
    vertex(b, normal);
    vertex(c, normal);
    vertex(d, normal);
    triangle(first, first + 1, first + 2);
    triangle(first, first + 2, first + 3);
}

Mesh MeshBuilder::finish() && {
    mesh_.part_of.assign(mesh_.triangles.size(), 0);
    mesh_.parts = {MeshPart{}};
    mesh_.materials = {Material{}};
    return std::move(mesh_);
}

Mesh box_between(const glm::dvec3& low, const glm::dvec3& high) {
    const auto at = [&](bool x, bool y, bool z) {
        return glm::dvec3(x ? high.x : low.x, y ? high.y : low.y, z ? high.z : low.z);
    };
    MeshBuilder build;
    build.flat_quad(at(0, 0, 0), at(1, 0, 0), at(1, 0, 1), at(0, 0, 1)); // front
    build.flat_quad(at(1, 1, 0), at(0, 1, 0), at(0, 1, 1), at(1, 1, 1)); // back
    build.flat_quad(at(0, 1, 0), at(0, 0, 0), at(0, 0, 1), at(0, 1, 1)); // left from the front
    build.flat_quad(at(1, 0, 0), at(1, 1, 0), at(1, 1, 1), at(1, 0, 1)); // right from the front
    build.flat_quad(at(0, 1, 0), at(1, 1, 0), at(1, 0, 0), at(0, 0, 0)); // foot
    build.flat_quad(at(0, 0, 1), at(1, 0, 1), at(1, 1, 1), at(0, 1, 1)); // top
    return std::move(build).finish();
}

} // namespace standpoint
