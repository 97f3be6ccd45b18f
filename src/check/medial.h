// The medial axis of plan line work: every place as far as can be from what stands round it, how
// far that is, and the widest way along it.
#pragma once

#include <cstdint>
#include <vector>

#include <glm/vec2.hpp>

#include "check/plan_grid.h"

namespace standpoint {

struct MedialSite { // a segment without its ends, or (a == b) one of the ends
    glm::dvec2 a{0.0}, b{0.0};
    bool point() const { return a == b; }
};

// Places between two neighbouring corners of the axis, equally far from two sites: a straight line
// or part of a parabola. Walking from `from` to `to`, site `left` is on the left.
struct MedialEdge {
    std::uint32_t from = 0, to = 0;    // corners
    std::uint32_t left = 0, right = 0; // sites
    double narrowest = 0.5;            // share of the way along it where it is narrowest, or an end
    double clearance = 0;              // there, mm, exact for the two sites
    std::uint32_t layer = 0;           // free for the user: which part of a whole it belongs to
    bool bridge = false;               // no place of its own: joins two corners at one place
};

struct MedialAxis {
    std::vector<glm::dvec2> corners; // scene mm
    std::vector<MedialSite> sites;
    std::vector<MedialEdge> edges;
};

// Of line work that closes off what is looked at: parts that run to infinity are left out.
MedialAxis medial_axis(const GridLines& lines);

// A share u of the way along an edge, 0 to 1.
glm::dvec2 place_on(const MedialAxis& axis, const MedialEdge& edge, double u);
double clearance_on(const MedialAxis& axis, const MedialEdge& edge, double u);
glm::dvec2 nearest_of(const MedialSite& site, const glm::dvec2& point);

// Appends; the layers of what is added are set.
void append(MedialAxis& whole, const MedialAxis& more, std::uint32_t layer);
// Parts the edge at u, strictly between its ends; returns the new corner. The edge keeps its index
// for the first half, the second half comes last.
std::uint32_t part_edge(MedialAxis& axis, std::uint32_t edge, double u);

struct WayStep {
    std::uint32_t edge = 0;
    bool backward = false; // walked from `to` to `from`
};

// The way between two corners of the tree of widest edges: its narrowest place is as wide as that
// of any way, and so it is between any two of its corners. Edges whose clearance is `closed_mm` or
// less are not passed. Ties, to within `equal_mm`, go to the larger `preference` (one an edge).
// Empty: no way.
std::vector<WayStep> widest_way(const MedialAxis& axis, std::uint32_t from, std::uint32_t to,
                                double closed_mm, const std::vector<double>& preference);

inline constexpr double equal_clearance_mm = 0.01;

} // namespace standpoint
