// Pinhole cameras: where a pixel looks, where a point falls, and what takes a box in.
#include "picture/camera.h"

#include <algorithm>
#include <cmath>

#include <glm/geometric.hpp>

#include "measure/angle.h"

namespace standpoint {
namespace {

constexpr double least_field_deg = 20, widest_field_deg = 110;
constexpr double room_around = 1.06;
constexpr double behind_mm = 1e-6; // nearer to the eye's own plane than this has no place

} // namespace

Pinhole pinhole_of(const Camera& camera) {
    STANDPOINT_CHECK(camera.field_of_view_deg >= 1 && camera.field_of_view_deg <= 170);
    Pinhole out;
    out.eye = camera.eye;
    const glm::dvec3 toward = camera.look_at - camera.eye;
    const double length = glm::length(toward);
    out.forward = length > 0 ? toward / length : glm::dvec3(0, 1, 0);
    const glm::dvec3 side = glm::cross(out.forward, glm::dvec3(0, 0, 1));
    const double level = glm::length(side);
    // Straight up or down the picture's top is away from the front baseline.
    out.right = level > 1e-9 ? side / level : glm::dvec3(1, 0, 0);
    out.up = glm::cross(out.right, out.forward);
    out.half_width = std::tan(to_radians(camera.field_of_view_deg / 2));
    return out;
}

glm::dvec3 direction_through(const Pinhole& pinhole, int width, int height,
                             const glm::dvec2& pixel) {
    const double unit = 2 * pinhole.half_width / width;
    const double x = (pixel.x - width * 0.5) * unit;
    const double y = (height * 0.5 - pixel.y) * unit;
    return glm::normalize(pinhole.forward + pinhole.right * x + pinhole.up * y);
}

std::optional<glm::dvec2> project(const Camera& camera, int width, int height,
                                  const glm::dvec3& point) {
    const Pinhole pinhole = pinhole_of(camera);
    const glm::dvec3 d = point - pinhole.eye;
    const double depth = glm::dot(d, pinhole.forward);
    if (depth <= behind_mm) return std::nullopt;
    const double scale = width / (2 * pinhole.half_width * depth);
    return glm::dvec2(width * 0.5 + glm::dot(d, pinhole.right) * scale,
                      height * 0.5 - glm::dot(d, pinhole.up) * scale);
}

Camera framing(const glm::dvec3& eye, const Box& box, double width_over_height) {
    STANDPOINT_CHECK(!box.empty() && width_over_height > 0);
    Camera camera;
    camera.eye = eye;
    camera.look_at = box.centre();
    const Pinhole pinhole = pinhole_of(camera);
    double half = 0;
    for (int corner = 0; corner < 8; ++corner) {
        const glm::dvec3 d =
            glm::dvec3(corner & 1 ? box.high.x : box.low.x, corner & 2 ? box.high.y : box.low.y,
                       corner & 4 ? box.high.z : box.low.z) -
            eye;
        const double depth = glm::dot(d, pinhole.forward);
        if (depth <= behind_mm) {
            half = INFINITY;
            break;
        }
        half = std::max({half, std::abs(glm::dot(d, pinhole.right)) / depth,
                         std::abs(glm::dot(d, pinhole.up)) / depth * width_over_height});
    }
    const double field = 2 * to_degrees(std::atan(half * room_around));
    camera.field_of_view_deg = std::clamp(field, least_field_deg, widest_field_deg);
    return camera;
}

} // namespace standpoint
