// The patch of surface that a target speaks of: parts chosen by name, cut exactly to a box.
#include "shape/surface.h"

#include <algorithm>
#include <cmath>

#include <glm/geometric.hpp>

namespace standpoint {

namespace {

using Polygon = std::vector<glm::dvec3>;

// What of the polygon lies at sign * p[axis] <= sign * limit. A cut is worked out from the inner
// end to the outer one, so that both triangles of an edge get the same point.
void cut(Polygon& polygon, Polygon& room, int axis, double limit, double sign) {
    room.clear();
    for (std::size_t i = 0; i < polygon.size(); ++i) {
        const glm::dvec3& here = polygon[i];
        const glm::dvec3& next = polygon[(i + 1) % polygon.size()];
        const double here_beyond = sign * (here[axis] - limit);
        const double next_beyond = sign * (next[axis] - limit);
        if (here_beyond <= 0) room.push_back(here);
        if ((here_beyond < 0 && next_beyond > 0) || (here_beyond > 0 && next_beyond < 0)) {
            const bool leaving = here_beyond < 0;
            const glm::dvec3& inner = leaving ? here : next;
            const glm::dvec3& outer = leaving ? next : here;
            const double inside = std::abs(leaving ? here_beyond : next_beyond);
            const double outside = std::abs(leaving ? next_beyond : here_beyond);
            glm::dvec3 point = inner + (outer - inner) * (inside / (inside + outside));
            point[axis] = limit;
            room.push_back(point);
        }
    }
    polygon.swap(room);
}

Box box_of(const Patch& patch) {
    Box box;
    if (patch.low && patch.high) {
        box.low = {patch.low->x.mm, patch.low->y.mm, patch.low->z.mm};
        box.high = {patch.high->x.mm, patch.high->y.mm, patch.high->z.mm};
    }
    return box;
}

void cut_to_box(Polygon& polygon, Polygon& room, const Box& box) {
    for (int axis = 0; axis < 3; ++axis) {
        cut(polygon, room, axis, box.low[axis], -1);
        cut(polygon, room, axis, box.high[axis], 1);
    }
}

void add_fan(const StagedPiece& piece, const Polygon& polygon, const SurfaceTriangle& like,
             std::vector<SurfaceTriangle>& out) {
    for (std::size_t i = 2; i < polygon.size(); ++i) {
        SurfaceTriangle made = like;
        made.corners = {to_scene(piece, polygon[0]), to_scene(piece, polygon[i - 1]),
                        to_scene(piece, polygon[i])};
        const Triangle& t = made.corners;
        const glm::dvec3 across = glm::cross(t.b - t.a, t.c - t.a);
        const double length = glm::length(across);
        if (!(length > 0)) continue;
        made.area = length / 2;
        made.normal = across / length;
        out.push_back(made);
    }
}

bool is_named(const MeshPart& part, const std::string& name) {
    return part.name == name || part.belongs_to == name;
}

std::string names_of(const Mesh& mesh) {
    std::vector<std::string> names;
    for (const MeshPart& part : mesh.parts)
        for (const std::string& name : {part.belongs_to, part.name})
            if (!name.empty() && std::find(names.begin(), names.end(), name) == names.end())
                names.push_back(name);
    if (names.empty()) return "its parts have no names";
    std::string text = "expected ";
    for (std::size_t i = 0; i < names.size(); ++i)
        text += (i == 0 ? "\"" : i + 1 == names.size() ? " or \"" : ", \"") + names[i] + "\"";
    return text;
}

// Which parts of the mesh the patch speaks of, one flag a part.
Result<std::vector<bool>> chosen_parts(const StagedPiece& piece, const Patch& patch) {
    const std::vector<MeshPart>& parts = piece.mesh->parts;
    std::vector<bool> chosen(parts.size(), patch.parts.empty());
    for (const std::string& name : patch.parts) {
        bool found = false;
        for (std::size_t i = 0; i < parts.size(); ++i) {
            if (!is_named(parts[i], name)) continue;
            chosen[i] = true;
            found = true;
        }
        if (!found)
            return input_error("", "piece \"" + piece.id + "\" has no part named \"" + name +
                                       "\": " + names_of(*piece.mesh));
    }
    return chosen;
}

} // namespace

Result<std::vector<SurfaceTriangle>> patch_surface(const StagedPiece& piece, const Patch& patch) {
    STANDPOINT_TRY(chosen, chosen_parts(piece, patch));
    const Mesh& mesh = *piece.mesh;
    const bool boxed = patch.low.has_value() && patch.high.has_value();
    const Box box = box_of(patch);
    std::vector<SurfaceTriangle> surface;
    Polygon polygon, room;
    for (std::uint32_t i = 0; i < mesh.triangles.size(); ++i) {
        const std::uint32_t part = mesh.part_of[i];
        if (!chosen[part]) continue;
        const glm::uvec3 t = mesh.triangles[i];
        polygon = {mesh.positions[t.x], mesh.positions[t.y], mesh.positions[t.z]};
        if (boxed) cut_to_box(polygon, room, box);
        SurfaceTriangle like;
        like.triangle = i;
        like.two_sided = mesh.materials[mesh.parts[part].material].two_sided;
        add_fan(piece, polygon, like, surface);
    }
    if (surface.empty())
        return input_error("", "the patch of piece \"" + piece.id + "\" has no area: " +
                                   (boxed ? "expected a box that holds some of its surface"
                                          : "expected parts with a surface"));
    return surface;
}

} // namespace standpoint
