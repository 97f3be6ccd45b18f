// Comparing what was drawn with what is to be drawn.
#include "window/gl_screen_changes.h"

#include <algorithm>
#include <span>
#include <unordered_map>

#include <glm/common.hpp>

namespace standpoint {

namespace {

constexpr std::size_t most_areas = 8, most_of_command = 6;
constexpr double few_pixels = 4000; // are not worth an area of their own: each sends all lists

ScreenArea joined(const ScreenArea& a, const ScreenArea& b) {
    if (a.empty() || b.empty()) return a.empty() ? b : a;
    return {glm::min(a.low, b.low), glm::max(a.high, b.high)};
}

using Counts = std::unordered_map<std::uint64_t, int>;

template <class Part> Counts counts_of(std::span<const Part> parts) {
    Counts out;
    for (const Part& part : parts)
        ++out[part.hash];
    return out;
}

struct SortedOut {
    std::vector<std::size_t> own;       // places of what the other has not
    std::vector<std::uint64_t> in_both; // in order
};

template <class Part> SortedOut sort_out(std::span<const Part> parts, Counts in_other) {
    SortedOut out;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const auto found = in_other.find(parts[i].hash);
        if (found != in_other.end() && found->second > 0) {
            --found->second;
            out.in_both.push_back(parts[i].hash);
        } else {
            out.own.push_back(i);
        }
    }
    return out;
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

// Neighbours in order become one, until a few are left.
void add_few(std::vector<ScreenArea> found, std::vector<ScreenArea>& areas) {
    std::vector<ScreenArea> few;
    for (const ScreenArea& area : found) {
        if (area.empty()) continue;
        if (!few.empty() && waste(few.back(), area) < few_pixels)
            few.back() = joined(few.back(), area);
        else
            few.push_back(area);
    }
    while (few.size() > most_of_command) {
        std::size_t best = 0;
        for (std::size_t i = 0; i + 1 < few.size(); ++i)
            if (waste(few[i], few[i + 1]) < waste(few[best], few[best + 1])) best = i;
        few[best] = joined(few[best], few[best + 1]);
        few.erase(few.begin() + static_cast<std::ptrdiff_t>(best) + 1);
    }
    areas.insert(areas.end(), few.begin(), few.end());
}

using Shapes = std::span<const DrawnShape>;

ScreenArea around(Shapes shapes) {
    ScreenArea out;
    for (const DrawnShape& shape : shapes)
        out = joined(out, shape.area);
    return out;
}

void add_own(Shapes shapes, const SortedOut& sorted, std::vector<ScreenArea>& areas) {
    std::vector<ScreenArea> own;
    for (const std::size_t i : sorted.own)
        own.push_back(shapes[i].area);
    add_few(std::move(own), areas);
}

void compare_shapes(Shapes before, Shapes now, std::vector<ScreenArea>& areas) {
    const auto same = [](const DrawnShape& a, const DrawnShape& b) { return a.hash == b.hash; };
    const auto start = std::mismatch(before.begin(), before.end(), now.begin(), now.end(), same);
    before = before.subspan(static_cast<std::size_t>(start.first - before.begin()));
    now = now.subspan(static_cast<std::size_t>(start.second - now.begin()));
    const auto end = std::mismatch(before.rbegin(), before.rend(), now.rbegin(), now.rend(), same);
    before = before.first(before.size() - static_cast<std::size_t>(end.first - before.rbegin()));
    now = now.first(now.size() - static_cast<std::size_t>(end.second - now.rbegin()));
    const SortedOut gone = sort_out(before, counts_of(now)),
                    come = sort_out(now, counts_of(before));
    if (gone.in_both != come.in_both) {
        areas.push_back(joined(around(before), around(now)));
        return;
    }
    add_own(before, gone, areas);
    add_own(now, come, areas);
}

// Of a picture whose texture is another edition.
ScreenArea changed_part(const DrawnCommand& now, const glm::vec4& part) {
    if (part.x >= part.z || part.y >= part.w) return {};
    const glm::vec2 low(now.place.x, now.place.y), high(now.place.z, now.place.w),
        size = high - low;
    const ScreenArea area = area_around({low.x + part.x * size.x, high.y - part.w * size.y},
                                        {low.x + part.z * size.x, high.y - part.y * size.y});
    return common(area, now.area);
}

// The same command before and now.
void compare(const DrawnCommand& before, const DrawnCommand& now, const ChangedSince& changed_since,
             std::vector<ScreenArea>& areas) {
    const bool alike = before.texture == now.texture && before.clip == now.clip;
    if (alike && before.form == now.form && now.picture && changed_since) {
        areas.push_back(changed_part(now, changed_since(now.texture, before.edition)));
    } else if (alike && before.edition == now.edition && before.shapes && now.shapes) {
        compare_shapes(*before.shapes, *now.shapes, areas);
    } else {
        areas.push_back(before.area);
        areas.push_back(now.area);
    }
}

} // namespace

ScreenArea common(const ScreenArea& a, const ScreenArea& b) {
    return {glm::max(a.low, b.low), glm::min(a.high, b.high)};
}

ScreenArea area_around(const glm::vec2& low, const glm::vec2& high) {
    return {glm::ivec2(glm::floor(glm::clamp(low, -1e6f, 1e6f))),
            glm::ivec2(glm::ceil(glm::clamp(high, -1e6f, 1e6f)))};
}

std::vector<ScreenArea> changed_areas(const Drawn& before, const Drawn& now, const ScreenArea& page,
                                      const ChangedSince& changed_since) {
    const std::span<const DrawnCommand> all_before(before), all_now(now);
    const SortedOut gone = sort_out(all_before, counts_of(all_now)),
                    come = sort_out(all_now, counts_of(all_before));
    if (gone.in_both != come.in_both) return {page};
    std::vector<ScreenArea> areas;
    // Commands that changed where they are keep their order among all others.
    if (gone.own == come.own) {
        for (const std::size_t i : gone.own)
            compare(before[i], now[i], changed_since, areas);
    } else {
        for (const std::size_t i : gone.own)
            areas.push_back(before[i].area);
        for (const std::size_t i : come.own)
            areas.push_back(now[i].area);
    }
    for (ScreenArea& area : areas)
        area = common(area, page);
    std::erase_if(areas, [](const ScreenArea& area) { return area.empty(); });
    return apart(std::move(areas));
}

} // namespace standpoint
