// Lays out the plan sheet: the view, the labels, the notes under it.
#include "sheet/plan_sheet.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "sheet/cells.h"
#include "sheet/labels.h"
#include "sheet/plan_ink.h"

namespace standpoint {
namespace {

constexpr double grid_label_room_mm = 7; // left of and below the plan
constexpr double extent_margin_mm = 150; // scene mm round what must be on the plan

Box plan_extent(const Staging& staging) {
    Box box;
    const auto add = [&](double x, double y) { box = grown(box, glm::dvec3(x, y, 0)); };
    for (const StagedPiece& piece : staging.pieces) {
        if (piece.staged == StagedKind::hall || piece.staged == StagedKind::column) continue;
        if (piece.box.empty()) continue;
        add(piece.box.low.x, piece.box.low.y);
        add(piece.box.high.x, piece.box.high.y);
    }
    for (const ReferencePoint& point : *staging.document.reference_points)
        add(point.at.x.mm, point.at.y.mm);
    for (const std::vector<glm::dvec2>& edge : path_edges(*staging.document.path))
        for (const glm::dvec2& point : edge)
            add(point.x, point.y);
    if (box.empty()) add(0, 0);
    box.low -= glm::dvec3(extent_margin_mm);
    box.high += glm::dvec3(extent_margin_mm);
    return box;
}

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

void draw_scale_bar(Ink& ink, const PlanView& view, const Settings& settings, glm::dvec2 corner) {
    const bool metric = settings.units == UnitSystem::metric;
    const double step = metric ? 500 : 2 * mm_per_foot;
    const int steps = 4;
    const double width = view.on_paper(step);
    for (int i = 0; i < steps; ++i) {
        const Rect block{corner.x + i * width, corner.y, width, 2};
        if (i % 2 == 0) ink.fill_rect(block, 0);
        ink.rect(block, line_narrow);
    }
    for (int i = 0; i <= steps; i += steps / 2)
        ink.text({corner.x + i * width, corner.y + 2.4},
                 print_length(i * step, sheet_style(settings)), {8, false, 0, Align::centre});
}

void draw_key(Ink& ink, const PlanView& view, const Settings& settings, const Rect& box) {
    ink.reserve({box.x, box.y, 0.01, 0.01});
    ink.text({box.x, box.y}, "How to read this plan", {8.5, true});
    ink.text({box.x, box.y + 4.5},
             fmt::format("Seen from above; visitors at the front are below. Lengths in {}. The "
                         "datum is the origin of X (to the right), Y (away from the front) and Z "
                         "(up from the hall floor). A number is the piece's number in the table; "
                         "an arrow is the way it faces: degrees clockwise seen from above, 0 "
                         "towards the front.",
                         unit_note(settings)),
             {8}, box.width);
    const double y = box.y + 25;
    ink.line({box.x, y}, {box.x + 12, y}, line_wide, Stroke::long_dash_dot);
    ink.text({box.x + 14, y - 1.8}, "join line", {8});
    ink.line({box.x + 34, y}, {box.x + 46, y}, line_narrow, Stroke::dashed);
    ink.text({box.x + 48, y - 1.8}, "edge of the visitor path", {8});
    draw_reference_mark(ink, {box.x + 91, y});
    ink.text({box.x + 94, y - 1.8}, "reference point", {8});
    draw_scale_bar(ink, view, settings, {box.x + 4, box.y + 30});
    ink.text(
        {box.x + 12 + view.on_paper(settings.units == UnitSystem::metric ? 2000 : 8 * mm_per_foot),
         box.y + 29.2},
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

std::vector<LabelWish> number_wishes(const PlanView& view, const std::vector<PlacementRow>& rows,
                                     const std::vector<const StagedPiece*>& pieces,
                                     const std::vector<PlanShape>& shapes) {
    std::vector<LabelWish> wishes;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        std::vector<const PlanShape*> above;
        for (std::size_t j = 0; j < rows.size(); ++j)
            if (drawn_above(*pieces[j], *pieces[i], j > i)) above.push_back(&shapes[j]);
        const Spot spot = clear_spot(shapes[i], above, pieces[i]->box);
        wishes.push_back(
            {std::to_string(rows[i].number), view.to_page(spot.place), view.on_paper(spot.room)});
    }
    return wishes;
}

void draw_numbers(Ink& ink, const std::vector<LabelWish>& wishes,
                  const std::vector<PlacedLabel>& labels) {
    for (std::size_t i = 0; i < labels.size(); ++i)
        if (labels[i].leader) {
            ink.line(wishes[i].anchor, labels[i].centre, line_thin);
            ink.circle(wishes[i].anchor, 0.35, 0, line_thin);
        }
    for (std::size_t i = 0; i < labels.size(); ++i) {
        ink.circle(labels[i].centre, labels[i].radius, 1, line_narrow);
        const TextStyle style{8, true, 0, Align::centre};
        const double height = ink.measure(wishes[i].text, style).height;
        ink.text({labels[i].centre.x, labels[i].centre.y - height / 2}, wishes[i].text, style);
    }
}

std::vector<Rect> texts_on_page(const Ink& ink) {
    std::vector<Rect> taken;
    const int page = ink.records().empty() ? 0 : ink.records().back().page;
    for (const InkRecord& record : ink.records())
        if (record.page == page) taken.push_back(record.rect);
    return taken;
}

} // namespace

glm::dvec2 PlanView::to_page(glm::dvec2 scene_mm) const {
    const glm::dvec2 off = (scene_mm - middle) / choice.scale.reduction;
    return {window.x + window.width / 2 + off.x, window.y + window.height / 2 - off.y};
}

PlanView plan_view(const Staging& staging) {
    const Box extent = plan_extent(staging);
    const glm::dvec3 size = extent.size();
    const double taken = plan_notes_height_mm + grid_label_room_mm + 2;
    // The labels beside the grid narrow the window, as if the extent were wider.
    PlanView view;
    view.choice = choose_sheet(staging.document.settings->units, size.x, size.y, taken);
    const Rect space = drawing_space(view.choice.size);
    view.window = {space.x + 13, space.y + 2, space.width - 15, space.height - taken};
    if (size.x / view.choice.scale.reduction > view.window.width)
        view.choice = choose_sheet(staging.document.settings->units, size.x * 1.05, size.y, taken);
    const Rect again = drawing_space(view.choice.size);
    view.window = {again.x + 13, again.y + 2, again.width - 15, again.height - taken};
    view.middle = {extent.centre().x, extent.centre().y};
    return view;
}

void draw_plan_sheet(Ink& ink, const PlanView& view, const Staging& staging,
                     const std::vector<PlacementRow>& rows, const CheckResults& results,
                     const SheetTitle& title) {
    const Rect space = drawing_space(view.choice.size);
    ink.begin_page(view.choice.size.width, view.choice.size.height);
    std::vector<const StagedPiece*> pieces;
    std::vector<PlanShape> shapes;
    for (const StagedPiece& piece : staging.pieces) {
        if (piece.staged != StagedKind::piece) continue;
        pieces.push_back(&piece);
        shapes.push_back(plan_shape(piece));
    }
    ink.clip(view.window);
    draw_ground(ink, view, staging);
    draw_pieces(ink, view, pieces, shapes);
    draw_overlay(ink, view, staging);
    ink.unclip();
    draw_grid_labels(ink, view, *staging.document.settings);
    draw_names(ink, view, staging);
    const std::vector<LabelWish> wishes = number_wishes(view, rows, pieces, shapes);
    draw_numbers(ink, wishes, place_labels(wishes, view.window, texts_on_page(ink)));
    const Rect block = draw_frame(ink, view.choice.size, *staging.document.settings, title);
    const double top = space.y + space.height - plan_notes_height_mm;
    ink.line({space.x, top}, {space.x + space.width, top}, line_wide);
    const double key_width = 118;
    draw_key(ink, view, *staging.document.settings, {space.x + 3, top + 2, key_width, 40});
    const double left = space.x + key_width + 8;
    draw_warnings(ink, staging, results,
                  {left, top + 2, block.x - left - 4, plan_notes_height_mm - 4});
    ink.end_page();
}

} // namespace standpoint
