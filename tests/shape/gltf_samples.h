// Small glTF files built in memory for the tests of the reader.
#pragma once

#include <array>
#include <string>
#include <vector>

#include <glm/vec3.hpp>
#include <nlohmann/json.hpp>

#include "base/files.h"
#include "shape/mesh.h"

namespace standpoint::gltf_samples {

using Json = nlohmann::json;

inline constexpr int u8 = 5121, u16 = 5123, u32 = 5125, i8 = 5120, i16 = 5122, f32 = 5126;

struct Sample { // one buffer, everything else in the JSON
    Json json;
    std::string bytes;
};

template <class T> std::string bytes_of(const std::vector<T>& values) {
    return std::string(reinterpret_cast<const char*>(values.data()), values.size() * sizeof(T));
}

Sample empty_sample();
int add_view(Sample& sample, const std::string& bytes, int stride = 0);
// Rows that are no multiple of 4 bytes are padded to it, with a byteStride, as glTF asks of
// vertices.
int add_accessor(Sample& sample, const std::string& bytes, int component, const std::string& type,
                 int count, bool normalised = false);
int add_points(Sample& sample, const std::vector<glm::vec3>& points);
int add_indices(Sample& sample, const std::vector<std::uint32_t>& indices, int component = u16);
// A mesh of one primitive and a node of it; returns the primitive.
Json& add_mesh(Sample& sample, int positions, int indices = -1, int mode = 4);

// A tetrahedron with its corner at the origin, closed and outward, 1 unit along each axis.
std::vector<glm::vec3> tetrahedron_points();
std::vector<std::uint32_t> tetrahedron_indices();
Sample tetrahedron();
// A square of two triangles in z = 0, facing +z, with TEXCOORD_0 and an image of 2 x 2 texels.
Sample textured_square(const std::string& image_bytes, const std::string& mime = "image/png");
Image four_texels(); // red, green / blue, half transparent white

std::string base64(const std::string& bytes);
std::string as_glb(const Sample& sample);
std::string as_glb(const std::string& json, const std::string& binary);
std::string with_data_uri(const Sample& sample);
std::string with_external(const Sample& sample, const std::string& uri); // names the buffer

MemoryFiles one_file(const std::string& bytes); // "models/x.glb"
inline const std::string sample_path = "models/x.glb";

// Reads a sample as .glb; the test fails when it is refused.
Mesh read_sample(const Sample& sample, double unit_mm = 1000);
// The message of the refusal, with the tests that every refusal must pass: place, one line.
std::string refusal(const std::string& bytes);
std::string refusal(const Sample& sample);

// Triangles as corner coordinates, each turned to start at its least corner, sorted.
using Corners = std::array<std::array<double, 3>, 3>;
std::vector<Corners> triangle_set(const Mesh& mesh);

// What every mesh that the reader returns must hold.
void check_sound(const Mesh& mesh);

} // namespace standpoint::gltf_samples
