// Bodies of figures: closed, named, on the ground, with a face that looks where the figure does.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include <glm/geometric.hpp>

#include "shape/figure_mesh.h"
#include "shape/mass_properties.h"
#include "staging_scenes.h"

using namespace standpoint;

namespace {

Figure figure_of(const FigureForm& form) {
    auto found = find_figure(form, "scene.json", MemoryFiles());
    REQUIRE_MESSAGE(found.ok(), one_line(found.error()));
    return *found;
}

Mesh mesh_of_form(const FigureForm& form) {
    auto made = figure_mesh(figure_of(form));
    REQUIRE_MESSAGE(made.ok(), one_line(made.error()));
    return *made;
}

FigureForm form_of(const std::string& skeleton, const std::string& pose) {
    FigureForm form;
    form.skeleton = skeleton;
    form.pose = pose;
    return form;
}

std::set<std::string> names_of(const Mesh& mesh) {
    std::set<std::string> names;
    for (const std::uint32_t part : mesh.part_of)
        names.insert(mesh.parts[part].name);
    return names;
}

// Mean normal of a part by area.
glm::dvec3 mean_normal(const Mesh& mesh, const std::string& name) {
    glm::dvec3 sum(0.0);
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
        if (mesh.parts[mesh.part_of[i]].name != name) continue;
        const glm::uvec3& t = mesh.triangles[i];
        sum += glm::cross(mesh.positions[t.y] - mesh.positions[t.x],
                          mesh.positions[t.z] - mesh.positions[t.x]);
    }
    return glm::normalize(sum);
}

bool is_dog_pose(const std::string& pose) {
    return pose.starts_with("dog-");
}

} // namespace

TEST_CASE("bodies are closed, outward and near the ground, in every pose") {
    for (const auto& skeleton : built_in_skeletons())
        for (const auto& pose : built_in_poses()) {
            if ((skeleton->name == "dog") != is_dog_pose(pose->name)) continue;
            INFO(skeleton->name, " ", pose->name);
            const Mesh mesh = mesh_of_form(form_of(skeleton->name, pose->name));
            const MassProperties mass = mass_properties(mesh);
            CHECK(mass.closed);
            CHECK(mass.volume > 0);
            CHECK(mesh.triangles.size() > 8000);
            CHECK(mesh.triangles.size() < 40000);
            REQUIRE(mesh.normals.size() == mesh.positions.size());
            double against = 0;
            for (const glm::uvec3& t : mesh.triangles) {
                const glm::dvec3 face = glm::cross(mesh.positions[t.y] - mesh.positions[t.x],
                                                   mesh.positions[t.z] - mesh.positions[t.x]);
                const glm::dvec3 soft(mesh.normals[t.x] + mesh.normals[t.y] + mesh.normals[t.z]);
                if (glm::dot(face, soft) <= 0) ++against;
            }
            // Where a net folds into a crease a few triangles turn away from the field's slope.
            CHECK(against < 0.005 * static_cast<double>(mesh.triangles.size()));
            // Soles are modelled; how far a heel or toe rolls past its contact is by eye.
            CHECK(std::abs(bounds(mesh).low.z) < 0.006 * skeleton->stature);
        }
}

TEST_CASE("each region is closed by itself") {
    const Mesh mesh = mesh_of_form(form_of("woman", "sitting-talking"));
    for (std::size_t material = 0; material < mesh.materials.size(); ++material) {
        Mesh one = mesh;
        one.triangles.clear();
        one.part_of.clear();
        for (std::size_t i = 0; i < mesh.triangles.size(); ++i)
            if (mesh.parts[mesh.part_of[i]].material == material) {
                one.triangles.push_back(mesh.triangles[i]);
                one.part_of.push_back(mesh.part_of[i]);
            }
        CHECK(mass_properties(one).closed);
        CHECK(mass_properties(one).volume > 0);
    }
}

TEST_CASE("parts are named by region, and dress decides which there are") {
    FigureForm form = form_of("adult", "standing-easy");
    const auto bare = names_of(mesh_of_form(form));
    for (const char* name : {"face", "head", "hair", "coat", "trousers", "left hand", "right hand",
                             "left shoe", "right shoe"})
        CHECK_MESSAGE(bare.contains(name), name);
    CHECK_FALSE(bare.contains("hat"));
    CHECK_FALSE(bare.contains("skirt"));
    form.dress.hat = "#223344";
    form.dress.skirt = "#445566";
    const auto dressed = names_of(mesh_of_form(form));
    CHECK(dressed.contains("hat"));
    CHECK(dressed.contains("skirt"));
    const auto promised = figure_part_names(figure_of(form));
    CHECK(dressed == std::set<std::string>(promised.begin(), promised.end()));
    form.dress.coat = "red";
    CHECK_FALSE(figure_mesh(figure_of(form)).ok());
}

TEST_CASE("the face looks where the gaze goes") {
    for (const char* skeleton : {"adult", "child", "man", "woman", "display"})
        for (const char* pose : {"standing-easy", "looking-up", "sitting-fishing", "pointing"}) {
            INFO(skeleton, " ", pose);
            const FigureForm form = form_of(skeleton, pose);
            const glm::dvec3 face = mean_normal(mesh_of_form(form), "face");
            CHECK(glm::dot(face, posed(figure_of(form)).gaze) > std::cos(15 * 3.14159265 / 180));
        }
}

TEST_CASE("a turned head takes the face along, and stature only the size") {
    FigureForm form = form_of("adult", "");
    form.turns = {{"neck", "turn", 30}, {"head", "turn", 30}};
    const glm::dvec3 face = mean_normal(mesh_of_form(form), "face");
    // 60 degrees to its own left, which is +X.
    CHECK(std::abs(std::atan2(face.x, -face.y) * 180 / 3.14159265 - 60) < 4);
    const Mesh own = mesh_of_form(form);
    form.stature = 121.4;
    const Mesh small = mesh_of_form(form);
    REQUIRE(small.triangles == own.triangles);
    double worst = 0;
    for (std::size_t i = 0; i < own.positions.size(); ++i)
        worst = std::max(worst, glm::distance(small.positions[i], 121.4 / 1700 * own.positions[i]));
    CHECK(worst < 1e-9);
}

TEST_CASE("the hem ends where it is told") {
    double above = 1e9;
    for (const double share : {0.1, 0.4, 0.7, 1.0}) {
        FigureForm form = form_of("woman", "");
        form.dress.skirt = "#445566";
        form.dress.hem = Number(share);
        const Mesh mesh = mesh_of_form(form);
        double low = 1e9;
        for (std::size_t i = 0; i < mesh.triangles.size(); ++i)
            if (mesh.parts[mesh.part_of[i]].name == "skirt")
                low = std::min(low, mesh.positions[mesh.triangles[i].x].z);
        CHECK(low < above - 100);
        above = low;
    }
    CHECK(above > 0);
    CHECK(above < 0.1 * 1620);
}

TEST_CASE("staging: equal figures share a mesh, errors name the part") {
    Part part = staging_scenes::part("", form_of("child", "walking"));
    Piece one = staging_scenes::piece("one", {part}), two = staging_scenes::piece("two", {part});
    const Staging staged = staging_scenes::staged(staging_scenes::with_pieces({one, two}));
    CHECK(find_staged(staged, "one")->mesh == find_staged(staged, "two")->mesh);
    std::get<FigureForm>(two.parts[0].form).turns = {{"head", "turn", 5}};
    const Staging apart = staging_scenes::staged(staging_scenes::with_pieces({one, two}));
    CHECK(find_staged(apart, "one")->mesh != find_staged(apart, "two")->mesh);
    std::get<FigureForm>(two.parts[0].form).skeleton = "chidl";
    const auto wrong = stage(staging_scenes::with_pieces({one, two}), "a.scene.json", MemoryFiles(),
                             StagedFor::views);
    REQUIRE_FALSE(wrong.ok());
    CHECK(one_line(wrong.error()).find("/pieces/1/parts/0") != std::string::npos);
    CHECK(one_line(wrong.error()).find("\"child\"") != std::string::npos);
}

TEST_CASE("a hostile skeleton is refused, not run out of memory") {
    MemoryFiles files;
    files.files["own.json"] = R"({"name": "own", "stature": 10,
      "segments": [{"name": "body", "tip": [0, 0, 1], "mass_share": 1}],
      "joints": [{"name": "whole", "segment": "body", "axes": []}], "contacts": [],
      "regions": [{"name": "all", "colour": "coat", "cell": 0.005}],
      "solids": [{"region": "all", "segment": "body", "from": [0, 0, 0], "radius": 9000}],
      "dress": {"coat": "#333333"}})";
    const auto figure = find_figure(form_of("own.json", ""), "scene.json", files);
    REQUIRE_MESSAGE(figure.ok(), one_line(figure.error()));
    CHECK_FALSE(figure_mesh(*figure).ok());
}
