// Comparing lists of drawing commands.
#include "window/gl_screen_changes.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <unordered_map>

#include <glm/common.hpp>
#include <imgui.h>

namespace standpoint {

namespace {

constexpr std::size_t most_areas = 8;
constexpr double few_pixels = 200; // are not worth an area of their own

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

ScreenArea area_of(const ImVec2& low, const ImVec2& high) {
    const auto whole = [](float v) { return static_cast<int>(std::clamp(v, -1e6f, 1e6f)); };
    return {{whole(std::floor(low.x)), whole(std::floor(low.y))},
            {whole(std::ceil(high.x)), whole(std::ceil(high.y))}};
}

ScreenArea common(const ScreenArea& a, const ScreenArea& b) {
    return {glm::max(a.low, b.low), glm::min(a.high, b.high)};
}

ScreenArea joined(const ScreenArea& a, const ScreenArea& b) {
    return {glm::min(a.low, b.low), glm::max(a.high, b.high)};
}

ScreenArea clip_of(const ImDrawData& data, const ImDrawCmd& command) {
    const ImVec2 off = data.DisplayPos;
    return area_of({command.ClipRect.x - off.x, command.ClipRect.y - off.y},
                   {command.ClipRect.z - off.x, command.ClipRect.w - off.y});
}

DrawnCommand drawn(const ImDrawData& data, const ImDrawList& list, const ImDrawCmd& command,
                   const EditionOf& edition_of) {
    DrawnCommand out;
    const ImDrawIdx* indices = list.IdxBuffer.Data + command.IdxOffset;
    if (command.ElemCount == 0) return out;
    const auto [least, most] = std::minmax_element(indices, indices + command.ElemCount);
    const ImDrawVert* vertices = list.VtxBuffer.Data + command.VtxOffset;
    const auto texture = reinterpret_cast<std::uintptr_t>(command.GetTexID());
    std::uint64_t hash = mixed(texture, edition_of(texture));
    hash = hash_of_bytes(hash, &command.ClipRect, sizeof command.ClipRect);
    hash = hash_of_bytes(hash, vertices + *least,
                         (static_cast<std::size_t>(*most - *least) + 1) * sizeof(ImDrawVert));
    for (unsigned i = 0; i < command.ElemCount; ++i)
        hash = mixed(hash, static_cast<std::uint64_t>(indices[i] - *least));
    ImVec2 low = vertices[*least].pos, high = low;
    for (std::size_t i = *least; i <= *most; ++i) {
        low = {std::min(low.x, vertices[i].pos.x), std::min(low.y, vertices[i].pos.y)};
        high = {std::max(high.x, vertices[i].pos.x), std::max(high.y, vertices[i].pos.y)};
    }
    const ImVec2 off = data.DisplayPos;
    out.area = common(area_of({low.x - off.x, low.y - off.y}, {high.x - off.x, high.y - off.y}),
                      clip_of(data, command));
    out.hash = hash;
    return out;
}

using Counts = std::unordered_map<std::uint64_t, int>;

Counts counts_of(const Drawn& commands) {
    Counts out;
    for (const DrawnCommand& command : commands)
        ++out[command.hash];
    return out;
}

// What is in one and not in the other goes into `areas`, the rest into `common_ones`.
void sort_out(const Drawn& commands, Counts in_other, std::vector<ScreenArea>& areas,
              std::vector<std::uint64_t>& common_ones) {
    for (const DrawnCommand& command : commands) {
        const auto found = in_other.find(command.hash);
        if (found != in_other.end() && found->second > 0) {
            --found->second;
            common_ones.push_back(command.hash);
        } else if (!command.area.empty()) {
            areas.push_back(command.area);
        }
    }
}

double size_of(const ScreenArea& a) {
    return static_cast<double>(a.high.x - a.low.x) * (a.high.y - a.low.y);
}

// Pixels drawn more than needed when two become one.
double waste(const ScreenArea& a, const ScreenArea& b) {
    return size_of(joined(a, b)) - size_of(a) - size_of(b);
}

// Overlapping ones become one; when there are many, so do those that waste least.
std::vector<ScreenArea> apart(std::vector<ScreenArea> areas) {
    for (;;) {
        std::size_t best_i = 0, best_j = 0;
        double least = areas.size() > most_areas ? 1e300 : few_pixels;
        for (std::size_t i = 0; i < areas.size(); ++i)
            for (std::size_t j = i + 1; j < areas.size(); ++j) {
                const bool overlap = !common(areas[i], areas[j]).empty();
                const double cost = overlap ? -1 : waste(areas[i], areas[j]);
                if (cost >= least) continue;
                least = cost;
                best_i = i;
                best_j = j;
            }
        if (best_j == 0) return areas;
        areas[best_i] = joined(areas[best_i], areas[best_j]);
        areas.erase(areas.begin() + static_cast<std::ptrdiff_t>(best_j));
    }
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

Drawn drawn_by(const ImDrawData& data, const EditionOf& edition_of) {
    Drawn out;
    for (int i = 0; i < data.CmdListsCount; ++i)
        for (const ImDrawCmd& command : data.CmdLists[i]->CmdBuffer)
            out.push_back(drawn(data, *data.CmdLists[i], command, edition_of));
    return out;
}

std::vector<ScreenArea> changed_areas(const Drawn& before, const Drawn& now,
                                      const ScreenArea& page) {
    std::vector<ScreenArea> areas;
    std::vector<std::uint64_t> kept_before, kept_now;
    sort_out(before, counts_of(now), areas, kept_before);
    sort_out(now, counts_of(before), areas, kept_now);
    if (kept_before != kept_now) return {page};
    for (ScreenArea& area : areas)
        area = common(area, page);
    std::erase_if(areas, [](const ScreenArea& area) { return area.empty(); });
    return apart(std::move(areas));
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
