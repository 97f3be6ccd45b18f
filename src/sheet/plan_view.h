// What each plan shows, how far reduced and on which sheet: the whole staging, and the base alone.
#pragma once

#include <string>
#include <vector>

#include "shape/staging.h"
#include "sheet/ink.h"
#include "sheet/sheet_size.h"

namespace standpoint {

// Paper kept free below the plan for the notes and the title block.
inline constexpr double plan_notes_height_mm = 46;

enum class PlanPart {
    everything, // the only plan: numbers all pieces
    beside,     // everything is drawn; numbers the pieces beside the base
    base,       // the sections and what is on them, and the numbers of that
};

struct PlanView {
    PlanPart part = PlanPart::everything;
    SheetChoice choice;
    Rect window;            // page mm, where the plan is drawn
    glm::dvec2 middle{0.0}; // scene mm, at the middle of the window

    glm::dvec2 to_page(glm::dvec2 scene_mm) const;
    double on_paper(double mm) const { return mm / choice.scale.reduction; }
    bool numbers(bool on_base) const; // pieces on the base, or those beside it
};

inline constexpr const char* plan_names[] = {"placement plan", "placement plan",
                                             "plan of the base"};

// Held up by a section, however indirectly, or standing over one.
bool is_on_base(const Staging& staging, const StagedPiece& piece);

// One plan of everything; or, when pieces are on a base that a larger standard scale brings onto
// the same sheet, the plan of everything with the numbers beside the base, then the base alone.
std::vector<PlanView> plan_views(const Staging& staging);

} // namespace standpoint
