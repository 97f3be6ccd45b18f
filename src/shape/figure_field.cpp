// Distances to cones and balls, joined smoothly.
#include "shape/figure_field.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include <glm/geometric.hpp>
#include <glm/matrix.hpp>

namespace standpoint {

namespace {

constexpr double nowhere = 1e9;
constexpr double hem_edge = 20; // mm
constexpr double gradient_step = 0.02; // mm
constexpr double rounding = 0.35;      // of the radius, at the edge of a flat end

// Rows: two directions across a unit vector, and the vector itself.
glm::dmat3 upright(const glm::dvec3& along) {
    const glm::dvec3 helper = std::abs(along.z) < 0.9 ? glm::dvec3(0, 0, 1) : glm::dvec3(1, 0, 0);
    const glm::dvec3 across = glm::normalize(glm::cross(helper, along));
    return glm::transpose(glm::dmat3(across, glm::cross(along, across), along));
}

// The lower of the two, rounded where they are nearer than k; at most k/4 below it.
double smooth_min(double a, double b, double k) {
    if (k <= 0) return std::min(a, b);
    const double h = std::max(k - std::abs(a - b), 0.0) / k;
    return std::min(a, b) - h * h * k * 0.25;
}

double smooth_max(double a, double b, double k) {
    return -smooth_min(-a, -b, k);
}

} // namespace

FigureField::FigureField(const Skeleton& skeleton, const std::vector<Frame>& segments, int region,
                         double hem) {
    for (const BodySolid& solid : skeleton.solids)
        if (solid.region == region) add(solid, segments[solid.segment], hem);
}

void FigureField::add(const BodySolid& solid, const Frame& segment, double hem) {
    glm::dvec3 to = solid.to;
    double end_radius = solid.end_radius;
    Ends ends = solid.ends;
    if (solid.hem_from != solid.hem_to) {
        const double share =
            std::clamp((hem - solid.hem_from) / (solid.hem_to - solid.hem_from), 0.0, 1.0);
        if (share <= 0) return;
        to = solid.from + share * (to - solid.from);
        end_radius = solid.radius + share * (end_radius - solid.radius);
        ends = Ends::round;
        // All hems are cut together at the end, so that two that flow into each other end evenly.
        if (hem <= solid.hem_to + 1e-9) {
            const glm::dvec3 down = segment.rotation * glm::normalize(to - solid.from);
            hems_.push_back({down, glm::dot(down, to_outer(segment, to))});
        }
    }
    Shape made;
    const glm::dvec3 line = (to - solid.from) / solid.stretch;
    made.length = glm::length(line);
    const glm::dvec3 along = made.length > 0 ? line / made.length : glm::dvec3(0, 0, 1);
    const glm::dmat3 unstretch(glm::dvec3(1 / solid.stretch.x, 0, 0),
                               glm::dvec3(0, 1 / solid.stretch.y, 0),
                               glm::dvec3(0, 0, 1 / solid.stretch.z));
    made.inward = upright(along) * unstretch * glm::transpose(segment.rotation);
    made.place = to_outer(segment, solid.from);
    made.radius = solid.radius;
    // A ball that holds the other one leaves no flank.
    made.slope = made.length > 0 ? (solid.radius - end_radius) / made.length : 0;
    made.slope = std::clamp(made.slope, -0.99, 0.99);
    made.rise = std::sqrt(1 - made.slope * made.slope);
    made.shrink = std::min({solid.stretch.x, solid.stretch.y, solid.stretch.z});
    made.blend = solid.blend;
    made.carve = solid.carve;
    made.ends = ends;
    // Cloth has no knife edges, and a net cannot follow them; a sole is cut plane.
    if (!made.carve) made.edge = rounding * std::min({solid.radius, end_radius, made.length});
    if (made.carve && shapes_.empty()) return; // nothing there to take away from
    shapes_.push_back(made);
    if (!made.carve) widen_bounds(solid, to, segment);
}

void FigureField::widen_bounds(const BodySolid& solid, const glm::dvec3& to, const Frame& segment) {
    const double reach = std::max(solid.radius, solid.end_radius) *
                             std::max({solid.stretch.x, solid.stretch.y, solid.stretch.z}) *
                             1.5 + // flat ends
                         0.25 * solid.blend;
    for (const glm::dvec3& end : {solid.from, to}) {
        const glm::dvec3 place = to_outer(segment, end);
        bounds_ = grown(grown(bounds_, place - glm::dvec3(reach)), place + glm::dvec3(reach));
    }
}

double FigureField::distance(const Shape& shape, const glm::dvec3& point) {
    const glm::dvec3 p = shape.inward * (point - shape.place);
    const double out = std::sqrt(p.x * p.x + p.y * p.y);
    double d = 0;
    if (shape.ends == Ends::flat) {
        const double flank = (out - shape.radius + shape.slope * p.z) * shape.rise;
        d = smooth_max(smooth_max(flank, -p.z, shape.edge), p.z - shape.length, shape.edge);
    } else {
        // The nearest of the balls along the line: where the way to it leaves at the flank's slope.
        const double t = std::clamp(p.z - out * shape.slope / shape.rise, 0.0, shape.length);
        d = std::sqrt(out * out + (p.z - t) * (p.z - t)) - shape.radius + shape.slope * t;
        if (shape.ends == Ends::flat_far) d = smooth_max(d, p.z - shape.length, shape.edge);
    }
    return d * shape.shrink;
}

double FigureField::joined(const Shape& shape, double so_far, double distance) {
    return shape.carve ? smooth_max(so_far, -distance, shape.blend)
                       : smooth_min(so_far, distance, shape.blend);
}

double FigureField::cut_at_hems(double distance, const glm::dvec3& point) const {
    if (hems_.empty()) return distance;
    double beyond = nowhere;
    for (const Hem& hem : hems_)
        beyond = std::min(beyond, glm::dot(hem.down, point) - hem.level);
    return smooth_max(distance, beyond, hem_edge);
}

double FigureField::value(const glm::dvec3& point) const {
    double d = nowhere;
    for (const Shape& shape : shapes_)
        d = joined(shape, d, distance(shape, point));
    return cut_at_hems(d, point);
}

double FigureField::value(const glm::dvec3& point, const Few& few) const {
    double d = nowhere;
    for (const std::uint16_t i : few)
        d = joined(shapes_[i], d, distance(shapes_[i], point));
    return cut_at_hems(d, point);
}

void FigureField::pick(const glm::dvec3& middle, double reach, Few& few) const {
    few.clear();
    double nearest = nowhere;
    for (const Shape& shape : shapes_)
        if (!shape.carve) nearest = std::min(nearest, distance(shape, middle));
    // Within the ball every value is at most nearest + reach, so what is further away than that,
    // and its blend, takes no part.
    for (std::size_t i = 0; i < shapes_.size(); ++i) {
        const Shape& shape = shapes_[i];
        const double d = distance(shape, middle) - reach;
        const bool near = shape.carve ? d < shape.blend + reach
                                      : d < nearest + reach + shape.blend || few.empty();
        if (near) few.push_back(static_cast<std::uint16_t>(i));
    }
}

glm::dvec3 FigureField::gradient(const glm::dvec3& point, const Few& few) const {
    // Four corners of a tetrahedron.
    constexpr std::array<glm::dvec3, 4> corners{{{1, -1, -1}, {-1, -1, 1}, {-1, 1, -1}, {1, 1, 1}}};
    glm::dvec3 sum(0.0);
    for (const glm::dvec3& corner : corners)
        sum += corner * value(point + gradient_step * corner, few);
    return sum / (4 * gradient_step);
}

} // namespace standpoint
