// A region of a posed body as a field of distances: below 0 inside, above 0 outside.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include <glm/mat3x3.hpp>
#include <glm/vec3.hpp>

#include "figure/kinematics.h"
#include "figure/skeleton.h"
#include "measure/box.h"

namespace standpoint {

// Solids put where their segments are, in the order in which they flow into each other. Values
// never claim more distance than there is, so a ball about a point with a large value is empty.
class FigureField {
  public:
    // Of one region; `hem` as in FigureDress. Lengths of the skeleton's own stature.
    FigureField(const Skeleton& skeleton, const std::vector<Frame>& segments, int region,
                double hem);

    bool empty() const { return shapes_.empty(); }
    Box bounds() const { return bounds_; } // holds the surface

    // Those that matter within `reach` of a point; the others change nothing there, but for what
    // several blends in one place add up to.
    using Few = std::vector<std::uint16_t>;
    double value(const glm::dvec3& point) const;
    double value(const glm::dvec3& point, const Few& few) const;
    void pick(const glm::dvec3& middle, double reach, Few& few) const;
    glm::dvec3 gradient(const glm::dvec3& point, const Few& few) const; // not of unit length

  private:
    struct Shape {
        glm::dmat3 inward{1.0}; // to axes in which the line runs up from the origin
        glm::dvec3 place{0.0};
        double length = 0, radius = 1, slope = 0, rise = 1; // sine and cosine of the flank
        double shrink = 1; // least stretch: makes the distance a safe one
        double blend = 0, edge = 0;
        bool carve = false, is_hem = false;
        Ends ends = Ends::round;
    };
    static double distance(const Shape& shape, const glm::dvec3& point);
    static double joined(const Shape& shape, double so_far, double distance);
    void add(const BodySolid& solid, const Frame& segment, double hem, double lowered);
    void widen_bounds(const BodySolid& solid, const glm::dvec3& to, const Frame& segment,
                      double lowered);

    struct Hem { // a plane across a leg; what lies beyond all of them is cut off
        glm::dvec3 down{0, 0, -1};
        double level = 0;
    };
    static constexpr double nowhere = 1e9;
    struct Sum {
        double rest = nowhere, hem = nowhere;
    };
    static void add_to(Sum& sum, const Shape& shape, const glm::dvec3& point);
    double total(const Sum& sum, const glm::dvec3& point) const;

    std::vector<Hem> hems_;
    double hem_blend_ = 0;
    std::vector<Shape> shapes_;
    Box bounds_;
};

} // namespace standpoint
