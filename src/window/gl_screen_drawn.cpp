// Reading lists of drawing commands: what each draws and where, and what hides all before it.
#include <algorithm>
#include <cstring>
#include <unordered_map>

#include <glm/common.hpp>
#include <imgui.h>

#include "window/gl_screen_changes.h"

namespace standpoint {

namespace {

std::uint64_t mixed(std::uint64_t hash, std::uint64_t word) {
    hash = (hash ^ word) * 0x9e3779b97f4a7c15ULL;
    return hash ^ (hash >> 29);
}

std::uint64_t hash_of_bytes(std::uint64_t hash, const void* data, std::size_t bytes) {
    const auto* at = static_cast<const unsigned char*>(data);
    for (; bytes >= 8; bytes -= 8, at += 8) {
        std::uint64_t word = 0;
        std::memcpy(&word, at, 8);
        hash = mixed(hash, word);
    }
    std::uint64_t rest = 0;
    std::memcpy(&rest, at, bytes);
    return mixed(hash, rest);
}

glm::vec2 vec(const ImVec2& v) {
    return {v.x, v.y};
}

ScreenArea clip_of(const ImDrawData& data, const ImDrawCmd& command) {
    const glm::vec2 off = vec(data.DisplayPos);
    return area_around(glm::vec2(command.ClipRect.x, command.ClipRect.y) - off,
                       glm::vec2(command.ClipRect.z, command.ClipRect.w) - off);
}

using Shapes = std::vector<DrawnShape>;

std::shared_ptr<const Shapes> shapes_of(const ImDrawIdx* indices, unsigned count,
                                        const ImDrawVert* vertices, const glm::vec2& off,
                                        const ScreenArea& clip) {
    auto out = std::make_shared<Shapes>();
    out->reserve(count / 3);
    for (unsigned i = 0; i + 2 < count; i += 3) {
        glm::vec2 low(1e9f), high(-1e9f);
        std::uint64_t hash = 0;
        for (unsigned k = i; k < i + 3; ++k) {
            const ImDrawVert& corner = vertices[indices[k]];
            low = glm::min(low, vec(corner.pos));
            high = glm::max(high, vec(corner.pos));
            hash = hash_of_bytes(hash, &corner, sizeof corner);
        }
        out->push_back({hash, common(area_around(low - off, high - off), clip)});
    }
    return out;
}

// Notes when the command is one rectangle that shows all of a texture.
void note_picture(const ImDrawIdx* i, unsigned count, const ImDrawVert* vertices,
                  const glm::vec2& off, DrawnCommand& out) {
    if (count != 6 || i[3] != i[0] || i[4] != i[2]) return;
    const ImDrawVert &a = vertices[i[0]], &c = vertices[i[2]];
    out.picture = a.uv.x == 0 && a.uv.y == 1 && c.uv.x == 1 && c.uv.y == 0 && a.pos.x < c.pos.x &&
                  a.pos.y < c.pos.y;
    out.place = glm::vec4(vec(a.pos) - off, vec(c.pos) - off);
}

using ShapesByForm = std::unordered_map<std::uint64_t, std::shared_ptr<const Shapes>>;

DrawnCommand drawn(const ImDrawData& data, const ImDrawList& list, const ImDrawCmd& command,
                   const EditionOf& edition_of, const ShapesByForm& known) {
    DrawnCommand out;
    const ImDrawIdx* indices = list.IdxBuffer.Data + command.IdxOffset;
    if (command.ElemCount == 0) return out;
    const auto [least, most] = std::minmax_element(indices, indices + command.ElemCount);
    const ImDrawVert* vertices = list.VtxBuffer.Data + command.VtxOffset;
    out.texture = reinterpret_cast<std::uintptr_t>(command.GetTexID());
    out.edition = edition_of(out.texture);
    const ImVec4& clip = command.ClipRect;
    out.clip = {clip.x, clip.y, clip.z, clip.w};
    out.form = hash_of_bytes(mixed(0, out.texture), &clip, sizeof clip);
    out.form = hash_of_bytes(out.form, vertices + *least,
                             (static_cast<std::size_t>(*most - *least) + 1) * sizeof(ImDrawVert));
    for (unsigned i = 0; i < command.ElemCount; ++i)
        out.form = mixed(out.form, static_cast<std::uint64_t>(indices[i] - *least));
    out.hash = mixed(out.form, out.edition);
    const ScreenArea within = clip_of(data, command);
    ImVec2 low = vertices[*least].pos, high = low;
    for (std::size_t i = *least; i <= *most; ++i) {
        low = {std::min(low.x, vertices[i].pos.x), std::min(low.y, vertices[i].pos.y)};
        high = {std::max(high.x, vertices[i].pos.x), std::max(high.y, vertices[i].pos.y)};
    }
    const glm::vec2 off = vec(data.DisplayPos);
    out.area = common(area_around(vec(low) - off, vec(high) - off), within);
    note_picture(indices, command.ElemCount, vertices, off, out);
    const auto found = known.find(out.form);
    out.shapes = found != known.end()
                     ? found->second
                     : shapes_of(indices, command.ElemCount, vertices, off, within);
    return out;
}

// Six indices that make a rectangle of one colour or of a picture that is solid.
bool covers(const ImDrawIdx* i, const ImDrawVert* vertices, bool picture, const ImVec2& off,
            const ScreenArea& area) {
    if (i[3] != i[0] || i[4] != i[2]) return false;
    const ImDrawVert &a = vertices[i[0]], &b = vertices[i[1]], &c = vertices[i[2]],
                     &d = vertices[i[5]];
    if (a.pos.x != d.pos.x || b.pos.x != c.pos.x || a.pos.y != b.pos.y || c.pos.y != d.pos.y)
        return false;
    for (const ImDrawVert* v : {&a, &b, &c, &d}) {
        if (v->col >> 24 != 255 || v->col != a.col) return false;
        if (!picture && (v->uv.x != a.uv.x || v->uv.y != a.uv.y)) return false;
    }
    const auto inside = [](float low, float high, float off_by, int from, int to) {
        return low - off_by <= static_cast<float>(from) && high - off_by >= static_cast<float>(to);
    };
    return inside(a.pos.x, c.pos.x, off.x, area.low.x, area.high.x) &&
           inside(a.pos.y, c.pos.y, off.y, area.low.y, area.high.y);
}

} // namespace

Drawn drawn_by(const ImDrawData& data, const EditionOf& edition_of, const Drawn& before) {
    ShapesByForm known;
    for (const DrawnCommand& command : before)
        if (command.shapes) known.emplace(command.form, command.shapes);
    Drawn out;
    for (int i = 0; i < data.CmdListsCount; ++i)
        for (const ImDrawCmd& command : data.CmdLists[i]->CmdBuffer)
            out.push_back(drawn(data, *data.CmdLists[i], command, edition_of, known));
    return out;
}

DrawStart start_for(const ImDrawData& data, const ScreenArea& area, const IsSolid& is_solid) {
    for (int l = data.CmdListsCount; l-- > 0;) {
        const ImDrawList& list = *data.CmdLists[l];
        for (int c = list.CmdBuffer.Size; c-- > 0;) {
            const ImDrawCmd& command = list.CmdBuffer[c];
            if (common(clip_of(data, command), area) != area) continue;
            const auto texture = reinterpret_cast<std::uintptr_t>(command.GetTexID());
            const bool picture = is_solid(texture);
            const ImDrawIdx* indices = list.IdxBuffer.Data + command.IdxOffset;
            const ImDrawVert* vertices = list.VtxBuffer.Data + command.VtxOffset;
            for (unsigned i = command.ElemCount; i >= 6; i -= 3)
                if (covers(indices + i - 6, vertices, picture, data.DisplayPos, area))
                    return picture ? DrawStart{true, l, c, i - 6}
                                   : DrawStart{true, l, c, i, true, vertices[indices[i - 6]].col};
        }
    }
    return {};
}

} // namespace standpoint
