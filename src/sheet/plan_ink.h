// The things of a plan, drawn: floor, path, base, pieces, join lines, reference points.
#pragma once

#include <vector>

#include "sheet/plan_numbers.h"

namespace standpoint {

// The two edges of the path's band, scene mm, each from start to end, mitred at corners.
std::vector<std::vector<glm::dvec2>> path_edges(const Path& path);

void draw_ground(Ink& ink, const PlanView& view, const Staging& staging); // grid, hall, path, base
// Lowest first; those this plan numbers have an arrow the way they face.
void draw_pieces(Ink& ink, const PlanView& view, const PlanPieces& drawn);
// Whether `upper` is drawn over `lower`; of equally high ones, the later in the document.
bool drawn_above(const StagedPiece& upper, const StagedPiece& lower, bool later);
void draw_overlay(Ink& ink, const PlanView& view, const Staging& staging); // joins, points, datum
void draw_grid_labels(Ink& ink, const PlanView& view, const Settings& settings);
void draw_names(Ink& ink, const PlanView& view, const Staging& staging); // sections, points, path
// Over the base, where the numbers of its pieces are: on that sheet.
void draw_base_note(Ink& ink, const PlanView& view, const Staging& staging, int sheet);
void draw_reference_mark(Ink& ink, glm::dvec2 centre);

} // namespace standpoint
