// The body of a figure: regions netted, coloured, named, scaled to the stature.
#include "shape/figure_mesh.h"

#include <algorithm>
#include <utility>

#include <glm/geometric.hpp>
#include <glm/matrix.hpp>

#include "shape/figure_field.h"
#include "shape/figure_net.h"
#include "shape/staging_mesh.h"

namespace standpoint {

namespace {

constexpr double default_hem = 0.2;
// A skirt leaves the coat this short.
constexpr double hem_over_skirt = 0.06;
constexpr double default_skirt_hem = 0.72;

bool is_worn(const BodyRegion& region, const FigureDress& dress) {
    switch (region.worn) {
    case Worn::always:
        return true;
    case Worn::hat:
        return !dress.hat.empty();
    case Worn::bare_head:
        return dress.hat.empty();
    case Worn::skirt:
        return !dress.skirt.empty();
    case Worn::trousers:
        return dress.skirt.empty();
    }
    return true;
}

const std::string& colour_of(const BodyRegion& region, const FigureDress& dress) {
    const std::pair<const char*, const std::string*> own[] = {
        {"skin", &dress.skin},  {"hair", &dress.hair},   {"coat", &dress.coat},
        {"hat", &dress.hat},    {"shoes", &dress.shoes}, {"trousers", &dress.trousers},
        {"skirt", &dress.skirt}};
    for (const auto& [name, colour] : own)
        if (region.colour == name) return *colour;
    return region.colour;
}

double hem_of(const BodyRegion& region, const FigureDress& dress) {
    const bool has_skirt = !dress.skirt.empty();
    if (region.worn == Worn::skirt) return dress.hem ? dress.hem->value : default_skirt_hem;
    if (has_skirt) return hem_over_skirt;
    return dress.hem ? dress.hem->value : default_hem;
}

// The segment and the height its front begins at: those of the region's first solids.
struct Front {
    int segment = 0;
    double y = 0, z = 0;
};

Front front_of(const Skeleton& skeleton, int region) {
    Front front;
    front.y = skeleton.regions[region].front_below;
    bool first = true;
    for (const BodySolid& solid : skeleton.solids) {
        if (solid.region != region || solid.carve) continue;
        if (first) front.segment = solid.segment;
        if (solid.segment == front.segment)
            front.z = first ? solid.to.z - solid.end_radius
                            : std::min(front.z, solid.to.z - solid.end_radius);
        first = false;
    }
    return front;
}

// Where a triangle belongs: 0 to the region, 1 to its front.
std::vector<std::uint32_t> part_of(const Net& net, const Skeleton& skeleton, int region,
                                   const std::vector<Frame>& segments) {
    std::vector<std::uint32_t> parts(net.triangles.size(), 0);
    if (skeleton.regions[region].front.empty()) return parts;
    const Front front = front_of(skeleton, region);
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const glm::uvec3& t = net.triangles[i];
        const glm::dvec3 middle =
            (net.positions[t.x] + net.positions[t.y] + net.positions[t.z]) / 3.0;
        const glm::dvec3 own = to_inner(segments[front.segment], middle);
        parts[i] = own.y < front.y && own.z > front.z ? 1 : 0;
    }
    return parts;
}

Result<Mesh> region_mesh(const Figure& figure, const std::vector<Frame>& segments, int index) {
    const BodyRegion& region = figure.skeleton->regions[index];
    const FigureField field(*figure.skeleton, segments, index, hem_of(region, figure.dress));
    STANDPOINT_TRY(net, net_over(field, region.cell));
    Mesh mesh;
    mesh.part_of = part_of(net, *figure.skeleton, index, segments);
    mesh.positions = std::move(net.positions);
    mesh.normals = std::move(net.normals);
    mesh.triangles = std::move(net.triangles);
    mesh.parts.push_back({region.name, 0});
    if (!region.front.empty()) mesh.parts.push_back({region.front, 0});
    mesh.materials.emplace_back();
    STANDPOINT_TRY(colour, parse_colour(colour_of(region, figure.dress)));
    mesh.materials[0].colour = colour;
    return mesh;
}

} // namespace

Result<Mesh> figure_mesh(const Figure& figure) {
    const Skeleton& skeleton = *figure.skeleton;
    // Made at the skeleton's own stature, so that a figure of any size has the same net.
    Figure own = figure;
    own.stature_mm = skeleton.stature;
    const Posed held = posed(own);
    Mesh whole;
    for (std::size_t i = 0; i < skeleton.regions.size(); ++i) {
        if (!is_worn(skeleton.regions[i], figure.dress)) continue;
        STANDPOINT_TRY(part, region_mesh(figure, held.segments, static_cast<int>(i)));
        if (!part.triangles.empty()) append(whole, part);
    }
    transform(whole, glm::dmat3(1.0), glm::dvec3(0.0), figure.stature_mm / skeleton.stature);
    return whole;
}

std::vector<std::string> figure_part_names(const Figure& figure) {
    std::vector<std::string> names;
    for (const BodyRegion& region : figure.skeleton->regions) {
        if (!is_worn(region, figure.dress)) continue;
        names.push_back(region.name);
        if (!region.front.empty()) names.push_back(region.front);
    }
    return names;
}

} // namespace standpoint
