// Distances to cones and balls, joined smoothly.
#include "shape/figure_field.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include <glm/geometric.hpp>
#include <glm/matrix.hpp>

namespace standpoint {

namespace {

constexpr double hem_edge = 20;        // mm
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
    double lowered = 0;
    for (const BodySolid& solid : skeleton.solids)
        if (solid.region == region)
            lowered += (solid.hem_from == solid.hem_to ? 0.25 : 0.5) * solid.blend;
    for (const BodySolid& solid : skeleton.solids)
        if (solid.region == region) add(solid, segments[solid.segment], hem, lowered);
}

void FigureField::add(const BodySolid& solid, const Frame& segment, double hem, double lowered) {
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
        hem_blend_ = std::max(hem_blend_, solid.blend);
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
    made.is_hem = solid.hem_from != solid.hem_to;
    // Cloth has no knife edges, and a net cannot follow them; a sole is cut plane.
    if (!made.carve) made.edge = rounding * std::min({solid.radius, end_radius, made.length});
    if (made.carve && shapes_.empty()) return; // nothing there to take away from
    shapes_.push_back(made);
    if (!made.carve) widen_bounds(solid, to, segment, lowered);
}

// Each joint of two may lower the field by a quarter of its blend, and a stretched solid's surface
// moves by so much more.
void FigureField::widen_bounds(const BodySolid& solid, const glm::dvec3& to, const Frame& segment,
                               double lowered) {
    const glm::dvec3& s = solid.stretch;
    const double widest = std::max({s.x, s.y, s.z});
    const double reach = std::max(solid.radius, solid.end_radius) * widest * 1.01 +
                         lowered * widest / std::min({s.x, s.y, s.z});
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

void FigureField::add_to(Sum& sum, const Shape& shape, const glm::dvec3& point) {
    double& so_far = shape.is_hem ? sum.hem : sum.rest;
    so_far = joined(shape, so_far, distance(shape, point));
}

// What hangs down the legs is cut before it joins the rest, so that a figure that bends over its
// knees keeps its chest.
double FigureField::total(const Sum& sum, const glm::dvec3& point) const {
    if (hems_.empty()) return sum.rest;
    double beyond = nowhere;
    for (const Hem& hem : hems_)
        beyond = std::min(beyond, glm::dot(hem.down, point) - hem.level);
    return smooth_min(sum.rest, smooth_max(sum.hem, beyond, hem_edge), hem_blend_);
}

double FigureField::value(const glm::dvec3& point) const {
    Sum sum;
    for (const Shape& shape : shapes_)
        add_to(sum, shape, point);
    return total(sum, point);
}

double FigureField::value(const glm::dvec3& point, const Few& few) const {
    Sum sum;
    for (const std::uint16_t i : few)
        add_to(sum, shapes_[i], point);
    return total(sum, point);
}

void FigureField::pick(const glm::dvec3& middle, double reach, Few& few) const {
    few.clear();
    const double here = value(middle);
    // No value in the ball is over here + reach. What lies further out than that and its blend has
    // no say in it: taking away only raises values, and what is nearer wins over it. What takes
    // away has a say where it reaches as deep as the lowest value, here - reach.
    for (std::size_t i = 0; i < shapes_.size(); ++i) {
        const Shape& shape = shapes_[i];
        const double least = distance(shape, middle) - reach;
        const double most = (shape.carve ? reach - here : here + reach) + shape.blend;
        if (least <= most) few.push_back(static_cast<std::uint16_t>(i));
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
