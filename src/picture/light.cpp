// Soft north light over a lit display.
#include "picture/light.h"

#include <algorithm>
#include <cmath>

#include <glm/geometric.hpp>

namespace standpoint {
namespace {

constexpr glm::dvec3 zenith{0.86, 0.97, 1.10};
constexpr glm::dvec3 horizon{0.50, 0.52, 0.54};
constexpr glm::dvec3 floor_glow{0.20, 0.185, 0.165};

// The roof lights lie to the left of the front and behind the visitor.
const glm::dvec3 north = glm::normalize(glm::dvec3(-0.42, -0.62, 0.66));

glm::dvec3 ceiling_radiance(const glm::dvec3& direction) {
    if (direction.z < 0) {
        const double down = std::min(1.0, -direction.z * 4);
        return horizon * (1 - down) + floor_glow * down;
    }
    const double up = std::sqrt(direction.z);
    const double toward = std::max(0.0, glm::dot(direction, north));
    return (horizon * (1 - up) + zenith * up) * (0.50 + 0.60 * toward * toward);
}

double smooth_step(double low, double high, double x) {
    const double t = std::clamp((x - low) / (high - low), 0.0, 1.0);
    return t * t * (3 - 2 * t);
}

Box lit_box(const Staging& staging) {
    Box sections, pieces;
    for (const StagedPiece& piece : staging.pieces) {
        if (piece.staged == StagedKind::section) sections = joined(sections, piece.box);
        if (piece.staged == StagedKind::piece) pieces = joined(pieces, piece.box);
    }
    return sections.empty() ? pieces : sections;
}

} // namespace

Light hall_light(const Staging& staging) {
    Light light;
    light.sky = ceiling_radiance;
    light.sun_direction = glm::normalize(glm::dvec3(-0.74, -0.50, 0.74));
    light.sun_half_angle_deg = 4;
    light.sun = glm::dvec3(4.6, 4.02, 3.22);
    light.bounce = glm::dvec3(0.40, 0.375, 0.34);
    const Box lit = lit_box(staging);
    if (!lit.empty()) {
        const glm::dvec3 size = lit.size();
        light.lit_middle = {lit.centre().x, lit.centre().y};
        light.lit_radius = std::max(1500.0, 0.62 * std::hypot(size.x, size.y));
        light.dim = 0.5;
    }
    light.exposure = 1.45;
    return light;
}

double light_share(const Light& light, const glm::dvec3& place) {
    if (light.lit_radius <= 0) return 1;
    const double away =
        std::hypot(place.x - light.lit_middle.x, place.y - light.lit_middle.y) / light.lit_radius;
    return 1 - (1 - light.dim) * smooth_step(0.8, 2.0, away);
}

} // namespace standpoint
