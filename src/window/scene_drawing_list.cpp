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
            below[axis] += c[axis] < (axis < 2 ? wish.low[axis] : -1) * c.w ? 1 : 0;
            above[axis] += c[axis] > (axis < 2 ? wish.high[axis] : 1) * c.w ? 1 : 0;
        }
    }
    for (int axis = 0; axis < 3; ++axis)
        if (below[axis] == 8 || above[axis] == 8) return std::nullopt;
    const double mm =
        std::max(wish.mm_per_pixel.x + wish.mm_per_pixel.y * std::max(nearest, 0.0), 1e-6);
    return Seen{nearest, 2 * radius / mm};
}

constexpr std::size_t item_triangles = 20'000; // more are drawn by several calls

const GpuLevel& level_of(const GpuMesh& mesh, double may_stray_mm) {
    std::size_t level = 0;
    while (level + 1 < mesh.levels.size() && mesh.levels[level + 1].error_mm <= may_stray_mm)
        ++level;
    const GpuLevel& found = mesh.levels[level];
    const bool rougher = mesh.sketch.triangles > 0 && mesh.sketch.triangles < found.triangles;
    return rougher && mesh.sketch.error_mm <= may_stray_mm ? mesh.sketch : found;
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
    const GpuLevel* level = nullptr;
    int kind = 0; // 0 plain, 1 hall, 2 cut
    auto operator<=>(const GroupKey&) const = default;
};

bool is_cut(const StagedPiece& piece, const ListWish& wish) {
    return wish.cut_height && piece.box.low.z < *wish.cut_height &&
           piece.box.high.z > *wish.cut_height;
}

struct Shown { // a piece that is in the view
    std::size_t number = 0;
    GpuMesh* mesh = nullptr;
    Seen look;
    double may_stray_mm = 0; // of the original, for a stray of one pixel
    bool cut = false;
};

std::vector<Shown> shown_pieces(GpuMeshStore& store, const ListWish& wish, bool& lacking) {
    std::vector<Shown> out;
    const auto& pieces = wish.staging->pieces;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const StagedPiece& piece = pieces[i];
        if (piece.mesh->triangles.empty()) continue;
        if (piece.staged == StagedKind::hall && !wish.walls) continue;
        if (piece.staged == StagedKind::column && !wish.columns) continue;
        const auto look = seen(piece.box, wish);
        if (!look || look->pixels < 1) continue;
        GpuMesh* mesh = store.mesh_of(piece, wish.cut_height.has_value());
        lacking = lacking || !mesh;
        if (!mesh) continue;
        const double mm = wish.mm_per_pixel.x + wish.mm_per_pixel.y * std::max(look->nearest, 50.0);
        out.push_back({i, mesh, *look, mm / piece.placement.scale, is_cut(piece, wish)});
    }
    return out;
}

// How far pieces stray, so that no more triangles are drawn than wished; once nothing gets rougher
// it is left at that.
double stray_for(const std::vector<Shown>& shown, const ListWish& wish) {
    double stray = wish.stray_pixels;
    if (wish.most_triangles == 0) return stray;
    for (int i = 0; i < 24; ++i, stray *= 1.5) {
        std::size_t triangles = 0;
        for (const Shown& s : shown)
            triangles += level_of(*s.mesh, s.may_stray_mm * stray).triangles;
        if (triangles <= wish.most_triangles) break;
    }
    return stray;
}

using Groups = std::map<GroupKey, Group>;

void list_piece(const Shown& s, const ListWish& wish, double stray, Groups& groups, DrawList& out) {
    const StagedPiece& piece = wish.staging->pieces[s.number];
    const GpuLevel& level = level_of(*s.mesh, s.may_stray_mm * stray);
    const Instance instance = instance_of(piece, s.number, wish.view);
    if (s.mesh->has_opaque) {
        // A cut piece keeps its shape, for its section is filled by its full form.
        const int kind = piece.staged == StagedKind::hall ? 1 : s.cut ? 2 : 0;
        Group& group = groups[{s.mesh, s.cut ? &s.mesh->levels.front() : &level, kind}];
        group.instances.push_back(instance);
        group.nearest = std::min(group.nearest, s.look.nearest);
    }
    if (!s.mesh->has_glass) return;
    out.unsure = out.unsure || s.mesh->packed;
    const auto number = static_cast<std::uint32_t>(out.instances.size());
    out.instances.push_back(instance);
    const double depth = -(wish.view * glm::dvec4(piece.box.centre(), 1)).z;
    for (std::size_t k = 0; k < s.mesh->looks.size(); ++k)
        if (s.mesh->looks[k].lets_through > 0)
            out.glass.push_back({s.mesh, &level, k, number, depth});
}

void list_groups(const Groups& groups, const ListWish& wish, DrawList& out) {
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
}

void list_floor(GpuMeshStore& store, const StagedPiece& floor, const ListWish& wish,
                DrawList& out) {
    const GpuMesh* mesh = store.mesh_of(floor);
    out.lacking = out.lacking || !mesh;
    if (!mesh) return;
    Instance instance = instance_of(floor, 0, wish.view);
    instance.id = 1; // floor_number / 65535
    const auto number = static_cast<std::uint32_t>(out.instances.size());
    out.instances.push_back(instance);
    out.opaque.push_back({mesh, &mesh->levels.front(), number, 1, true, 1e300});
}

// A range in parts of a size that a call may have.
void add_items(const Batch& batch, std::size_t look, bool textured, std::vector<DrawItem>& items) {
    const IndexSpan whole = batch.level->spans[look];
    for (std::uint32_t done = 0; done < whole.count;) {
        const auto part =
            std::min(whole.count - done, static_cast<std::uint32_t>(item_triangles * 3));
        items.push_back({batch.mesh,
                         batch.level,
                         look,
                         {whole.first + done, part},
                         batch.first,
                         batch.count,
                         textured,
                         batch.backs_hidden});
        done += part;
    }
}

std::vector<DrawItem> items_of(const std::vector<Batch>& batches) {
    std::vector<DrawItem> items;
    for (const bool textured : {false, true})
        for (const Batch& batch : batches)
            for (std::size_t k = 0; k < batch.level->spans.size(); ++k)
                if ((batch.mesh->textures[k] != 0) == textured &&
                    batch.mesh->looks[k].lets_through <= 0)
                    add_items(batch, k, textured, items);
    return items;
}

} // namespace

std::uint32_t number_of(std::size_t piece) {
    return static_cast<std::uint32_t>(piece % (floor_number - 1)) + 1;
}

DrawList list_pieces(GpuMeshStore& store, const ListWish& wish, const StagedPiece* floor) {
    DrawList out;
    const std::vector<Shown> shown = shown_pieces(store, wish, out.lacking);
    const double stray = stray_for(shown, wish);
    out.stray_pixels = stray;
    Groups groups;
    for (const Shown& s : shown)
        list_piece(s, wish, stray, groups, out);
    list_groups(groups, wish, out);
    if (floor) list_floor(store, *floor, wish, out);
    out.items = items_of(out.opaque);
    return out;
}

std::size_t items_until(const std::vector<DrawItem>& items, std::size_t from,
                        std::size_t triangles) {
    std::size_t drawn = 0;
    while (from < items.size() && (drawn == 0 || drawn < triangles))
        drawn += items[from++].triangles();
    return from;
}

} // namespace standpoint
