// Figures as they are set by hand: groups of joints, poses on offer, and each edit.
#include <doctest/doctest.h>

#include <set>

#include "desk/arranged.h"
#include "desk/figure_fields.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

Piece figure_piece(const std::string& skeleton, const std::string& pose = "") {
    Piece piece;
    piece.id = "seller";
    piece.name = "Tea seller";
    piece.kind = PieceKind::figure;
    Part hat;
    hat.name = "hat";
    hat.form = BoxForm{10, 10, 10};
    Part body;
    body.name = "body";
    FigureForm form;
    form.skeleton = skeleton;
    form.pose = pose;
    body.form = form;
    piece.parts = {hat, body};
    return piece;
}

Document with_figure(const std::string& skeleton, const std::string& pose = "") {
    return with_piece(bare_scene(), figure_piece(skeleton, pose));
}

HeldFigure held(const Document& document) {
    auto found = held_figure(*find_piece(document, "seller"), "scene.json", MemoryFiles());
    REQUIRE(found.ok());
    REQUIRE(found->has_value());
    return **found;
}

const Skeleton& skeleton_of(const std::string& name) {
    for (const auto& skeleton : built_in_skeletons())
        if (skeleton->name == name) return *skeleton;
    FAIL("no skeleton " << name);
    return *built_in_skeletons().front();
}

std::vector<std::string> names_of(const std::vector<JointGroup>& groups) {
    std::vector<std::string> names;
    for (const JointGroup& group : groups)
        names.push_back(group.name);
    return names;
}

const AxisRow& axis_row(const std::vector<JointGroup>& groups, const std::string& joint,
                        const std::string& axis) {
    for (const JointGroup& group : groups)
        for (const JointRow& row : group.joints)
            for (const AxisRow& one : row.axes)
                if (row.joint == joint && one.axis == axis) return one;
    FAIL("no axis " << joint << " " << axis);
    return groups.front().joints.front().axes.front();
}

} // namespace

TEST_CASE("a piece without a figure holds none, and a broken one says so") {
    const Document document = with_piece(bare_scene(), box_piece("crate", 0, 0, 0, 1, 1, 1));
    const auto none = held_figure(*find_piece(document, "crate"), "scene.json", MemoryFiles());
    REQUIRE(none.ok());
    CHECK_FALSE(none->has_value());
    const auto broken = held_figure(figure_piece("adutl"), "scene.json", MemoryFiles());
    REQUIRE_FALSE(broken.ok());
    CHECK(one_line(broken.error()).find("\"adult\"") != std::string::npos);
}

TEST_CASE("joints come by part of the body, each once") {
    CHECK(names_of(joint_groups(held(with_figure("adult")).figure)) ==
          std::vector<std::string>{"Body", "Head and neck", "Left arm", "Right arm", "Left leg",
                                   "Right leg"});
    CHECK(names_of(joint_groups(held(with_figure("display")).figure)) ==
          std::vector<std::string>{"Body", "Head", "Left arm", "Right arm"});
    for (const auto& skeleton : built_in_skeletons()) {
        CAPTURE(skeleton->name);
        const Figure figure = held(with_figure(skeleton->name)).figure;
        std::multiset<std::string> found, wanted;
        for (const JointGroup& group : joint_groups(figure)) {
            CHECK_FALSE(group.joints.empty());
            for (const JointRow& row : group.joints) {
                found.insert(row.joint);
                const bool left = row.joint.starts_with("left "),
                           right = row.joint.starts_with("right ");
                CHECK(group.name.starts_with("Left ") == left);
                CHECK(group.name.starts_with("Right ") == right);
            }
        }
        for (const Joint& joint : skeleton->joints)
            if (!joint.axes.empty()) wanted.insert(joint.name);
        CHECK(found == wanted);
    }
}

TEST_CASE("a joint is turned over its pose, held within its range, and reset") {
    const Document start = with_figure("adult", "walking");
    const double posed = axis_row(joint_groups(held(start).figure), "left elbow", "flexion").angle;
    CHECK(posed == 16); // as the pose's file has it
    const Skeleton& adult = skeleton_of("adult");
    Document document = done(start, set_joint(start, "seller", adult, "left elbow", "flexion", 90));
    auto groups = joint_groups(held(document).figure);
    CHECK(axis_row(groups, "left elbow", "flexion").angle == 90);
    CHECK(axis_row(groups, "left elbow", "flexion").posed == posed);
    CHECK(axis_row(groups, "left elbow", "flexion").turned);
    CHECK_FALSE(axis_row(groups, "right elbow", "flexion").turned);
    CHECK(groups[2].turned() == 1);
    CHECK(groups[3].turned() == 0);
    document = done(document, set_joint(document, "seller", adult, "left elbow", "flexion", 151));
    CHECK(axis_row(joint_groups(held(document).figure), "left elbow", "flexion").angle == 150);
    document = done(document, set_joint(document, "seller", adult, "left elbow", "flexion", -1));
    CHECK(axis_row(joint_groups(held(document).figure), "left elbow", "flexion").angle == 0);
    document = done(document, set_joint(document, "seller", adult, "head", "turn", 20));
    Document one_back = done(document, reset_joint(document, "seller", "left elbow"));
    groups = joint_groups(held(one_back).figure);
    CHECK(axis_row(groups, "left elbow", "flexion").angle == posed);
    CHECK(axis_row(groups, "head", "turn").angle == 20);
    CHECK(same_content(done(document, reset_joints(document, "seller")), start));
    CHECK(reset_joints(start, "seller")->steps.empty());
}

TEST_CASE("an angle beyond its range is told apart from one at its end") {
    CHECK_FALSE(AxisRow{"", "", -10, 90, 90, 0, false}.beyond());
    CHECK_FALSE(AxisRow{"", "", -10, 90, -10, 0, false}.beyond());
    CHECK(AxisRow{"", "", -10, 90, 90.1, 0, false}.beyond());
    CHECK(AxisRow{"", "", -10, 90, -10.1, 0, false}.beyond());
}

TEST_CASE("poses on offer fit the body, or are taken in good part") {
    const auto adult = pose_choices(skeleton_of("adult"));
    const auto has = [](const std::vector<PoseChoice>& choices, const std::string& name) {
        return std::any_of(choices.begin(), choices.end(),
                           [&](const PoseChoice& c) { return c.pose->name == name; });
    };
    CHECK(has(adult, "walking"));
    CHECK_FALSE(has(adult, "dog-sitting"));
    const auto dog = pose_choices(skeleton_of("dog"));
    CHECK(has(dog, "dog-sitting"));
    CHECK_FALSE(has(dog, "walking"));
    for (const PoseChoice& choice : dog)
        CHECK(choice.fits());
    bool in_part = false;
    for (const PoseChoice& choice : pose_choices(skeleton_of("display"))) {
        CHECK(choice.fits() == fits(skeleton_of("display"), *choice.pose));
        CHECK_FALSE((in_part && choice.fits())); // those that fit come first
        in_part = in_part || !choice.fits();
    }
    CHECK(in_part);
}

TEST_CASE("another body keeps the turns and the pose it can take") {
    Document document = with_figure("adult", "walking");
    const Skeleton& adult = skeleton_of("adult");
    document = done(document, set_joint(document, "seller", adult, "left knee", "flexion", 30));
    document = done(document, set_joint(document, "seller", adult, "head", "turn", 20));
    const Document woman = done(document, set_skeleton(document, "seller", skeleton_of("woman")));
    CHECK(held(woman).form.turns == held(document).form.turns);
    CHECK(held(woman).form.pose == "walking");
    const Document dog = done(document, set_skeleton(document, "seller", skeleton_of("dog")));
    CHECK(held(dog).form.pose.empty());
    REQUIRE(held(dog).form.turns.size() == 1);
    CHECK(held(dog).form.turns[0].joint == "head");
}

TEST_CASE("pose and stature are set and given back to the skeleton") {
    const Document start = with_figure("child");
    Document document = done(start, set_pose(start, "seller", "walking"));
    CHECK(held(document).figure.pose->name == "walking");
    document = done(document, set_stature(document, "seller", Length(110)));
    CHECK(held(document).figure.stature_mm == 110);
    document = done(document, set_stature(document, "seller", std::nullopt));
    CHECK(held(document).figure.stature_mm == skeleton_of("child").stature);
    CHECK_FALSE(set_stature(document, "seller", Length(0)).ok());
    CHECK_FALSE(set_stature(document, "seller", Length(-5)).ok());
    CHECK(set_stature(document, "seller", Length(0.1)).ok());
    CHECK_FALSE(set_pose(document, "nobody", "walking").ok());
}

TEST_CASE("each part of the dress is coloured by itself") {
    Document document = with_figure("adult");
    for (std::size_t i = 0; i < std::size(dress_part_names); ++i) {
        const auto part = static_cast<DressPart>(i);
        const FigureDress before = held(document).form.dress;
        CHECK(dress_colour(before, part).empty());
        document = done(document, set_dress(document, "seller", part, "#102030"));
        for (std::size_t j = 0; j < std::size(dress_part_names); ++j)
            CHECK(dress_colour(held(document).form.dress, static_cast<DressPart>(j)).empty() ==
                  (j > i));
    }
    CHECK_FALSE(apply(document, *set_dress(document, "seller", DressPart::hat, "red")).ok());
}

TEST_CASE("a locked figure keeps its pose") {
    Piece piece = figure_piece("adult");
    piece.locked = true;
    const Document document = with_piece(bare_scene(), piece);
    const auto edit =
        set_joint(document, "seller", skeleton_of("adult"), "left elbow", "flexion", 9);
    REQUIRE_FALSE(edit.ok());
    CHECK(one_line(edit.error()).find("Tea seller") != std::string::npos);
    CHECK_FALSE(set_pose(document, "seller", "walking").ok());
    CHECK_FALSE(set_skeleton(document, "seller", skeleton_of("child")).ok());
}

TEST_CASE("a name is made a title") {
    CHECK(title_of_name("standing-easy") == "Standing easy");
    CHECK(title_of_name("").empty());
}
