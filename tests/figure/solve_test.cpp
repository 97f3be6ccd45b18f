// Poses from goals: closed forms for an arm, goals that some pose is known to meet, ranges kept,
// levels, and what is swept staying together.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include <glm/geometric.hpp>
#include <glm/trigonometric.hpp>

#include "figure/figures.h"
#include "figure/solve.h"
#include "support/random.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

constexpr double stature = 1750;

const Skeleton& skeleton_named(const char* name) {
    for (const auto& skeleton : built_in_skeletons())
        if (skeleton->name == name) return *skeleton;
    FAIL("no such skeleton");
    return *built_in_skeletons().front();
}

ChainState neutral(const Chain& chain) {
    ChainState state;
    for (const ChainAxis& axis : chain.axes)
        state.angles.push_back(std::clamp(0.0, axis.least, axis.most));
    return state;
}

ChainPlaces places_of(const Chain& chain, const ChainState& state) {
    ChainPlaces places;
    find_places(chain, state, places);
    return places;
}

// Any pose within the ranges, the whole body turned by at most half a radian about each axis.
ChainState any_pose(const Chain& chain, Random& random) {
    ChainState state = neutral(chain);
    for (std::size_t i = 0; i < chain.axes.size(); ++i) {
        const ChainAxis& axis = chain.axes[i];
        state.angles[i] =
            axis.joint == 0 ? random.uniform(-0.5, 0.5) : random.uniform(axis.least, axis.most);
    }
    state.root = {random.uniform(-100, 100), random.uniform(-100, 100), random.uniform(-100, 100)};
    return state;
}

Goal place_goal(const Chain& chain, const char* segment, const glm::dvec3& point,
                const ChainPlaces& places) {
    Goal goal;
    goal.segment = segment_index(*chain.skeleton, segment);
    REQUIRE(goal.segment >= 0);
    goal.point = point;
    goal.to = to_outer(places.segments[goal.segment], chain.scale * point);
    return goal;
}

// Both hands, both feet, the pelvis, and a look: what the pose itself meets.
std::vector<Goal> goals_of(const Chain& chain, const ChainState& state) {
    const ChainPlaces places = places_of(chain, state);
    std::vector<Goal> goals{place_goal(chain, "left hand", {-18, 0, -51}, places),
                            place_goal(chain, "right hand", {18, 0, -51}, places),
                            place_goal(chain, "left foot", {0, 0, -66}, places),
                            place_goal(chain, "right foot", {0, 0, -66}, places),
                            place_goal(chain, "pelvis", {0, 0, 0}, places)};
    Goal look = place_goal(chain, "head", {0, -81, 86}, places);
    look.kind = GoalKind::look;
    look.to += places.segments[look.segment].rotation * glm::dvec3(0, -2000, 0);
    goals.push_back(look);
    return goals;
}

void check_within(const Chain& chain, const ChainState& state) {
    for (std::size_t i = 0; i < chain.axes.size(); ++i) {
        REQUIRE(state.angles[i] >= chain.axes[i].least);
        REQUIRE(state.angles[i] <= chain.axes[i].most);
    }
}

// The right arm alone, all else locked; to the wrist.
struct Arm {
    Chain chain = chain_of(skeleton_named("adult"), stature);
    SolveRequest request;
    glm::dvec3 shoulder{0.0};
    double upper = 0, fore = 0;
    std::size_t elbow = 0;

    Arm() {
        const Skeleton& skeleton = *chain.skeleton;
        request.from = neutral(chain);
        request.locked.assign(chain.axes.size(), true);
        const int shoulder_joint = joint_index(skeleton, "right shoulder"),
                  elbow_joint = joint_index(skeleton, "right elbow"),
                  wrist_joint = joint_index(skeleton, "right wrist");
        for (std::size_t i = 0; i < chain.axes.size(); ++i) {
            const ChainAxis& axis = chain.axes[i];
            const bool bends = axis.joint == elbow_joint && axis.axis == 0;
            if (bends) elbow = i;
            request.locked[i] = !(axis.joint == shoulder_joint || bends);
        }
        shoulder =
            places_of(chain, request.from).segments[skeleton.joints[shoulder_joint].segment].origin;
        upper = chain.scale * glm::length(skeleton.joints[elbow_joint].at);
        fore = chain.scale * glm::length(skeleton.joints[wrist_joint].at);
        Goal goal;
        goal.segment = skeleton.joints[elbow_joint].segment;
        goal.point = skeleton.joints[wrist_joint].at;
        request.goals = {goal};
    }
    Solved reach(const glm::dvec3& direction, double distance) {
        request.goals[0].to = shoulder + glm::normalize(direction) * distance;
        return solve(chain, request);
    }
};

} // namespace

TEST_CASE("an elbow bends as the law of cosines says") {
    Arm arm;
    const double nearest = std::sqrt(arm.upper * arm.upper + arm.fore * arm.fore -
                                     2 * arm.upper * arm.fore * std::cos(glm::radians(30.0)));
    for (double distance = nearest + 5; distance < arm.upper + arm.fore - 5; distance += 23) {
        CAPTURE(distance);
        const Solved solved = arm.reach({-0.3, -1, -0.2}, distance);
        REQUIRE(solved.all_met());
        const double between =
            std::acos((arm.upper * arm.upper + arm.fore * arm.fore - distance * distance) /
                      (2 * arm.upper * arm.fore));
        const double bend = glm::degrees(solved.state.angles[arm.elbow]);
        // A tenth of a millimetre of reach near the straight arm is a degree of bend.
        CHECK(std::abs(bend - (180 - glm::degrees(between))) < 0.5);
    }
}

TEST_CASE("what is beyond reach is missed by what it is beyond, with the arm straight") {
    Arm arm;
    for (const double beyond : {2.0, 40.0, 500.0}) {
        CAPTURE(beyond);
        const Solved solved = arm.reach({-0.3, -1, -0.2}, arm.upper + arm.fore + beyond);
        CHECK_FALSE(solved.all_met());
        CHECK(std::abs(solved.goals[0].miss - beyond) < 0.5);
        check_within(arm.chain, solved.state);
    }
}

TEST_CASE("goals that a pose within the ranges meets are met, whatever the pose") {
    Random random(11);
    for (const char* name : {"adult", "child", "woman"}) {
        const Chain chain = chain_of(skeleton_named(name), stature);
        for (int i = 0; i < 100; ++i) {
            CAPTURE(name);
            CAPTURE(i);
            SolveRequest request;
            request.from = neutral(chain);
            request.root_moves = true;
            request.goals = goals_of(chain, any_pose(chain, random));
            const Solved solved = solve(chain, request);
            CHECK(solved.all_met());
            check_within(chain, solved.state);
            const Solved again = solve(chain, request);
            CHECK(again.state.angles == solved.state.angles);
            CHECK(again.state.root == solved.state.root);
        }
    }
}

TEST_CASE("goals out of all reach leave angles within their ranges and numbers finite") {
    Random random(12);
    const Chain chain = chain_of(skeleton_named("man"), stature);
    for (int i = 0; i < 30; ++i) {
        SolveRequest request;
        request.from = neutral(chain);
        request.from.angles[5] = 100; // out of range as well
        request.root_moves = i % 2 == 0;
        request.goals = goals_of(chain, any_pose(chain, random));
        const double far = std::pow(10, random.uniform(0, 8));
        for (Goal& goal : request.goals)
            goal.to += glm::dvec3(random.uniform(-far, far), random.uniform(-far, far), 0);
        const Solved solved = solve(chain, request);
        check_within(chain, solved.state);
        for (const GoalOutcome& goal : solved.goals)
            CHECK(std::isfinite(goal.miss));
    }
}

TEST_CASE("of two goals for one hand the one of the lower level is met, and the other gives way") {
    const Chain chain = chain_of(skeleton_named("adult"), stature);
    const ChainPlaces places = places_of(chain, neutral(chain));
    for (const int first : {0, 1}) {
        SolveRequest request;
        request.from = neutral(chain);
        for (const int which : {0, 1}) {
            Goal goal = place_goal(chain, "right hand", {18, 0, -51}, places);
            goal.to += glm::dvec3(which == 0 ? -150 : 150, -300, 300);
            goal.level = which == first ? 0 : 1;
            request.goals.push_back(goal);
        }
        const Solved solved = solve(chain, request);
        CHECK(solved.goals[first].met);
        CHECK_FALSE(solved.goals[1 - first].met);
        CHECK(solved.goals[1 - first].miss == doctest::Approx(300).epsilon(0.01));
    }
}

TEST_CASE("what is followed does not jump, and what is locked does not move") {
    const Chain chain = chain_of(skeleton_named("woman"), stature);
    const ChainPlaces places = places_of(chain, neutral(chain));
    SolveRequest request;
    request.from = neutral(chain);
    request.search = Search::follow;
    request.locked.assign(chain.axes.size(), false);
    const int waist = joint_index(*chain.skeleton, "waist");
    for (std::size_t i = 0; i < chain.axes.size(); ++i)
        if (chain.axes[i].joint == waist) request.locked[i] = true;
    request.goals = {place_goal(chain, "right hand", {18, 0, -51}, places)};
    const glm::dvec3 start = request.goals[0].to;
    constexpr int frames = 300;
    for (int i = 1; i <= frames; ++i) { // once round, 250 mm about a place before the shoulder
        const double t = 2 * std::acos(-1.0) * i / frames;
        request.goals[0].to =
            start + glm::dvec3(60 - 60 * std::cos(t), -250 * std::sin(t), 250 - 250 * std::cos(t));
        const Solved solved = solve(chain, request);
        REQUIRE(solved.attempts == 1);
        CHECK(solved.goals[0].met);
        for (std::size_t k = 0; k < chain.axes.size(); ++k) {
            const double turned = std::abs(solved.state.angles[k] - request.from.angles[k]);
            // Some 5 mm a frame, at an arm's length of 600: half a degree, more where it is bent.
            REQUIRE(glm::degrees(turned) < (request.locked[k] ? 1e-9 : 5));
        }
        request.from = solved.state;
    }
}

TEST_CASE("a figure bends its knee the way it is told, looks, and keeps its balance") {
    const Chain chain = chain_of(skeleton_named("adult"), stature);
    const ChainPlaces places = places_of(chain, neutral(chain));
    SolveRequest request;
    request.from = neutral(chain);
    request.root_moves = true;
    request.goals = {place_goal(chain, "left foot", {0, 0, -66}, places),
                     place_goal(chain, "right foot", {0, 0, -66}, places)};
    Goal hand = place_goal(chain, "right hand", {18, 0, -51}, places);
    hand.to += glm::dvec3(0, -500, -250);
    Goal balance;
    balance.kind = GoalKind::balance;
    balance.to = (request.goals[0].to + request.goals[1].to) / 2.0;
    Goal look;
    look.kind = GoalKind::look;
    look.segment = segment_index(*chain.skeleton, "head");
    look.point = {0, -81, 86};
    look.to = hand.to;
    Goal knee;
    knee.kind = GoalKind::bend;
    knee.segment = segment_index(*chain.skeleton, "left shank");
    REQUIRE(knee.segment >= 0);
    knee.to = glm::normalize(glm::dvec3(0.4, -1, 0));
    request.goals.insert(request.goals.end(), {hand, balance, look, knee});
    const Solved solved = solve(chain, request);
    for (const GoalOutcome& goal : solved.goals)
        CHECK_MESSAGE(goal.met, goal.miss);
    // And worked out anew: where the centre of mass is.
    const ChainPlaces after = places_of(chain, solved.state);
    glm::dvec3 centre(0.0);
    for (std::size_t i = 0; i < after.segments.size(); ++i) {
        const BodySegment& segment = chain.skeleton->segments[i];
        centre += segment.mass_share *
                  to_outer(after.segments[i], chain.scale * segment.centre * segment.tip);
    }
    CHECK(std::hypot(centre.x - balance.to.x, centre.y - balance.to.y) < 1);
}

TEST_CASE("a chain is where the posed figure is") {
    Random random(13);
    const Skeleton& skeleton = skeleton_named("man");
    const Chain chain = chain_of(skeleton, stature);
    for (int i = 0; i < 20; ++i) {
        const ChainState state = any_pose(chain, random);
        const Posed figure =
            posed(skeleton, joint_angles(chain, state), Stance::sitting, false, stature);
        const ChainPlaces places = places_of(chain, state);
        const glm::dvec3 off = figure.segments[0].origin - places.segments[0].origin;
        for (std::size_t k = 0; k < places.segments.size(); ++k)
            CHECK(glm::length(figure.segments[k].origin - places.segments[k].origin - off) < 1e-6);
        CHECK(glm::length(figure.centre_of_mass - off - places.carried_moment.front()) < 1e-6);
        const ChainState back = chain_state(chain, joint_angles(chain, state), state.root);
        for (std::size_t k = 0; k < state.angles.size(); ++k)
            CHECK(std::abs(back.angles[k] - state.angles[k]) < 1e-12);
    }
}
