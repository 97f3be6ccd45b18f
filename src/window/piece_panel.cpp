// The numbers of what is picked: place, turns, ratio, name, support and switches.
#include <algorithm>

#include <fmt/format.h>
#include <imgui.h>

#include "desk/arrange.h"
#include "desk/built_height.h"
#include "desk/move.h"
#include "desk/piece_fields.h"
#include "desk/typed.h"
#include "window/answers.h"
#include "window/overlay.h"
#include "window/panels.h"
#include "window/piece_rows.h"

namespace standpoint {

namespace {

void length_row(Shell& shell, const Ui& ui, const Piece& piece, const char* text, const char* name,
                PlaceLength field, const Length& now, const char* what) {
    const Document& document = shell.desk->history.now();
    const auto typed = typed_row(
        shell, ui,
        {text, name, length_shown(document, now.mm),
         fmt::format("{} Any unit: 1600, 1.6 m, 5' 3\". +50 adds, - 50 takes away, *2 doubles.",
                     what)});
    if (!typed) return;
    const Result<Length> value = typed_length(*typed, now, document.settings->units);
    if (!value.ok()) return refuse(shell, name, *typed, value.error());
    take_typed(shell, name, *typed, set_place(document, piece.id, field, *value));
}

void angle_row(Shell& shell, const Ui& ui, const Piece& piece, const char* text, const char* name,
               PlaceAngle field, const Angle& now, const char* what) {
    const auto typed = typed_row(shell, ui,
                                 {text, name, fmt::format("{:.4g}\xc2\xb0", now.deg),
                                  fmt::format("{} In degrees. +15 adds, - 15 takes away.", what)});
    if (!typed) return;
    const Result<Angle> value = typed_angle(*typed, now);
    if (!value.ok()) return refuse(shell, name, *typed, value.error());
    take_typed(shell, name, *typed, set_place(shell.desk->history.now(), piece.id, field, *value));
}

void name_rows(Shell& shell, const Ui& ui, const Piece& piece) {
    const Document& document = shell.desk->history.now();
    if (const auto name = typed_row(
            shell, ui,
            {"Name", "piece/name", piece.name, "As people call it; it may be left empty.", "none"}))
        take_typed(shell, "piece/name", *name, set_name(document, piece.id, *name));
    const auto id = typed_row(
        shell, ui,
        {"Id", "piece/id", piece.id,
         "Short and lasting: it is on every sheet and tag. Small letters, digits and hyphens."});
    if (id && take_typed(shell, "piece/id", *id, set_id(shell.desk->history.now(), piece.id, *id)))
        select_only(*shell.desk, *id);
}

void ratio_row(Shell& shell, const Ui& ui, const Piece& piece) {
    const Document& document = shell.desk->history.now();
    const double ratio = ratio_of(document, piece);
    const auto typed = typed_row(
        shell, ui,
        {"Ratio", "piece/ratio",
         fmt::format("{:.5g}:1{}", ratio, piece.ratio ? "" : " (of the scene)"),
         "Built over original: 12:1, 12, 125 %, or \"1:24 to 1:6\". Empty: the scene's own."});
    if (!typed) return;
    if (typed->empty()) {
        take_typed(shell, "piece/ratio", *typed, set_ratio(document, {piece.id}, std::nullopt));
        return;
    }
    const Result<Ratio> value = typed_ratio(*typed, Ratio(ratio));
    if (!value.ok()) return refuse(shell, "piece/ratio", *typed, value.error());
    take_typed(shell, "piece/ratio", *typed, set_ratio(document, {piece.id}, *value));
}

// The wanted built height: of a primitive what it is made to, else the ratio follows from it.
void built_height_row(Shell& shell, const Ui& ui, const Piece& piece) {
    const Document& document = shell.desk->history.now();
    const double original = shell.panels.facts.original.z;
    if (!(original > 0)) return;
    const double built = original * ratio_of(document, piece);
    const std::string from = length_shown(document, original);
    const auto typed = typed_row(
        shell, ui,
        {"Built high", "piece/built-height", length_shown(document, built),
         made_height(piece)
             ? fmt::format("How high it is to be built, upright; any unit. Sets the height of the "
                           "original, {}; ratio, width and depth stay.",
                           from)
             : fmt::format("How high it is to be built, upright; any unit. Sets the ratio from the "
                           "height of the original, {}; width and depth follow.",
                           from)});
    if (!typed) return;
    const Result<Length> wanted = typed_length(*typed, Length(built), document.settings->units);
    if (!wanted.ok()) return refuse(shell, "piece/built-height", *typed, wanted.error());
    take_typed(shell, "piece/built-height", *typed,
               set_built_height(document, piece.id, original, *wanted));
}

void size_rows(Shell& shell, const Ui& ui, const Piece& piece) {
    ratio_row(shell, ui, piece);
    if (!shell.panels.facts.figure) built_height_row(shell, ui, piece);
    if (button(ui, "piece/ratio-from-sizes", "Ratio from two sizes ...")) {
        shell.dialog = Dialog::ratio;
        shell.dialog_opens = true;
    }
    tip("Type the size of the original and the size it is to be built");
    const StagedPiece* staged = find_staged(*shell.desk->shown, piece.id);
    if (!staged) return;
    const glm::dvec3 size = staged->box.size();
    const Document& document = shell.desk->history.now();
    quiet_text(ui, fmt::format("Takes up {} wide, {} deep, {} high", length_text(document, size.x),
                               length_text(document, size.y), length_text(document, size.z)));
}

void switch_rows(Shell& shell, const Ui& ui, const Piece& piece) {
    const Document& document = shell.desk->history.now();
    bool locked = piece.locked;
    if (ImGui::Checkbox("Locked", &locked)) do_edit(shell, lock(document, {piece.id}, locked));
    tag_item(ui, "piece/locked");
    flow_on(ui, "Shown    ");
    bool on = piece.off == Off::no;
    if (ImGui::Checkbox("Shown", &on))
        do_edit(shell, switch_off(document, {piece.id}, on ? Off::no : Off::views_and_checks));
    tag_item(ui, "piece/shown");
    row_label(ui, "Kind");
    int kind = static_cast<int>(piece.kind);
    ImGui::SetNextItemWidth(-1);
    if (ImGui::Combo("##kind", &kind, piece_kind_names,
                     static_cast<int>(std::size(piece_kind_names))))
        do_edit(shell, set_kind(document, {piece.id}, static_cast<PieceKind>(kind)));
    tag_item(ui, "piece/kind");
    group_row(shell, ui);
    const auto note = typed_row(
        shell, ui, {"Note", "piece/note", piece.note, "Goes onto the sheets.", "for the crew"});
    if (note)
        take_typed(shell, "piece/note", *note,
                   set_note(shell.desk->history.now(), piece.id, *note));
}

// What the numbers of a place are counted from, each followed by a full stop.
struct PlaceTips {
    const char *across, *deep, *height, *facing;
};

PlaceTips tips_of(Support support) {
    if (support == Support::stands_on || support == Support::hangs_from)
        return {"To the right of the origin of what carries it, seen from its front.",
                "Away from the origin of what carries it, towards its back.",
                "Above the origin of what carries it.",
                "Clockwise seen from above; at 0\xc2\xb0 it faces as what carries it does."};
    return {"To the right of the datum.", "Away from the front baseline.",
            support == Support::section ? "Above the deck of its section."
                                        : "Above the hall floor.",
            "Clockwise seen from above; 0\xc2\xb0 looks to the front."};
}

void place_rows(Shell& shell, const Ui& ui, const Piece& piece) {
    const PlaceTips tips = tips_of(piece.support);
    length_row(shell, ui, piece, "Across", "piece/x", PlaceLength::x, piece.at.x, tips.across);
    length_row(shell, ui, piece, "Deep", "piece/y", PlaceLength::y, piece.at.y, tips.deep);
    length_row(shell, ui, piece, "Height", "piece/z", PlaceLength::z, piece.at.z, tips.height);
    angle_row(shell, ui, piece, "Facing", "piece/facing", PlaceAngle::facing, piece.at.facing,
              tips.facing);
    angle_row(shell, ui, piece, "Tilt", "piece/tilt", PlaceAngle::tilt, piece.at.tilt,
              "Leans towards its own front.");
    angle_row(shell, ui, piece, "Roll", "piece/roll", PlaceAngle::roll, piece.at.roll,
              "Leans towards its own right.");
    carrier_row(shell, ui);
}

// What is shown of a piece beside its fields, worked out when the piece or its solid is another.
void work_out_facts(Shell& shell, const std::shared_ptr<const Piece>& piece) {
    PieceFacts& facts = shell.panels.facts;
    const StagedPiece* staged = find_staged(*shell.desk->shown, piece->id);
    const std::shared_ptr<const Mesh> mesh = staged ? staged->mesh : nullptr;
    if (facts.piece == piece && facts.mesh == mesh) return;
    if (facts.id != piece->id || (facts.part && *facts.part >= piece->parts.size()))
        facts.part.reset();
    if (facts.mesh != mesh) facts.original = mesh ? bounds(*mesh).size() : glm::dvec3(0.0);
    facts.id = piece->id;
    facts.piece = piece;
    facts.mesh = mesh;
    facts.figure_problem.clear();
    facts.joints.clear();
    Result<std::optional<HeldFigure>> figure = held_figure(*piece, shell.desk->file, shell.files);
    if (!figure.ok()) {
        facts.figure.reset();
        facts.figure_problem = one_line(figure.error());
        return;
    }
    facts.figure = std::move(*figure);
    if (facts.figure) facts.joints = joint_groups(facts.figure->figure);
}

// Scrolled as it was while it is about things of one sort; from the top when it has other rows.
void show(Shell& shell, PanelOf what) {
    if (shell.panels.shows != what) ImGui::SetScrollY(0);
    shell.panels.shows = what;
}

void draw_one(Shell& shell, const Ui& ui, const std::shared_ptr<const Piece>& held) {
    const Piece& piece = *held;
    work_out_facts(shell, held);
    const bool figure = shell.panels.facts.figure || !shell.panels.facts.figure_problem.empty();
    show(shell, figure ? PanelOf::figure : PanelOf::piece);
    name_rows(shell, ui, piece);
    const bool on_floor = piece.support == Support::none || piece.support == Support::section;
    if (fold(shell, ui, "fold/place", on_floor ? "Place" : "Place, from what carries it", true))
        place_rows(shell, ui, piece);
    if (figure && fold(shell, ui, "fold/figure", "Figure", true)) draw_figure(shell, ui, piece);
    if (fold(shell, ui, "fold/size", "Size", true)) size_rows(shell, ui, piece);
    if (has_form_rows(piece) && fold(shell, ui, "fold/form", "Form", false))
        draw_form(shell, ui, piece);
    if (fold(shell, ui, "fold/targets", "Seen or hidden", true)) draw_targets(shell, ui, piece);
    if (fold(shell, ui, "fold/look", "Look", false)) draw_look(shell, ui, piece);
    if (fold(shell, ui, "fold/switches", "Kind, group and switches", true))
        switch_rows(shell, ui, piece);
}

} // namespace

void draw_piece(Shell& shell, const Ui& ui) {
    tidy_panel(shell);
    const std::size_t count = shell.desk->selected.size();
    if (count != 1) {
        show(shell, count == 0 ? PanelOf::scene : PanelOf::several);
        return count == 0 ? draw_scene(shell, ui) : draw_several(shell, ui);
    }
    for (const auto& piece : *shell.desk->history.now().pieces) {
        if (piece->id != shell.desk->selected.front()) continue;
        const std::shared_ptr<const Piece> held = piece; // an edit may let go of it
        ImGui::PushID(held->id.c_str());
        draw_one(shell, ui, held);
        ImGui::PopID();
        return;
    }
}

} // namespace standpoint
