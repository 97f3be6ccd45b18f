// The scene as .glb: read back it stands where it stood, and its bytes are the standard's.
#include "shape/gltf_write.h"

#include <cmath>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <limits>
#include <set>

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include "shape/gltf_read.h"
#include "shape/gltf_samples.h"
#include "shape/ray_scenes.h"
#include "support/random.h"

using namespace standpoint;
using namespace standpoint::gltf_samples;

namespace {

std::string glb_of(const Staging& staging) {
    StringSink sink;
    const Status status = write_glb(staging, sink);
    REQUIRE(status.ok());
    return sink.bytes;
}

// Left in the build folder, where the tests of the Khronos validator look for it.
void leave(const std::string& bytes, const std::string& folder, const std::string& name) {
    const auto path = std::filesystem::path(STANDPOINT_BINARY_DIR) / folder;
    std::filesystem::create_directories(path);
    std::ofstream(path / (name + ".glb"), std::ios::binary) << bytes;
}

std::string glb_of(const Staging& staging, const std::string& name) {
    const std::string bytes = glb_of(staging);
    leave(bytes, "validate", name);
    return bytes;
}

std::uint32_t word_at(const std::string& bytes, std::size_t at) {
    std::uint32_t out = 0;
    std::memcpy(&out, bytes.data() + at, 4);
    return out;
}

Json json_of(const std::string& glb) {
    return Json::parse(glb.substr(20, word_at(glb, 12)));
}

// Back from metres, Y up, to scene millimetres: the reader's own axes.
Mesh read_back(const std::string& glb) {
    const auto mesh = read_gltf(sample_path, one_file(glb), 1000);
    REQUIRE_MESSAGE(mesh.ok(), one_line(mesh.error()));
    check_sound(*mesh);
    return *mesh;
}

Mesh placed(const Staging& staging) {
    Mesh out;
    for (const StagedPiece& piece : staging.pieces) {
        const auto first = static_cast<std::uint32_t>(out.positions.size());
        for (const glm::dvec3& p : piece.mesh->positions)
            out.positions.push_back(to_outer(piece.placement.frame, piece.placement.scale * p));
        for (const glm::uvec3& t : piece.mesh->triangles)
            out.triangles.push_back(t + first);
    }
    return out;
}

double farthest(const Mesh& a, const Mesh& b) {
    REQUIRE(a.triangles.size() == b.triangles.size());
    double out = 0;
    for (std::size_t i = 0; i < a.triangles.size(); ++i)
        for (int c = 0; c < 3; ++c)
            out = std::max(
                out, glm::distance(a.positions[a.triangles[i][c]], b.positions[b.triangles[i][c]]));
    return out;
}

Staging one_piece(Mesh mesh, const Placement& placement = {}) {
    Staging out;
    out.pieces.push_back(ray_scenes::staged("piece", std::move(mesh), placement));
    return out;
}

Mesh square_of(const Material& material) {
    return ray_scenes::quad({0, 0, 0}, {100, 0, 0}, {100, 0, 100}, {0, 0, 100}, material);
}

Staging many_kinds() {
    Staging out = ray_scenes::landing(3);
    Material glass = ray_scenes::glass(0.4f), leaves = ray_scenes::leaves(8, 5);
    leaves.repeat_u = false;
    Material sign = ray_scenes::opaque();
    sign.image = std::make_shared<const Image>(four_texels());
    sign.two_sided = true;
    Mesh mixed = square_of(glass);
    for (const Material& material : {leaves, sign, ray_scenes::opaque()})
        append(mixed, square_of(material));
    out.pieces.push_back(
        ray_scenes::staged("mixed", mixed, ray_scenes::placed({900, 1200, 150}, 33, 5, -7, 12)));
    out.pieces.push_back(ray_scenes::staged("none", ray_scenes::empty_mesh(glass)));
    out.pieces.push_back(ray_scenes::staged("ball", ray_scenes::ball(50, 300, 230)));
    return out;
}

} // namespace

TEST_CASE("what is written stands where it stood") {
    support::Random random(51);
    for (int round = 0; round < 40; ++round) {
        Staging staging;
        for (const char* id : {"a", "b", "c"})
            staging.pieces.push_back(ray_scenes::staged(
                id, ray_scenes::ball(60, 9, 5),
                ray_scenes::placed(ray_scenes::point_in(random, {-9e3, -9e3, 0}, {9e3, 9e3, 3e3}),
                                   random.uniform(0, 360), random.uniform(-90, 90),
                                   random.uniform(-180, 180), random.uniform(0.5, 24))));
        // Single precision of 60 mm x 24, in the worst of three axes: under 0.0005 mm.
        CHECK(farthest(read_back(glb_of(staging)), placed(staging)) < 1e-3);
    }
}

TEST_CASE("exact quarter turns: corners of a box") {
    for (const double facing : {0.0, 90.0, 180.0, 270.0}) {
        const Staging staging = one_piece(ray_scenes::box({-50, -20, 0}, {50, 20, 80}),
                                          ray_scenes::placed({1000, 2000, 150}, facing, 0, 0, 12));
        CHECK(farthest(read_back(glb_of(staging)), placed(staging)) < 1e-4);
    }
}

TEST_CASE("a node a piece, named by id, and a mesh for each form") {
    Staging staging;
    const StagedPiece first = ray_scenes::staged("post", ray_scenes::box({0, 0, 0}, {5, 5, 90}));
    staging.pieces = {first, first, first};
    staging.pieces[1].id = "post-2";
    staging.pieces[2].id = "post-3";
    staging.pieces[1].placement = ray_scenes::placed({500, 0, 0}, 45);
    // Another mesh object of the same form and hash is the same mesh.
    staging.pieces[2].mesh = std::make_shared<const Mesh>(*first.mesh);
    const Json json = json_of(glb_of(staging));
    CHECK(json["meshes"].size() == 1);
    REQUIRE(json["nodes"].size() == 3);
    CHECK(json["nodes"][1]["name"] == "post-2");
    CHECK(json["nodes"][1]["translation"] == Json({0.5, 0.0, 0.0}));
    CHECK(json["nodes"][0].size() == 2); // neither moved, turned nor scaled
    // Hashes that agree by chance do not make two forms one.
    Mesh painted = *first.mesh;
    painted.materials[0].colour.r = 0.123f;
    staging.pieces[2].mesh = std::make_shared<const Mesh>(painted);
    CHECK(json_of(glb_of(staging))["meshes"].size() == 2);
}

TEST_CASE("bounds of positions are those of the numbers in the file, to the bit") {
    const std::string glb = glb_of(many_kinds());
    const Json json = json_of(glb);
    const std::size_t binary = 20 + word_at(glb, 12) + 8;
    int checked = 0;
    for (const Json& accessor : json["accessors"]) {
        if (!accessor.contains("min")) continue;
        const Json& view = json["bufferViews"][accessor["bufferView"].get<std::size_t>()];
        std::array<float, 3> low, high;
        low.fill(std::numeric_limits<float>::infinity());
        high.fill(-std::numeric_limits<float>::infinity());
        for (std::size_t i = 0; i < 3 * accessor["count"].get<std::size_t>(); ++i) {
            float value = 0;
            std::memcpy(&value, glb.data() + binary + view["byteOffset"].get<std::size_t>() + 4 * i,
                        4);
            low[i % 3] = std::min(low[i % 3], value);
            high[i % 3] = std::max(high[i % 3], value);
        }
        for (std::size_t c = 0; c < 3; ++c) {
            CHECK(accessor["min"][c].get<double>() == static_cast<double>(low[c]));
            CHECK(accessor["max"][c].get<double>() == static_cast<double>(high[c]));
        }
        ++checked;
    }
    CHECK(checked > 5);
}

TEST_CASE("the container is padded, its lengths add up, and nothing in it is an empty list") {
    const std::string glb = glb_of(many_kinds(), "many-kinds");
    CHECK(glb.substr(0, 4) == "glTF");
    CHECK(word_at(glb, 4) == 2);
    CHECK(word_at(glb, 8) == glb.size());
    const std::size_t json_size = word_at(glb, 12);
    CHECK(json_size % 4 == 0);
    const std::size_t binary_size = word_at(glb, 20 + json_size);
    CHECK(binary_size % 4 == 0);
    CHECK(20 + json_size + 8 + binary_size == glb.size());
    const Json json = json_of(glb);
    CHECK(json["buffers"][0]["byteLength"] == binary_size);
    for (const Json& view : json["bufferViews"])
        CHECK(view["byteOffset"].get<int>() % 4 == 0);
    std::string broken = glb; // a position beyond its bounds, for the validator to find
    broken[20 + json_size + 8 + json["bufferViews"][0]["byteOffset"].get<std::size_t>() + 3] = 0x50;
    leave(broken, "validate-broken", "beyond-bounds");
    const std::string text = json.dump();
    CHECK(text.find("[]") == std::string::npos);
    CHECK(text.find("{}") == std::string::npos);
    CHECK(text.find("null") == std::string::npos);
}

TEST_CASE("materials come back as they went") {
    const Staging staging = many_kinds();
    const auto& mixed = *staging.pieces[staging.pieces.size() - 3].mesh;
    Staging one;
    one.pieces.push_back(staging.pieces[staging.pieces.size() - 3]);
    const Mesh back = read_back(glb_of(one, "materials"));
    REQUIRE(mixed.materials.size() == 4);
    REQUIRE(back.materials.size() == 4);
    for (std::size_t i = 0; i < 4; ++i) {
        const Material &was = mixed.materials[i], &is = back.materials[i];
        CAPTURE(i);
        for (int c = 0; c < 3; ++c)
            CHECK(is.colour[c] == was.colour[c]);
        CHECK(std::abs(is.lets_through - was.lets_through) < 1e-6f);
        CHECK(is.two_sided == was.two_sided);
        CHECK((is.image != nullptr) == (was.image != nullptr));
        if (is.image) CHECK(is.image->rgba == was.image->rgba);
        if (is.image) CHECK(is.repeat_u == was.repeat_u);
        if (is.image) CHECK(is.repeat_v == was.repeat_v);
        if (was.lets_through == 0) CHECK(is.alpha_cutoff == was.alpha_cutoff);
    }
}

TEST_CASE("few vertices take 16-bit indices, many take 32") {
    const auto component = [](const Staging& staging) {
        const Json json = json_of(glb_of(staging));
        return json["accessors"][json["meshes"][0]["primitives"][0]["indices"].get<std::size_t>()]
                   ["componentType"];
    };
    for (const int triangles : {21845, 21846}) { // 65535 and 65538 vertices
        Mesh mesh = ray_scenes::empty_mesh(ray_scenes::opaque());
        for (int i = 0; i < triangles; ++i)
            ray_scenes::add_triangle(mesh, {i, 0, 0}, {i + 1, 0, 0}, {i, 0, 1});
        const Staging staging = one_piece(std::move(mesh));
        CHECK(component(staging) == (triangles == 21845 ? u16 : u32));
        CHECK(farthest(read_back(glb_of(staging)), placed(staging)) < 1e-2);
    }
}

TEST_CASE("the same staging gives the same bytes") {
    CHECK(glb_of(many_kinds()) == glb_of(many_kinds()));
}

TEST_CASE("a scene of nothing, and a piece of nothing, are files too") {
    for (const bool with_piece : {false, true}) {
        Staging staging;
        if (with_piece) staging = one_piece(ray_scenes::empty_mesh(ray_scenes::opaque()));
        const std::string glb = glb_of(staging, with_piece ? "empty-piece" : "empty-scene");
        CHECK(word_at(glb, 8) == glb.size());
        const Json json = json_of(glb);
        CHECK(!json.contains("buffers"));
        CHECK(!json.contains("meshes"));
        CHECK(json.contains("nodes") == with_piece);
    }
}

TEST_CASE("a triangle of two corners is not written, and normals are of length 1") {
    Mesh mesh = square_of(ray_scenes::opaque());
    mesh.triangles.push_back({0, 0, 1});
    mesh.part_of.push_back(0);
    mesh.normals.assign(mesh.positions.size(), glm::vec3(0, -3, 0));
    mesh.normals[0] = glm::vec3(0);
    const Mesh back = read_back(glb_of(one_piece(std::move(mesh)), "odd-mesh"));
    CHECK(back.triangles.size() == 2);
    REQUIRE(back.normals.size() == 4);
    CHECK(back.normals[1] == glm::vec3(0, -1, 0));
}

TEST_CASE("a sink that fails fails the export, whenever it does") {
    struct Full : Sink {
        int left;
        explicit Full(int writes) : left(writes) {}
        Status write(std::string_view) override {
            if (left-- > 0) return Done{};
            return io_error("scene.glb", "no space left");
        }
    };
    const Staging staging = many_kinds();
    for (int writes = 0; writes < 3; ++writes) {
        Full sink(writes);
        const Status status = write_glb(staging, sink);
        REQUIRE(!status.ok());
        CHECK(status.error().code == ErrorCode::io);
        CHECK(status.error().where == "scene.glb");
    }
    Full enough(3);
    CHECK(write_glb(staging, enough).ok());
}
