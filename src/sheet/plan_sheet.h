// The plan: footprint, path, hall and numbered pieces at a standard scale on a standard sheet.
#pragma once

#include <vector>

#include "check/run.h"
#include "sheet/footprint.h"
#include "sheet/ink.h"
#include "sheet/rows.h"
#include "sheet/sheet_size.h"
#include "sheet/title_block.h"

namespace standpoint {

// Paper kept free below the plan for the notes and the title block.
inline constexpr double plan_notes_height_mm = 46;

struct PlanView {
    SheetChoice choice;
    Rect window;            // page mm, where the plan is drawn
    glm::dvec2 middle{0.0}; // scene mm, at the middle of the window

    glm::dvec2 to_page(glm::dvec2 scene_mm) const;
    double on_paper(double mm) const { return mm / choice.scale.reduction; }
};

PlanView plan_view(const Staging& staging);

// `rows` and the pieces of the staging are in the same order.
void draw_plan_sheet(Ink& ink, const PlanView& view, const Staging& staging,
                     const std::vector<PlacementRow>& rows, const CheckResults& results,
                     const SheetTitle& title);

} // namespace standpoint
