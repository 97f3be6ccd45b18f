// The nodes of glTF files: transforms, mirrors, scenes and the names of parts.
#include <cmath>

#include <doctest/doctest.h>
#include <glm/geometric.hpp>
#include <glm/gtc/quaternion.hpp>
#include <glm/mat4x4.hpp>

#include "shape/gltf_samples.h"
#include "shape/mass_properties.h"
#include "support/random.h"

using namespace standpoint;
using namespace standpoint::gltf_samples;

namespace {

double farthest(const std::vector<Corners>& a, const std::vector<Corners>& b) {
    REQUIRE(a.size() == b.size());
    double out = 0;
    for (std::size_t i = 0; i < a.size(); ++i)
        for (std::size_t c = 0; c < 3; ++c)
            for (std::size_t k = 0; k < 3; ++k)
                out = std::max(out, std::abs(a[i][c][k] - b[i][c][k]));
    return out;
}

// The tetrahedron under the node that the JSON says.
Mesh under_node(const Json& node) {
    Sample sample = tetrahedron();
    sample.json["nodes"][0].update(node);
    return read_sample(sample);
}

Json numbers(const glm::dmat4& m) {
    Json out = Json::array();
    for (int i = 0; i < 16; ++i)
        out.push_back(m[i / 4][i % 4]);
    return out;
}

} // namespace

TEST_CASE("translation, rotation and scale are the matrix they make") {
    support::Random random(15);
    for (int round = 0; round < 30; ++round) {
        const glm::dvec3 move(random.uniform(-2, 2), random.uniform(-2, 2), random.uniform(-2, 2));
        const glm::dvec3 size(random.uniform(-2, -0.5), random.uniform(0.5, 2),
                              random.uniform(0.5, 2));
        const glm::dquat turn =
            glm::normalize(glm::dquat(random.uniform(-1, 1), random.uniform(-1, 1),
                                      random.uniform(-1, 1), random.uniform(-1, 1)));
        glm::dmat4 matrix = glm::mat4_cast(turn);
        for (int c = 0; c < 3; ++c)
            matrix[c] *= size[c];
        matrix[3] = glm::dvec4(move, 1);
        const Mesh parts = under_node({{"translation", {move.x, move.y, move.z}},
                                       {"rotation", {turn.x, turn.y, turn.z, turn.w}},
                                       {"scale", {size.x, size.y, size.z}}});
        const Mesh whole = under_node({{"matrix", numbers(matrix)}});
        CHECK(farthest(triangle_set(parts), triangle_set(whole)) < 1e-9);
        // Mirrored, yet outward: the volume is that of the scaled tetrahedron, and positive.
        const double volume = mass_properties(whole).volume;
        CHECK(std::abs(volume - std::abs(size.x * size.y * size.z) * 1e9 / 6) < 1e-2);
    }
}

TEST_CASE("a child's transform is inside its parent's") {
    Sample sample = tetrahedron();
    sample.json["nodes"] = {
        {{"children", {1}}, {"translation", {10, 0, 0}}, {"scale", {2, 2, 2}}},
        {{"children", {2}}, {"rotation", {0, 0, std::sqrt(0.5), std::sqrt(0.5)}}},
        {{"mesh", 0}, {"translation", {1, 0, 0}}}};
    // The origin goes to (1, 0, 0), a quarter turn about z to (0, 1, 0), doubled and moved.
    const Mesh mesh = read_sample(sample);
    CHECK(glm::distance(mesh.positions[0], glm::dvec3(10, 0, 2) * 1000.0) < 1e-9);
    CHECK(glm::distance(mesh.positions[1], glm::dvec3(10, 0, 4) * 1000.0) < 1e-9);
}

TEST_CASE("normals follow uneven scales and mirrors, and point out of the face") {
    support::Random random(16);
    for (int round = 0; round < 20; ++round) {
        Sample sample = empty_sample();
        std::vector<glm::vec3> points, normals;
        const auto corners = tetrahedron_points();
        const auto indices = tetrahedron_indices();
        for (std::size_t i = 0; i < indices.size(); i += 3) {
            const glm::vec3 &a = corners[indices[i]], &b = corners[indices[i + 1]],
                            &c = corners[indices[i + 2]];
            points.insert(points.end(), {a, b, c});
            normals.insert(normals.end(), 3, glm::normalize(glm::cross(b - a, c - a)));
        }
        add_mesh(sample, add_points(sample, points))["attributes"]["NORMAL"] =
            add_points(sample, normals);
        sample.json["nodes"][0]["scale"] = {random.uniform(-3, -0.3), random.uniform(0.3, 3),
                                            (round % 2 == 0 ? -1 : 1) * random.uniform(0.3, 3)};
        const Mesh mesh = read_sample(sample);
        for (const glm::uvec3& t : mesh.triangles) {
            const auto& p = mesh.positions;
            const glm::dvec3 face = glm::normalize(glm::cross(p[t.y] - p[t.x], p[t.z] - p[t.x]));
            CHECK(glm::distance(face, glm::dvec3(mesh.normals[t.x])) < 1e-5);
        }
    }
}

TEST_CASE("a node scaled to nothing is left out with its children") {
    Sample sample = tetrahedron();
    sample.json["nodes"] = {
        {{"mesh", 0}}, {{"children", {2}}, {"mesh", 0}, {"scale", {1, 0, 1}}}, {{"mesh", 0}}};
    CHECK(read_sample(sample).triangles.size() == 4);
}

TEST_CASE("the default scene is read, and without one every root") {
    Sample sample = tetrahedron();
    sample.json["nodes"] = {{{"mesh", 0}, {"name", "left"}},
                            {{"mesh", 0}, {"name", "right"}, {"children", {2}}},
                            {{"mesh", 0}, {"name", "child"}}};
    sample.json["scenes"] = {{{"nodes", {0}}}, {{"nodes", {1}}}};
    CHECK(read_sample(sample).parts.size() == 3);
    sample.json["scene"] = 0;
    CHECK(read_sample(sample).parts.size() == 1);
    sample.json["scene"] = 1;
    const Mesh mesh = read_sample(sample);
    REQUIRE(mesh.parts.size() == 2);
    CHECK(mesh.parts[0].name == "right");
    CHECK(mesh.parts[1].name == "child");
}

TEST_CASE("parts are named by node, else mesh, else number, and no two nodes alike") {
    Sample sample = tetrahedron();
    sample.json["meshes"].push_back(sample.json["meshes"][0]);
    sample.json["meshes"][1]["name"] = "oar";
    sample.json["nodes"] = {{{"mesh", 0}, {"name", "hull"}},
                            {{"mesh", 0}, {"name", "hull"}},
                            {{"mesh", 0}, {"name", "hull-2"}},
                            {{"mesh", 1}},
                            {{"mesh", 0}},
                            {{"mesh", 1}, {"name", "a\nb"}}};
    std::vector<std::string> names;
    for (const MeshPart& part : read_sample(sample).parts)
        names.push_back(part.name);
    CHECK(names == std::vector<std::string>{"hull", "hull-3", "hull-2", "oar", "node-4", "a_b"});
}

TEST_CASE("the materials of one node are parts of one name") {
    Sample sample = tetrahedron();
    sample.json["materials"] = {{{"doubleSided", true}}, Json::object()};
    Json& primitives = sample.json["meshes"][0]["primitives"];
    primitives.push_back(primitives[0]);
    primitives.push_back(primitives[0]);
    primitives[1]["material"] = 0;
    const Mesh mesh = read_sample(sample);
    REQUIRE(mesh.parts.size() == 2);
    CHECK(mesh.parts[0].name == mesh.parts[1].name);
    CHECK(mesh.parts[0].material != mesh.parts[1].material);
    CHECK(mesh.materials[mesh.parts[1].material].two_sided);
    CHECK(mesh.triangles.size() == 12);
}
