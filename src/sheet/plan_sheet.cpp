// Lays out the plan sheet: the view, the labels, the notes under it.
#include "sheet/plan_sheet.h"

#include <fmt/format.h>

#include "sheet/cells.h"
#include "sheet/plan_ink.h"

namespace standpoint {
namespace {

struct Tally {
    int fail = 0, warn = 0, note = 0;
};

Tally tally_of(const std::vector<Finding>& findings) {
    Tally tally;
    for (const Finding& finding : findings)
        ++(finding.grade == Grade::fail   ? tally.fail
           : finding.grade == Grade::warn ? tally.warn
                                          : tally.note);
    return tally;
}

std::string rules_line(const RuleChoice& choice) {
    std::string line;
    for (const std::string& id : choice.use)
        line += (line.empty() ? "" : ", ") + id;
    if (!choice.own.empty()) line += line.empty() ? "the shop's own" : " and the shop's own";
    return line.empty() ? "the house's defaults" : line;
}

constexpr int bar_blocks = 4;

// Scene mm; the largest round length of which four fit the key.
double bar_block(const PlanView& view, UnitSystem units) {
    constexpr double metric[] = {2000, 1000, 500, 250, 100};
    constexpr double feet[] = {8, 4, 2, 1};
    constexpr double longest_mm = 60; // of paper
    for (std::size_t i = 0; i < (units == UnitSystem::metric ? std::size(metric) : std::size(feet));
         ++i) {
        const double block = units == UnitSystem::metric ? metric[i] : feet[i] * mm_per_foot;
        if (view.on_paper(block) * bar_blocks <= longest_mm) return block;
    }
    return units == UnitSystem::metric ? 50 : mm_per_foot / 2;
}

// Returns how wide it is.
double draw_scale_bar(Ink& ink, const PlanView& view, const Settings& settings, glm::dvec2 corner) {
    const double block = bar_block(view, settings.units);
    const double width = view.on_paper(block);
    for (int i = 0; i < bar_blocks; ++i) {
        const Rect box{corner.x + i * width, corner.y, width, 2};
        if (i % 2 == 0) ink.fill_rect(box, 0);
        ink.rect(box, line_narrow);
    }
    for (int i = 0; i <= bar_blocks; i += bar_blocks / 2)
        ink.text({corner.x + i * width, corner.y + 2.4},
                 print_length(i * block, sheet_style(settings)), {8, false, 0, Align::centre});
    return bar_blocks * width;
}

std::string numbers_line(const PlanView& view, int sheet) {
    switch (view.part) {
    case PlanPart::beside:
        return fmt::format(" Pieces on the base have their numbers and arrows on the {}, sheet {}.",
                           plan_names[static_cast<int>(PlanPart::base)], sheet + 1);
    case PlanPart::base:
        return fmt::format(" Pieces beside the base have theirs on the {}, sheet {}.",
                           plan_names[static_cast<int>(PlanPart::beside)], sheet - 1);
    case PlanPart::everything:
        break;
    }
    return {};
}

void draw_key(Ink& ink, const PlanView& view, const Settings& settings, int sheet,
              const Rect& box) {
    ink.reserve({box.x, box.y, 0.01, 0.01});
    ink.text({box.x, box.y}, "How to read this plan", {8.5, true});
    ink.text({box.x, box.y + 4.5},
             fmt::format("Seen from above; visitors at the front are below. Lengths in {}. The "
                         "datum is the origin of X (to the right), Y (away from the front) and Z "
                         "(up from the hall floor). A number is the piece's number in the table; "
                         "an arrow is the way it faces: degrees clockwise seen from above, 0 "
                         "towards the front.",
                         unit_note(settings)) +
                 numbers_line(view, sheet),
             {8}, box.width);
    const double y = box.y + 25;
    ink.line({box.x, y}, {box.x + 12, y}, line_wide, Stroke::long_dash_dot);
    ink.text({box.x + 14, y - 1.8}, "join line", {8});
    ink.line({box.x + 34, y}, {box.x + 46, y}, line_narrow, Stroke::dashed);
    ink.text({box.x + 48, y - 1.8}, "edge of the visitor path", {8});
    draw_reference_mark(ink, {box.x + 91, y});
    ink.text({box.x + 94, y - 1.8}, "reference point", {8});
    const double bar = draw_scale_bar(ink, view, settings, {box.x + 4, box.y + 30});
    ink.text({box.x + 12 + bar, box.y + 29.2},
             view.choice.scale.name + " on " + view.choice.size.name, {8});
}

void draw_warnings(Ink& ink, const Staging& staging, const CheckResults& results, const Rect& box) {
    const Tally tally = tally_of(results.findings);
    ink.text({box.x, box.y}, "Checked, not approved", {8.5, true});
    std::string text =
        fmt::format("Findings: {} fail, {} warn, {} note; rules: {}. Those that fail or warn are "
                    "listed on the last sheets. ",
                    tally.fail, tally.warn, tally.note, rules_line(*staging.document.rules));
    for (const std::string& caution : cautions())
        text += caution + " ";
    // The cautions are set as large as the box allows, never cut.
    for (double points = 8; points > 4; points -= 0.5) {
        if (ink.measure(text, {points}, box.width).height > box.height - 4.5 && points > 4.5)
            continue;
        ink.text({box.x, box.y + 4.5}, text, {points}, box.width);
        return;
    }
}

} // namespace

std::vector<PlacedLabel> draw_plan_sheet(Ink& ink, const PlanView& view, const Staging& staging,
                                         const std::vector<PlacementRow>& rows,
                                         const PlanPieces& drawn, const CheckResults& results,
                                         const SheetTitle& title) {
    const Rect space = drawing_space(view.choice.size);
    ink.begin_page(view.choice.size.width, view.choice.size.height);
    ink.clip(view.window);
    draw_ground(ink, view, staging);
    draw_pieces(ink, view, drawn);
    draw_overlay(ink, view, staging);
    ink.unclip();
    draw_grid_labels(ink, view, *staging.document.settings);
    draw_names(ink, view, staging);
    if (view.part == PlanPart::beside) draw_base_note(ink, view, staging, title.sheet + 1);
    const std::vector<PlacedLabel> labels =
        draw_numbers(ink, view, number_wishes(view, rows, drawn));
    const Rect block = draw_frame(ink, view.choice.size, *staging.document.settings, title);
    const double top = space.y + space.height - plan_notes_height_mm;
    ink.line({space.x, top}, {space.x + space.width, top}, line_wide);
    const double key_width = 118;
    draw_key(ink, view, *staging.document.settings, title.sheet,
             {space.x + 3, top + 2, key_width, 40});
    const double left = space.x + key_width + 8;
    draw_warnings(ink, staging, results,
                  {left, top + 2, block.x - left - 4, plan_notes_height_mm - 4});
    ink.end_page();
    return labels;
}

} // namespace standpoint
