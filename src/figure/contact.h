// Where the figures of a scene touch and look, and where they are to: the touches and looks of the
// document as places. Scene axes, built millimetres, unless a line says otherwise.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/files.h"
#include "base/result.h"
#include "figure/figures.h"
#include "figure/placement.h"

namespace standpoint {

// How far the eyes turn in a head that is held still: NUREG-0700 Rev. 3 (2020), 11.3.1.2-2, after
// MIL-STD-1472G: 35 degrees either way at most. What is further off is not looked at.
inline constexpr double eyes_turn_deg = 35;

// The first figure of a piece where it stands.
struct PlacedFigure {
    std::size_t piece = 0, part = 0; // indices
    Figure figure;
    Frame form;       // scene point = to_outer(form, scale * point in the axes of the form)
    double scale = 1; // built size over original
    Posed posed;      // of the built size, in the axes of the form
};
// By piece of the document, nothing where it has no figure. Errors (input): find_figure's; a
// contact that is not the skeleton's. Where: the file and a pointer to the part or the touches.
using PlacedFigures = std::vector<std::optional<PlacedFigure>>;
Result<PlacedFigures> placed_figures(const Document& document, const std::string& scene_file,
                                     const FileAccess& files);

int contact_index(const Skeleton& skeleton, std::string_view name); // -1: none
// A name that is no contact of the skeleton; the error says which is near.
Status check_touches(const Piece& piece, const Skeleton& skeleton);

struct TouchPlace {
    std::size_t piece = 0, touch = 0; // indices; piece: the figure's
    int contact = 0;                  // of its skeleton
    glm::dvec3 found{0.0}, wanted{0.0};
    std::optional<glm::dvec3> found_normal, wanted_normal; // unit, outward; both or neither
    double off_mm() const;
    double off_deg() const; // [0, 180]; 0 where it may lie as it comes
};
struct LookPlace {
    std::size_t piece = 0;
    glm::dvec3 eyes{0.0}, gaze{0, -1, 0}, wanted{0.0};
    double off_deg() const; // [0, 180]: what is left for the eyes to turn in the head
};
// In document order. Two contacts that are each to meet the other are both wanted half way.
std::vector<TouchPlace> touch_places(const Document& document, const PlacedFigures& figures);
std::vector<LookPlace> look_places(const Document& document, const PlacedFigures& figures);

} // namespace standpoint
