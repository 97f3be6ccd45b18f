// Our reader beside another: tinygltf parses, plain code here places, the triangles are the same.
#include <cmath>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>

#include <doctest/doctest.h>
#include <glm/gtc/quaternion.hpp>
#include <glm/mat4x4.hpp>
#include <tiny_gltf.h>

#include "shape/gltf_read.h"
#include "shape/gltf_samples.h"
#include "support/random.h"

using namespace standpoint;
using namespace standpoint::gltf_samples;

namespace {

namespace fs = std::filesystem;

const unsigned char* element(const tinygltf::Model& model, const tinygltf::Accessor& accessor,
                             std::size_t i) {
    const auto& view = model.bufferViews[static_cast<std::size_t>(accessor.bufferView)];
    const auto stride = static_cast<std::size_t>(accessor.ByteStride(view));
    return model.buffers[static_cast<std::size_t>(view.buffer)].data.data() + view.byteOffset +
           accessor.byteOffset + i * stride;
}

glm::dmat4 matrix_of(const tinygltf::Node& node) {
    glm::dmat4 out(1.0);
    if (node.matrix.size() == 16) {
        for (int i = 0; i < 16; ++i)
            out[i / 4][i % 4] = node.matrix[static_cast<std::size_t>(i)];
        return out;
    }
    if (node.rotation.size() == 4)
        out = glm::mat4_cast(glm::normalize(
            glm::dquat(node.rotation[3], node.rotation[0], node.rotation[1], node.rotation[2])));
    for (std::size_t i = 0; i < node.scale.size(); ++i)
        out[static_cast<int>(i)] *= node.scale[i];
    for (std::size_t i = 0; i < node.translation.size(); ++i)
        out[3][static_cast<int>(i)] = node.translation[i];
    return out;
}

// Triangle lists of floats only, which is what the files compared here hold.
void add_node(const tinygltf::Model& model, int index, const glm::dmat4& outer, Mesh& out) {
    const tinygltf::Node& node = model.nodes[static_cast<std::size_t>(index)];
    const glm::dmat4 matrix = outer * matrix_of(node);
    if (node.mesh >= 0) {
        for (const auto& primitive : model.meshes[static_cast<std::size_t>(node.mesh)].primitives) {
            const auto& positions =
                model.accessors[static_cast<std::size_t>(primitive.attributes.at("POSITION"))];
            const auto first = static_cast<std::uint32_t>(out.positions.size());
            for (std::size_t i = 0; i < positions.count; ++i) {
                float p[3];
                std::memcpy(p, element(model, positions, i), sizeof p);
                const glm::dvec4 at = matrix * glm::dvec4(p[0], p[1], p[2], 1);
                out.positions.push_back(glm::dvec3(at.x, -at.z, at.y) * 1000.0);
            }
            const auto& indices = model.accessors[static_cast<std::size_t>(primitive.indices)];
            const auto size = static_cast<std::size_t>(tinygltf::GetComponentSizeInBytes(
                static_cast<std::uint32_t>(indices.componentType)));
            std::vector<std::uint32_t> corners;
            for (std::size_t i = 0; i < indices.count; ++i) {
                std::uint32_t corner = 0; // little-endian, as the file is
                std::memcpy(&corner, element(model, indices, i), size);
                corners.push_back(first + corner);
            }
            const bool mirrored = glm::determinant(glm::dmat3(matrix)) < 0;
            for (std::size_t i = 0; i + 2 < corners.size(); i += 3)
                out.triangles.push_back(
                    {corners[i], corners[i + (mirrored ? 2 : 1)], corners[i + (mirrored ? 1 : 2)]});
        }
    }
    for (const int child : node.children)
        add_node(model, child, matrix, out);
}

bool no_image(tinygltf::Image*, int, std::string*, std::string*, int, int, const unsigned char*,
              int, void*) {
    return true;
}

Mesh read_by_the_other(const std::string& bytes, const std::string& folder) {
    tinygltf::TinyGLTF reader;
    reader.SetImageLoader(no_image, nullptr);
    tinygltf::Model model;
    std::string error, warning;
    const auto size = static_cast<unsigned>(bytes.size());
    const bool done =
        bytes.starts_with("glTF")
            ? reader.LoadBinaryFromMemory(&model, &error, &warning,
                                          reinterpret_cast<const unsigned char*>(bytes.data()),
                                          size)
            : reader.LoadASCIIFromString(&model, &error, &warning, bytes.data(), size, folder);
    REQUIRE_MESSAGE(done, error);
    Mesh out;
    for (const int root : model.scenes.at(static_cast<std::size_t>(model.defaultScene)).nodes)
        add_node(model, root, glm::dmat4(1.0), out);
    return out;
}

double farthest(const Mesh& a, const Mesh& b) {
    const auto first = triangle_set(a), second = triangle_set(b);
    REQUIRE(first.size() == second.size());
    double out = 0;
    for (std::size_t i = 0; i < first.size(); ++i)
        for (std::size_t c = 0; c < 3; ++c)
            for (std::size_t k = 0; k < 3; ++k)
                out = std::max(out, std::abs(first[i][c][k] - second[i][c][k]));
    return out;
}

} // namespace

TEST_CASE("the shipped models are the same to another reader") {
    int compared = 0;
    for (const auto& entry :
         fs::directory_iterator(fs::path(STANDPOINT_SOURCE_DIR) / "assets-demo/models")) {
        if (entry.path().extension() != ".glb" && entry.path().extension() != ".gltf") continue;
        CAPTURE(entry.path().filename().string());
        std::ifstream in(entry.path(), std::ios::binary);
        const std::string bytes((std::istreambuf_iterator<char>(in)),
                                std::istreambuf_iterator<char>());
        const auto ours = read_gltf(entry.path().string(), DiskFiles(), 1000);
        REQUIRE_MESSAGE(ours.ok(), one_line(ours.error()));
        check_sound(*ours);
        CHECK(farthest(*ours, read_by_the_other(bytes, entry.path().parent_path().string())) <
              1e-9);
        ++compared;
    }
    CHECK(compared >= 3);
}

TEST_CASE("random hierarchies are the same to another reader") {
    support::Random random(41);
    for (int round = 0; round < 40; ++round) {
        Sample sample = tetrahedron();
        sample.json["scene"] = 0;
        sample.json["scenes"] = {{{"nodes", {0}}}};
        sample.json["nodes"] = Json::array();
        const int count = static_cast<int>(random.integer(1, 12));
        for (int i = 0; i < count; ++i) {
            const glm::dquat q = glm::normalize(glm::dquat(
                random.uniform(-1, 1), random.uniform(-1, 1), random.uniform(-1, 1), 1.5));
            Json node{{"mesh", 0},
                      {"translation", {random.uniform(-1, 1), random.uniform(-1, 1), 0.5}},
                      {"rotation", {q.x, q.y, q.z, q.w}},
                      {"scale", {random.uniform(-2, -0.5), random.uniform(0.5, 2), 1}}};
            sample.json["nodes"].push_back(node);
            if (i > 0)
                sample.json["nodes"][static_cast<std::size_t>(random.integer(0, i - 1))]["children"]
                    .push_back(i);
        }
        const std::string bytes = as_glb(sample);
        const auto ours = read_gltf(sample_path, one_file(bytes), 1000);
        REQUIRE_MESSAGE(ours.ok(), one_line(ours.error()));
        CHECK(farthest(*ours, read_by_the_other(bytes, "")) < 1e-6);
    }
}
