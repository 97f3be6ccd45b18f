// Turning axes of a skeleton, and where they and the segments are for given angles.
#include "figure/chain.h"

#include <algorithm>
#include <cmath>

#include <glm/geometric.hpp>
#include <glm/trigonometric.hpp>

#include "base/check.h"

namespace standpoint {

namespace {

// A limb turned by a right angle of its range weighs as much as one carrying a twentieth of the
// body; common practice, no source.
constexpr double mass_of_a_limb = 0.05;
const double usual_range = glm::radians(90.0);
const double least_range = glm::radians(5.0);

double stiffness_of(double carried, double range) {
    return std::sqrt((1 + carried / mass_of_a_limb) * usual_range / std::max(range, least_range));
}

// About a unit vector, right-handed (Rodrigues).
glm::dmat3 turned(const glm::dvec3& about, double angle) {
    const double s = std::sin(angle), c = std::cos(angle), v = 1 - c;
    return {{c + v * about.x * about.x, v * about.x * about.y + s * about.z,
             v * about.x * about.z - s * about.y},
            {v * about.y * about.x - s * about.z, c + v * about.y * about.y,
             v * about.y * about.z + s * about.x},
            {v * about.z * about.x + s * about.y, v * about.z * about.y - s * about.x,
             c + v * about.z * about.z}};
}

std::vector<int> joints_of_segments(const Skeleton& skeleton) {
    std::vector<int> joint_of(skeleton.segments.size(), -1);
    for (std::size_t j = 0; j < skeleton.joints.size(); ++j)
        joint_of[skeleton.joints[j].segment] = static_cast<int>(j);
    return joint_of;
}

std::vector<double> carried_by(const Skeleton& skeleton, const std::vector<int>& joint_of) {
    std::vector<double> carried(skeleton.joints.size(), 0.0);
    for (std::size_t j = skeleton.joints.size(); j-- > 0;) {
        const Joint& joint = skeleton.joints[j];
        carried[j] += skeleton.segments[joint.segment].mass_share;
        if (joint.parent >= 0) carried[joint_of[joint.parent]] += carried[j];
    }
    return carried;
}

void find_moments(const Chain& chain, ChainPlaces& places) {
    const Skeleton& skeleton = *chain.skeleton;
    places.carried_moment.assign(skeleton.joints.size(), glm::dvec3(0.0));
    for (std::size_t j = skeleton.joints.size(); j-- > 0;) {
        const Joint& joint = skeleton.joints[j];
        const BodySegment& segment = skeleton.segments[joint.segment];
        const glm::dvec3 centre =
            to_outer(places.segments[joint.segment], chain.scale * segment.centre * segment.tip);
        places.carried_moment[j] += segment.mass_share * centre;
        if (joint.parent >= 0)
            places.carried_moment[chain.joint_of[joint.parent]] += places.carried_moment[j];
    }
}

} // namespace

Chain chain_of(const Skeleton& skeleton, double stature_mm) {
    STANDPOINT_CHECK(stature_mm > 0);
    Chain chain;
    chain.skeleton = &skeleton;
    chain.scale = stature_mm / skeleton.stature;
    chain.joint_of = joints_of_segments(skeleton);
    chain.carried = carried_by(skeleton, chain.joint_of);
    chain.movers.resize(skeleton.segments.size());
    for (std::size_t j = 0; j < skeleton.joints.size(); ++j) {
        const Joint& joint = skeleton.joints[j];
        std::vector<int>& movers = chain.movers[joint.segment];
        if (joint.parent >= 0) movers = chain.movers[joint.parent];
        for (std::size_t k = 0; k < joint.axes.size(); ++k) {
            const double least = glm::radians(std::min(joint.axes[k].least, joint.axes[k].most)),
                         most = glm::radians(std::max(joint.axes[k].least, joint.axes[k].most));
            movers.push_back(static_cast<int>(chain.axes.size()));
            chain.axes.push_back({static_cast<int>(j), static_cast<int>(k), least, most,
                                  stiffness_of(chain.carried[j], most - least)});
        }
    }
    return chain;
}

ChainState chain_state(const Chain& chain, const std::vector<JointAngles>& angles,
                       const glm::dvec3& root) {
    STANDPOINT_CHECK(angles.size() == chain.skeleton->joints.size());
    ChainState state;
    state.root = root;
    for (const ChainAxis& axis : chain.axes)
        state.angles.push_back(glm::radians(angles[axis.joint][axis.axis]));
    return state;
}

std::vector<JointAngles> joint_angles(const Chain& chain, const ChainState& state) {
    std::vector<JointAngles> angles;
    for (const Joint& joint : chain.skeleton->joints)
        angles.emplace_back(joint.axes.size(), 0.0);
    for (std::size_t i = 0; i < chain.axes.size(); ++i)
        angles[chain.axes[i].joint][chain.axes[i].axis] = glm::degrees(state.angles[i]);
    return angles;
}

void find_places(const Chain& chain, const ChainState& state, ChainPlaces& places) {
    const Skeleton& skeleton = *chain.skeleton;
    places.segments.resize(skeleton.segments.size());
    places.about.resize(chain.axes.size());
    places.through.resize(chain.axes.size());
    std::size_t i = 0;
    for (const Joint& joint : skeleton.joints) {
        Frame frame{glm::dmat3(1.0), state.root};
        if (joint.parent >= 0) {
            const Frame& parent = places.segments[joint.parent];
            frame = {parent.rotation, to_outer(parent, chain.scale * joint.at)};
        }
        for (const JointAxis& axis : joint.axes) {
            places.about[i] = frame.rotation * axis.about;
            places.through[i] = frame.origin;
            frame.rotation = frame.rotation * turned(axis.about, state.angles[i]);
            ++i;
        }
        places.segments[joint.segment] = frame;
    }
    find_moments(chain, places);
}

} // namespace standpoint
