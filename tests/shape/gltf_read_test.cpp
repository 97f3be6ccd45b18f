// Geometry out of glTF: every way of writing the same triangles gives the same triangles.
#include "shape/gltf_read.h"

#include <cmath>
#include <set>

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include "shape/gltf_samples.h"
#include "shape/mass_properties.h"
#include "support/random.h"

using namespace standpoint;
using namespace standpoint::gltf_samples;

namespace {

std::vector<glm::vec3> random_points(support::Random& random, int count) {
    std::vector<glm::vec3> out;
    for (int i = 0; i < count; ++i)
        out.push_back(
            glm::vec3(random.uniform(-1, 1), random.uniform(-1, 1), random.uniform(-1, 1)));
    return out;
}

Mesh read_mode(const std::vector<glm::vec3>& points, const std::vector<std::uint32_t>& indices,
               int mode, int component = u16) {
    Sample sample = empty_sample();
    const int positions = add_points(sample, points);
    add_mesh(sample, positions, indices.empty() ? -1 : add_indices(sample, indices, component),
             mode);
    return read_sample(sample);
}

} // namespace

TEST_CASE("axes and unit: (x, y, z) becomes (x, -z, y) times the unit") {
    Sample sample = empty_sample();
    add_mesh(sample, add_points(sample, {{1, 2, 3}, {4, 5, 6}, {0.5f, 0, -0.25f}}));
    const Mesh mesh = read_sample(sample, 25.4);
    REQUIRE(mesh.positions.size() == 3);
    CHECK(glm::distance(mesh.positions[0], glm::dvec3(1, -3, 2) * 25.4) < 1e-12);
    CHECK(glm::distance(mesh.positions[1], glm::dvec3(4, -6, 5) * 25.4) < 1e-12);
    CHECK(glm::distance(mesh.positions[2], glm::dvec3(0.5, 0.25, 0) * 25.4) < 1e-12);
}

TEST_CASE("a closed tetrahedron keeps its volume and stays outward") {
    const MassProperties mass = mass_properties(read_sample(tetrahedron()));
    CHECK(mass.closed);
    // Closed form: a b c / 6.
    CHECK(std::abs(mass.volume - 1e9 / 6) < 1e-3);
}

TEST_CASE("strip, fan and list of one pentagon are the same triangles") {
    const std::vector<glm::vec3> points{{0, 0, 0}, {2, 0, 0}, {3, 1, 0}, {1, 3, 0}, {-1, 1, 0}};
    const auto list = triangle_set(read_mode(points, {1, 2, 0, 2, 3, 0, 3, 4, 0}, 4));
    CHECK(triangle_set(read_mode(points, {}, 6)) == list);
    CHECK(triangle_set(read_mode(points, {0, 1, 2, 3, 4}, 6)) == list);
    CHECK(triangle_set(read_mode(points, {1, 2, 0, 3, 4}, 5)) == list);
    CHECK(triangle_set(read_mode(points, {1, 2, 0, 3, 4, 4, 4}, 5)) == list); // stitches vanish
}

TEST_CASE("random strips and fans are the lists that the standard writes out") {
    support::Random random(11);
    for (int round = 0; round < 30; ++round) {
        const int count = static_cast<int>(random.integer(3, 40));
        const auto points = random_points(random, count);
        std::vector<std::uint32_t> strip, fan; // glTF 2.0 specification, 3.7.2.1
        for (std::uint32_t i = 0; i + 2 < static_cast<std::uint32_t>(count); ++i) {
            strip.insert(strip.end(), {i, i + (1 + i % 2), i + (2 - i % 2)});
            fan.insert(fan.end(), {i + 1, i + 2, 0});
        }
        CHECK(triangle_set(read_mode(points, {}, 5)) == triangle_set(read_mode(points, strip, 4)));
        CHECK(triangle_set(read_mode(points, {}, 6)) == triangle_set(read_mode(points, fan, 4)));
    }
}

TEST_CASE("indexed in any width, or not indexed, is the same") {
    support::Random random(12);
    const auto points = random_points(random, 40);
    std::vector<std::uint32_t> indices;
    std::vector<glm::vec3> plain;
    for (int i = 0; i < 90; ++i) {
        indices.push_back(static_cast<std::uint32_t>((i * 7 + i / 3) % 40));
        plain.push_back(points[indices.back()]);
    }
    const auto expected = triangle_set(read_mode(plain, {}, 4));
    CHECK(expected.size() == 30);
    for (const int component : {u8, u16, u32})
        CHECK(triangle_set(read_mode(points, indices, 4, component)) == expected);
}

TEST_CASE("vertices that no triangle uses, and triangles without area at a point, are left out") {
    const Mesh mesh = read_mode({{9, 9, 9}, {0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 0}, {7, 7, 7}},
                                {1, 2, 3, 1, 4, 5, 2, 2, 3}, 4);
    CHECK(mesh.triangles.size() == 1);
    CHECK(mesh.positions.size() == 3);
}

TEST_CASE("sparse is dense with some elements replaced") {
    support::Random random(13);
    for (const int component : {u8, u16, u32}) {
        const auto base = random_points(random, 60);
        auto dense = base;
        std::vector<std::uint32_t> where;
        std::vector<glm::vec3> what;
        for (std::uint32_t i = 0; i < 60; i += static_cast<std::uint32_t>(random.integer(1, 2))) {
            where.push_back(i);
            what.push_back(glm::vec3(static_cast<float>(random.uniform(2, 3))));
            what.back().x = static_cast<float>(i);
            dense[i] = what.back();
        }
        Sample sample = empty_sample();
        const int points = add_points(sample, base);
        const int at = add_indices(sample, where, component), values = add_points(sample, what);
        const Json accessors = sample.json["accessors"];
        sample.json["accessors"][points]["sparse"] = {
            {"count", where.size()},
            {"indices",
             {{"bufferView", accessors[at]["bufferView"]}, {"componentType", component}}},
            {"values", {{"bufferView", accessors[values]["bufferView"]}}}};
        add_mesh(sample, points);
        CHECK(triangle_set(read_sample(sample)) == triangle_set(read_mode(dense, {}, 4)));

        // Without a view beneath, what is not replaced is zero.
        sample.json["accessors"][points].erase("bufferView");
        std::vector<glm::vec3> zeros(60, glm::vec3(0.0f));
        for (std::size_t i = 0; i < where.size(); ++i)
            zeros[where[i]] = what[i];
        CHECK(triangle_set(read_sample(sample)) == triangle_set(read_mode(zeros, {}, 4)));
    }
}

TEST_CASE("normalised integers are the numbers they stand for, to half a step") {
    support::Random random(14);
    struct Kind {
        int component;
        double full, low;
    };
    for (const Kind kind :
         {Kind{u8, 255, 0}, Kind{u16, 65535, 0}, Kind{i8, 127, -1}, Kind{i16, 32767, -1}}) {
        std::vector<glm::vec3> points;
        std::string bytes;
        for (int i = 0; i < 90; ++i) {
            glm::vec3 p(0.0f);
            for (int c = 0; c < 3; ++c) {
                p[c] = static_cast<float>(random.uniform(kind.low, 1));
                const auto whole = std::lround(static_cast<double>(p[c]) * kind.full);
                bytes += static_cast<char>(whole & 0xff);
                if (kind.full > 255) bytes += static_cast<char>(whole >> 8 & 0xff);
            }
            points.push_back(p);
        }
        Sample sample = empty_sample();
        add_mesh(sample, add_accessor(sample, bytes, kind.component, "VEC3", 90, true));
        sample.json["extensionsRequired"] = {"KHR_mesh_quantization"};
        const auto expected = read_mode(points, {}, 4), found = read_sample(sample);
        REQUIRE(found.positions.size() == 90);
        double worst = 0;
        for (std::size_t i = 0; i < 90; ++i)
            worst = std::max(worst, glm::distance(found.positions[i], expected.positions[i]));
        CHECK(worst < std::sqrt(3.0) * 0.5001 / kind.full * 1000);
        // Not normalised they are whole numbers.
        sample.json["accessors"][0].erase("normalized");
        const auto whole = read_sample(sample, 1);
        worst = 0;
        for (std::size_t i = 0; i < 90; ++i)
            worst = std::max(
                worst, glm::distance(whole.positions[i], found.positions[i] * kind.full / 1000.0));
        CHECK(worst < 1e-6 * kind.full);
    }
}

TEST_CASE("the most negative normalised value is -1, not less") {
    Sample sample = empty_sample();
    const std::string bytes =
        bytes_of(std::vector<std::int8_t>{-128, 0, 0, -127, 127, 0, 127, 0, 0});
    add_mesh(sample, add_accessor(sample, bytes, i8, "VEC3", 3, true));
    sample.json["extensionsRequired"] = {"KHR_mesh_quantization"};
    const Mesh mesh = read_sample(sample);
    CHECK(mesh.positions[0].x == -1000);
    CHECK(mesh.positions[1].x == -1000);
    CHECK(mesh.positions[1].z == 1000);
}

TEST_CASE("interleaved and separate attributes are the same") {
    const std::vector<glm::vec3> points = tetrahedron_points();
    std::vector<glm::vec3> both;
    for (const auto& p : points)
        both.insert(both.end(), {p, glm::normalize(p + glm::vec3(0.1f))});
    Sample sample = empty_sample();
    const int view = add_view(sample, bytes_of(both), 24);
    sample.json["accessors"] = Json::array();
    for (const int offset : {0, 12})
        sample.json["accessors"].push_back({{"bufferView", view},
                                            {"byteOffset", offset},
                                            {"componentType", f32},
                                            {"count", 4},
                                            {"type", "VEC3"}});
    const int indices = add_indices(sample, tetrahedron_indices());
    add_mesh(sample, 0, indices)["attributes"]["NORMAL"] = 1;
    const Mesh mesh = read_sample(sample);
    CHECK(triangle_set(mesh) == triangle_set(read_sample(tetrahedron())));
    REQUIRE(mesh.normals.size() == 4);
    CHECK(glm::distance(mesh.normals[1], glm::normalize(glm::vec3(1.1f, -0.1f, 0.1f))) < 1e-6f);
}

TEST_CASE(".glb, .gltf beside its buffer and .gltf with a data URI are the same") {
    const Sample sample = tetrahedron();
    const auto expected = triangle_set(read_sample(sample));
    MemoryFiles files = one_file(with_data_uri(sample));
    CHECK(triangle_set(*read_gltf(sample_path, files, 1000)) == expected);
    for (const std::string uri : {"buffer.bin", "parts/a%20buffer.bin", "./buffer.bin"}) {
        files = one_file(with_external(sample, uri));
        files.files["models/buffer.bin"] = sample.bytes;
        files.files["models/parts/a buffer.bin"] = sample.bytes;
        const auto mesh = read_gltf(sample_path, files, 1000);
        REQUIRE_MESSAGE(mesh.ok(), one_line(mesh.error()));
        CHECK(triangle_set(*mesh) == expected);
    }
}

TEST_CASE("missing normals are flat: none at all, or those of the faces beside others") {
    CHECK(read_sample(tetrahedron()).normals.empty());
    Sample sample = tetrahedron();
    Json& primitives = sample.json["meshes"][0]["primitives"];
    primitives.push_back(primitives[0]);
    const int up = add_points(sample, std::vector<glm::vec3>(4, {0, 2, 0}));
    sample.json["meshes"][0]["primitives"][1]["attributes"]["NORMAL"] = up;
    const Mesh mesh = read_sample(sample);
    REQUIRE(mesh.triangles.size() == 8);
    for (std::size_t i = 0; i < 8; ++i) {
        const glm::uvec3& t = mesh.triangles[i];
        const auto& p = mesh.positions;
        const glm::dvec3 face = glm::normalize(glm::cross(p[t.y] - p[t.x], p[t.z] - p[t.x]));
        const glm::dvec3 expected = i < 4 ? face : glm::dvec3(0, 0, 1);
        for (int c = 0; c < 3; ++c)
            CHECK(glm::distance(glm::dvec3(mesh.normals[t[c]]), expected) < 1e-6);
    }
}

TEST_CASE("points and lines are passed over where there are triangles too") {
    Sample sample = tetrahedron();
    Json& primitives = sample.json["meshes"][0]["primitives"];
    for (const int mode : {0, 1, 2, 3}) {
        primitives.push_back(primitives[0]);
        primitives.back()["mode"] = mode;
    }
    CHECK(read_sample(sample).triangles.size() == 4);
}

TEST_CASE("extensions that leave the shape alone may be required, and unknown ones used") {
    Sample sample = tetrahedron();
    sample.json["extensionsUsed"] = {"EXT_of_some_kind", "KHR_materials_unlit"};
    sample.json["extensionsRequired"] = {"KHR_materials_unlit", "KHR_lights_punctual"};
    sample.json["asset"]["minVersion"] = "2.0";
    CHECK(triangle_set(read_sample(sample)) == triangle_set(read_sample(tetrahedron())));
}

TEST_CASE("the content hash follows the file and what is read with it, and nothing else") {
    const Sample sample = tetrahedron();
    MemoryFiles files = one_file(with_external(sample, "buffer.bin"));
    files.files["models/buffer.bin"] = sample.bytes;
    const auto hash = [&] {
        const auto result = gltf_content_hash(sample_path, files);
        REQUIRE(result.ok());
        return *result;
    };
    std::set<std::uint64_t> seen{hash()};
    files.files["models/other.bin"] = "more";
    CHECK(seen.contains(hash()));
    files.files["models/buffer.bin"][5] ^= 1;
    CHECK(seen.insert(hash()).second);
    files.files["models/buffer.bin"] += '\0';
    CHECK(seen.insert(hash()).second);
    files.files[sample_path] += ' ';
    CHECK(seen.insert(hash()).second);

    Sample painted = textured_square("");
    painted.json["images"][0] = {{"uri", "paint.png"}};
    painted.json["images"].push_back({{"uri", "unused.png"}});
    files.files[sample_path] = as_glb(painted);
    CHECK(gltf_content_hash(sample_path, files).error().message.find("paint.png") !=
          std::string::npos);
    files.files["models/paint.png"] = "a";
    CHECK(seen.insert(hash()).second);
    files.files["models/paint.png"] = "b";
    CHECK(seen.insert(hash()).second);
}
