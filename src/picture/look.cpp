// Colours from materials, textures and the kind of thing that was met.
#include "picture/look.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <glm/geometric.hpp>

#include "picture/sampling.h"
#include "picture/tone.h"

namespace standpoint {
namespace {

// Share of light a smooth skin of glass or water mirrors straight on: ((1.33 - 1)/(1.33 + 1))^2.
constexpr double water_gloss = 0.02;
constexpr double floor_gloss = 0.018;
constexpr glm::dvec3 concrete{0.36, 0.35, 0.335};

const std::array<double, 256>& linear_of_byte() {
    static const std::array<double, 256> table = [] {
        std::array<double, 256> out{};
        for (int i = 0; i < 256; ++i)
            out[static_cast<std::size_t>(i)] = linear_of_srgb(i / 255.0);
        return out;
    }();
    return table;
}

int placed(int index, int count, bool repeat) {
    if (!repeat) return std::clamp(index, 0, count - 1);
    const int rest = index % count;
    return rest < 0 ? rest + count : rest;
}

glm::dvec3 pixel_of(const Image& image, int x, int y) {
    const std::size_t at = 4 * (static_cast<std::size_t>(y) * image.width + x);
    const auto& table = linear_of_byte();
    return {table[image.rgba[at]], table[image.rgba[at + 1]], table[image.rgba[at + 2]]};
}

glm::dvec3 colour_of(const Mesh& mesh, const glm::uvec3& corners, const Material& material,
                     const Crossing& crossing) {
    const glm::dvec3 base(material.colour);
    if (material.image == nullptr || mesh.uvs.empty()) return base;
    const float w = 1 - crossing.u - crossing.v;
    const glm::vec2 uv = mesh.uvs[corners.x] * w + mesh.uvs[corners.y] * crossing.u +
                         mesh.uvs[corners.z] * crossing.v;
    return base * smooth_texel(material, uv);
}

glm::dvec3 smoothed_normal(const StagedPiece& piece, const glm::uvec3& corners,
                           const Crossing& crossing, const glm::dvec3& flat) {
    const Mesh& mesh = *piece.mesh;
    if (mesh.normals.empty()) return flat;
    const double u = crossing.u, v = crossing.v;
    const glm::dvec3 inner = glm::dvec3(mesh.normals[corners.x]) * (1 - u - v) +
                             glm::dvec3(mesh.normals[corners.y]) * u +
                             glm::dvec3(mesh.normals[corners.z]) * v;
    const glm::dvec3 turned = piece.placement.frame.rotation * inner;
    const double length = glm::length(turned);
    return length > 1e-9 ? turned / length : flat;
}

// A sheet that lies flat and lets light through is water, and water is never quite still.
glm::dvec3 rippled(const glm::dvec3& normal, const glm::dvec3& place) {
    if (normal.z < 0.9) return normal;
    const auto slope = [&](double x, double y, std::uint64_t seed) {
        return smooth_noise(x / 90, y / 60, seed) + 0.5 * smooth_noise(x / 31, y / 24, seed + 1) -
               0.75;
    };
    return glm::normalize(normal + glm::dvec3(slope(place.x, place.y, 11) * 0.018,
                                              slope(place.x, place.y, 23) * 0.030, 0));
}

} // namespace

glm::dvec3 smooth_texel(const Material& material, const glm::vec2& uv) {
    if (material.image == nullptr) return glm::dvec3(1.0);
    const Image& image = *material.image;
    const double wide = image.width, high = image.height;
    // Whole turns of a repeated texture are taken off before pixels are counted.
    const double u = material.repeat_u ? uv.x - std::floor(uv.x) : std::clamp<double>(uv.x, 0, 1);
    const double v = material.repeat_v ? uv.y - std::floor(uv.y) : std::clamp<double>(uv.y, 0, 1);
    const double x = u * wide - 0.5, y = v * high - 0.5;
    const int x0 = static_cast<int>(std::floor(x)), y0 = static_cast<int>(std::floor(y));
    const double fx = x - x0, fy = y - y0;
    const int xa = placed(x0, image.width, material.repeat_u);
    const int xb = placed(x0 + 1, image.width, material.repeat_u);
    const int ya = placed(y0, image.height, material.repeat_v);
    const int yb = placed(y0 + 1, image.height, material.repeat_v);
    const glm::dvec3 top = pixel_of(image, xa, ya) * (1 - fx) + pixel_of(image, xb, ya) * fx;
    const glm::dvec3 foot = pixel_of(image, xa, yb) * (1 - fx) + pixel_of(image, xb, yb) * fx;
    return top * (1 - fy) + foot * fy;
}

Look look_at_crossing(const Staging& staging, const Crossing& crossing, const glm::dvec3& origin,
                      const glm::dvec3& direction) {
    const StagedPiece& piece = staging.pieces[crossing.piece];
    const Mesh& mesh = *piece.mesh;
    const glm::uvec3 corners = mesh.triangles[crossing.triangle];
    const Material& material = mesh.materials[mesh.parts[mesh.part_of[crossing.triangle]].material];
    const Triangle t = scene_triangle(piece, crossing.triangle);
    Look look;
    look.place = origin + direction * crossing.distance;
    const glm::dvec3 across = glm::cross(t.b - t.a, t.c - t.a);
    const double area = glm::length(across);
    look.flat_normal = area > 0 ? across / area : -direction;
    look.normal = smoothed_normal(piece, corners, crossing, look.flat_normal);
    if (glm::dot(look.flat_normal, direction) > 0) {
        look.flat_normal = -look.flat_normal;
        look.normal = -look.normal;
    }
    if (glm::dot(look.normal, look.flat_normal) <= 0) look.normal = look.flat_normal;
    look.lets_through = std::clamp<double>(material.lets_through, 0, 1);
    look.colour = colour_of(mesh, corners, material, crossing);
    look.gloss = std::clamp<double>(material.gloss, 0, 1);
    // Mist and steam are no surface: they dim and do not mirror.
    const bool airy = piece.piece != nullptr && piece.piece->kind == PieceKind::effect;
    if (look.lets_through > 0 && !airy) {
        look.gloss = std::max(look.gloss, water_gloss);
        look.normal = rippled(look.normal, look.place);
    }
    return look;
}

Look look_at_floor(const glm::dvec3& place) {
    Look look;
    look.place = {place.x, place.y, 0};
    look.flat_normal = look.normal = {0, 0, 1};
    const double cloud = smooth_noise(place.x / 900, place.y / 900, 1) * 0.6 +
                         smooth_noise(place.x / 240, place.y / 240, 2) * 0.4;
    const double grain = smooth_noise(place.x / 14, place.y / 14, 3) * 0.55 +
                         smooth_noise(place.x / 5, place.y / 5, 4) * 0.45;
    look.colour = concrete * (1 + 0.10 * (cloud - 0.5) + 0.12 * (grain - 0.5));
    look.gloss = floor_gloss;
    return look;
}

} // namespace standpoint
