// Places labels ring by ring outwards from what they name.
#include "sheet/labels.h"

#include <cmath>

#include <glm/geometric.hpp>

#include "measure/angle.h"

namespace standpoint {
namespace {

constexpr double gap_mm = 0.4;
constexpr double ring_step_mm = 1.5;
constexpr int ring_count = 60;
constexpr int directions = 24;
constexpr int passes = 3;
// What each kind of trouble costs: a reader loses a covered number, and may mistake a leader that
// passes under another label or crosses another leader.
constexpr int covering = 100, passing_under = 3, crossing = 5, crowding = 4;

double radius_for(const std::string& text) {
    return 2.1 + 0.55 * static_cast<double>(text.size());
}

Rect square(const PlacedLabel& label) {
    return {label.centre.x - label.radius, label.centre.y - label.radius, 2 * label.radius,
            2 * label.radius};
}

double cross(glm::dvec2 a, glm::dvec2 b) {
    return a.x * b.y - a.y * b.x;
}

bool segments_cross(glm::dvec2 a, glm::dvec2 b, glm::dvec2 c, glm::dvec2 d) {
    const double s1 = cross(b - a, c - a), s2 = cross(b - a, d - a);
    const double s3 = cross(d - c, a - c), s4 = cross(d - c, b - c);
    return s1 * s2 < 0 && s3 * s4 < 0;
}

double distance_to_segment(glm::dvec2 p, glm::dvec2 a, glm::dvec2 b) {
    const glm::dvec2 ab = b - a;
    const double length2 = glm::dot(ab, ab);
    const double t = length2 > 0 ? glm::clamp(glm::dot(p - a, ab) / length2, 0.0, 1.0) : 0.0;
    return glm::length(p - (a + ab * t));
}

struct Board {
    const std::vector<LabelWish>& wishes;
    Rect area;
    std::vector<Rect> taken;
    std::vector<PlacedLabel> placed; // of the first wishes, later of all

    // What a label at this place would spoil: another text worst of all, a leader least.
    int cost(std::size_t own, const PlacedLabel& label) const {
        const LabelWish& wish = wishes[own];
        int cost = inside(square(label), area) ? 0 : 100 * covering;
        for (const Rect& rect : taken)
            if (overlap(square(label), rect, gap_mm)) cost += covering;
        for (std::size_t i = 0; i < wishes.size(); ++i)
            if (i != own && label.leader &&
                glm::length(label.centre - wishes[i].anchor) < label.radius + gap_mm)
                cost += crowding; // it would hide what another names
        for (std::size_t i = 0; i < placed.size(); ++i) {
            if (i == own) continue;
            const PlacedLabel& other = placed[i];
            const glm::dvec2 anchor = wishes[i].anchor;
            if (glm::length(label.centre - other.centre) < label.radius + other.radius + gap_mm)
                cost += covering;
            if (label.leader && distance_to_segment(other.centre, wish.anchor, label.centre) <
                                    other.radius + gap_mm)
                cost += passing_under;
            if (other.leader &&
                distance_to_segment(label.centre, anchor, other.centre) < label.radius + gap_mm)
                cost += passing_under;
            if (label.leader && other.leader &&
                segments_cross(wish.anchor, label.centre, anchor, other.centre))
                cost += crossing;
        }
        return cost;
    }

    PlacedLabel best(std::size_t own) const {
        const LabelWish& wish = wishes[own];
        PlacedLabel label{wish.anchor, radius_for(wish.text), false};
        PlacedLabel least = label;
        int fewest = cost(own, label) + (wish.free_radius < label.radius ? crowding : 0);
        for (int ring = 1; ring <= ring_count && fewest > 0; ++ring) {
            for (int i = 0; i < directions && fewest > 0; ++i) {
                const SinCos turn = sin_cos_deg(45.0 + 360.0 * i / directions);
                const double reach = label.radius + ring * ring_step_mm;
                label.centre = wish.anchor + glm::dvec2(turn.cos, -turn.sin) * reach;
                label.leader = true;
                const int found = cost(own, label);
                if (found >= fewest) continue;
                fewest = found;
                least = label;
            }
        }
        return least;
    }
};

} // namespace

std::vector<PlacedLabel> place_labels(const std::vector<LabelWish>& wishes, const Rect& area,
                                      const std::vector<Rect>& taken) {
    Board board{wishes, area, taken, {}};
    for (std::size_t i = 0; i < wishes.size(); ++i)
        board.placed.push_back(board.best(i));
    // The first were placed without knowing the later: each is placed again among all others.
    for (int pass = 0; pass < passes; ++pass)
        for (std::size_t i = 0; i < wishes.size(); ++i)
            board.placed[i] = board.best(i);
    return board.placed;
}

} // namespace standpoint
