// Tracing sight lines between eyes and the samples of one target.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include <glm/vec3.hpp>

#include "check/sight_target.h"
#include "check/sightlines.h"

namespace standpoint {

struct EyeSums {                 // one eye; sums of w, steradians
    double facing = 0;           // of all samples that turn to the eye, hidden or not
    std::vector<double> alone;   // one a replicate: not hidden by the patch itself
    std::vector<double> visible; // one a replicate: not hidden by anything
    double past_self = 0;        // not hidden by the target's own piece
    std::vector<Blocker> gained; // w gained if that piece alone were gone, by piece
    std::uint64_t lines = 0;     // sight lines tried
    std::uint64_t open = 0;      // of them not blocked
    int per_replicate = 0;       // samples used of each replicate
};

// All of it for every eye: first with the samples to begin with, then with twice as many, until
// the error of V is small enough or the samples are used up. What an eye gets depends on nothing
// but itself and the scene: sums run in the order of the samples whichever eyes are traced
// together.
std::vector<EyeSums> trace_eyes(const Staging& staging, const RayIndex& index,
                                const SightTarget& target, std::span<const glm::dvec3> eyes);

// Only facing, lines and open, with the samples to begin with: much faster.
std::vector<EyeSums> trace_open(const RayIndex& index, const SightTarget& target,
                                std::span<const glm::dvec3> eyes);

// Pieces that dim what is behind them without hiding it: glass, netting, mist.
std::vector<std::uint32_t> dimming_pieces(const Staging& staging);

// V = sum(visible) / sum(alone), 0 when nothing is left alone.
double share_of(const EyeSums& sums);
// Of that ratio, from the spread of the replicates.
double standard_error_of(const EyeSums& sums);
// Half of the interval that holds V at 95 %: Student's t for so few replicates, not 1.96.
double error_of(const EyeSums& sums);

} // namespace standpoint
