// Looks at a mesh the slow way: edges one by one, solids apart, normals against faces.
#include "solid_check.h"

#include <cmath>
#include <map>
#include <numbers>
#include <tuple>
#include <utility>

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include "shape/primitives.h"

namespace standpoint::solid_check {

namespace {

// Corners are one when they are the same to a millionth of a millimetre.
std::vector<std::size_t> welded(const Mesh& mesh) {
    std::map<std::tuple<long long, long long, long long>, std::size_t> seen;
    std::vector<std::size_t> number;
    for (const glm::dvec3& p : mesh.positions) {
        const std::tuple key(std::llround(p.x * 1e6), std::llround(p.y * 1e6),
                             std::llround(p.z * 1e6));
        number.push_back(seen.emplace(key, seen.size()).first->second);
    }
    return number;
}

std::size_t root_of(std::vector<std::size_t>& parent, std::size_t i) {
    while (parent[i] != i)
        i = parent[i] = parent[parent[i]];
    return i;
}

} // namespace

std::vector<Solid> solids(const Mesh& mesh) {
    const std::vector<std::size_t> number = welded(mesh);
    std::vector<std::size_t> parent(number.size());
    for (std::size_t i = 0; i < parent.size(); ++i)
        parent[i] = i;
    for (const glm::uvec3& t : mesh.triangles) {
        for (std::uint32_t other : {t.y, t.z}) {
            parent[root_of(parent, number[other])] = root_of(parent, number[t.x]);
        }
    }
    std::map<std::size_t, Solid> found;
    std::map<std::pair<std::size_t, std::size_t>, int> runs; // of directed edges
    for (const glm::uvec3& t : mesh.triangles) {
        Solid& solid = found[root_of(parent, number[t.x])];
        solid.manifold = true;
        solid.volume +=
            glm::dot(mesh.positions[t.x], glm::cross(mesh.positions[t.y], mesh.positions[t.z])) / 6;
        const std::size_t c[] = {number[t.x], number[t.y], number[t.z]};
        for (int k = 0; k < 3; ++k)
            ++runs[{c[k], c[(k + 1) % 3]}];
    }
    for (const auto& [edge, count] : runs) {
        const auto back = runs.find({edge.second, edge.first});
        if (count != 1 || back == runs.end() || back->second != 1) {
            found[root_of(parent, edge.first)].manifold = false;
        }
    }
    std::vector<Solid> list;
    for (const auto& entry : found)
        list.push_back(entry.second);
    return list;
}

std::string fault(const Mesh& mesh) {
    if (mesh.triangles.empty()) return "no triangles";
    if (mesh.part_of.size() != mesh.triangles.size()) return "a triangle without a part";
    if (mesh.normals.size() != mesh.positions.size()) return "a corner without a normal";
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
        const glm::uvec3 t = mesh.triangles[i];
        for (std::uint32_t corner : {t.x, t.y, t.z}) {
            if (corner >= mesh.positions.size()) return "an index out of range";
        }
        const glm::dvec3 a = mesh.positions[t.x];
        const glm::dvec3 across = glm::cross(mesh.positions[t.y] - a, mesh.positions[t.z] - a);
        if (!(glm::length(across) > 0)) return "a triangle without area";
        for (std::uint32_t corner : {t.x, t.y, t.z}) {
            const glm::dvec3 n(mesh.normals[corner]);
            if (std::abs(glm::length(n) - 1) > 1e-6) return "a normal that is not a unit vector";
            if (glm::dot(n, glm::normalize(across)) < 0.5) return "a normal off its face";
        }
        if (mesh.part_of[i] >= mesh.parts.size()) return "a part out of range";
    }
    for (const Solid& solid : solids(mesh)) {
        if (!solid.manifold) return "an edge that is not shared by two triangles";
        if (!(solid.volume > 0)) return "a solid inside out";
    }
    return "";
}

Mesh good_mesh(const Form& form) {
    Result<Mesh> mesh = mesh_of(form);
    REQUIRE_MESSAGE(mesh.ok(), mesh.error().message);
    CHECK(fault(*mesh) == "");
    CHECK(mesh->parts.size() == 1);
    CHECK(mesh->materials.size() == 1);
    return std::move(*mesh);
}

std::string refusal(const Form& form) {
    const Result<Mesh> mesh = mesh_of(form);
    REQUIRE(!mesh.ok());
    CHECK(mesh.error().code == ErrorCode::input);
    return mesh.error().message;
}

double polygon_area(int corners) {
    return corners / 2.0 * std::sin(2 * std::numbers::pi / corners);
}

double polygon_polar_moment(int corners) {
    const double a = 2 * std::numbers::pi / corners;
    return corners / 12.0 * std::sin(a) * (2 + std::cos(a));
}

} // namespace standpoint::solid_check
