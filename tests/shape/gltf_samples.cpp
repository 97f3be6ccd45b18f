// Small glTF files built in memory for the tests of the reader.
#include "shape/gltf_samples.h"

#include <algorithm>
#include <cmath>

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include "shape/gltf_read.h"

namespace standpoint::gltf_samples {

namespace {

int component_size(int component) {
    if (component == u8 || component == i8) return 1;
    return component == u16 || component == i16 ? 2 : 4;
}

std::string word(std::size_t value) {
    std::string out;
    for (int shift = 0; shift < 32; shift += 8)
        out += static_cast<char>(value >> shift & 0xff);
    return out;
}

std::string padded(std::string bytes, char filler) {
    bytes.resize((bytes.size() + 3) / 4 * 4, filler);
    return bytes;
}

} // namespace

Sample empty_sample() {
    Sample out;
    out.json = {{"asset", {{"version", "2.0"}}}, {"buffers", Json::array({Json::object()})}};
    return out;
}

int add_view(Sample& sample, const std::string& bytes, int stride) {
    Json view{{"buffer", 0}, {"byteOffset", sample.bytes.size()}, {"byteLength", bytes.size()}};
    if (stride != 0) view["byteStride"] = stride;
    sample.bytes = padded(sample.bytes + bytes, '\0');
    sample.json["buffers"][0]["byteLength"] = sample.bytes.size();
    sample.json["bufferViews"].push_back(view);
    return static_cast<int>(sample.json["bufferViews"].size()) - 1;
}

int add_accessor(Sample& sample, const std::string& bytes, int component, const std::string& type,
                 int count, bool normalised) {
    const int width = type == "SCALAR" ? 1 : type.back() - '0';
    const int row = width * component_size(component);
    const int stride = type == "SCALAR" ? row : (row + 3) / 4 * 4;
    std::string rows;
    for (int i = 0; i < count; ++i) {
        rows += bytes.substr(static_cast<std::size_t>(i * row), static_cast<std::size_t>(row));
        rows.append(static_cast<std::size_t>(stride - row), '\0');
    }
    const int view = add_view(sample, rows, stride == row ? 0 : stride);
    Json accessor{
        {"bufferView", view}, {"componentType", component}, {"count", count}, {"type", type}};
    if (normalised) accessor["normalized"] = true;
    sample.json["accessors"].push_back(accessor);
    return static_cast<int>(sample.json["accessors"].size()) - 1;
}

int add_points(Sample& sample, const std::vector<glm::vec3>& points) {
    return add_accessor(sample, bytes_of(points), f32, "VEC3", static_cast<int>(points.size()));
}

int add_indices(Sample& sample, const std::vector<std::uint32_t>& indices, int component) {
    const auto count = static_cast<int>(indices.size());
    if (component == u8)
        return add_accessor(sample,
                            bytes_of(std::vector<std::uint8_t>(indices.begin(), indices.end())), u8,
                            "SCALAR", count);
    if (component == u16)
        return add_accessor(sample,
                            bytes_of(std::vector<std::uint16_t>(indices.begin(), indices.end())),
                            u16, "SCALAR", count);
    return add_accessor(sample, bytes_of(indices), u32, "SCALAR", count);
}

Json& add_mesh(Sample& sample, int positions, int indices, int mode) {
    Json primitive{{"attributes", {{"POSITION", positions}}}};
    if (indices >= 0) primitive["indices"] = indices;
    if (mode != 4) primitive["mode"] = mode;
    Json& meshes = sample.json["meshes"];
    meshes.push_back({{"primitives", Json::array({primitive})}});
    sample.json["nodes"].push_back({{"mesh", meshes.size() - 1}});
    return meshes.back()["primitives"][0];
}

std::vector<glm::vec3> tetrahedron_points() {
    return {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
}

std::vector<std::uint32_t> tetrahedron_indices() {
    return {0, 2, 1, 0, 1, 3, 0, 3, 2, 1, 2, 3};
}

Sample tetrahedron() {
    Sample out = empty_sample();
    const int points = add_points(out, tetrahedron_points());
    const int indices = add_indices(out, tetrahedron_indices());
    add_mesh(out, points, indices);
    return out;
}

Sample textured_square(const std::string& image_bytes, const std::string& mime) {
    Sample out = empty_sample();
    const int points = add_points(out, {{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {0, 1, 0}});
    const std::vector<float> uvs{0, 1, 1, 1, 1, 0, 0, 0};
    const int uv = add_accessor(out, bytes_of(uvs), f32, "VEC2", 4);
    const int indices = add_indices(out, {0, 1, 2, 0, 2, 3});
    const int view = add_view(out, image_bytes);
    Json& primitive = add_mesh(out, points, indices);
    primitive["attributes"]["TEXCOORD_0"] = uv;
    primitive["material"] = 0;
    out.json["images"] = Json::array({{{"bufferView", view}, {"mimeType", mime}}});
    out.json["textures"] = Json::array({{{"source", 0}}});
    out.json["materials"] =
        Json::array({{{"pbrMetallicRoughness", {{"baseColorTexture", {{"index", 0}}}}}}});
    return out;
}

Image four_texels() {
    return {2, 2, {255, 0, 0, 255, 0, 255, 0, 255, 0, 0, 255, 255, 255, 255, 255, 100}};
}

std::string base64(const std::string& bytes) {
    static const char* letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string out;
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        std::uint32_t three = 0;
        for (std::size_t k = 0; k < 3; ++k)
            three =
                three << 8 | (i + k < bytes.size() ? static_cast<unsigned char>(bytes[i + k]) : 0);
        for (std::size_t k = 0; k < 4; ++k)
            out += i + k > bytes.size() ? '=' : letters[three >> (18 - 6 * k) & 63];
    }
    return out;
}

std::string as_glb(const std::string& json, const std::string& binary) {
    const std::string text = padded(json, ' '), data = padded(binary, '\0');
    std::string chunks = word(text.size()) + "JSON" + text;
    if (!data.empty()) chunks += word(data.size()) + std::string("BIN\0", 4) + data;
    return "glTF" + word(2) + word(12 + chunks.size()) + chunks;
}

std::string as_glb(const Sample& sample) {
    return as_glb(sample.json.dump(), sample.bytes);
}

std::string with_data_uri(const Sample& sample) {
    return with_external(sample, "data:application/octet-stream;base64," + base64(sample.bytes));
}

std::string with_external(const Sample& sample, const std::string& uri) {
    Json json = sample.json;
    json["buffers"][0]["uri"] = uri;
    return json.dump(1);
}

MemoryFiles one_file(const std::string& bytes) {
    MemoryFiles files;
    files.files[sample_path] = bytes;
    return files;
}

Mesh read_sample(const Sample& sample, double unit_mm) {
    const auto mesh = read_gltf(sample_path, one_file(as_glb(sample)), unit_mm);
    REQUIRE_MESSAGE(mesh.ok(), one_line(mesh.error()));
    check_sound(*mesh);
    return *mesh;
}

std::string refusal(const std::string& bytes) {
    const auto mesh = read_gltf(sample_path, one_file(bytes), 1000);
    REQUIRE_MESSAGE(!mesh.ok(), "accepted, with ", mesh.ok() ? mesh->triangles.size() : 0,
                    " triangles");
    const Error& error = mesh.error();
    CHECK(error.where == sample_path);
    CHECK(error.message.find('\n') == std::string::npos);
    CHECK(error.message.find("found ") != std::string::npos);
    CHECK(error.message.find("expected ") != std::string::npos);
    return error.message;
}

std::string refusal(const Sample& sample) {
    return refusal(as_glb(sample));
}

std::vector<Corners> triangle_set(const Mesh& mesh) {
    std::vector<Corners> out;
    for (const glm::uvec3& t : mesh.triangles) {
        Corners corners{};
        for (int c = 0; c < 3; ++c) {
            const glm::dvec3& p = mesh.positions[t[c]];
            corners[static_cast<std::size_t>(c)] = {p.x, p.y, p.z};
        }
        std::rotate(corners.begin(), std::min_element(corners.begin(), corners.end()),
                    corners.end());
        out.push_back(corners);
    }
    std::sort(out.begin(), out.end());
    return out;
}

void check_sound(const Mesh& mesh) {
    bool sound = !mesh.triangles.empty() && mesh.part_of.size() == mesh.triangles.size() &&
                 (mesh.normals.empty() || mesh.normals.size() == mesh.positions.size()) &&
                 (mesh.uvs.empty() || mesh.uvs.size() == mesh.positions.size());
    for (const glm::uvec3& t : mesh.triangles)
        for (int c = 0; c < 3; ++c)
            sound = sound && t[c] < mesh.positions.size();
    for (const std::uint32_t part : mesh.part_of)
        sound = sound && part < mesh.parts.size();
    for (const MeshPart& part : mesh.parts)
        sound = sound && part.material < mesh.materials.size();
    for (const glm::dvec3& p : mesh.positions)
        sound = sound && std::isfinite(p.x) && std::isfinite(p.y) && std::isfinite(p.z);
    for (const glm::vec3& n : mesh.normals)
        sound = sound && std::abs(glm::length(n) - 1) < 1e-5f;
    for (const Material& m : mesh.materials)
        sound = sound && m.lets_through >= 0 && m.lets_through <= 1 && m.colour.a <= 1;
    CHECK(sound);
}

} // namespace standpoint::gltf_samples
