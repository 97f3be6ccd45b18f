// The numbers of the pieces on a plan: where each stands.
#pragma once

#include <vector>

#include "sheet/footprint.h"
#include "sheet/labels.h"
#include "sheet/plan_view.h"
#include "sheet/rows.h"

namespace standpoint {

struct PlanPieces { // of one plan, all in the same order
    std::vector<const StagedPiece*> pieces;
    std::vector<PlanShape> shapes;
    std::vector<bool> on_base;
};
PlanPieces plan_pieces(const Staging& staging);

// Of the pieces this plan numbers, in document order. `rows` and the pieces are in the same order.
std::vector<LabelWish> number_wishes(const PlanView& view, const std::vector<PlacementRow>& rows,
                                     const PlanPieces& drawn);

// Keeps clear of the texts on the page. Returns where each number stands.
std::vector<PlacedLabel> draw_numbers(Ink& ink, const PlanView& view,
                                      const std::vector<LabelWish>& wishes);

} // namespace standpoint
