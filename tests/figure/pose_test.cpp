// Poses: shipped ones within limits, limits on both sides, mirrors, files.
#include <doctest/doctest.h>

#include <cmath>
#include <map>

#include <glm/geometric.hpp>

#include "figure/figures.h"

using namespace standpoint;

namespace {

std::shared_ptr<const Skeleton> skeleton_named(const std::string& name) {
    const auto found = find_skeleton(name, "scene.json", MemoryFiles());
    REQUIRE(found.ok());
    return *found;
}

Posed held(const Skeleton& skeleton, const Pose& pose) {
    return posed(skeleton, joint_angles(skeleton, pose), pose.stance, pose.seat_on_ground,
                 skeleton.stature);
}

const char* const people[] = {"adult", "child", "man", "woman"};

} // namespace

TEST_CASE("every pose fits its skeletons and keeps to their limits") {
    int of_people = 0, of_dogs = 0;
    for (const auto& pose : built_in_poses()) {
        INFO(pose->name);
        const bool of_dog = pose->name.starts_with("dog-");
        (of_dog ? of_dogs : of_people) += 1;
        if (of_dog) {
            CHECK(fits(*skeleton_named("dog"), *pose));
            CHECK(broken_limits(*skeleton_named("dog"), *pose).empty());
            CHECK_FALSE(fits(*skeleton_named("adult"), *pose));
            continue;
        }
        CHECK_FALSE(fits(*skeleton_named("dog"), *pose));
        for (const char* name : people) {
            INFO(name);
            CHECK(fits(*skeleton_named(name), *pose));
            CHECK(broken_limits(*skeleton_named(name), *pose).empty());
        }
        CHECK(broken_limits(*skeleton_named("display"), *pose).empty());
    }
    CHECK(of_people >= 10);
    CHECK(of_dogs >= 2);
}

TEST_CASE("a limit has two sides, and a broken one is said with its range") {
    const Skeleton& adult = *skeleton_named("adult");
    const auto broken = [&](double angle) {
        return broken_limits(adult, Pose{}, {{"left elbow", "flexion", angle}});
    };
    CHECK(broken(0).empty());
    CHECK(broken(150).empty());
    REQUIRE(broken(150.02).size() == 1);
    REQUIRE(broken(-0.02).size() == 1);
    CHECK(broken(160)[0].joint == "left elbow");
    CHECK(broken(160)[0].axis == "flexion");
    CHECK(broken(160)[0].found == 160);
    CHECK(broken(160)[0].least == 0);
    CHECK(broken(160)[0].most == 150);
}

TEST_CASE("turns take the place of the pose's angles; the window holds them within the range") {
    FigureForm form;
    form.skeleton = "adult";
    form.pose = "handing-over";
    const auto figure = [&](const FigureForm& wanted) {
        auto found = find_figure(wanted, "scene.json", MemoryFiles());
        REQUIRE_MESSAGE(found.ok(), one_line(found.error()));
        return *found;
    };
    CHECK(angle_of(figure(form), "right elbow", "flexion") == 34);
    CHECK(angle_of(figure(form), "left knee", "flexion") == 0);
    const Skeleton& adult = *skeleton_named("adult");
    FigureForm turned = with_turn(form, adult, "right elbow", "flexion", 80);
    CHECK(angle_of(figure(turned), "right elbow", "flexion") == 80);
    turned = with_turn(turned, adult, "right elbow", "flexion", 400);
    CHECK(turned.turns.size() == 1);
    CHECK(angle_of(figure(turned), "right elbow", "flexion") == 150);
    turned = with_turn(turned, adult, "right elbow", "flexion", -5);
    CHECK(angle_of(figure(turned), "right elbow", "flexion") == 0);
    CHECK(without_turn(turned, "right elbow", "flexion") == form);
    CHECK(with_stature(form, 120).stature->mm == 120);
    CHECK_FALSE(with_stature(with_stature(form, 120), 0).stature.has_value());
    CHECK(figure(with_stature(form, 120)).stature_mm == 120);
    CHECK(figure(form).stature_mm == adult.stature);
}

TEST_CASE("a mirrored pose is the mirror image") {
    for (const char* name : {"adult", "child", "display"}) {
        const Skeleton& skeleton = *skeleton_named(name);
        for (const auto& pose : built_in_poses()) {
            if (pose->name.starts_with("dog-")) continue;
            INFO(name, " ", pose->name);
            const Posed one = held(skeleton, *pose),
                        other = held(skeleton, mirrored(skeleton, *pose));
            double worst = 0;
            for (std::size_t i = 0; i < skeleton.segments.size(); ++i) {
                std::string twin = skeleton.segments[i].name;
                if (twin.starts_with("left "))
                    twin = "right " + twin.substr(5);
                else if (twin.starts_with("right "))
                    twin = "left " + twin.substr(6);
                const glm::dvec3 a = one.segments[i].origin;
                const glm::dvec3 b = other.segments[segment_index(skeleton, twin)].origin;
                worst = std::max(worst, glm::distance(a, glm::dvec3(-b.x, b.y, b.z)));
            }
            CHECK(worst < 1e-6);
            CHECK(std::abs(one.gaze.x + other.gaze.x) < 1e-9);
            const Pose twice = mirrored(skeleton, mirrored(skeleton, *pose));
            CHECK(joint_angles(skeleton, twice) == joint_angles(skeleton, *pose));
        }
    }
}

TEST_CASE("pose files: what is wrong is said where it stands, what is right comes back") {
    const auto fault = [](const std::string& json) {
        const auto read = read_pose(json, "own.json");
        return read.ok() ? std::string() : one_line(read.error());
    };
    const auto angles = [](const std::string& list) {
        return R"({"name": "own", "angles": [)" + list + "]}";
    };
    const std::string waist = R"({"joint": "waist", "axis": "turn", "angle": )";
    CHECK(fault(angles(waist + "360}")) == "");
    CHECK(fault(angles(waist + "361}")).find("(/angles/0/angle)") != std::string::npos);
    CHECK(fault(angles(waist + "-361}")).find("(/angles/0/angle)") != std::string::npos);
    CHECK(fault(angles(waist + "1}, " + waist + "2}")).find("(/angles/1)") != std::string::npos);
    CHECK(fault(R"({"name": "own", "stance": "lying", "angles": []})").find("(/stance)") !=
          std::string::npos);
    for (const auto& pose : built_in_poses()) {
        const auto again = read_pose(write_pose(*pose), "again.json");
        REQUIRE(again.ok());
        CHECK(again->angles == pose->angles);
        CHECK(again->stance == pose->stance);
        CHECK(again->seat_on_ground == pose->seat_on_ground);
    }
}

TEST_CASE("names: built in, beside the scene, or refused with the nearest") {
    MemoryFiles files;
    files.files["scenes/poses/own.json"] = R"({"name": "own", "angles": []})";
    CHECK(find_pose("poses/own.json", "scenes/a.scene.json", files).ok());
    CHECK_FALSE(find_pose("poses/other.json", "scenes/a.scene.json", files).ok());
    CHECK_FALSE(find_pose("../own.json", "scenes/a.scene.json", files).ok());
    const auto missing = find_skeleton("adlut", "a.json", files);
    REQUIRE_FALSE(missing.ok());
    CHECK(missing.error().message.find("\"adult\"") != std::string::npos);
    FigureForm form;
    form.skeleton = "adult";
    form.turns = {{"left elbo", "flexion", 5}};
    CHECK_FALSE(find_figure(form, "a.json", files).ok());
    form.turns = {{"left elbow", "twist", 5}};
    CHECK_FALSE(find_figure(form, "a.json", files).ok());
    form.turns = {{"left elbow", "flexion", 5}};
    CHECK(find_figure(form, "a.json", files).ok());
}
