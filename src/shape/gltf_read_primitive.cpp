// One primitive of a glTF mesh: topology to triangles, attributes of the vertices they use.
#include "shape/gltf_read_primitive.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace standpoint::gltf {

namespace {

enum class Mode { triangles = 4, strip = 5, fan = 6 };

// The corners that make triangle `i`, as places in the run of corners (glTF 2.0, 3.7.2.1).
glm::uvec3 corners_of(Mode mode, std::uint32_t i) {
    if (mode == Mode::strip) return {i, i + 1 + i % 2, i + 2 - i % 2};
    if (mode == Mode::fan) return {i + 1, i + 2, 0};
    return {3 * i, 3 * i + 1, 3 * i + 2};
}

enum class Use { position, normal, uv };

// Which component types an attribute may have: glTF 2.0, 3.7.2.1, and KHR_mesh_quantization.
Status check_type(const File& file, const Spot& spot, const Accessor& a, Use use) {
    const int width = use == Use::uv ? 2 : 3;
    if (a.width != width)
        return wrong(spot, fmt::format("an accessor of {} components", a.width),
                     fmt::format("VEC{}", width));
    const bool narrow = a.component != Component::f32 && a.component != Component::u32;
    const bool is_signed = a.component == Component::i8 || a.component == Component::i16;
    bool fits = a.component == Component::f32;
    if (use == Use::uv && narrow && !is_signed && a.normalised) fits = true;
    if (file.quantised && narrow && use != Use::normal) fits = true;
    if (file.quantised && is_signed && use == Use::normal) fits = a.normalised;
    if (!fits)
        return wrong(spot,
                     fmt::format("{}{} components", a.normalised ? "normalised " : "",
                                 component_name(a.component)),
                     use == Use::uv ? "FLOAT, or normalised unsigned integers (others need "
                                      "KHR_mesh_quantization)"
                                    : "FLOAT (integers need KHR_mesh_quantization)");
    if (a.bytes && (a.stride % 4 != 0 || a.byte_offset % 4 != 0 || a.view_offset % 4 != 0))
        return wrong(spot,
                     fmt::format("elements every {} bytes from byte {} of a view at {}", a.stride,
                                 a.byte_offset, a.view_offset),
                     "vertex attributes at multiples of 4");
    return Done{};
}

// Null when the attribute is absent.
Result<const Accessor*> attribute(const File& file, const Spot& attributes, std::string_view key,
                                  Buffers& buffers, Use use) {
    STANDPOINT_TRY(accessors, list_member(file.root(), "accessors"));
    STANDPOINT_TRY(index, index_member(attributes, key, accessors, "accessors"));
    if (!index) return static_cast<const Accessor*>(nullptr);
    STANDPOINT_TRY(accessor, buffers.open(*index));
    STANDPOINT_TRY_STATUS(check_type(file, member(attributes, key), *accessor, use));
    return accessor;
}

Status check_indices(const Spot& spot, const Accessor& a) {
    if (a.width != 1 || a.normalised ||
        (a.component != Component::u8 && a.component != Component::u16 &&
         a.component != Component::u32))
        return wrong(spot,
                     fmt::format("{}{} x {}", a.normalised ? "normalised " : "",
                                 component_name(a.component), a.width),
                     "SCALAR of UNSIGNED_BYTE, UNSIGNED_SHORT or UNSIGNED_INT");
    if (a.stride_given) return wrong(spot, "indices in a view with byteStride", "one without");
    return Done{};
}

struct Corners {                       // the run of vertices that the mode makes triangles of
    const Accessor* indices = nullptr; // null: 0, 1, 2, ...
    std::uint32_t count = 0;
    std::uint32_t at(std::uint32_t i) const { return indices ? indices->whole(i) : i; }
};

Result<Corners> corner_run(const File& file, const Spot& spot, Buffers& buffers,
                           std::uint32_t vertices) {
    STANDPOINT_TRY(accessors, list_member(file.root(), "accessors"));
    STANDPOINT_TRY(index, index_member(spot, "indices", accessors, "accessors"));
    if (!index) return Corners{nullptr, vertices};
    STANDPOINT_TRY(accessor, buffers.open(*index));
    STANDPOINT_TRY_STATUS(check_indices(member(spot, "indices"), *accessor));
    return Corners{accessor, accessor->count};
}

Result<std::uint32_t> triangle_count(const Spot& spot, Mode mode, std::uint32_t corners,
                                     std::size_t left) {
    if (corners < 3 || (mode == Mode::triangles && corners % 3 != 0))
        return wrong(spot, fmt::format("{} corners", corners),
                     mode == Mode::triangles ? "a multiple of 3" : "at least 3");
    const std::uint32_t count = mode == Mode::triangles ? corners / 3 : corners - 2;
    if (count > left)
        return wrong(spot, fmt::format("{} triangles more", count),
                     fmt::format("at most {} in a model", largest_mesh_triangles));
    return count;
}

Result<std::vector<glm::uvec3>> triangles_of(const Spot& spot, Mode mode, const Corners& run,
                                             std::uint32_t count, std::uint32_t vertices) {
    if (run.indices) {
        // The largest value restarts a primitive in some drawing systems, so glTF forbids it.
        const std::uint32_t restart = run.indices->component == Component::u8    ? 0xffu
                                      : run.indices->component == Component::u16 ? 0xffffu
                                                                                 : 0xffffffffu;
        for (std::uint32_t i = 0; i < run.count; ++i) {
            const std::uint32_t vertex = run.at(i);
            if (vertex >= vertices || vertex == restart)
                return wrong(member(spot, "indices"), fmt::format("index {} at {}", vertex, i),
                             fmt::format("a vertex, 0 to {}", std::min(vertices, restart) - 1));
        }
    }
    std::vector<glm::uvec3> out;
    out.reserve(count);
    for (std::uint32_t i = 0; i < count; ++i) {
        const glm::uvec3 c = corners_of(mode, i);
        const glm::uvec3 t(run.at(c.x), run.at(c.y), run.at(c.z));
        if (t.x != t.y && t.y != t.z && t.z != t.x) out.push_back(t);
    }
    return out;
}

// Renumbers the triangles' corners 0, 1, 2, ... and returns the old numbers, rising.
std::vector<std::uint32_t> compact(std::vector<glm::uvec3>& triangles) {
    std::vector<std::uint32_t> used;
    used.reserve(triangles.size() * 3);
    for (const glm::uvec3& t : triangles)
        used.insert(used.end(), {t.x, t.y, t.z});
    std::sort(used.begin(), used.end());
    used.erase(std::unique(used.begin(), used.end()), used.end());
    const auto place = [&](std::uint32_t vertex) {
        return static_cast<std::uint32_t>(std::lower_bound(used.begin(), used.end(), vertex) -
                                          used.begin());
    };
    for (glm::uvec3& t : triangles)
        t = {place(t.x), place(t.y), place(t.z)};
    return used;
}

template <class T>
std::vector<T> picked(const std::vector<T>& all, const std::vector<std::uint32_t>& which) {
    std::vector<T> out;
    out.reserve(which.size());
    for (const std::uint32_t i : which)
        out.push_back(all[i]);
    return out;
}

Result<std::vector<glm::dvec3>> vectors(const Spot& spot, const Accessor& accessor,
                                        const std::vector<std::uint32_t>& used) {
    std::vector<glm::dvec3> out;
    out.reserve(used.size());
    for (const std::uint32_t i : used) {
        glm::dvec3 v(0.0);
        for (int c = 0; c < accessor.width; ++c) {
            v[c] = accessor.value(i, c);
            if (!std::isfinite(v[c]))
                return wrong(spot, fmt::format("a value that is no finite number in element {}", i),
                             "finite numbers");
        }
        out.push_back(v);
    }
    return out;
}

Status read_uvs(const File& file, const Spot& attributes, Buffers& buffers, const Look& look,
                const std::vector<std::uint32_t>& used, Primitive& out) {
    const std::string key = fmt::format("TEXCOORD_{}", look.uv_set);
    STANDPOINT_TRY(accessor, attribute(file, attributes, key, buffers, Use::uv));
    const Spot spot = member(attributes, key);
    if (!accessor)
        return wrong(spot, "nothing", "the coordinates that the material's texture uses");
    if (!used.empty() && used.back() >= accessor->count)
        return wrong(spot, fmt::format("{} elements", accessor->count), "one a position");
    STANDPOINT_TRY(raw, vectors(spot, *accessor, used));
    for (const glm::dvec3& each : raw) {
        const glm::dvec2 uv = look.uv_transform * glm::dvec3(each.x, each.y, 1);
        // Beyond this a float no longer tells texels apart, and counting repeats overflows.
        if (!(std::abs(uv.x) <= 1e6 && std::abs(uv.y) <= 1e6))
            return wrong(spot, "a texture coordinate beyond 1000000", "one within");
        out.uvs.push_back(glm::vec2(uv));
    }
    return Done{};
}

Result<std::optional<Mode>> mode_of(const Spot& spot) {
    STANDPOINT_TRY(mode, whole_member(spot, "mode", 4));
    if (mode > 6) return wrong(member(spot, "mode"), std::to_string(mode), "0 to 6");
    if (mode < 4) return std::optional<Mode>();
    return std::optional<Mode>(static_cast<Mode>(mode));
}

} // namespace

Result<std::optional<Primitive>> read_primitive(const File& file, const Spot& spot,
                                                Buffers& buffers, const Look& look,
                                                std::size_t triangles_left) {
    STANDPOINT_TRY(mode, mode_of(spot));
    if (!mode) return std::optional<Primitive>();
    STANDPOINT_TRY(attributes, object_member(spot, "attributes"));
    STANDPOINT_TRY(position, attribute(file, attributes, "POSITION", buffers, Use::position));
    const Spot position_spot = member(attributes, "POSITION");
    if (!position) return wrong(position_spot, "nothing", "the accessor of the positions");
    STANDPOINT_TRY(run, corner_run(file, spot, buffers, position->count));
    STANDPOINT_TRY(count, triangle_count(spot, *mode, run.count, triangles_left));

    Primitive out;
    out.triangles_in_file = count;
    STANDPOINT_TRY(triangles, triangles_of(spot, *mode, run, count, position->count));
    out.triangles = std::move(triangles);
    std::vector<std::uint32_t> used = compact(out.triangles);
    STANDPOINT_TRY(positions, vectors(position_spot, *position, used));
    const std::size_t collapsed = std::erase_if(out.triangles, [&](const glm::uvec3& t) {
        return positions[t.x] == positions[t.y] || positions[t.y] == positions[t.z] ||
               positions[t.z] == positions[t.x];
    });
    if (collapsed > 0) {
        const std::vector<std::uint32_t> kept = compact(out.triangles);
        positions = picked(positions, kept);
        used = picked(used, kept);
    }
    out.positions = std::move(positions);

    STANDPOINT_TRY(normal, attribute(file, attributes, "NORMAL", buffers, Use::normal));
    if (normal) {
        const Spot at = member(attributes, "NORMAL");
        if (normal->count != position->count)
            return wrong(at, fmt::format("{} elements", normal->count),
                         fmt::format("one a position, {}", position->count));
        STANDPOINT_TRY(normals, vectors(at, *normal, used));
        out.normals = std::move(normals);
    }
    if (look.material.image)
        STANDPOINT_TRY_STATUS(read_uvs(file, attributes, buffers, look, used, out));
    return std::optional<Primitive>(std::move(out));
}

} // namespace standpoint::gltf
