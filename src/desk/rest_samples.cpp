// Sampling the lowest region of a solid.
#include "desk/rest_samples.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <glm/geometric.hpp>

namespace standpoint {

namespace {

using Corners = std::array<glm::dvec3, 3>;

glm::dvec3 drawn_in(const glm::dvec3& point, const Corners& corners) {
    constexpr double inset_mm = 0.01;
    const glm::dvec3 middle = (corners[0] + corners[1] + corners[2]) / 3.0;
    const glm::dvec3 towards = middle - point;
    const double away = glm::length(towards);
    const glm::dvec3 in = away > inset_mm ? point + towards * (inset_mm / away) : middle;
    return {in.x, in.y, point.z};
}

// A lattice over a triangle, its corners first; finer on a large one.
void add_lattice(const Corners& corners, std::vector<glm::dvec3>& samples) {
    const double longest =
        std::max({glm::distance(corners[0], corners[1]), glm::distance(corners[1], corners[2]),
                  glm::distance(corners[2], corners[0])});
    constexpr double pitch_mm = 50;
    constexpr double finest = 16;
    const int parts = static_cast<int>(std::clamp(std::ceil(longest / pitch_mm), 1.0, finest));
    for (int i = 0; i <= parts; ++i)
        for (int j = 0; i + j <= parts; ++j) {
            const double u = static_cast<double>(i) / parts, v = static_cast<double>(j) / parts;
            const glm::dvec3 point = corners[0] * (1 - u - v) + corners[1] * u + corners[2] * v;
            samples.push_back(drawn_in(point, corners));
        }
}

// Of each corner in the scene; the same to the bit as to_outer() gives, without the rest.
std::vector<double> corner_heights(const Mesh& mesh, const Placement& placement) {
    const glm::dmat3& turn = placement.frame.rotation;
    const double scale = placement.scale, start = placement.frame.origin.z;
    std::vector<double> heights;
    heights.reserve(mesh.positions.size());
    for (const glm::dvec3& p : mesh.positions)
        heights.push_back(start + (turn[0].z * (scale * p.x) + turn[1].z * (scale * p.y) +
                                   turn[2].z * (scale * p.z)));
    return heights;
}

void thin(std::vector<glm::dvec3>& samples) {
    if (samples.size() <= most_rest_samples) return;
    std::vector<glm::dvec3> kept;
    for (std::size_t i = 0; i < most_rest_samples; ++i)
        kept.push_back(samples[i * samples.size() / most_rest_samples]);
    samples = std::move(kept);
}

} // namespace

Heights placed_heights(const Mesh& mesh, const Placement& placement) {
    const std::vector<double> heights = corner_heights(mesh, placement);
    Heights out;
    for (const glm::uvec3& triangle : mesh.triangles)
        for (int i = 0; i < 3; ++i) {
            out.low = std::min(out.low, heights[triangle[i]]);
            out.high = std::max(out.high, heights[triangle[i]]);
        }
    return out;
}

bool material_two_sided(const Mesh& mesh, std::uint32_t triangle) {
    return mesh.materials[mesh.parts[mesh.part_of[triangle]].material].two_sided;
}

std::vector<glm::dvec3> rest_samples(const Mesh& mesh, const Placement& placement, double height) {
    std::vector<glm::dvec3> corners_only, spread;
    const std::vector<double> heights = corner_heights(mesh, placement);
    for (const glm::uvec3& triangle : mesh.triangles) {
        int low = 0;
        for (int i = 0; i < 3; ++i)
            low += heights[triangle[i]] <= height;
        if (low == 0) continue; // nearly all of a figure
        Corners corners;
        for (int i = 0; i < 3; ++i)
            corners[i] = to_outer(placement.frame, placement.scale * mesh.positions[triangle[i]]);
        for (int i = 0; i < 3; ++i)
            if (low < 3 && heights[triangle[i]] <= height)
                corners_only.push_back(drawn_in(corners[i], corners));
        if (low == 3) add_lattice(corners, spread);
    }
    // A foot that is one point or edge belongs to triangles that rise from it.
    std::vector<glm::dvec3>& samples = spread.empty() ? corners_only : spread;
    thin(samples);
    return std::move(samples);
}

} // namespace standpoint
