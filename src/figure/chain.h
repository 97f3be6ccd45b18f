// The joints of a skeleton as one list of turning axes: what a solver moves, and where it all is.
#pragma once

#include <vector>

#include <glm/vec3.hpp>

#include "figure/pose.h"
#include "figure/skeleton.h"
#include "measure/frame.h"

namespace standpoint {

struct ChainAxis {
    int joint = 0, axis = 0;
    double least = 0, most = 0; // radians; least <= most
    double stiffness = 1;       // against being turned: what hangs from it, over how far it goes
};

struct Chain {
    const Skeleton* skeleton = nullptr;   // outlives the chain
    double scale = 1;                     // stature asked for over the skeleton's own
    std::vector<ChainAxis> axes;          // joint by joint, parents first
    std::vector<std::vector<int>> movers; // by segment: axes that move it, from the ground up
    std::vector<int> joint_of;            // by segment: the joint it hangs from
    std::vector<double> carried;          // by joint: share of the mass that hangs from it
};
Chain chain_of(const Skeleton& skeleton, double stature_mm); // stature > 0

// How a chain is held. `root` is the place of the first joint, mm in the axes of the form.
struct ChainState {
    std::vector<double> angles; // radians, by axis
    glm::dvec3 root{0.0};
};
ChainState chain_state(const Chain& chain, const std::vector<JointAngles>& angles,
                       const glm::dvec3& root);
std::vector<JointAngles> joint_angles(const Chain& chain, const ChainState& state); // degrees

struct ChainPlaces {
    std::vector<Frame> segments;            // by segment
    std::vector<glm::dvec3> about, through; // by axis: unit, and a place it goes through
    std::vector<glm::dvec3> carried_moment; // by joint: of the mass that hangs from it, share * mm
};
// Reuses what `places` holds.
void find_places(const Chain& chain, const ChainState& state, ChainPlaces& places);

} // namespace standpoint
