// What of the hall and the base is solid: sections, columns, walls with their doors.
#include "shape/staging_hall.h"

#include <algorithm>
#include <utility>
#include <vector>

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include "base/check.h"
#include "shape/mesh_builder.h"
#include "shape/primitives.h"
#include "shape/primitives_outline.h"
#include "shape/staging_mesh.h"

namespace standpoint {

namespace {

constexpr const char* deck_colour = "#a1896c";   // boards
constexpr const char* column_colour = "#c9c6be"; // plaster
constexpr const char* wall_colour = "#dcd8cf";   // plaster in daylight

// A door's centre may be given in the middle of a wall's thickness: common practice, no source.
constexpr double door_off_wall_mm = 500;
constexpr double sum_slack_mm = 1e-6;

Mesh coloured(Mesh mesh, const char* colour) {
    mesh.materials[0].colour = *parse_colour(colour);
    return mesh;
}

struct Opening { // of one wall, from its first corner along it
    double from, to, height;
};

struct Wall {
    glm::dvec2 from, to; // the hall on its left
    std::vector<Opening> openings;

    double length() const { return glm::distance(from, to); }
    glm::dvec2 along() const { return (to - from) / length(); }
    double place_of(const glm::dvec2& point) const { return glm::dot(point - from, along()); }
    double distance_to(const glm::dvec2& point) const {
        const double t = std::clamp(place_of(point), 0.0, length());
        return glm::distance(point, from + along() * t);
    }
};

std::vector<Wall> walls_of(const Hall& hall) {
    std::vector<glm::dvec2> corners;
    for (const PlanPoint& p : hall.outline) {
        const glm::dvec2 corner(p.x.mm, p.y.mm);
        if (corners.empty() || corner != corners.back()) corners.push_back(corner);
    }
    while (corners.size() > 1 && corners.front() == corners.back())
        corners.pop_back();
    if (corners.size() < 3) return {};
    if (signed_area(corners) < 0) std::reverse(corners.begin(), corners.end());
    std::vector<Wall> walls;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        walls.push_back({corners[i], corners[(i + 1) % corners.size()], {}});
    }
    return walls;
}

Status cut_door(std::vector<Wall>& walls, const Hall& hall, std::size_t index,
                const std::string& scene_file) {
    const Door& door = hall.doors[index];
    const auto refused = [&](const std::string& message) {
        return input_error(fmt::format("{} (/hall/doors/{})", scene_file, index),
                           fmt::format("door \"{}\": {}", door.id, message));
    };
    const glm::dvec2 centre(door.centre.x.mm, door.centre.y.mm);
    const auto wall = std::min_element(walls.begin(), walls.end(), [&](auto& a, auto& b) {
        return a.distance_to(centre) < b.distance_to(centre);
    });
    if (wall->distance_to(centre) > door_off_wall_mm) {
        return refused(fmt::format("found its centre {:.0f} mm from the hall's outline, expected "
                                   "it on the outline",
                                   wall->distance_to(centre)));
    }
    if (door.height.mm > hall.ceiling.mm) {
        return refused(fmt::format("found height {} under a ceiling of {}, expected no more",
                                   print_exact(door.height.mm), print_exact(hall.ceiling.mm)));
    }
    const double middle = wall->place_of(centre), half = door.width.mm / 2;
    if (middle - half < -sum_slack_mm || middle + half > wall->length() + sum_slack_mm) {
        return refused(fmt::format("found {} mm of width that reaches past the end of its wall, "
                                   "expected it inside one wall",
                                   print_exact(door.width.mm)));
    }
    wall->openings.push_back(
        {std::max(middle - half, 0.0), std::min(middle + half, wall->length()), door.height.mm});
    return Done{};
}

// Cut along every edge of every opening; what lies in none of them is wall.
void add_wall(MeshBuilder& build, const Wall& wall, double ceiling) {
    std::vector<double> xs{0, wall.length()}, zs{0, ceiling};
    for (const Opening& o : wall.openings) {
        xs.insert(xs.end(), {o.from, o.to});
        zs.push_back(o.height);
    }
    for (std::vector<double>* cuts : {&xs, &zs}) {
        std::sort(cuts->begin(), cuts->end());
        cuts->erase(std::unique(cuts->begin(), cuts->end()), cuts->end());
    }
    const auto place = [&](double x, double z) {
        // The ends are the outline's own corners, to the last bit.
        const glm::dvec2 p = x == wall.length() ? wall.to : wall.from + wall.along() * x;
        return glm::dvec3(p, z);
    };
    for (std::size_t z = 0; z + 1 < zs.size(); ++z) {
        for (std::size_t x = 0; x + 1 < xs.size(); ++x) {
            const auto open = [&](const Opening& o) {
                return o.from <= xs[x] && xs[x + 1] <= o.to && zs[z + 1] <= o.height;
            };
            if (std::any_of(wall.openings.begin(), wall.openings.end(), open)) continue;
            build.flat_quad(place(xs[x + 1], zs[z]), place(xs[x], zs[z]), place(xs[x], zs[z + 1]),
                            place(xs[x + 1], zs[z + 1]));
        }
    }
}

} // namespace

Mesh section_mesh(const Section& section) {
    const double width = section.width.mm, depth = section.depth.mm, height = section.height.mm;
    if (height > 0) return coloured(box_between({0, 0, 0}, {width, depth, height}), deck_colour);
    MeshBuilder build;
    build.flat_quad({0, 0, 0}, {width, 0, 0}, {width, depth, 0}, {0, depth, 0});
    Mesh sheet = coloured(std::move(build).finish(), deck_colour);
    sheet.materials[0].two_sided = true;
    return sheet;
}

Mesh column_mesh(const Column& column, double ceiling_mm) {
    const Form form = column.diameter.mm > 0
                          ? Form(CylinderForm{column.diameter, ceiling_mm})
                          : Form(BoxForm{column.width, column.depth, ceiling_mm});
    Result<Mesh> mesh = mesh_of(form);
    STANDPOINT_CHECK(mesh.ok()); // sizes are above 0 in a valid document
    return coloured(std::move(*mesh), column_colour);
}

Result<Mesh> wall_sheet(const Hall& hall, const std::string& scene_file) {
    std::vector<Wall> walls = walls_of(hall);
    MeshBuilder build;
    if (!walls.empty()) {
        for (std::size_t i = 0; i < hall.doors.size(); ++i) {
            STANDPOINT_TRY_STATUS(cut_door(walls, hall, i, scene_file));
        }
    }
    for (const Wall& wall : walls)
        add_wall(build, wall, hall.ceiling.mm);
    Mesh sheet = coloured(std::move(build).finish(), wall_colour);
    sheet.materials[0].two_sided = true;
    return sheet;
}

} // namespace standpoint
