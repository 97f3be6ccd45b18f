// Compares two ray indexes ray by ray, and says of each difference how near an edge it lies.
#pragma once

#include <span>

#include "shape/ray_index.h"

namespace standpoint::ray_compare {

// Where two answers differ the ray must pass an edge of the triangle in question this close: in
// single precision the triangle is decided by rounding there.
inline constexpr double near_edge_mm = 1e-3;

struct Tally {
    int rays = 0;
    int crossings = 0;   // found by the second index
    int blocked = 0;     // by the second index
    int differences = 0; // rays on which any answer differs
    int unexplained = 0; // differences farther from an edge than that
    double farthest = 0; // mm from an edge, over the differences
    int disordered = 0;  // rays on which an index's nearest() is not the first of its crossings()
};

// crossings(), nearest() and blocked() of all segments. Distances must agree to 1e-6 mm.
Tally compare(const Staging& staging, const RayIndex& fast, const RayIndex& slow,
              std::span<const Segment> segments);

} // namespace standpoint::ray_compare
