// Builds the rows: what stands where, unrounded, with its marks.
#include "sheet/rows.h"

#include <fmt/format.h>

#include "measure/box.h"

namespace standpoint {
namespace {

std::string name_of_host(const Staging& staging, const std::string& id) {
    const StagedPiece* host = find_staged(staging, id);
    if (host != nullptr && host->piece != nullptr && !host->piece->name.empty())
        return host->piece->name;
    return id;
}

std::string support_text(const Staging& staging, const Piece& piece) {
    switch (piece.support) {
    case Support::none:
        return "on the floor";
    case Support::section: {
        const Section* section = find_section(staging.document, piece.host);
        const bool named = section != nullptr && !section->name.empty();
        return "on section " + (named ? section->name : piece.host);
    }
    case Support::stands_on:
        return "on " + name_of_host(staging, piece.host);
    case Support::hangs_from:
        return "held by " + name_of_host(staging, piece.host);
    }
    return {};
}

std::string section_text(const Document& document, const Piece& piece) {
    const std::string id = section_of(document, piece);
    const Section* section = find_section(document, id);
    return section != nullptr && !section->name.empty() ? section->name : id;
}

// Two opposite corners of the foot lie as far apart as a box allows. A figure has a left of its
// own; of anything else, left is on the left of who stands before its front (-Y), as it is on the
// base.
std::vector<Mark> default_marks(PieceKind kind, const Box& foot) {
    const bool figure = kind == PieceKind::figure;
    const auto mark = [](const char* name, double x, double y, double z) {
        return Mark{name, Point3{Length(x), Length(y), Length(z)}};
    };
    return {mark(figure ? "front corner on its right" : "left front corner", foot.low.x, foot.low.y,
                 foot.low.z),
            mark(figure ? "back corner on its left" : "right back corner", foot.high.x, foot.high.y,
                 foot.low.z)};
}

PlacementRow row_of(const Staging& staging, const StagedPiece& staged, int number) {
    const Piece& piece = *staged.piece;
    const Box original = bounds(*staged.mesh);
    const Turns turns = turns_of(staged.placement.frame.rotation);
    PlacementRow row;
    row.number = number;
    row.id = piece.id;
    row.name = piece.name;
    row.kind = piece_kind_names[static_cast<int>(piece.kind)];
    row.section = section_text(staging.document, piece);
    row.at = staged.placement.frame.origin;
    row.facing = turns.facing_deg;
    row.tilt = turns.tilt_deg;
    row.roll = turns.roll_deg;
    row.ratio = staged.placement.scale;
    row.built_size = original.size() * staged.placement.scale;
    row.support = support_text(staging, piece);
    for (const Mark& mark : piece.marks.empty() ? default_marks(piece.kind, original) : piece.marks)
        row.marks.push_back(
            {mark.name, to_scene(staged, {mark.at.x.mm, mark.at.y.mm, mark.at.z.mm})});
    return row;
}

} // namespace

std::vector<PlacementRow> placement_rows(const Staging& staging) {
    std::vector<PlacementRow> rows;
    for (const StagedPiece& piece : staging.pieces)
        if (piece.staged == StagedKind::piece)
            rows.push_back(row_of(staging, piece, static_cast<int>(rows.size()) + 1));
    return rows;
}

} // namespace standpoint
