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
    std::vector<PlacedLabel> placed;

    // How many things a label at this place would cover or cross.
    int conflicts(const LabelWish& wish, const PlacedLabel& label) const {
        int count = inside(square(label), area) ? 0 : 100;
        for (const Rect& rect : taken)
            count += overlap(square(label), rect, gap_mm);
        for (std::size_t i = 0; i < placed.size(); ++i) {
            const PlacedLabel& other = placed[i];
            const glm::dvec2 anchor = wishes[i].anchor;
            const double apart = label.radius + other.radius + gap_mm;
            count += glm::length(label.centre - other.centre) < apart;
            if (label.leader)
                count += distance_to_segment(other.centre, wish.anchor, label.centre) <
                         other.radius + gap_mm;
            if (other.leader)
                count +=
                    distance_to_segment(label.centre, anchor, other.centre) < label.radius + gap_mm;
            if (label.leader && other.leader)
                count += segments_cross(wish.anchor, label.centre, anchor, other.centre);
        }
        return count;
    }

    PlacedLabel best(const LabelWish& wish) const {
        PlacedLabel label{wish.anchor, radius_for(wish.text), false};
        PlacedLabel least = label;
        int fewest = conflicts(wish, label) + (wish.free_radius < label.radius ? 1 : 0);
        for (int ring = 1; ring <= ring_count && fewest > 0; ++ring) {
            for (int i = 0; i < directions && fewest > 0; ++i) {
                const SinCos turn = sin_cos_deg(45.0 + 360.0 * i / directions);
                const double reach = label.radius + ring * ring_step_mm;
                label.centre = wish.anchor + glm::dvec2(turn.cos, -turn.sin) * reach;
                label.leader = true;
                const int found = conflicts(wish, label);
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
    for (const LabelWish& wish : wishes)
        board.placed.push_back(board.best(wish));
    return board.placed;
}

} // namespace standpoint
