// What lies across a line of sight. Two builds behind one interface: the fast index, and the
// brute-force twin that tests compare it with, ray by ray.
#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <vector>

#include <glm/vec3.hpp>

#include "shape/staging.h"

namespace standpoint {

// From `from` towards `to`, scene mm. Crossings count strictly between the ends, each drawn in by
// `ray_end_mm` along the segment (measure/tolerance.h).
struct Segment {
    glm::dvec3 from, to;
};

struct Crossing {
    double distance = 0;        // mm from `from`
    std::uint32_t piece = 0;    // index into Staging::pieces
    std::uint32_t triangle = 0; // index into that piece's mesh
    float lets_through = 0;     // of that material, 0..1
    float u = 0, v = 0;         // barycentric weights of the triangle's 2nd and 3rd corner
};

struct IndexFacts {
    std::size_t pieces = 0, triangles = 0;
    double build_seconds = 0;
};

// Immutable once built; every call may come from any thread. Cut-out texels are no crossings.
//
// Both forms work out distance, u and v in double. The fast one decides in single precision which
// triangles a ray meets, so the two differ where a ray passes within rounding of an outer edge
// (0.001 mm in a scene of 10 m), or runs within the plane of a face. Inner edges of a closed
// surface are tight in both; exactly through a corner, about one ray in a hundred slips past the
// fast form.
class RayIndex {
  public:
    virtual ~RayIndex() = default;

    // The first of crossings(), or nothing: the nearest, but among those within equal_distance_mm
    // of it that of the lowest piece, then triangle.
    virtual bool nearest(const Segment& segment, Crossing& crossing) const = 0;

    // Every crossing, each surface once (measure/tolerance.h), sorted by distance. Those within
    // equal_distance_mm of the first of a group are a tie, and go by piece, then triangle.
    virtual void crossings(const Segment& segment, std::vector<Crossing>& out) const = 0;

    // out[i] = 1 when any crossing with lets_through == 0 lies across, else 0. Sizes are equal.
    // The fast form: many segments at once, in any order.
    virtual void blocked(std::span<const Segment> segments, std::span<std::uint8_t> out) const = 0;

    virtual IndexFacts facts() const = 0;
};

// Which pieces an index holds; crossings keep the staging's piece indices.
struct IndexChoice {
    std::vector<std::uint32_t> only{}; // empty: all pieces of the staging
    bool quick = false; // to build, slower to ask: for a few rays. Answers are held to the same
};

// The staging must outlive the index, so it cannot be a temporary.
std::unique_ptr<RayIndex> make_ray_index(const Staging& staging, const IndexChoice& choice = {});
std::unique_ptr<RayIndex> make_ray_index(const Staging&&, const IndexChoice& = {}) = delete;
std::unique_ptr<RayIndex> make_brute_force(const Staging& staging, const IndexChoice& choice = {});
std::unique_ptr<RayIndex> make_brute_force(const Staging&&, const IndexChoice& = {}) = delete;

// Share of light left along a segment: the product of lets_through over its crossings, 1 when there
// are none. `room` is scratch space that holds the crossings afterwards.
double light_along(const RayIndex& index, const Segment& segment, std::vector<Crossing>& room);

} // namespace standpoint
