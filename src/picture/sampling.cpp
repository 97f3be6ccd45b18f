// Even point sets, directions and noise, all from hashes.
#include "picture/sampling.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <glm/geometric.hpp>

#include "base/hash.h"

namespace standpoint {
namespace {

// 1/g and 1/g^2 for the plastic number g, the root of g^3 = g + 1: the additive recurrence of
// this pair leaves even gaps in the square (Roberts 2018; from memory).
constexpr double step_x = 0.7548776662466927, step_y = 0.5698402909980532;

double unit_of(std::uint64_t word) {
    return static_cast<double>(word >> 11) * 0x1.0p-53;
}

double wrapped(double x) {
    return x - std::floor(x);
}

struct Basis {
    glm::dvec3 u, v;
};

// Two unit vectors square to a unit vector and to each other.
Basis basis_about(const glm::dvec3& w) {
    const glm::dvec3 other = std::abs(w.x) < 0.6 ? glm::dvec3(1, 0, 0) : glm::dvec3(0, 1, 0);
    const glm::dvec3 u = glm::normalize(glm::cross(other, w));
    return {u, glm::cross(w, u)};
}

double lattice(std::int64_t x, std::int64_t y, std::uint64_t seed) {
    return unit_of(mix(static_cast<std::uint64_t>(x) * 0x9e3779b97f4a7c15ULL ^
                       mix(static_cast<std::uint64_t>(y) + seed)));
}

} // namespace

glm::dvec2 even_point(std::uint32_t index, std::uint64_t scramble) {
    const std::uint64_t other = mix(scramble + 1);
    return {wrapped(unit_of(mix(scramble)) + index * step_x),
            wrapped(unit_of(other) + index * step_y)};
}

glm::dvec3 cosine_direction(const glm::dvec3& normal, const glm::dvec2& square) {
    const Basis basis = basis_about(normal);
    const double radius = std::sqrt(square.x), turn = 2 * std::numbers::pi * square.y;
    const double up = std::sqrt(std::max(0.0, 1 - square.x));
    return glm::normalize(basis.u * (radius * std::cos(turn)) +
                          basis.v * (radius * std::sin(turn)) + normal * up);
}

glm::dvec3 cone_direction(const glm::dvec3& axis, double cosine_of_half_angle,
                          const glm::dvec2& square) {
    const Basis basis = basis_about(axis);
    const double up = 1 - square.x * (1 - cosine_of_half_angle);
    const double radius = std::sqrt(std::max(0.0, 1 - up * up));
    const double turn = 2 * std::numbers::pi * square.y;
    return glm::normalize(basis.u * (radius * std::cos(turn)) +
                          basis.v * (radius * std::sin(turn)) + axis * up);
}

double smooth_noise(double x, double y, std::uint64_t seed) {
    const double x0 = std::floor(x), y0 = std::floor(y);
    double fx = x - x0, fy = y - y0;
    fx = fx * fx * (3 - 2 * fx);
    fy = fy * fy * (3 - 2 * fy);
    const auto i = static_cast<std::int64_t>(x0), j = static_cast<std::int64_t>(y0);
    const double low = lattice(i, j, seed) * (1 - fx) + lattice(i + 1, j, seed) * fx;
    const double high = lattice(i, j + 1, seed) * (1 - fx) + lattice(i + 1, j + 1, seed) * fx;
    return low * (1 - fy) + high * fy;
}

} // namespace standpoint
