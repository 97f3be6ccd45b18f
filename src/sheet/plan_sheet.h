// The plan: footprint, path, hall and numbered pieces at a standard scale on a standard sheet.
#pragma once

#include <vector>

#include "check/run.h"
#include "sheet/plan_numbers.h"
#include "sheet/rows.h"
#include "sheet/title_block.h"

namespace standpoint {

// `rows` and `drawn`, plan_pieces(staging), are in the same order. The plan of the base is the
// sheet after the plan of everything. Returns where the numbers stand.
std::vector<PlacedLabel> draw_plan_sheet(Ink& ink, const PlanView& view, const Staging& staging,
                                         const std::vector<PlacementRow>& rows,
                                         const PlanPieces& drawn, const CheckResults& results,
                                         const SheetTitle& title);

} // namespace standpoint
