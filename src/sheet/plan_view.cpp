// Chooses sheets and scales for the plans.
#include "sheet/plan_view.h"

#include <algorithm>

#include "sheet/plan_ink.h"
#include "sheet/title_block.h"

namespace standpoint {
namespace {

constexpr double grid_label_room_mm = 7; // below the plan
constexpr double grid_label_side_mm = 13;
constexpr double extent_margin_mm = 150; // scene mm round what must be on the plan
constexpr double taken_height_mm = plan_notes_height_mm + grid_label_room_mm + 2;

void add(Box& box, double x, double y) {
    box = grown(box, glm::dvec3(x, y, 0));
}

void add(Box& box, const Box& other) {
    if (other.empty()) return;
    add(box, other.low.x, other.low.y);
    add(box, other.high.x, other.high.y);
}

Box with_margin(Box box) {
    if (box.empty()) add(box, 0, 0);
    box.low -= glm::dvec3(extent_margin_mm);
    box.high += glm::dvec3(extent_margin_mm);
    return box;
}

Box whole_extent(const Staging& staging) {
    Box box;
    for (const StagedPiece& piece : staging.pieces)
        if (piece.staged != StagedKind::hall && piece.staged != StagedKind::column)
            add(box, piece.box);
    for (const ReferencePoint& point : *staging.document.reference_points)
        add(box, point.at.x.mm, point.at.y.mm);
    for (const std::vector<glm::dvec2>& edge : path_edges(*staging.document.path))
        for (const glm::dvec2& point : edge)
            add(box, point.x, point.y);
    return with_margin(box);
}

// Empty when there is no base, or nothing on it.
Box base_extent(const Staging& staging) {
    Box sections, pieces;
    for (const StagedPiece& piece : staging.pieces) {
        if (piece.staged == StagedKind::section) add(sections, piece.box);
        if (piece.staged == StagedKind::piece && is_on_base(staging, piece)) add(pieces, piece.box);
    }
    if (sections.empty() || pieces.empty()) return {};
    return with_margin(joined(sections, pieces));
}

Rect window_on(const SheetSize& size) {
    const Rect space = drawing_space(size);
    return {space.x + grid_label_side_mm, space.y + 2, space.width - grid_label_side_mm - 2,
            space.height - taken_height_mm};
}

// Moves one axis of the middle so far that the hall is inside too, where the window is that large.
double with_hall(double middle, double half, double low, double high) {
    if (high - low > 2 * half) return middle;
    return std::clamp(middle, high - half, low + half);
}

void show_hall(PlanView& view, const Hall& hall) {
    Box box;
    for (const PlanPoint& point : hall.outline)
        add(box, point.x.mm, point.y.mm);
    if (box.empty()) return;
    const double rim = 0.5 * view.choice.scale.reduction; // the wall's line, and the window's
    const double half_width = view.window.width / 2 * view.choice.scale.reduction - rim;
    const double half_depth = view.window.height / 2 * view.choice.scale.reduction - rim;
    view.middle.x = with_hall(view.middle.x, half_width, box.low.x, box.high.x);
    view.middle.y = with_hall(view.middle.y, half_depth, box.low.y, box.high.y);
}

PlanView whole_view(const Staging& staging) {
    const Box extent = whole_extent(staging);
    const glm::dvec3 size = extent.size();
    const UnitSystem units = staging.document.settings->units;
    PlanView view;
    view.choice = choose_sheet(units, size.x, size.y, taken_height_mm);
    // The labels beside the grid narrow the window, as if the extent were wider.
    if (size.x / view.choice.scale.reduction > window_on(view.choice.size).width)
        view.choice = choose_sheet(units, size.x * 1.05, size.y, taken_height_mm);
    view.window = window_on(view.choice.size);
    view.middle = {extent.centre().x, extent.centre().y};
    show_hall(view, *staging.document.hall);
    return view;
}

} // namespace

glm::dvec2 PlanView::to_page(glm::dvec2 scene_mm) const {
    const glm::dvec2 off = (scene_mm - middle) / choice.scale.reduction;
    return {window.x + window.width / 2 + off.x, window.y + window.height / 2 - off.y};
}

bool PlanView::numbers(bool on_base) const {
    return part == PlanPart::everything || on_base == (part == PlanPart::base);
}

bool is_on_base(const Staging& staging, const StagedPiece& piece) {
    if (piece.piece == nullptr) return false;
    if (!section_of(staging.document, *piece.piece).empty()) return true;
    const glm::dvec3 centre = piece.box.centre();
    return std::any_of(staging.pieces.begin(), staging.pieces.end(), [&](const StagedPiece& base) {
        return base.staged == StagedKind::section && centre.x >= base.box.low.x &&
               centre.x <= base.box.high.x && centre.y >= base.box.low.y &&
               centre.y <= base.box.high.y;
    });
}

std::vector<PlanView> plan_views(const Staging& staging) {
    std::vector<PlanView> views = {whole_view(staging)};
    const Box extent = base_extent(staging);
    if (extent.empty()) return views;
    PlanView base = views.front();
    base.part = PlanPart::base;
    base.middle = {extent.centre().x, extent.centre().y};
    for (const DrawingScale& scale : drawing_scales(staging.document.settings->units)) {
        if (scale.reduction >= base.choice.scale.reduction) return views; // nothing is gained
        if (extent.size().x / scale.reduction > base.window.width ||
            extent.size().y / scale.reduction > base.window.height)
            continue;
        base.choice.scale = scale;
        break;
    }
    views.front().part = PlanPart::beside;
    views.push_back(base);
    return views;
}

} // namespace standpoint
