// Frames of posed figures against frames worked out by hand.
#include <doctest/doctest.h>

#include <cmath>

#include <glm/geometric.hpp>
#include <glm/matrix.hpp>

#include "figure/figures.h"

using namespace standpoint;

namespace {

// Two links of 30 and 20 that hang from a post of 100, and a foot beneath it.
const char* const crane = R"({
  "name": "crane", "stature": 100,
  "segments": [{"name": "post", "tip": [0, 0, 100], "mass_share": 0.5},
               {"name": "jib", "tip": [0, 0, -30], "mass_share": 0.3},
               {"name": "hook", "tip": [0, 0, -20], "mass_share": 0.2}],
  "joints": [
    {"name": "whole", "segment": "post", "axes": [{"name": "turn", "about": "up", "least": -360, "most": 360}]},
    {"name": "head", "parent": "post", "segment": "jib", "at": [0, 0, 100], "axes": [
      {"name": "swing", "about": "right", "least": -180, "most": 180},
      {"name": "spread", "about": "front", "least": -180, "most": 180}]},
    {"name": "elbow", "parent": "jib", "segment": "hook", "at": [0, 0, -30], "axes": [
      {"name": "bend", "about": "right", "least": -180, "most": 180}]}],
  "contacts": [{"name": "foot", "kind": "sole", "segment": "post", "points": [[5, 0, -3]], "normal": "down"},
               {"name": "eyes", "kind": "eyes", "segment": "hook", "points": [[0, -1, -20]], "normal": "front"},
               {"name": "seat", "kind": "seat", "segment": "post", "points": [[0, 0, 40]], "normal": "down"}],
  "regions": [], "solids": []
})";

Skeleton crane_skeleton() {
    auto read = read_skeleton(crane, "crane.json");
    REQUIRE_MESSAGE(read.ok(), one_line(read.error()));
    return *read;
}

void check_at(const glm::dvec3& found, const glm::dvec3& expected) {
    CHECK_MESSAGE(glm::distance(found, expected) < 1e-9,
                  found.x << " " << found.y << " " << found.z << " against " << expected.x << " "
                          << expected.y << " " << expected.z);
}

Posed crane_at(double turn, double swing, double spread, double bend, double stature = 100,
               Stance stance = Stance::sitting) {
    return posed(crane_skeleton(), {{turn}, {swing, spread}, {bend}}, stance, false, stature);
}

} // namespace

TEST_CASE("two links, by hand") {
    // The sole is 3 below the first joint, so all is 3 higher.
    const Posed hangs = crane_at(0, 0, 0, 0);
    check_at(hangs.segments[0].origin, {0, 0, 3});
    check_at(hangs.segments[2].origin, {0, 0, 73});
    check_at(hangs.eyes, {0, -1, 53});
    check_at(hangs.gaze, {0, -1, 0});
    // Swung straight to the front: the links lie along -Y and look up.
    const Posed front = crane_at(0, 90, 0, 0);
    check_at(front.segments[2].origin, {0, -30, 103});
    check_at(front.eyes, {0, -50, 104});
    check_at(front.gaze, {0, 0, 1});
    // Spread to the own left, then the hook bent forward: first along +X, then along -Y.
    const Posed left = crane_at(0, 0, 90, 90);
    check_at(left.segments[2].origin, {30, 0, 103});
    check_at(left.eyes, to_outer(left.segments[2], {0, -1, -20}));
    check_at(to_outer(left.segments[2], {0, 0, -20}), {30, -20, 103});
    // A turn of the whole to its left takes the front to +X.
    const Posed turned = crane_at(90, 90, 0, 0);
    check_at(turned.segments[2].origin, {30, 0, 103});
    // The first axis is the outermost: a swing after a spread turns about the post's own right.
    const double s = std::sqrt(0.5);
    const Posed both = crane_at(0, 90, 45, 0);
    check_at(both.segments[2].origin, {30 * s, -30 * s, 103});
}

TEST_CASE("origin, stature, seat and centre of mass") {
    const Posed sits = crane_at(0, 0, 0, 0);
    CHECK(sits.seat_height == doctest::Approx(43));
    // 0.5 * 53 + 0.3 * 88 + 0.2 * 63
    CHECK(sits.centre_of_mass.z == doctest::Approx(65.5));
    // Standing, the origin is at the sole, which is 5 to the left.
    check_at(crane_at(0, 0, 0, 0, 100, Stance::standing).segments[0].origin, {-5, 0, 3});
    const Posed twice = crane_at(0, 90, 0, 30, 200), once = crane_at(0, 90, 0, 30);
    for (std::size_t i = 0; i < 3; ++i)
        check_at(twice.segments[i].origin, 2.0 * once.segments[i].origin);
    CHECK(twice.scale == 2);
}

TEST_CASE("shipped figures: rotations are rotations, and the lowest sole is on the ground") {
    for (const auto& skeleton : built_in_skeletons())
        for (const auto& pose : built_in_poses()) {
            INFO(skeleton->name, " ", pose->name);
            const Posed held = posed(*skeleton, joint_angles(*skeleton, *pose), pose->stance,
                                     pose->seat_on_ground, skeleton->stature);
            double low = 1e9, worst = 0;
            glm::dvec3 soles(0.0);
            int count = 0;
            for (std::size_t i = 0; i < skeleton->contacts.size(); ++i) {
                const BodyContact& contact = skeleton->contacts[i];
                const bool seat = contact.kind == ContactKind::seat && pose->seat_on_ground;
                if (contact.kind != ContactKind::sole && !seat) continue;
                for (const glm::dvec3& point : contact.points)
                    low = std::min(low, to_outer(held.segments[contact.segment], point).z);
                if (seat) continue;
                soles += held.contacts[i].place;
                ++count;
            }
            for (const Frame& frame : held.segments) {
                const glm::dmat3 square = frame.rotation * glm::transpose(frame.rotation);
                for (int i = 0; i < 3; ++i)
                    worst = std::max(worst, glm::distance(square[i], glm::dmat3(1.0)[i]));
            }
            CHECK(worst < 1e-12);
            CHECK(std::abs(low) < 1e-9);
            REQUIRE(count > 0);
            if (pose->stance == Stance::standing)
                CHECK(std::hypot(soles.x, soles.y) < 1e-6);
            else
                CHECK(std::hypot(held.segments[0].origin.x, held.segments[0].origin.y) < 1e-9);
            CHECK(std::abs(glm::length(held.gaze) - 1) < 1e-12);
        }
}
