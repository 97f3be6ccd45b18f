// The shipped skeletons against published proportions, masses and ranges; and broken files.
#include <doctest/doctest.h>

#include <cmath>

#include <glm/geometric.hpp>

#include "figure/figures.h"
#include "support/reference.h"

using namespace standpoint;
using support::Reference;

namespace {

const Skeleton& shipped(const std::string& name) {
    for (const auto& skeleton : built_in_skeletons())
        if (skeleton->name == name) return *skeleton;
    FAIL("no skeleton ", name);
    return *built_in_skeletons().front();
}

Posed neutral(const Skeleton& skeleton) {
    return posed(skeleton, joint_angles(skeleton, Pose{}), Stance::standing, false,
                 skeleton.stature);
}

double length_share(const Skeleton& skeleton, const std::string& segment) {
    return glm::length(skeleton.segments.at(segment_index(skeleton, segment)).tip) /
           skeleton.stature;
}

double mass_of(const Skeleton& skeleton, const std::string& segment) {
    const int index = segment_index(skeleton, segment);
    REQUIRE(index >= 0);
    return skeleton.segments[index].mass_share;
}

void check_near(double value, double expected, double tolerance) {
    CHECK_MESSAGE(std::abs(value - expected) <= tolerance, value << " against " << expected);
}

const JointAxis& axis_of(const Skeleton& skeleton, const std::string& joint,
                         const std::string& axis) {
    const Joint& found = skeleton.joints.at(joint_index(skeleton, joint));
    return found.axes.at(axis_index(found, axis));
}

std::string fault(const std::string& json) {
    const auto read = read_skeleton(json, "own.json");
    return read.ok() ? "" : one_line(read.error());
}

const std::string small_skeleton = R"({
  "name": "own", "stature": 100,
  "segments": [{"name": "body", "tip": [0, 0, 60], "mass_share": 0.6},
               {"name": "arm", "both_sides": true, "tip": [0, 0, -30], "mass_share": 0.2}],
  "joints": [{"name": "whole", "segment": "body", "axes": []},
             {"name": "shoulder", "both_sides": true, "parent": "body", "segment": "arm",
              "at": [20, 1, 50],
              "axes": [{"name": "abduction", "about": "front", "least": 0, "most": 90}]}],
  "contacts": [{"name": "palm", "both_sides": true, "kind": "palm", "segment": "arm",
                "points": [[-2, 0, -30]], "normal": "right"}],
  "regions": [], "solids": []
})";

std::string with(const std::string& from, const std::string& to) {
    std::string text = small_skeleton;
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

} // namespace

TEST_CASE("adults: lengths are the published shares of stature, and sum to it") {
    const Reference rows("segment_parameters");
    for (const char* name : {"adult", "man", "woman"}) {
        const Skeleton& skeleton = shipped(name);
        INFO(name);
        const auto share = [&](const char* id) { return rows.row(id).value; };
        check_near(length_share(skeleton, "left upper arm"), share("dc_l_uarm"), 2e-5);
        check_near(length_share(skeleton, "right forearm"), share("dc_l_farm"), 2e-5);
        check_near(length_share(skeleton, "left thigh"), share("dc_l_thigh"), 2e-5);
        check_near(length_share(skeleton, "right shank"), share("dc_l_shank"), 2e-5);
        check_near(length_share(skeleton, "left hand") + length_share(skeleton, "left fingers") +
                       length_share(skeleton, "left fingertips"),
                   share("dc_l_hand"), 5e-5);
        const Posed stands = neutral(skeleton);
        const auto height = [&](const char* segment) {
            return stands.segments[segment_index(skeleton, segment)].origin.z / skeleton.stature;
        };
        check_near(height("left thigh"), share("dc_h_hip"), 2e-5);
        check_near(height("left shank"), share("dc_h_knee"), 2e-5);
        check_near(height("left foot"), share("dc_h_ankle"), 2e-5);
        check_near(height("right upper arm"), share("dc_h_shoulder"), 5e-5);
        check_near(stands.eyes.z / skeleton.stature, share("dc_h_eye"), 5e-5);
        const Frame& head = stands.segments[segment_index(skeleton, "head")];
        const BodySegment& skull = skeleton.segments[segment_index(skeleton, "head")];
        check_near(to_outer(head, skull.tip).z, skeleton.stature, 0.05);
    }
}

TEST_CASE("masses: published shares, summing to one") {
    const Reference rows("segment_parameters");
    for (const auto& skeleton : built_in_skeletons()) {
        double sum = 0;
        for (const BodySegment& segment : skeleton->segments)
            sum += segment.mass_share;
        INFO(skeleton->name);
        check_near(sum, 1, 2e-4); // de Leva's women sum to 0.9999
    }
    const Skeleton& adult = shipped("adult");
    const auto hand = [&](const Skeleton& skeleton) {
        return mass_of(skeleton, "left hand") + mass_of(skeleton, "left fingers") +
               mass_of(skeleton, "left fingertips") + mass_of(skeleton, "left thumb");
    };
    check_near(mass_of(adult, "left thigh"), rows.row("dw_thigh_mass").value, 1e-9);
    check_near(mass_of(adult, "left shank"), rows.row("dw_leg_mass").value, 1e-9);
    check_near(mass_of(adult, "chest"), rows.row("dw_thorax_mass").value, 1e-9);
    check_near(mass_of(adult, "head") + mass_of(adult, "neck"), rows.row("dw_head_neck_mass").value,
               1e-9);
    check_near(hand(adult), rows.row("dw_hand_mass").value, 1e-9);
    const Skeleton& woman = shipped("woman");
    check_near(100 * mass_of(woman, "right thigh"), rows.row("dl_F_thigh_mass").value, 1e-9);
    check_near(100 * hand(woman), rows.row("dl_F_hand_mass").value, 1e-9);
    const Skeleton& man = shipped("man");
    check_near(100 * mass_of(man, "right shank"), rows.row("dl_M_shank_mass").value, 1e-9);
    check_near(100 * mass_of(man, "belly"), rows.row("dl_M_middletrunk_mass").value, 1e-9);
}

TEST_CASE("the centre of mass of a standing person is at the published height") {
    const Reference rows("segment_parameters");
    // Teaching values for whole bodies, of 0.57 and 0.55; the tables of segments miss them by this.
    constexpr double allowance = 0.02;
    const Skeleton& man = shipped("man");
    const Skeleton& woman = shipped("woman");
    const double of_man = neutral(man).centre_of_mass.z / man.stature;
    const double of_woman = neutral(woman).centre_of_mass.z / woman.stature;
    check_near(of_man, rows.row("com_frac_male").value, allowance);
    check_near(of_woman, rows.row("com_frac_female").value, allowance);
    CHECK(of_woman < of_man);
}

TEST_CASE("ranges are the published ones, halved where two joints share them") {
    const Reference rows("joint_limits");
    const auto limit = [&](const char* id) { return rows.row(id).value; };
    for (const char* name : {"adult", "man", "woman", "child"}) {
        const Skeleton& skeleton = shipped(name);
        INFO(name);
        for (const std::string side : {"left ", "right "}) {
            const auto& shoulder = axis_of(skeleton, side + "shoulder", "flexion");
            CHECK(shoulder.most == limit("aaos_shoulder_flexion"));
            CHECK(shoulder.least == -limit("aaos_shoulder_extension"));
            const auto& turn = axis_of(skeleton, side + "shoulder", "rotation");
            CHECK(turn.most == limit("aaos_shoulder_internal"));
            CHECK(turn.least == -limit("aaos_shoulder_external"));
            CHECK(axis_of(skeleton, side + "shoulder", "abduction").most ==
                  limit("aaos_shoulder_abduction"));
            CHECK(axis_of(skeleton, side + "elbow", "flexion").most == limit("aaos_elbow_flexion"));
            CHECK(axis_of(skeleton, side + "elbow", "pronation").most ==
                  limit("aaos_forearm_pronation"));
            CHECK(axis_of(skeleton, side + "wrist", "flexion").most == limit("aaos_wrist_flexion"));
            CHECK(axis_of(skeleton, side + "wrist", "deviation").least ==
                  -limit("aaos_wrist_ulnar"));
            CHECK(axis_of(skeleton, side + "hip", "flexion").most == limit("aaos65_hip_flexion"));
            CHECK(axis_of(skeleton, side + "hip", "flexion").least ==
                  -limit("aaos65_hip_extension"));
            CHECK(axis_of(skeleton, side + "hip", "abduction").most ==
                  limit("aaos65_hip_abduction"));
            CHECK(axis_of(skeleton, side + "knee", "flexion").most == limit("aaos65_knee_flexion"));
            CHECK(axis_of(skeleton, side + "ankle", "dorsiflexion").least ==
                  -limit("aaos65_ankle_plantarflexion"));
        }
        for (const std::string joint : {"neck", "head"}) {
            CHECK(2 * axis_of(skeleton, joint, "flexion").most == limit("aaos65_cervical_flexion"));
            CHECK(2 * axis_of(skeleton, joint, "turn").most ==
                  limit("aaos65_cervical_rotation_each_side"));
        }
        for (const std::string joint : {"waist", "chest"}) {
            CHECK(2 * axis_of(skeleton, joint, "flexion").most ==
                  limit("aaos65_thoracolumbar_flexion"));
            CHECK(2 * axis_of(skeleton, joint, "turn").most ==
                  limit("aaos65_thoracolumbar_rotation_each_side"));
        }
    }
}

TEST_CASE("both sides are made of the left one") {
    const auto read = read_skeleton(small_skeleton, "own.json");
    REQUIRE_MESSAGE(read.ok(), one_line(read.error()));
    REQUIRE(read->joints.size() == 3);
    CHECK(read->joints[1].name == "left shoulder");
    CHECK(read->joints[2].name == "right shoulder");
    CHECK(read->joints[1].at == glm::dvec3(20, 1, 50));
    CHECK(read->joints[2].at == glm::dvec3(-20, 1, 50));
    CHECK(read->joints[1].axes[0].about == glm::dvec3(0, -1, 0));
    CHECK(read->joints[2].axes[0].about == glm::dvec3(0, 1, 0));
    CHECK(read->segments[read->joints[2].segment].name == "right arm");
    CHECK(read->contacts[0].normal == glm::dvec3(-1, 0, 0));
    CHECK(read->contacts[1].normal == glm::dvec3(1, 0, 0));
    CHECK(read->contacts[1].points[0] == glm::dvec3(2, 0, -30));
}

TEST_CASE("what is wrong with a skeleton is said where it stands") {
    const auto says = [](const std::string& text, const std::string& pointer) {
        const std::string found = fault(text);
        CHECK_MESSAGE(found.find("own.json:") == 0, found);
        CHECK_MESSAGE(found.find("(" + pointer + ")") != std::string::npos, found);
    };
    CHECK(fault(small_skeleton) == "");
    says(with("\"stature\": 100", "\"stature\": 0"), "/stature");
    says(with("\"mass_share\": 0.6", "\"mass_share\": 0.7"), "/segments");
    CHECK(fault(with("\"mass_share\": 0.6", "\"mass_share\": 0.6009")) == "");
    says(with("\"mass_share\": 0.6", "\"mass_share\": 0.6011"), "/segments");
    says(with("\"segment\": \"body\"", "\"segment\": \"bodi\""), "/joints/0/segment");
    says(with("\"parent\": \"body\"", "\"parent\": \"arm\""), "/joints/1/parent");
    says(with("\"least\": 0", "\"least\": 91"), "/joints/1/axes/0/most");
    says(with("\"about\": \"front\"", "\"about\": \"sideways\""), "/joints/1/axes/0/about");
    says(with("\"points\": [[-2, 0, -30]]", "\"points\": []"), "/contacts/0/points");
    says(with("[20, 1, 50]", "[20, 1, 5e9]"), "/joints/1/at");
    says(with("\"regions\": []", "\"regions\": [{\"name\": \"a\", \"colour\": \"red\", "
                                 "\"cell\": 5}]"),
         "/regions/0/colour");
    says(with("\"solids\": []", "\"solids\": [{\"region\": \"a\", \"segment\": \"body\", "
                                "\"from\": [0, 0, 0], \"radius\": 5}]"),
         "/solids/0/region");
    CHECK(fault("{") != "");
    CHECK(fault("[]") != "");
}
