// Frames and the order of turns.
#include "measure/frame.h"

#include <cmath>

#include <glm/matrix.hpp>

#include "measure/angle.h"

namespace standpoint {

namespace {

// glm fills column by column; these are given row by row, as one reads a matrix.
glm::dmat3 rows(const glm::dvec3& a, const glm::dvec3& b, const glm::dvec3& c) {
    return glm::transpose(glm::dmat3(a, b, c));
}

glm::dmat3 about_x(double deg) {
    const auto [s, c] = sin_cos_deg(deg);
    return rows({1, 0, 0}, {0, c, -s}, {0, s, c});
}

glm::dmat3 about_y(double deg) {
    const auto [s, c] = sin_cos_deg(deg);
    return rows({c, 0, s}, {0, 1, 0}, {-s, 0, c});
}

glm::dmat3 about_z(double deg) {
    const auto [s, c] = sin_cos_deg(deg);
    return rows({c, -s, 0}, {s, c, 0}, {0, 0, 1});
}

} // namespace

glm::dmat3 rotation_of(double facing_deg, double tilt_deg, double roll_deg) {
    return about_z(-facing_deg) * about_x(tilt_deg) * about_y(-roll_deg);
}

Frame compose(const Frame& outer, const Frame& inner) {
    return {outer.rotation * inner.rotation, to_outer(outer, inner.origin)};
}

Frame inverse(const Frame& frame) {
    const glm::dmat3 back = glm::transpose(frame.rotation);
    return {back, -(back * frame.origin)};
}

glm::dvec3 to_outer(const Frame& frame, const glm::dvec3& point_mm) {
    return frame.rotation * point_mm + frame.origin;
}

glm::dvec3 to_inner(const Frame& frame, const glm::dvec3& point_mm) {
    return glm::transpose(frame.rotation) * (point_mm - frame.origin);
}

Turns turns_of(const glm::dmat3& rotation) {
    // With a = -facing, b = tilt, c = -roll the product has, as row and column:
    //   (0,1) = -sin a cos b   (1,1) = cos a cos b
    //   (2,0) = -cos b sin c   (2,1) = sin b   (2,2) = cos b cos c
    const auto at = [&](int row, int column) { return rotation[column][row]; };
    const double cos_tilt = std::hypot(at(0, 1), at(1, 1));
    // Below this the facing would be read from rounding noise; the turn is right to 1e-9 rad,
    // which is a hundred-thousandth of a millimetre at ten metres.
    constexpr double upended = 1e-9;
    if (cos_tilt < upended) {
        const double facing = -atan2_deg(at(1, 0), at(0, 0));
        return {normalise_facing(facing), at(2, 1) < 0 ? -90.0 : 90.0, 0};
    }
    return {normalise_facing(atan2_deg(at(0, 1), at(1, 1))), atan2_deg(at(2, 1), cos_tilt),
            atan2_deg(at(2, 0), at(2, 2))};
}

glm::dvec3 front_of(const glm::dmat3& rotation) {
    return -rotation[1] + glm::dvec3(0.0); // the sum turns negative zeros into zeros
}

} // namespace standpoint
