// Projections of the five views and the moves of their cameras.
#include "desk/view_camera.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <glm/gtc/matrix_transform.hpp>

namespace standpoint {

namespace {

constexpr double nearest_mm = 50;       // perspective: what is closer to the eye is not drawn
constexpr double margin = 1.08;         // room around what is framed
constexpr double degrees_a_pixel = 0.3; // orbiting

struct Axes { // unit, of the picture: to the right, up, and into it
    glm::dvec3 right{1, 0, 0}, up{0, 1, 0}, forward{0, 0, -1};
};

bool is_perspective(const ViewCamera& camera) {
    return camera.kind == ViewKind::round || camera.kind == ViewKind::eye;
}

Axes looking_along(const glm::dvec3& forward) {
    glm::dvec3 right = glm::cross(forward, glm::dvec3(0, 0, 1));
    const double length = glm::length(right);
    right = length > 1e-9 ? right / length : glm::dvec3(1, 0, 0); // straight up or down
    return {right, glm::cross(right, forward), forward};
}

Axes axes_of(const ViewCamera& camera) {
    switch (camera.kind) {
    case ViewKind::plan:
        return {};
    case ViewKind::front:
        return {{1, 0, 0}, {0, 0, 1}, {0, 1, 0}};
    case ViewKind::side:
        return {{0, 1, 0}, {0, 0, 1}, {-1, 0, 0}};
    case ViewKind::round: {
        const double around = glm::radians(camera.around_deg),
                     above = glm::radians(camera.above_deg);
        return looking_along({-std::sin(around) * std::cos(above),
                              std::cos(around) * std::cos(above), -std::sin(above)});
    }
    case ViewKind::eye:
        break;
    }
    const glm::dvec3 gaze = camera.middle - camera.eye;
    const double length = glm::length(gaze);
    return looking_along(length > 1e-6 ? gaze / length : glm::dvec3(0, 1, 0));
}

// Tangent of half the field of view across the width.
double half_width(const ViewCamera& camera) {
    const double field =
        camera.kind == ViewKind::eye ? camera.field_of_view_deg : round_field_of_view_deg;
    return std::tan(glm::radians(std::clamp(field, 5.0, 150.0)) / 2);
}

double eye_distance(const ViewCamera& camera, const glm::ivec2& size) {
    return camera.mm_per_pixel * size.x / 2 / half_width(camera);
}

glm::dvec3 eye_of(const ViewCamera& camera, const glm::ivec2& size) {
    if (camera.kind == ViewKind::eye) return camera.eye;
    return camera.middle - axes_of(camera).forward * eye_distance(camera, size);
}

std::array<glm::dvec3, 8> corners_of(const Box& box) {
    std::array<glm::dvec3, 8> corners;
    for (int i = 0; i < 8; ++i)
        corners[static_cast<std::size_t>(i)] = {i & 1 ? box.high.x : box.low.x,
                                                i & 2 ? box.high.y : box.low.y,
                                                i & 4 ? box.high.z : box.low.z};
    return corners;
}

Box scene_or_ten_metres(const ViewCamera& camera, const Box& scene) {
    if (!scene.empty()) return scene;
    return {camera.middle - 5000.0, camera.middle + 5000.0};
}

// How deep the scene lies along the view's forward from a point: nearest and farthest.
glm::dvec2 depths(const glm::dvec3& from, const glm::dvec3& forward, const Box& scene) {
    glm::dvec2 range(1e300, -1e300);
    for (const glm::dvec3& corner : corners_of(scene)) {
        const double depth = glm::dot(corner - from, forward);
        range = {std::min(range.x, depth), std::max(range.y, depth)};
    }
    return range;
}

// Offset of a pixel from the picture's middle, right and up.
glm::dvec2 from_middle(const glm::ivec2& size, const glm::dvec2& pixel) {
    return {pixel.x - size.x / 2.0, size.y / 2.0 - pixel.y};
}

glm::dvec3 direction_at(const ViewCamera& camera, const glm::ivec2& size, const glm::dvec2& pixel) {
    const Axes axes = axes_of(camera);
    const glm::dvec2 offset = from_middle(size, pixel) * (half_width(camera) / (size.x / 2.0));
    return glm::normalize(axes.forward + axes.right * offset.x + axes.up * offset.y);
}

} // namespace

ViewMatrices matrices_of(const ViewCamera& camera, const glm::ivec2& size, const Box& scene,
                         std::optional<double> cut_height) {
    const Axes axes = axes_of(camera);
    const Box box = scene_or_ten_metres(camera, scene);
    ViewMatrices out;
    out.perspective = is_perspective(camera);
    out.forward = axes.forward;
    const glm::dvec3 from = out.perspective ? eye_of(camera, size) : camera.middle;
    out.eye = from;
    out.view = glm::lookAt(from, from + axes.forward, axes.up);
    glm::dvec2 range = depths(from, axes.forward, box);
    const double slack = 100 + 0.01 * (range.y - range.x);
    range += glm::dvec2(-slack, slack);
    if (out.perspective) {
        const double near = std::max(nearest_mm, range.x), far = std::max(near + 1000, range.y);
        const double w = half_width(camera) * near, h = w * size.y / size.x;
        out.projection = glm::frustum(-w, w, -h, h, near, far);
        return out;
    }
    if (camera.kind == ViewKind::plan && cut_height)
        range.x = std::min(range.y - 1, camera.middle.z - *cut_height);
    const double w = camera.mm_per_pixel * size.x / 2, h = camera.mm_per_pixel * size.y / 2;
    out.projection = glm::ortho(-w, w, -h, h, range.x, range.y);
    return out;
}

Segment line_through(const ViewCamera& camera, const glm::ivec2& size, const glm::dvec2& pixel,
                     const Box& scene, std::optional<double> cut_height) {
    const Box box = scene_or_ten_metres(camera, scene);
    if (is_perspective(camera)) {
        const glm::dvec3 eye = eye_of(camera, size), along = direction_at(camera, size, pixel);
        double far = 1000;
        for (const glm::dvec3& corner : corners_of(box))
            far = std::max(far, glm::length(corner - eye) + 1000);
        return {eye, eye + along * far};
    }
    const Axes axes = axes_of(camera);
    const glm::dvec2 offset = from_middle(size, pixel) * camera.mm_per_pixel;
    const glm::dvec3 place = camera.middle + axes.right * offset.x + axes.up * offset.y;
    glm::dvec2 range = depths(place, axes.forward, box) + glm::dvec2(-1000, 1000);
    if (camera.kind == ViewKind::plan && cut_height) range.x = place.z - *cut_height;
    range.y = std::max(range.y, range.x + 1);
    return {place + axes.forward * range.x, place + axes.forward * range.y};
}

std::optional<glm::dvec2> pixel_of(const ViewCamera& camera, const glm::ivec2& size,
                                   const glm::dvec3& point) {
    const Axes axes = axes_of(camera);
    const glm::dvec2 middle(size.x / 2.0, size.y / 2.0);
    if (!is_perspective(camera)) {
        const glm::dvec3 offset = (point - camera.middle) / camera.mm_per_pixel;
        return middle + glm::dvec2(glm::dot(offset, axes.right), -glm::dot(offset, axes.up));
    }
    const glm::dvec3 offset = point - eye_of(camera, size);
    const double depth = glm::dot(offset, axes.forward);
    if (depth <= 1) return std::nullopt;
    const double scale = size.x / 2.0 / half_width(camera) / depth;
    return middle + glm::dvec2(glm::dot(offset, axes.right), -glm::dot(offset, axes.up)) * scale;
}

double mm_a_pixel_at(const ViewCamera& camera, const glm::ivec2& size, const glm::dvec3& point) {
    if (!is_perspective(camera)) return camera.mm_per_pixel;
    const double depth =
        std::max(1.0, glm::dot(point - eye_of(camera, size), axes_of(camera).forward));
    return depth * half_width(camera) / (size.x / 2.0);
}

ViewCamera panned(const ViewCamera& camera, const glm::ivec2& size, const glm::dvec2& by_pixels) {
    ViewCamera moved = camera;
    if (camera.kind == ViewKind::eye) {
        // The gaze turns so that what was in the middle follows the pointer.
        const glm::dvec2 middle(size.x / 2.0, size.y / 2.0);
        const glm::dvec3 along = direction_at(camera, size, middle - by_pixels);
        if (std::abs(along.z) > 0.98) return camera;
        moved.middle = camera.eye + along * glm::length(camera.middle - camera.eye);
        return moved;
    }
    const Axes axes = axes_of(camera);
    moved.middle += (axes.up * by_pixels.y - axes.right * by_pixels.x) * camera.mm_per_pixel;
    return moved;
}

ViewCamera zoomed(const ViewCamera& camera, const glm::ivec2& size, const glm::dvec2& pixel,
                  double factor) {
    ViewCamera nearer = camera;
    if (camera.kind == ViewKind::eye) {
        nearer.field_of_view_deg = std::clamp(camera.field_of_view_deg / factor, 10.0, 110.0);
        return nearer;
    }
    nearer.mm_per_pixel =
        std::clamp(camera.mm_per_pixel / factor, finest_mm_per_pixel, coarsest_mm_per_pixel);
    const Axes axes = axes_of(camera);
    const glm::dvec2 offset =
        from_middle(size, pixel) * (camera.mm_per_pixel - nearer.mm_per_pixel);
    nearer.middle += axes.right * offset.x + axes.up * offset.y;
    return nearer;
}

ViewCamera orbited(const ViewCamera& camera, const glm::dvec2& by_pixels) {
    ViewCamera turned = camera;
    turned.around_deg = std::remainder(camera.around_deg - by_pixels.x * degrees_a_pixel, 360.0);
    turned.above_deg = std::clamp(camera.above_deg + by_pixels.y * degrees_a_pixel,
                                  lowest_above_deg, highest_above_deg);
    return turned;
}

ViewCamera framed(const ViewCamera& camera, const glm::ivec2& size, const Box& box,
                  double clear_top) {
    clear_top = std::min(clear_top, size.y / 3.0);
    const double height = size.y - clear_top; // of what is left
    ViewCamera all = camera;
    if (box.empty()) return all;
    all.middle = box.centre();
    if (camera.kind == ViewKind::eye) return all;
    const Axes axes = axes_of(camera);
    const bool perspective = is_perspective(camera);
    const double tangent_x = half_width(camera), tangent_y = tangent_x * height / size.x;
    double needed = finest_mm_per_pixel;
    for (const glm::dvec3& corner : corners_of(box)) {
        const glm::dvec3 offset = corner - all.middle;
        const double x = std::abs(glm::dot(offset, axes.right)),
                     y = std::abs(glm::dot(offset, axes.up)),
                     toward = -glm::dot(offset, axes.forward);
        if (perspective) {
            const double distance = std::max(x / tangent_x, y / tangent_y) * margin + toward;
            needed = std::max(needed, distance * tangent_x / (size.x / 2.0));
        } else {
            needed = std::max({needed, x * margin / (size.x / 2.0), y * margin / (height / 2.0)});
        }
    }
    all.mm_per_pixel = std::min(needed, coarsest_mm_per_pixel);
    all.middle += axes.up * (clear_top / 2 * all.mm_per_pixel);
    return all;
}

} // namespace standpoint
