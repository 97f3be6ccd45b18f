// Parts two triangles by the axes of their difference.
#include "check/triangle_pair.h"

#include <algorithm>
#include <cmath>

#include <glm/geometric.hpp>

namespace standpoint {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

// The outer faces of all differences of two triangles lie square to one of these.
void add_axis(const Corners& a, const Corners& b, const glm::dvec3& direction, double scale,
              Axes& out) {
    const double length = glm::length(direction);
    if (!(length > 1e-9 * scale)) return;
    const glm::dvec3 n = direction / length;
    double a_low = infinity, a_high = -infinity, b_low = infinity, b_high = -infinity;
    for (int i = 0; i < 3; ++i) {
        const double pa = glm::dot(n, a.at[i] - a.at[0]), pb = glm::dot(n, b.at[i] - a.at[0]);
        a_low = std::min(a_low, pa);
        a_high = std::max(a_high, pa);
        b_low = std::min(b_low, pb);
        b_high = std::max(b_high, pb);
    }
    const Axis axis{n, a_high - b_low, b_high - a_low};
    out.least = std::min({out.least, axis.forward, axis.backward});
    out.list[out.count++] = axis;
}

double point_to_triangle(const glm::dvec3& p, const Corners& t) {
    const glm::dvec3 n = glm::cross(t.at[1] - t.at[0], t.at[2] - t.at[0]);
    const double square = glm::dot(n, n);
    if (!(square > 0)) return infinity; // its edges are measured all the same
    for (int i = 0; i < 3; ++i)
        if (glm::dot(glm::cross(t.at[(i + 1) % 3] - t.at[i], p - t.at[i]), n) < 0) return infinity;
    return std::abs(glm::dot(p - t.at[0], n)) / std::sqrt(square);
}

double between_segments(const glm::dvec3& p, const glm::dvec3& u, const glm::dvec3& q,
                        const glm::dvec3& v) {
    const glm::dvec3 w = p - q;
    const double a = glm::dot(u, u), b = glm::dot(u, v), c = glm::dot(v, v);
    const double d = glm::dot(u, w), e = glm::dot(v, w), det = a * c - b * b;
    const auto clamp = [](double t) { return std::clamp(t, 0.0, 1.0); };
    double s = det > 1e-12 * a * c ? clamp((b * e - c * d) / det) : 0;
    const double t = c > 0 ? clamp((b * s + e) / c) : 0;
    s = a > 0 ? clamp((b * t - d) / a) : 0;
    return glm::length(w + s * u - t * v);
}

} // namespace

Axes axes_of(const Corners& a, const Corners& b) {
    Axes out;
    const std::array<glm::dvec3, 3> ea{a.at[1] - a.at[0], a.at[2] - a.at[1], a.at[0] - a.at[2]};
    const std::array<glm::dvec3, 3> eb{b.at[1] - b.at[0], b.at[2] - b.at[1], b.at[0] - b.at[2]};
    const glm::dvec3 na = glm::cross(ea[0], ea[1]), nb = glm::cross(eb[0], eb[1]);
    const auto parted = [&] { return out.least < -contact_slack_mm; };
    add_axis(a, b, na, 0, out);
    add_axis(a, b, nb, 0, out);
    for (int i = 0; i < 3 && !parted(); ++i)
        for (int j = 0; j < 3; ++j)
            add_axis(a, b, glm::cross(ea[i], eb[j]), glm::length(ea[i]) * glm::length(eb[j]), out);
    for (int i = 0; i < 3 && !parted(); ++i) {
        add_axis(a, b, glm::cross(na, ea[i]), 0, out);
        add_axis(a, b, glm::cross(nb, eb[i]), 0, out);
    }
    return out;
}

bool apart_by_plane(const Corners& a, const Corners& b) {
    const glm::dvec3 n = glm::cross(a.at[1] - a.at[0], a.at[2] - a.at[0]);
    const double slack = 2 * contact_slack_mm * glm::length(n);
    int over = 0, under = 0;
    for (const glm::dvec3& p : b.at) {
        const double distance = glm::dot(n, p - a.at[0]);
        over += distance > slack ? 1 : 0;
        under += distance < -slack ? 1 : 0;
    }
    return over == 3 || under == 3;
}

double exit_along(const Axes& axes, const glm::dvec3& direction) {
    double exit = infinity;
    for (std::size_t i = 0; i < axes.count; ++i) {
        const Axis& axis = axes.list[i];
        const double along = glm::dot(axis.normal, direction);
        if (along > 1e-9) exit = std::min(exit, std::max(axis.forward, 0.0) / along);
        if (along < -1e-9) exit = std::min(exit, std::max(axis.backward, 0.0) / -along);
    }
    return exit;
}

double triangle_distance(const Corners& a, const Corners& b) {
    if (axes_of(a, b).least >= -contact_slack_mm) return 0;
    double best = infinity;
    for (int i = 0; i < 3; ++i) {
        best = std::min({best, point_to_triangle(a.at[i], b), point_to_triangle(b.at[i], a)});
        for (int j = 0; j < 3; ++j)
            best = std::min(best, between_segments(a.at[i], a.at[(i + 1) % 3] - a.at[i], b.at[j],
                                                   b.at[(j + 1) % 3] - b.at[j]));
    }
    return best;
}

} // namespace standpoint
