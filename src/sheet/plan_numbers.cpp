// Places and draws the numbers of a plan.
#include "sheet/plan_numbers.h"

#include "sheet/plan_ink.h"

namespace standpoint {
namespace {

std::vector<Rect> texts_on_page(const Ink& ink) {
    std::vector<Rect> taken;
    const int page = ink.records().empty() ? 0 : ink.records().back().page;
    for (const InkRecord& record : ink.records())
        if (record.page == page) taken.push_back(record.rect);
    return taken;
}

} // namespace

PlanPieces plan_pieces(const Staging& staging) {
    PlanPieces out;
    for (const StagedPiece& piece : staging.pieces) {
        if (piece.staged != StagedKind::piece) continue;
        out.pieces.push_back(&piece);
        out.shapes.push_back(plan_shape(piece));
        out.on_base.push_back(is_on_base(staging, piece));
    }
    return out;
}

std::vector<LabelWish> number_wishes(const PlanView& view, const std::vector<PlacementRow>& rows,
                                     const PlanPieces& drawn) {
    std::vector<LabelWish> wishes;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (!view.numbers(drawn.on_base[i])) continue;
        std::vector<const PlanShape*> above;
        for (std::size_t j = 0; j < rows.size(); ++j)
            if (drawn_above(*drawn.pieces[j], *drawn.pieces[i], j > i))
                above.push_back(&drawn.shapes[j]);
        const Spot spot = clear_spot(drawn.shapes[i], above, drawn.pieces[i]->box);
        wishes.push_back(
            {std::to_string(rows[i].number), view.to_page(spot.place), view.on_paper(spot.room)});
    }
    return wishes;
}

std::vector<PlacedLabel> draw_numbers(Ink& ink, const PlanView& view,
                                      const std::vector<LabelWish>& wishes) {
    const std::vector<PlacedLabel> labels = place_labels(wishes, view.window, texts_on_page(ink));
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
    return labels;
}

} // namespace standpoint
