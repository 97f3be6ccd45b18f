// How far pieces reach over the base's edge, and over join lines into other sections.
#include "check/standing_reach.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace standpoint {

namespace {

struct Rectangle {
    glm::dvec2 low, high;
};

Rectangle rectangle_of(const Section& section) {
    const glm::dvec2 low(section.corner.x.mm, section.corner.y.mm);
    return {low, low + glm::dvec2(section.width.mm, section.depth.mm)};
}

double distance_to(const Rectangle& r, const glm::dvec3& p) {
    return std::hypot(std::max({r.low.x - p.x, p.x - r.high.x, 0.0}),
                      std::max({r.low.y - p.y, p.y - r.high.y, 0.0}));
}

// The part of a polygon on the side of a line square to an axis where sign * (p - at) <= 0.
void cut(std::vector<glm::dvec3>& polygon, int axis, double at, double sign) {
    std::vector<glm::dvec3> kept;
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const glm::dvec3 &p = polygon[i], &q = polygon[(i + 1) % polygon.size()];
        const double dp = sign * (p[axis] - at), dq = sign * (q[axis] - at);
        if (dp <= 0) kept.push_back(p);
        if ((dp < 0 && dq > 0) || (dp > 0 && dq < 0))
            kept.push_back(p + (q - p) * (dp / (dp - dq)));
    }
    polygon = std::move(kept);
}

bool clear_of(const Box& box, const Rectangle& r) {
    return box.low.x >= r.high.x || box.high.x <= r.low.x || box.low.y >= r.high.y ||
           box.high.y <= r.low.y;
}

} // namespace

std::optional<Reach> reach_outside(const StandingScene& scene, std::size_t piece) {
    Reach out{scene.staging.pieces[piece].id, 0, scene.sections[piece], "", {}};
    for (const glm::dvec3& point : scene.meshes[piece].points) {
        double distance = std::numeric_limits<double>::infinity();
        for (const Section& section : *scene.staging.document.sections)
            distance = std::min(distance, distance_to(rectangle_of(section), point));
        if (distance <= out.amount) continue;
        out.amount = distance;
        out.place = point;
    }
    if (out.amount <= contact_slack_mm) return std::nullopt;
    return out;
}

std::vector<Reach> reaches_across(const StandingScene& scene, std::size_t piece) {
    std::vector<Reach> out;
    const Section* own = find_section(scene.staging.document, scene.sections[piece]);
    if (own == nullptr) return out;
    const PlacedMesh& mesh = scene.meshes[piece];
    for (const Section& other : *scene.staging.document.sections) {
        const Rectangle in = rectangle_of(other);
        if (other.id == own->id || clear_of(mesh.box, in)) continue;
        Reach reach{scene.staging.pieces[piece].id, 0, own->id, other.id, {}};
        for (const Corners& triangle : mesh.triangles) {
            if (clear_of(triangle.box, in)) continue;
            std::vector<glm::dvec3> polygon(triangle.at.begin(), triangle.at.end());
            for (int axis = 0; axis < 2; ++axis) {
                cut(polygon, axis, in.low[axis], -1);
                cut(polygon, axis, in.high[axis], 1);
            }
            for (const glm::dvec3& point : polygon) {
                const double amount = distance_to(rectangle_of(*own), point);
                if (amount <= reach.amount) continue;
                reach.amount = amount;
                reach.place = point;
            }
        }
        if (reach.amount > contact_slack_mm) out.push_back(std::move(reach));
    }
    return out;
}

} // namespace standpoint
