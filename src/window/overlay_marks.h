// Marks of findings over a view, and the widths written beside them.
#pragma once

#include <optional>
#include <vector>

#include "window/shell.h"
#include "window/view_paint.h"

namespace standpoint {

struct FindingMark {
    glm::dvec2 at{0.0}; // pixels of the view
    double radius = 0;
    Grade grade = Grade::warn;         // the worst of them
    std::vector<std::size_t> findings; // indices into CheckResults::findings, the worst first
};

// Of what fails or is to be looked at and has a place in view, the topmost first. Those that would
// lie on one another are one. `em`: height of the text, pixels. Empty in eye views.
std::vector<FindingMark> finding_marks(const CheckResults& results, const ViewCamera& camera,
                                       const glm::ivec2& size, double em);
// Index of the topmost mark there, a little more than its shape. Nothing: none.
std::optional<std::size_t> mark_under(const std::vector<FindingMark>& marks, const glm::dvec2& at);
// What a press on the mark picks: its first finding, or the one after `picked` when that is its.
std::size_t next_of_mark(const FindingMark& mark, int picked);

// Picks a finding of the mark there as a press on its row does, but leaves this view where it is.
// False: there is no mark.
bool press_mark(Shell& shell, int view, const glm::ivec2& size, const glm::dvec2& at);
// The messages of the mark under the pointer, beside it.
void mark_tip(const Shell& shell, const ViewPaint& paint);

// The marks, those of several findings with their number. Nothing in eye views.
void paint_findings(const Shell& shell, const ViewPaint& paint);

// Beside the marks of the walkway's findings of that grade how wide it is there; only in plans.
void paint_width_words(const Shell& shell, const ViewPaint& paint, Grade grade);

} // namespace standpoint
