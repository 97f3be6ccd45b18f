// How the parts of a piece look: colour, light let through, gloss.
#include <fmt/format.h>
#include <imgui.h>

#include "desk/piece_fields.h"
#include "desk/typed.h"
#include "window/answers.h"
#include "window/piece_rows.h"

namespace standpoint {

namespace {

using PartChoice = std::optional<std::size_t>;

// The text of the chosen part, or of all when they have the same.
template <class Text>
std::string common(const Piece& piece, const PartChoice& part, const Text& text, bool& differ) {
    const std::string first = text(piece.parts[part.value_or(0)]);
    differ = false;
    if (!part)
        for (const Part& other : piece.parts)
            differ = differ || text(other) != first;
    return differ ? "" : first;
}

std::string share_text(const std::optional<Number>& share) {
    return share ? fmt::format("{:.4g} %", share->value * 100) : "";
}

void colour_row(Shell& shell, const Ui& ui, const Piece& piece, const PartChoice& part) {
    bool differ = false;
    const std::string shown = common(
        piece, part, [](const Part& p) { return p.colour; }, differ);
    const auto typed = typed_row(
        shell, ui,
        {"Colour", "look/colour", shown,
         "Red, green and blue as #a0b1c2. Empty: the colour of its kind, or of the model.",
         differ ? "several" : "as it comes"});
    paint_swatch(ui, "look/colour", shown);
    if (!typed) return;
    const Result<std::string> colour = typed_colour(*typed);
    if (!colour.ok()) return refuse(shell, "look/colour", *typed, colour.error());
    take_typed(shell, "look/colour", *typed,
               set_colour(shell.desk->history.now(), {piece.id}, *colour, part));
}

using SetShare = Result<Edit> (*)(const Document&, const Ids&, const std::optional<Number>&,
                                  std::optional<std::size_t>);

struct ShareRow {
    const char *label, *name, *tip;
    std::optional<Number> Part::*member;
    SetShare set;
};

void share_row(Shell& shell, const Ui& ui, const Piece& piece, const PartChoice& part,
               const ShareRow& row) {
    bool differ = false;
    const std::string shown = common(
        piece, part, [&](const Part& p) { return share_text(p.*row.member); }, differ);
    const auto typed = typed_row(
        shell, ui, {row.label, row.name, shown, row.tip, differ ? "several" : "as it comes"});
    if (!typed) return;
    std::optional<Number> share;
    if (!typed->empty()) {
        const std::optional<Number>& now = piece.parts[part.value_or(0)].*row.member;
        const Result<Number> value = typed_share(*typed, now.value_or(Number(0)));
        if (!value.ok()) return refuse(shell, row.name, *typed, value.error());
        share = *value;
    }
    take_typed(shell, row.name, *typed,
               row.set(shell.desk->history.now(), {piece.id}, share, part));
}

} // namespace

void draw_look(Shell& shell, const Ui& ui, const Piece& piece) {
    if (piece.parts.size() > 1) part_row(shell, ui, piece, "look/part", "all of them");
    const PartChoice part = shell.panels.facts.part;
    colour_row(shell, ui, piece, part);
    share_row(shell, ui, piece, part,
              {"Clear", "look/lets-through",
               "The share of light that passes: 0.25 or 25 %. Empty: none, or as the model says.",
               &Part::lets_through, set_lets_through});
    share_row(shell, ui, piece, part,
              {"Gloss", "look/gloss",
               "The share of light mirrored seen straight on: 0.04 or 4 %. Empty: none.",
               &Part::gloss, set_gloss});
}

} // namespace standpoint
