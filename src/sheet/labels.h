// Numbers beside what they name: none over another, no leader across another.
#pragma once

#include <string>
#include <vector>

#include "sheet/ink.h"

namespace standpoint {

struct LabelWish { // page mm
    std::string text;
    glm::dvec2 anchor{0.0}; // a point of what it names
    double free_radius = 0; // room about the anchor; the label stays there when it has enough
};

struct PlacedLabel {
    glm::dvec2 centre{0.0};
    double radius = 0;
    bool leader = false; // drawn from the anchor to the circle
};

// Each goes to the nearest free place inside `area` that keeps clear of `taken`, of the other
// labels and leaders, and of what the others name. Where nothing is free, the least covered place.
std::vector<PlacedLabel> place_labels(const std::vector<LabelWish>& wishes, const Rect& area,
                                      const std::vector<Rect>& taken);

} // namespace standpoint
