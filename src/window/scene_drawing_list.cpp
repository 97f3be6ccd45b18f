// Culls, chooses levels and sorts.
#include "window/scene_drawing_list.h"

#include <algorithm>
#include <cmath>
#include <map>

#include <glm/geometric.hpp>
#include <glm/vec4.hpp>

namespace standpoint {

namespace {

struct Seen {
    double nearest = 0; // depth into the view, mm
    double pixels = 0;  // across, at most
};

// Nothing when the box lies outside what the view shows.
std::optional<Seen> seen(const Box& box, const ListWish& wish) {
    const glm::dvec3 middle(wish.view * glm::dvec4(box.centre(), 1));
    const double radius = glm::length(box.size()) / 2;
    glm::ivec3 below(0), above(0);
    double nearest = -middle.z - radius;
    const glm::dmat4 clip = wish.projection * wish.view;
    for (int i = 0; i < 8; ++i) {
        const glm::dvec4 c =
            clip * glm::dvec4(i & 1 ? box.high.x : box.low.x, i & 2 ? box.high.y : box.low.y,
                              i & 4 ? box.high.z : box.low.z, 1);
        for (int axis = 0; axis < 3; ++axis) {
            below[axis] += c[axis] < -c.w ? 1 : 0;
            above[axis] += c[axis] > c.w ? 1 : 0;
        }
    }
    for (int axis = 0; axis < 3; ++axis)
        if (below[axis] == 8 || above[axis] == 8) return std::nullopt;
    const double mm =
        std::max(wish.mm_per_pixel.x + wish.mm_per_pixel.y * std::max(nearest, 0.0), 1e-6);
    return Seen{nearest, 2 * radius / mm};
}

std::size_t level_of(const GpuMesh& mesh, double scale, double may_stray_mm) {
    std::size_t level = 0;
    while (level + 1 < mesh.levels.size() &&
           mesh.levels[level + 1].error_mm * scale <= may_stray_mm)
        ++level;
    return level;
}

Instance instance_of(const StagedPiece& piece, std::size_t number, const glm::dmat4& view) {
    glm::dmat4 place(piece.placement.frame.rotation * piece.placement.scale);
    place[3] = glm::dvec4(piece.placement.frame.origin, 1);
    const glm::dmat4 m = view * place;
    Instance out{};
    for (int row = 0; row < 3; ++row)
        for (int column = 0; column < 4; ++column)
            out.rows[row * 4 + column] = static_cast<float>(m[column][row]);
    out.id = static_cast<float>(number_of(number)) / 65535.0f;
    return out;
}

struct Group {
    std::vector<Instance> instances;
    double nearest = 1e300;
};
struct GroupKey {
    GpuMesh* mesh = nullptr;
    std::size_t level = 0;
    int kind = 0; // 0 plain, 1 hall, 2 cut
    auto operator<=>(const GroupKey&) const = default;
};

bool is_cut(const StagedPiece& piece, const ListWish& wish) {
    return wish.cut_height && piece.box.low.z < *wish.cut_height &&
           piece.box.high.z > *wish.cut_height;
}

} // namespace

std::uint32_t number_of(std::size_t piece) {
    return static_cast<std::uint32_t>(piece % (floor_number - 1)) + 1;
}

DrawList list_pieces(MeshStore& store, const ListWish& wish) {
    DrawList out;
    std::map<GroupKey, Group> groups;
    const auto& pieces = wish.staging->pieces;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const StagedPiece& piece = pieces[i];
        if (piece.mesh->triangles.empty()) continue;
        if (piece.staged == StagedKind::hall && !wish.walls) continue;
        if (piece.staged == StagedKind::column && !wish.columns) continue;
        const auto look = seen(piece.box, wish);
        if (!look || look->pixels < 1) continue;
        GpuMesh& mesh = store.mesh_of(piece);
        const double mm = wish.mm_per_pixel.x + wish.mm_per_pixel.y * std::max(look->nearest, 50.0);
        const std::size_t level = level_of(mesh, piece.placement.scale, mm * wish.stray_pixels);
        const bool cut = is_cut(piece, wish);
        // A cut piece keeps its shape, for its section is filled by its full form.
        const Instance instance = instance_of(piece, i, wish.view);
        const auto add = [&](std::size_t at_level, int kind) {
            Group& group = groups[{&mesh, at_level, kind}];
            group.instances.push_back(instance);
            group.nearest = std::min(group.nearest, look->nearest);
        };
        if (mesh.has_opaque)
            add(cut ? 0 : level, piece.staged == StagedKind::hall ? 1 : cut ? 2 : 0);
        if (!mesh.has_glass) continue;
        const auto number = static_cast<std::uint32_t>(out.instances.size());
        out.instances.push_back(instance);
        const double depth = -(wish.view * glm::dvec4(piece.box.centre(), 1)).z;
        for (std::size_t k = 0; k < mesh.looks.size(); ++k)
            if (mesh.looks[k].lets_through > 0)
                out.glass.push_back({&mesh, level, k, number, depth});
    }
    for (const auto& [key, group] : groups) {
        Batch batch{key.mesh,
                    key.level,
                    static_cast<std::uint32_t>(out.instances.size()),
                    static_cast<std::uint32_t>(group.instances.size()),
                    key.kind == 1 || (key.kind == 0 && key.mesh->closed && !wish.cut_height),
                    group.nearest};
        out.instances.insert(out.instances.end(), group.instances.begin(), group.instances.end());
        out.opaque.push_back(batch);
        if (key.kind == 2 && key.mesh->solids.triangles > 0) out.cut.push_back(batch);
    }
    std::stable_sort(out.opaque.begin(), out.opaque.end(),
                     [](const Batch& a, const Batch& b) { return a.depth < b.depth; });
    std::stable_sort(out.glass.begin(), out.glass.end(),
                     [](const GlassDraw& a, const GlassDraw& b) { return a.depth > b.depth; });
    return out;
}

void add_floor(MeshStore& store, const StagedPiece& floor, const ListWish& wish, DrawList& list) {
    Batch batch{&store.mesh_of(floor),
                0,
                static_cast<std::uint32_t>(list.instances.size()),
                1,
                true,
                1e300};
    Instance instance = instance_of(floor, 0, wish.view);
    instance.id = 1; // floor_number / 65535
    list.instances.push_back(instance);
    list.opaque.push_back(batch);
}

} // namespace standpoint
