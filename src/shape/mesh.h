// Triangle meshes in the piece's axes, original's size, double millimetres.
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include <glm/mat3x3.hpp>
#include <glm/vec2.hpp>
#include <glm/vec3.hpp>
#include <glm/vec4.hpp>

#include "measure/box.h"

namespace standpoint {

struct Image { // 8-bit RGBA, rows from the top
    int width = 0, height = 0;
    std::vector<std::uint8_t> rgba; // 4 * width * height
};

struct Material {
    glm::vec4 colour{0.7f, 0.7f, 0.7f, 1.0f}; // linear, multiplied with the image
    std::shared_ptr<const Image> image;       // null: none; sRGB encoded colour
    bool repeat_u = true, repeat_v = true;    // else clamped
    float alpha_cutoff = -1;                  // >= 0: texels of lower alpha are cut out
    float lets_through = 0;                   // share of light that passes a crossing, 0..1
    float gloss = 0;                          // share mirrored seen straight on, 0..1
    bool two_sided = false;
};

struct MeshPart {
    std::string name;
    std::uint32_t material = 0; // index into Mesh::materials
    // The name of the document's part it belongs to; differs from `name` for the nodes of a model.
    std::string belongs_to{};
};

// Triangles are counter-clockwise seen from outside. Limits: 50 million triangles.
struct Mesh {
    std::vector<glm::dvec3> positions;
    std::vector<glm::vec3> normals; // one a position, unit length, or empty: flat shading
    std::vector<glm::vec2> uvs;     // one a position, or empty
    std::vector<glm::uvec3> triangles;
    std::vector<std::uint32_t> part_of; // one a triangle, index into parts
    std::vector<MeshPart> parts;
    std::vector<Material> materials;
};

inline constexpr std::size_t largest_mesh_triangles = 50'000'000;

Box bounds(const Mesh& mesh); // of what its triangles use
// Keeps parts and materials apart. Where only one of the two has normals the other gets flat ones.
void append(Mesh& mesh, const Mesh& more);
// Moves and turns every position and normal; scale > 0, uniform.
void transform(Mesh& mesh, const glm::dmat3& rotation, const glm::dvec3& offset, double scale);

float linear_of_srgb(std::uint8_t channel); // IEC 61966-2-1, 0..1

// True when a triangle is cut out at this barycentric place (weights of its 2nd and 3rd corner).
bool cut_out(const Mesh& mesh, std::uint32_t triangle, double u, double v);
// Nearest texel, repeated or clamped as the material says; white without an image.
glm::vec4 texel(const Material& material, const glm::vec2& uv); // linear colour, alpha as stored

} // namespace standpoint
