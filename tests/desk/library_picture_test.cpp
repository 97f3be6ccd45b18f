// Small pictures of the library: a box against its geometry, cut-outs, order in depth, and the
// shelf that makes them beside the window.
#include <doctest/doctest.h>

#include <cmath>
#include <set>

#include <glm/geometric.hpp>

#include "desk/arranged.h"
#include "desk/library_picture.h"
#include "desk/library_shelf.h"
#include "picture/tone.h"
#include "shape/primitives.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

Mesh box_mesh(double width, double depth, double height) {
    return *mesh_of(BoxForm{width, depth, height});
}

struct Colours {
    double covered = 0;                                   // pixels, by alpha
    std::map<int, int> count;                             // of fully covered pixels, by their red
    int left = 1000, right = -1, top = 1000, bottom = -1; // of anything at all
};
Colours colours_of(const Image& image) {
    Colours found;
    for (int y = 0; y < image.height; ++y) {
        for (int x = 0; x < image.width; ++x) {
            const std::uint8_t* p = &image.rgba[static_cast<std::size_t>(y * image.width + x) * 4];
            found.covered += p[3] / 255.0;
            if (p[3] == 0) continue;
            if (p[3] == 255) ++found.count[p[0]];
            found.left = std::min(found.left, x);
            found.right = std::max(found.right, x);
            found.top = std::min(found.top, y);
            found.bottom = std::max(found.bottom, y);
        }
    }
    return found;
}

int encoded(double linear) {
    return static_cast<int>(std::lround(srgb_of_linear(linear) * 255));
}

} // namespace

TEST_CASE("the axes of a picture are square to each other, with up upwards") {
    const PictureAxes axes = picture_axes();
    CHECK(std::abs(glm::dot(axes.right, axes.up)) < 1e-12);
    CHECK(std::abs(glm::dot(axes.right, axes.towards)) < 1e-12);
    CHECK(std::abs(glm::dot(axes.up, axes.towards)) < 1e-12);
    for (const glm::dvec3& axis : {axes.right, axes.up, axes.towards})
        CHECK(glm::length(axis) == doctest::Approx(1).epsilon(1e-12));
    CHECK(axes.up.z > 0);
    CHECK(axes.towards.y < 0); // the front of a thing is -Y
}

TEST_CASE("a box shows three faces of the areas and lights that geometry gives") {
    constexpr int pixels = 192;
    for (const glm::dvec3& size : {glm::dvec3(100, 100, 100), glm::dvec3(300, 50, 80)}) {
        Mesh mesh = box_mesh(size.x, size.y, size.z);
        mesh.materials[0].colour = {0.5f, 0.5f, 0.5f, 1};
        const Colours found = colours_of(mesh_picture(mesh, pixels));
        const PictureAxes axes = picture_axes();
        // The outline of the box on the picture is as wide and high as its edges cast it.
        const double wide = glm::dot(glm::abs(axes.right), size),
                     high = glm::dot(glm::abs(axes.up), size);
        const double scale = pixels * (1 - 2 * picture_margin) / std::max(wide, high);
        CHECK(std::abs(found.right + 1 - found.left - wide * scale) < 1.5);
        CHECK(std::abs(found.bottom + 1 - found.top - high * scale) < 1.5);
        CHECK(std::abs(found.left - (pixels - 1 - found.right)) <= 1); // in the middle
        CHECK(std::abs(found.top - (pixels - 1 - found.bottom)) <= 1);
        const double area[3] = {size.y * size.z, size.x * size.z, size.x * size.y};
        double whole = 0;
        for (int axis = 0; axis < 3; ++axis) {
            glm::dvec3 normal(0.0);
            normal[axis] = axes.towards[axis] > 0 ? 1 : -1;
            const double wanted = area[axis] * glm::dot(normal, axes.towards) * scale * scale;
            whole += wanted;
            const int red = encoded(0.5 * picture_light(normal));
            REQUIRE(found.count.contains(red));
            // Pixels on its edges are of two faces or half covered: at most its outline's length.
            CHECK(found.count.at(red) <= wanted + 1);
            CHECK(found.count.at(red) > wanted - 4 * pixels);
        }
        CHECK(std::abs(found.covered - whole) < 0.01 * whole);
    }
}

TEST_CASE("light falls from above") {
    CHECK(picture_light({0, 0, 1}) > picture_light({0, -1, 0}));
    CHECK(picture_light({0, -1, 0}) > picture_light({-1, 0, 0}));
    CHECK(picture_light({-1, 0, 0}) > picture_light({0, 0, -1}));
    CHECK(picture_light({0, 0, 1}) <= 1);
    CHECK(picture_light({0, 0, -1}) > 0);
}

TEST_CASE("what is nearer hides what is behind, in either order of drawing") {
    Mesh back = box_mesh(100, 10, 100), front = box_mesh(100, 10, 100);
    back.materials[0].colour = {1, 0, 0, 1};
    front.materials[0].colour = {0, 1, 0, 1};
    const glm::dvec3 nearer = picture_axes().towards * 60.0;
    transform(front, glm::dmat3(1.0), nearer, 1);
    for (const bool front_first : {false, true}) {
        Mesh both = front_first ? front : back;
        append(both, front_first ? back : front);
        const Image image = mesh_picture(both, 64);
        int red = 0, green = 0;
        for (std::size_t i = 0; i < image.rgba.size(); i += 4) {
            red += image.rgba[i] > 0;
            green += image.rgba[i + 1] > 0;
        }
        CHECK(red == 0); // one lies exactly over the other
        CHECK(green > 200);
    }
}

TEST_CASE("what lets light through is thinned, and cut-outs and empty meshes leave nothing") {
    Mesh mesh = box_mesh(100, 100, 100);
    const double solid = colours_of(mesh_picture(mesh, 96)).covered;
    mesh.materials[0].lets_through = 0.5f;
    const double half = colours_of(mesh_picture(mesh, 96)).covered;
    CHECK(half == doctest::Approx(solid / 2).epsilon(0.05));
    mesh.materials[0].lets_through = 1;
    CHECK(colours_of(mesh_picture(mesh, 96)).covered == 0);
    mesh.materials[0].lets_through = 0;
    Image clear;
    clear.width = clear.height = 1;
    clear.rgba = {255, 255, 255, 0};
    mesh.materials[0].image = std::make_shared<const Image>(clear);
    mesh.materials[0].alpha_cutoff = 0.5f;
    mesh.uvs.assign(mesh.positions.size(), glm::vec2(0.5f));
    CHECK(colours_of(mesh_picture(mesh, 96)).covered == 0);
    CHECK(colours_of(mesh_picture(Mesh{}, 8)).covered == 0);
    CHECK(mesh_picture(Mesh{}, 8).rgba.size() == 8 * 8 * 4);
}

TEST_CASE("a picture is the same at any size of the thing, and wherever it lies") {
    Mesh mesh = box_mesh(30, 20, 50);
    const Image image = mesh_picture(mesh, 48);
    transform(mesh, glm::dmat3(1.0), {1024, -512, 256}, 4);
    const Image moved = mesh_picture(mesh, 48);
    int off = 0;
    for (std::size_t i = 0; i < image.rgba.size(); ++i)
        off += std::abs(image.rgba[i] - moved.rgba[i]) > 2;
    CHECK(off <= 16); // samples on an edge may fall to either side
}

TEST_CASE("everything in the library has a picture") {
    const auto entries = library_of(bare_scene(), "", DiskFolders());
    REQUIRE(entries.ok());
    std::set<std::string> keys;
    for (const LibraryEntry& entry : *entries) {
        CAPTURE(entry.name);
        CHECK(keys.insert(picture_key(entry, "a.json")).second);
        const Result<Image> image = entry_picture(entry, "a.json", MemoryFiles(), 48);
        REQUIRE(image.ok());
        const double covered = colours_of(*image).covered;
        CHECK(covered > 0.03 * 48 * 48);
        CHECK(covered < 0.95 * 48 * 48);
    }
    const LibraryEntry model = model_entry("models/boat.glb");
    CHECK_FALSE(entry_picture(model, "a.json", MemoryFiles(), 48).ok());
    CHECK(picture_key(model, "a/x.json") != picture_key(model, "b/x.json"));
}

TEST_CASE("the shelf makes each picture once, tells of problems, and forgets what is not wanted") {
    LibraryShelf shelf(std::make_shared<const MemoryFiles>());
    CHECK_FALSE(shelf.working());
    auto entries = *library_of(bare_scene(), "", DiskFolders());
    entries.resize(3);
    entries.push_back(model_entry("gone.glb"));
    shelf.want(entries, "a.json");
    shelf.want(entries, "a.json");
    shelf.settle();
    CHECK(shelf.working()); // they wait to be taken
    const auto first = shelf.take(2), rest = shelf.take(100);
    CHECK(first.size() == 2);
    REQUIRE(rest.size() == 2);
    CHECK_FALSE(shelf.working());
    CHECK(first[0].key == picture_key(entries[0], "a.json"));
    CHECK(first[0].image.width == library_picture_pixels);
    CHECK(first[0].problem.empty());
    CHECK(rest[1].key == picture_key(entries[3], "a.json"));
    CHECK(rest[1].image.rgba.empty());
    CHECK(rest[1].problem.find("gone.glb") != std::string::npos);
    shelf.want(entries, "a.json");
    shelf.settle();
    CHECK(shelf.take(100).empty());
    shelf.want({}, "a.json");
    CHECK_FALSE(shelf.working());
}
