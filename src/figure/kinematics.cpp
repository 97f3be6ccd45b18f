// Where the segments of a posed figure are: joint by joint from the ground, then set down.
#include "figure/kinematics.h"

#include <algorithm>
#include <limits>

#include <glm/geometric.hpp>

#include "base/check.h"
#include "measure/angle.h"

namespace standpoint {

namespace {

// About a unit vector, right-handed (Rodrigues).
glm::dmat3 about(const glm::dvec3& axis, double deg) {
    const auto [s, c] = sin_cos_deg(deg);
    const glm::dmat3 cross(glm::dvec3(0, axis.z, -axis.y), glm::dvec3(-axis.z, 0, axis.x),
                           glm::dvec3(axis.y, -axis.x, 0));
    return glm::dmat3(c) + s * cross + (1 - c) * glm::outerProduct(axis, axis);
}

PosedContact placed(const BodyContact& contact, const Frame& segment, double scale) {
    PosedContact made;
    for (const glm::dvec3& point : contact.points)
        made.place += to_outer(segment, scale * point);
    made.place /= static_cast<double>(contact.points.size());
    made.normal = segment.rotation * contact.normal;
    return made;
}

bool carries(const BodyContact& contact, bool seat_on_ground) {
    return contact.kind == ContactKind::sole ||
           (seat_on_ground && contact.kind == ContactKind::seat);
}

double lowest(const Skeleton& skeleton, const Posed& posed, bool seat_on_ground) {
    double low = std::numeric_limits<double>::infinity();
    for (const BodyContact& contact : skeleton.contacts) {
        if (!carries(contact, seat_on_ground)) continue;
        for (const glm::dvec3& point : contact.points)
            low = std::min(low, to_outer(posed.segments[contact.segment], posed.scale * point).z);
    }
    return low;
}

// From the first joint's place to the form's origin.
glm::dvec3 ground_place(const Skeleton& skeleton, const Posed& posed, Stance stance,
                        bool seat_on_ground) {
    glm::dvec3 place(0.0);
    double soles = 0;
    for (std::size_t i = 0; i < skeleton.contacts.size(); ++i) {
        if (skeleton.contacts[i].kind != ContactKind::sole) continue;
        place += posed.contacts[i].place;
        ++soles;
    }
    const double low = lowest(skeleton, posed, seat_on_ground);
    const bool on_soles = stance == Stance::standing && soles > 0;
    place = on_soles ? place / soles : glm::dvec3(0.0);
    place.z = low < std::numeric_limits<double>::infinity() ? low : 0;
    return place;
}

void move_by(Posed& posed, const glm::dvec3& offset) {
    for (Frame& frame : posed.segments)
        frame.origin += offset;
    for (PosedContact& contact : posed.contacts)
        contact.place += offset;
}

void add_results(const Skeleton& skeleton, Posed& made) {
    for (std::size_t i = 0; i < skeleton.segments.size(); ++i) {
        const BodySegment& segment = skeleton.segments[i];
        made.centre_of_mass +=
            segment.mass_share *
            to_outer(made.segments[i], made.scale * segment.centre * segment.tip);
    }
    made.eyes = {0, 0, made.scale * skeleton.stature};
    for (std::size_t i = 0; i < skeleton.contacts.size(); ++i) {
        if (skeleton.contacts[i].kind == ContactKind::seat)
            made.seat_height = made.contacts[i].place.z;
        if (skeleton.contacts[i].kind != ContactKind::eyes) continue;
        made.eyes = made.contacts[i].place;
        made.gaze = made.contacts[i].normal;
    }
}

} // namespace

glm::dmat3 joint_rotation(const Joint& joint, const JointAngles& angles) {
    STANDPOINT_CHECK(angles.size() == joint.axes.size());
    glm::dmat3 rotation(1.0);
    for (std::size_t i = 0; i < angles.size(); ++i)
        rotation = rotation * about(joint.axes[i].about, angles[i]);
    return rotation;
}

Posed posed(const Skeleton& skeleton, const std::vector<JointAngles>& angles, Stance stance,
            bool seat_on_ground, double stature_mm) {
    STANDPOINT_CHECK(angles.size() == skeleton.joints.size() && stature_mm > 0);
    Posed made;
    made.scale = stature_mm / skeleton.stature;
    made.segments.resize(skeleton.segments.size());
    for (std::size_t i = 0; i < skeleton.joints.size(); ++i) {
        const Joint& joint = skeleton.joints[i];
        const Frame inner{joint_rotation(joint, angles[i]), made.scale * joint.at};
        made.segments[joint.segment] =
            joint.parent < 0 ? inner : compose(made.segments[joint.parent], inner);
    }
    for (const BodyContact& contact : skeleton.contacts)
        made.contacts.push_back(placed(contact, made.segments[contact.segment], made.scale));
    move_by(made, -ground_place(skeleton, made, stance, seat_on_ground));
    add_results(skeleton, made);
    return made;
}

} // namespace standpoint
