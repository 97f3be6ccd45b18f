// Staging of hall and base: sections, columns, walls with their doors, and the walls' own id.
#include <cmath>

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include "shape/mass_properties.h"
#include "staging_scenes.h"

using namespace standpoint;
using namespace standpoint::staging_scenes;

namespace {

// 10 x 8 m with a notch of 4 x 3 m in its right back corner; the door is in the front wall.
Document landing() {
    Document document = with_hall(with_pieces({}), [](Hall& hall) {
        hall.outline = {{0.0, 0.0},       {10000.0, 0.0},   {10000.0, 5000.0},
                        {6000.0, 5000.0}, {6000.0, 8000.0}, {0.0, 8000.0}};
        hall.ceiling = 3600;
        hall.doors = {Door{"door-south", {3000.0, 0.0}, 1800, 2100}};
        hall.columns = {Column{"column-west", {1500.0, 4000.0}, 0, 0, 400},
                        Column{"column-east", {7000.0, 3000.0}, 300, 500, 0}};
    });
    document.sections = std::make_shared<const std::vector<Section>>(
        std::vector<Section>{{"section-a", "A", {2000.1, 1000.2}, 3000, 1800, 150},
                             {"section-b", "B", {5000.1, 1000.2}, 3000, 1800, 150},
                             {"section-c", "C", {2000.1, 2800.2}, 3000, 1800, 0}});
    return document;
}

constexpr double perimeter = 10000 + 5000 + 4000 + 3000 + 6000 + 8000;

Document with_door(const Door& door) {
    return with_hall(landing(), [&](Hall& hall) { hall.doors = {door}; });
}

double wall_area(const Document& document) {
    return mass_properties(*find(staged(document), "hall").mesh).area;
}

} // namespace

TEST_CASE("pieces come first, then sections, columns and the walls") {
    Document document = landing();
    document.pieces = with_pieces({piece("stool", {part("", BoxForm{3, 3, 4})})}).pieces;
    const Staging staging = staged(document);
    std::vector<std::string> ids;
    for (const StagedPiece& p : staging.pieces)
        ids.push_back(p.id);
    CHECK(ids == std::vector<std::string>{"stool", "section-a", "section-b", "section-c",
                                          "column-west", "column-east", "hall"});
    CHECK(find(staging, "stool").staged == StagedKind::piece);
    CHECK(find(staging, "section-a").staged == StagedKind::section);
    CHECK(find(staging, "column-west").staged == StagedKind::column);
    CHECK(find(staging, "hall").staged == StagedKind::hall);
    CHECK(find(staging, "stool").piece != nullptr);
    CHECK(find(staging, "hall").piece == nullptr);
    CHECK(find_staged(staging, "door-south") == nullptr);
}

TEST_CASE("sections are closed from floor to deck, where the document has them to the last bit") {
    const Staging staging = staged(landing());
    const StagedPiece& a = find(staging, "section-a");
    CHECK(a.box.low == glm::dvec3(2000.1, 1000.2, 0));
    CHECK(a.box.high == glm::dvec3(2000.1 + 3000, 1000.2 + 1800, 150));
    const MassProperties m = mass_properties(*a.mesh);
    CHECK(m.closed);
    CHECK(std::abs(m.volume - 3000.0 * 1800 * 150) < 1e-3);
    CHECK(a.mesh == find(staging, "section-b").mesh);
    // A deck that is the floor is a sheet.
    const StagedPiece& c = find(staging, "section-c");
    CHECK(c.mesh != a.mesh);
    CHECK(c.box.high.z == 0);
    CHECK(std::abs(mass_properties(*c.mesh).area - 3000.0 * 1800) < 1e-6);
    CHECK(c.mesh->materials[0].two_sided);
}

TEST_CASE("columns stand from floor to ceiling about their centres") {
    const Staging staging = staged(landing());
    const StagedPiece &round = find(staging, "column-west"), &square = find(staging, "column-east");
    CHECK(round.box.low == glm::dvec3(1300, 3800, 0));
    CHECK(round.box.high == glm::dvec3(1700, 4200, 3600));
    CHECK(square.box.low == glm::dvec3(6850, 2750, 0));
    CHECK(square.box.high == glm::dvec3(7150, 3250, 3600));
    for (const StagedPiece* column : {&round, &square}) {
        CHECK(mass_properties(*column->mesh).closed);
        CHECK(mass_properties(*column->mesh).volume > 0);
    }
}

TEST_CASE("walls follow the outline from floor to ceiling, doors left open, front inside") {
    const Document document = landing();
    const StagedPiece walls = find(staged(document), "hall");
    CHECK(walls.box.low == glm::dvec3(0, 0, 0));
    CHECK(walls.box.high == glm::dvec3(10000, 8000, 3600));
    CHECK(walls.mesh->materials[0].two_sided);
    CHECK(!mass_properties(*walls.mesh).closed);
    CHECK(std::abs(wall_area(document) - (perimeter * 3600 - 1800.0 * 2100)) < 1e-4);
    for (std::uint32_t i = 0; i < walls.mesh->triangles.size(); ++i) {
        const Triangle t = scene_triangle(walls, i);
        const glm::dvec3 middle = (t.a + t.b + t.c) / 3.0;
        const bool in_door = middle.y == 0 && std::abs(middle.x - 3000) < 900 && middle.z < 2100;
        CHECK(!in_door);
        if (middle.y == 0) CHECK(walls.mesh->normals[walls.mesh->triangles[i].x].y == 1);
        if (middle.x == 0) CHECK(walls.mesh->normals[walls.mesh->triangles[i].x].x == 1);
    }
    // The other way round it is the same hall.
    const Document other = with_hall(document, [](Hall& hall) {
        hall.outline = std::vector<PlanPoint>(hall.outline.rbegin(), hall.outline.rend());
    });
    CHECK(std::abs(wall_area(other) - wall_area(document)) < 1e-6);
    const StagedPiece turned = find(staged(other), "hall");
    for (std::uint32_t i = 0; i < turned.mesh->triangles.size(); ++i) {
        const Triangle t = scene_triangle(turned, i);
        if (t.a.y == 0 && t.b.y == 0 && t.c.y == 0) {
            CHECK(turned.mesh->normals[turned.mesh->triangles[i].x].y == 1);
        }
    }
}

TEST_CASE("doors that meet are one opening, and a door may reach corner and ceiling") {
    const Document pair = with_hall(landing(), [](Hall& hall) {
        hall.doors = {Door{"door-a", {3000.0, 0.0}, 1800, 2100},
                      Door{"door-b", {3900.0, 0.0}, 1800, 2500}};
    });
    const double open = 900.0 * 2100 + 1800.0 * 2500;
    CHECK(std::abs(wall_area(pair) - (perimeter * 3600 - open)) < 1e-4);
    const Document whole = with_door({"door-a", {8000.0, 5000.0}, 4000, 3600});
    CHECK(std::abs(wall_area(whole) - (perimeter - 4000) * 3600) < 1e-4);
}

TEST_CASE("doors that are not in a wall are refused by name and pointer") {
    const Error high = refused(with_door({"door-a", {3000.0, 0.0}, 1800, 3600.1}));
    CHECK(high.where == "landing/scene.json (/hall/doors/0)");
    CHECK(high.message.find("door \"door-a\": found height 3600.1") == 0);
    CHECK(refused(with_door({"door-a", {899.0, 0.0}, 1800, 2100})).message.find("past the end") !=
          std::string::npos);
    staged(with_door({"door-a", {900.0, 0.0}, 1800, 2100}));
    CHECK(refused(with_door({"door-a", {3000.0, -501.0}, 1800, 2100}))
              .message.find("501 mm from the hall's outline") != std::string::npos);
    staged(with_door({"door-a", {3000.0, -500.0}, 1800, 2100}));
}

TEST_CASE("the id of the walls is refused for anything else") {
    const auto expect = [](const Document& document, const std::string& pointer) {
        const Error error = refused(document);
        CHECK(error.code == ErrorCode::input);
        CHECK(error.where == "landing/scene.json (" + pointer + ")");
        CHECK(error.message.find("found the id \"hall\"") == 0);
    };
    Document document = landing();
    document.pieces = with_pieces({piece("hall", {part("", BoxForm{3, 3, 4})})}).pieces;
    expect(document, "/pieces/0/id");
    document = landing();
    std::vector<Section> sections = *document.sections;
    sections[1].id = "hall";
    document.sections = std::make_shared<const std::vector<Section>>(sections);
    expect(document, "/sections/1/id");
    expect(with_hall(landing(), [](Hall& hall) { hall.columns[1].id = "hall"; }),
           "/hall/columns/1/id");
    expect(with_hall(landing(), [](Hall& hall) { hall.doors[0].id = "hall"; }), "/hall/doors/0/id");
}

TEST_CASE("restaging keeps the meshes of hall and base") {
    const Document document = landing();
    const Staging before = staged(document);
    const Result<Staging> after =
        restage(before, document, scene_file, MemoryFiles{}, StagedFor::checks);
    REQUIRE(after.ok());
    CHECK(same(before, *after));
    for (std::size_t i = 0; i < before.pieces.size(); ++i) {
        CHECK(before.pieces[i].mesh == after->pieces[i].mesh);
    }
    const Document moved = with_hall(document, [](Hall& hall) { hall.ceiling = 3500; });
    const Result<Staging> lower =
        restage(before, moved, scene_file, MemoryFiles{}, StagedFor::checks);
    REQUIRE(lower.ok());
    CHECK(same(*lower, staged(moved)));
    CHECK(find(*lower, "hall").mesh_hash != find(before, "hall").mesh_hash);
    CHECK(find(*lower, "section-a").mesh == find(before, "section-a").mesh);
}
