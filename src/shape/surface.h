// Points on a patch of surface, spread evenly and the same every time.
#pragma once

#include <cstdint>
#include <vector>

#include "base/result.h"
#include "shape/staging.h"

namespace standpoint {

struct SurfaceTriangle { // scene mm
    Triangle corners;
    glm::dvec3 normal{0.0}; // unit
    double area = 0;        // mm2
    bool two_sided = false; // faces whichever way the eye is
    std::uint32_t triangle = 0;
};

// The patch of a piece: whole, the named parts (by part, or by node of a model), or what lies
// inside a box, its sides included, cut exactly. Errors (input): a part name the piece does not
// have, a patch with no area; the message names the piece, the caller adds the place.
Result<std::vector<SurfaceTriangle>> patch_surface(const StagedPiece& piece, const Patch& patch);

struct SurfaceSample {
    glm::dvec3 point{0.0}; // scene mm, never at an edge or corner
    glm::dvec3 normal{0.0};
    double area = 0; // share of the patch it stands for, mm2; sums to the patch's area
    bool two_sided = false;
    std::uint32_t triangle = 0; // of the piece's mesh
};

// `replicates` scrambled low-discrepancy sets of `per_replicate` points each, one after the other.
// Depends only on the surface and on `seed`: never on history, threads or other targets; the i-th
// point of the r-th set is the same however many are asked for. Powers of two are evenest.
std::vector<SurfaceSample> sample_surface(const std::vector<SurfaceTriangle>& surface,
                                          int replicates, int per_replicate, std::uint64_t seed);

} // namespace standpoint
