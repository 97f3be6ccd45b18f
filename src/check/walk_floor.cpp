// The band of the path, what stands in it, and what closes it.
#include "check/walk_floor.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <queue>

#include <glm/geometric.hpp>

#include "measure/tolerance.h"

namespace standpoint {

namespace {

// In widths: how far the floor goes on beyond a gate, and beyond a parting.
constexpr double beyond_gate = 1.5, beyond_parting = 1.0;
// Segments this far outside the band are still kept, so that snapping opens no gap at its edge.
constexpr double margin_mm = 1;

glm::dvec2 left_of(const glm::dvec2& direction) {
    return {-direction.y, direction.x};
}

PlanGate gate_at(const PlanPath& path, double along, double sign, double half_width) {
    return {point_at(path, along), direction_at(path, along) * sign, half_width};
}

// The outer side of a corner between unit directions, as a fan about it.
std::vector<glm::dvec2> corner_fan(const glm::dvec2& corner, const glm::dvec2& before,
                                   const glm::dvec2& after, double half) {
    const double turn = std::atan2(before.x * after.y - before.y * after.x,
                                   glm::dot(before, after)); // > 0: to the left
    if (turn == 0) return {};
    const double outer = turn > 0 ? -1 : 1; // which side of the path is the outer one
    const glm::dvec2 start = left_of(before) * outer;
    const double step = std::sqrt(8 * band_sagitta_mm / half);
    const int count = static_cast<int>(std::ceil(std::abs(turn) / step));
    std::vector<glm::dvec2> fan{corner};
    for (int i = 0; i <= count; ++i) {
        const double angle = turn * i / count;
        const glm::dvec2 arm(start.x * std::cos(angle) - start.y * std::sin(angle),
                             start.x * std::sin(angle) + start.y * std::cos(angle));
        fan.push_back(corner + arm * half);
    }
    // Beyond a half turn a fan would not be convex; atan2 never gives more.
    return fan;
}

double segment_distance(const PlanSegment& p, const PlanSegment& q, glm::dvec2& place) {
    const glm::dvec2 u = p.b - p.a, v = q.b - q.a, w = q.a - p.a;
    const double det = u.x * v.y - u.y * v.x;
    if (det != 0) {
        const double s = (w.x * v.y - w.y * v.x) / det, t = (w.x * u.y - w.y * u.x) / det;
        if (s >= 0 && s <= 1 && t >= 0 && t <= 1) {
            place = p.a + u * s;
            return 0;
        }
    }
    double best = INFINITY;
    const auto try_point = [&](const glm::dvec2& from, const PlanSegment& to) {
        const glm::dvec2 foot = nearest_point(to.a, to.b, from);
        const double distance = glm::distance(foot, from);
        if (distance >= best) return;
        best = distance;
        place = (foot + from) * 0.5;
    };
    try_point(p.a, q);
    try_point(p.b, q);
    try_point(q.a, p);
    try_point(q.b, p);
    return best;
}

bool near_path(const PlanSegment& segment, const PlanPath& path, double distance) {
    glm::dvec2 place;
    for (std::size_t i = 0; i + 1 < path.points.size(); ++i)
        if (segment_distance(segment, {path.points[i], path.points[i + 1], 0}, place) <= distance)
            return true;
    return false;
}

// The part inside a box; false when there is none.
bool clip(PlanSegment& segment, const PlanBox& box) {
    double enter = 0, leave = 1;
    const glm::dvec2 a = segment.a, run = segment.b - segment.a;
    for (glm::length_t k = 0; k < 2; ++k) {
        if (run[k] == 0) {
            if (a[k] < box.low[k] || a[k] > box.high[k]) return false;
            continue;
        }
        const double one = (box.low[k] - a[k]) / run[k], two = (box.high[k] - a[k]) / run[k];
        enter = std::max(enter, std::min(one, two));
        leave = std::min(leave, std::max(one, two));
    }
    if (enter >= leave) return false;
    if (enter > 0) segment.a = a + run * enter;
    if (leave < 1) segment.b = a + run * leave;
    return true;
}

PlanBox box_of(const PlanPath& path, double reach) {
    PlanBox box{path.points[0], path.points[0]};
    for (const glm::dvec2& point : path.points) {
        box.low = glm::min(box.low, point);
        box.high = glm::max(box.high, point);
    }
    return {box.low - reach, box.high + reach};
}

} // namespace

std::vector<Stretch> stretches_of(const PlanPath& path, double width) {
    const PlanPath whole = extended(path, beyond_gate * width, beyond_gate * width);
    std::vector<double> ends{path.from()};
    for (const double along : parting_places(whole, width))
        if (along > path.from() + width && along < path.to() - width) ends.push_back(along);
    ends.push_back(path.to());
    std::vector<Stretch> stretches;
    for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
        Stretch stretch;
        stretch.from = ends[i];
        stretch.to = ends[i + 1];
        stretch.first = i == 0;
        stretch.last = i + 2 == ends.size();
        stretch.path =
            part_of(whole, stretch.from - width * (stretch.first ? beyond_gate : beyond_parting),
                    stretch.to + width * (stretch.last ? beyond_gate : beyond_parting));
        stretches.push_back(std::move(stretch));
    }
    return stretches;
}

std::vector<std::vector<glm::dvec2>> band_polygons(const PlanPath& path, double width) {
    const double half = width / 2;
    std::vector<std::vector<glm::dvec2>> polygons;
    for (std::size_t i = 0; i + 1 < path.points.size(); ++i) {
        const glm::dvec2 a = path.points[i], b = path.points[i + 1];
        const glm::dvec2 direction = glm::normalize(b - a), side = left_of(direction) * half;
        polygons.push_back({a - side, b - side, b + side, a + side});
        if (i + 2 == path.points.size()) continue;
        auto fan = corner_fan(b, direction, glm::normalize(path.points[i + 2] - b), half);
        if (!fan.empty()) polygons.push_back(std::move(fan));
    }
    return polygons;
}

PlanBoxes leg_boxes(const PlanPath& path, double width, double margin) {
    PlanBoxes boxes;
    const double reach = width / 2 + margin;
    for (std::size_t i = 0; i + 1 < path.points.size(); ++i)
        boxes.push_back({glm::min(path.points[i], path.points[i + 1]) - reach,
                         glm::max(path.points[i], path.points[i + 1]) + reach});
    return boxes;
}

std::vector<PlanSegment> floor_lines(const Staging& staging, const Stretch& stretch, double width,
                                     const Slab& slab, const LeftOut& left_out) {
    const double half = width / 2;
    const PlanBox box = box_of(stretch.path, half + margin_mm);
    const PlanBoxes boxes = leg_boxes(stretch.path, width, margin_mm);
    std::vector<PlanSegment> lines, covers;
    for (std::uint32_t i = 0; i < staging.pieces.size(); ++i) {
        if (left_out.contains(i)) continue;
        add_outline(staging.pieces[i], i, slab, boxes, lines);
        if (stretch.first)
            add_gate_cover(staging.pieces[i], i, slab,
                           gate_at(stretch.path, stretch.from, -1, half), covers);
        if (stretch.last)
            add_gate_cover(staging.pieces[i], i, slab, gate_at(stretch.path, stretch.to, 1, half),
                           covers);
    }
    std::erase_if(lines, [&](PlanSegment& segment) {
        return !clip(segment, box) || !near_path(segment, stretch.path, half + margin_mm);
    });
    const double beyond = beyond_gate * width + margin_mm;
    if (stretch.first)
        lines =
            outside_of(lines, gate_at(stretch.path, stretch.from, -1, half + margin_mm), beyond);
    if (stretch.last)
        lines = outside_of(lines, gate_at(stretch.path, stretch.to, 1, half + margin_mm), beyond);
    lines.insert(lines.end(), covers.begin(), covers.end());
    const auto edge =
        union_outline(band_polygons(stretch.path, width), stretch.path.points.front());
    lines.insert(lines.end(), edge.begin(), edge.end());
    return lines;
}

namespace {

constexpr std::uint32_t left_edge = 0xfffffffd, right_edge = 0xfffffffe, end_wall = 0xffffffff;

// Which of the two edges a segment of the band's outline belongs to.
std::uint32_t side_of(const PlanSegment& segment, const PlanPath& path, double half) {
    const double to_left = nearest_on(path, (segment.a + segment.b) * 0.5).to_left;
    if (std::abs(to_left) < half / 2) return end_wall;
    return to_left > 0 ? left_edge : right_edge;
}

struct Contact {
    glm::dvec2 place{0.0};
    double off_middle = 0; // mm
};
using Contacts = std::map<std::pair<std::uint32_t, std::uint32_t>, Contact>; // both ways round

// Where segments of different owners touch inside the band: of each pair, nearest its middle.
Contacts contacts_of(std::vector<PlanSegment> lines, const PlanPath& path, double half) {
    const auto low = [](const PlanSegment& s) { return std::min(s.a.x, s.b.x); };
    const auto high = [](const PlanSegment& s) { return std::max(s.a.x, s.b.x); };
    std::stable_sort(lines.begin(), lines.end(),
                     [&](const PlanSegment& a, const PlanSegment& b) { return low(a) < low(b); });
    Contacts contacts;
    for (std::size_t i = 0; i < lines.size(); ++i)
        for (std::size_t j = i + 1;
             j < lines.size() && low(lines[j]) <= high(lines[i]) + touching_mm; ++j) {
            if (lines[i].owner == lines[j].owner) continue;
            Contact contact;
            if (segment_distance(lines[i], lines[j], contact.place) > touching_mm) continue;
            contact.off_middle = nearest_on(path, contact.place).distance;
            if (contact.off_middle > half + touching_mm) continue;
            for (const auto& key : {std::pair(lines[i].owner, lines[j].owner),
                                    std::pair(lines[j].owner, lines[i].owner)}) {
                const auto [known, fresh] = contacts.try_emplace(key, contact);
                if (!fresh && contact.off_middle < known->second.off_middle)
                    known->second = contact;
            }
        }
    return contacts;
}

// The chain of fewest pieces from edge to edge, both edges included; empty when there is none.
std::vector<std::uint32_t> shortest_chain(const Contacts& contacts, const LeftOut& used) {
    std::map<std::uint32_t, std::uint32_t> came_from{{left_edge, left_edge}};
    std::queue<std::uint32_t> open;
    open.push(left_edge);
    while (!open.empty() && !came_from.contains(right_edge)) {
        const std::uint32_t at = open.front();
        open.pop();
        for (auto next = contacts.lower_bound({at, 0});
             next != contacts.end() && next->first.first == at; ++next) {
            const std::uint32_t to = next->first.second;
            if (used.contains(to) || (at == left_edge && to == right_edge)) continue;
            if (came_from.try_emplace(to, at).second) open.push(to);
        }
    }
    std::vector<std::uint32_t> chain;
    if (!came_from.contains(right_edge)) return chain;
    for (std::uint32_t at = right_edge; at != left_edge; at = came_from.at(at))
        chain.push_back(at);
    chain.push_back(left_edge);
    std::reverse(chain.begin(), chain.end());
    return chain;
}

Closing closing_of(const std::vector<std::uint32_t>& chain, const Contacts& contacts,
                   const std::vector<PlanSegment>& lines, const Stretch& stretch, double half) {
    Closing closing;
    closing.from = INFINITY;
    closing.to = -INFINITY;
    const auto take = [&](const glm::dvec2& place) {
        const double along =
            std::clamp(nearest_on(stretch.path, place).along, stretch.from, stretch.to);
        closing.from = std::min(closing.from, along);
        closing.to = std::max(closing.to, along);
    };
    for (std::size_t i = 0; i + 1 < chain.size(); ++i) {
        closing.contacts.push_back(contacts.at({chain[i], chain[i + 1]}).place);
        take(closing.contacts.back());
        if (i > 0) closing.pieces.push_back(chain[i]);
    }
    // A single piece takes up all the path it covers: its corners in the band, and where it leaves
    // the band.
    if (closing.pieces.size() != 1) return closing;
    for (const PlanSegment& segment : lines) {
        if (segment.owner != closing.pieces[0]) continue;
        for (const glm::dvec2& end : {segment.a, segment.b})
            if (nearest_on(stretch.path, end).distance <= half) take(end);
        glm::dvec2 place;
        for (const PlanSegment& edge : lines)
            if (edge.owner == edge_owner && segment_distance(segment, edge, place) == 0)
                take(place);
    }
    return closing;
}

} // namespace

std::vector<Closing> closings_of(const std::vector<PlanSegment>& lines, const Stretch& stretch,
                                 double width) {
    const double half = width / 2;
    std::vector<PlanSegment> sided = lines;
    for (PlanSegment& segment : sided)
        if (segment.owner == edge_owner) segment.owner = side_of(segment, stretch.path, half);
    std::erase_if(sided, [](const PlanSegment& segment) { return segment.owner == end_wall; });
    const Contacts contacts = contacts_of(sided, stretch.path, half);
    std::vector<Closing> closings;
    LeftOut used;
    for (;;) {
        const std::vector<std::uint32_t> chain = shortest_chain(contacts, used);
        if (chain.empty()) return closings;
        closings.push_back(closing_of(chain, contacts, lines, stretch, half));
        used.insert(closings.back().pieces.begin(), closings.back().pieces.end());
    }
}

} // namespace standpoint
