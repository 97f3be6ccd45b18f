// An axis-aligned box in millimetres; empty until a point is added.
#pragma once

#include <limits>

#include <glm/common.hpp>
#include <glm/vec3.hpp>

namespace standpoint {

struct Box {
    glm::dvec3 low{std::numeric_limits<double>::infinity()};
    glm::dvec3 high{-std::numeric_limits<double>::infinity()};

    bool empty() const { return !(low.x <= high.x && low.y <= high.y && low.z <= high.z); }
    glm::dvec3 size() const { return empty() ? glm::dvec3(0.0) : high - low; }
    glm::dvec3 centre() const { return (low + high) * 0.5; }
};

inline Box grown(Box box, const glm::dvec3& point) {
    box.low = glm::min(box.low, point);
    box.high = glm::max(box.high, point);
    return box;
}

inline Box joined(Box a, const Box& b) {
    a.low = glm::min(a.low, b.low);
    a.high = glm::max(a.high, b.high);
    return a;
}

// Touching counts as meeting; `slack_mm` widens both sides.
inline bool meet(const Box& a, const Box& b, double slack_mm = 0) {
    return !a.empty() && !b.empty() && a.low.x <= b.high.x + slack_mm &&
           b.low.x <= a.high.x + slack_mm && a.low.y <= b.high.y + slack_mm &&
           b.low.y <= a.high.y + slack_mm && a.low.z <= b.high.z + slack_mm &&
           b.low.z <= a.high.z + slack_mm;
}

} // namespace standpoint
