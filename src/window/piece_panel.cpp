// The numbers of what is picked: place, turns, ratio, name, support and switches.
#include <fmt/format.h>
#include <imgui.h>

#include "desk/arrange.h"
#include "desk/drop.h"
#include "desk/move.h"
#include "desk/piece_fields.h"
#include "desk/typed.h"
#include "window/answers.h"
#include "window/overlay.h"
#include "window/panels.h"

namespace standpoint {

namespace {

std::string length_shown(const Document& document, double mm) {
    LengthStyle style;
    style.system = document.settings->units;
    style.inch_denominator = document.settings->inch_denominator;
    style.metric_step_mm = 0.1;
    return print_length(mm, style);
}

void label(const Ui& ui, const char* text) {
    ImGui::AlignTextToFramePadding();
    quiet_text(ui, text);
    ImGui::SameLine(ui.em * 6);
}

void length_row(Shell& shell, const Ui& ui, const Piece& piece, const char* text, const char* name,
                PlaceLength field, const Length& now, const char* what) {
    const Document& document = shell.desk->history.now();
    label(ui, text);
    std::string typed = length_shown(document, now.mm);
    if (text_field(ui, name, typed, -1) && typed != length_shown(document, now.mm)) {
        const Result<Length> value = typed_length(typed, now, document.settings->units);
        if (!value.ok())
            say_error(shell, value.error());
        else
            do_edit(shell, set_place(document, piece.id, field, *value));
    }
    tip(fmt::format("{} Any unit: 1600, 1.6 m, 5' 3\". +50 adds, - 50 takes away, *2 doubles.",
                    what));
}

void angle_row(Shell& shell, const Ui& ui, const Piece& piece, const char* text, const char* name,
               PlaceAngle field, const Angle& now, const char* what) {
    label(ui, text);
    const std::string shown = fmt::format("{:.4g}\xc2\xb0", now.deg);
    std::string typed = shown;
    if (text_field(ui, name, typed, -1) && typed != shown) {
        const Result<Angle> value = typed_angle(typed, now);
        if (!value.ok())
            say_error(shell, value.error());
        else
            do_edit(shell, set_place(shell.desk->history.now(), piece.id, field, *value));
    }
    tip(what);
}

void name_rows(Shell& shell, const Ui& ui, const Piece& piece) {
    const Document& document = shell.desk->history.now();
    label(ui, "Name");
    std::string name = piece.name;
    if (text_field(ui, "piece/name", name, -1) && name != piece.name)
        do_edit(shell, set_name(document, piece.id, name));
    label(ui, "Id");
    std::string id = piece.id;
    if (text_field(ui, "piece/id", id, -1) && id != piece.id &&
        do_edit(shell, set_id(document, piece.id, id)))
        select_only(*shell.desk, id);
    tip("Short and lasting: it is on every sheet and tag. Small letters, digits and hyphens.");
}

void ratio_row(Shell& shell, const Ui& ui, const Piece& piece) {
    const Document& document = shell.desk->history.now();
    label(ui, "Ratio");
    const double ratio = ratio_of(document, piece);
    const std::string shown =
        fmt::format("{:.5g}:1{}", ratio, piece.ratio ? "" : " (of the scene)");
    std::string typed = shown;
    if (text_field(ui, "piece/ratio", typed, -1) && typed != shown) {
        if (typed.empty()) {
            do_edit(shell, set_ratio(document, {piece.id}, std::nullopt));
        } else {
            const Result<Ratio> value = typed_ratio(typed, Ratio(ratio));
            if (!value.ok())
                say_error(shell, value.error());
            else
                do_edit(shell, set_ratio(document, {piece.id}, *value));
        }
    }
    tip("Built over original: 12:1, 12, 125 %, or \"1:24 to 1:6\". Empty: the scene's own.");
    if (button(ui, "piece/ratio-from-sizes", "Ratio from two sizes ...")) {
        shell.dialog = Dialog::ratio;
        shell.dialog_opens = true;
    }
}

void support_row(Shell& shell, const Ui& ui, const Piece& piece) {
    const Document& document = shell.desk->history.now();
    label(ui, "Stands on");
    std::string shown = "hall floor";
    if (!piece.host.empty())
        shown = (piece.support == Support::hangs_from ? "hangs from " : "") + piece.host;
    ImGui::SetNextItemWidth(-1);
    const bool open = ImGui::BeginCombo("##support", shown.c_str());
    tag_item(ui, "piece/support");
    if (!open) return;
    if (ImGui::Selectable("hall floor"))
        do_edit(shell, let_go(document, {piece.id}, Place::settle));
    for (const Section& section : *document.sections)
        if (ImGui::Selectable(fmt::format("section {}", section.id).c_str()))
            do_edit(shell, put_into_section(document, {piece.id}, section.id, Place::keep));
    for (const auto& other : *document.pieces) {
        if (other->id == piece.id) continue;
        if (ImGui::Selectable(fmt::format("on {}", other->id).c_str()))
            do_edit(shell,
                    put_on(document, *shell.desk->shown, {piece.id}, other->id, Place::settle));
        if (ImGui::Selectable(fmt::format("hang from {}", other->id).c_str()))
            do_edit(shell, hang_from(document, {piece.id}, other->id));
    }
    ImGui::EndCombo();
}

void switch_rows(Shell& shell, const Ui& ui, const Piece& piece) {
    const Document& document = shell.desk->history.now();
    bool locked = piece.locked;
    if (ImGui::Checkbox("Locked", &locked)) do_edit(shell, lock(document, {piece.id}, locked));
    tag_item(ui, "piece/locked");
    ImGui::SameLine(ui.em * 8);
    bool on = piece.off == Off::no;
    if (ImGui::Checkbox("Shown", &on))
        do_edit(shell, switch_off(document, {piece.id}, on ? Off::no : Off::views_and_checks));
    tag_item(ui, "piece/shown");
    label(ui, "Kind");
    int kind = static_cast<int>(piece.kind);
    ImGui::SetNextItemWidth(-1);
    if (ImGui::Combo("##kind", &kind, piece_kind_names,
                     static_cast<int>(std::size(piece_kind_names))))
        do_edit(shell, set_kind(document, {piece.id}, static_cast<PieceKind>(kind)));
    tag_item(ui, "piece/kind");
    label(ui, "Note");
    std::string note = piece.note;
    if (text_field(ui, "piece/note", note, -1, "for the crew") && note != piece.note)
        do_edit(shell, set_note(document, piece.id, note));
}

void draw_one(Shell& shell, const Ui& ui, const std::shared_ptr<const Piece>& held) {
    const Piece& piece = *held;
    name_rows(shell, ui, piece);
    heading(ui, piece.support == Support::none || piece.support == Support::section
                    ? "Place"
                    : "Place, from what carries it");
    length_row(shell, ui, piece, "Across", "piece/x", PlaceLength::x, piece.at.x,
               "To the right of the datum.");
    length_row(shell, ui, piece, "Deep", "piece/y", PlaceLength::y, piece.at.y,
               "Away from the front baseline.");
    length_row(shell, ui, piece, "Height", "piece/z", PlaceLength::z, piece.at.z,
               "Above what it stands on.");
    angle_row(shell, ui, piece, "Facing", "piece/facing", PlaceAngle::facing, piece.at.facing,
              "Clockwise seen from above; 0\xc2\xb0 looks to the front.");
    angle_row(shell, ui, piece, "Tilt", "piece/tilt", PlaceAngle::tilt, piece.at.tilt,
              "Leans towards its own front.");
    angle_row(shell, ui, piece, "Roll", "piece/roll", PlaceAngle::roll, piece.at.roll,
              "Leans towards its own right.");
    support_row(shell, ui, piece);
    heading(ui, "Size");
    ratio_row(shell, ui, piece);
    if (const StagedPiece* staged = find_staged(*shell.desk->shown, piece.id)) {
        const glm::dvec3 size = staged->box.size();
        const Document& document = shell.desk->history.now();
        quiet_text(ui, fmt::format("Built {} wide, {} deep, {} high", length_text(document, size.x),
                                   length_text(document, size.y), length_text(document, size.z)));
    }
    heading(ui, "Switches");
    switch_rows(shell, ui, piece);
}

void draw_several(Shell& shell, const Ui& ui) {
    const Document& document = shell.desk->history.now();
    quiet_text(ui, fmt::format("{} pieces picked; {} leads", shell.desk->selected.size(),
                               shell.desk->selected.back()));
    const Box box = selection_box(shell);
    if (!box.empty()) {
        const glm::dvec3 size = box.size();
        quiet_text(ui,
                   fmt::format("Together {} wide, {} deep, {} high", length_text(document, size.x),
                               length_text(document, size.y), length_text(document, size.z)));
    }
    heading(ui, "Line up");
    int n = 0;
    for (const Action action :
         {Action::align_left, Action::align_right, Action::align_front, Action::align_back,
          Action::centre_across, Action::centre_deep, Action::align_tops, Action::spread_across,
          Action::spread_deep, Action::group, Action::ungroup, Action::lock, Action::unlock}) {
        const ActionEntry& entry = entry_of(action);
        if (button(ui, fmt::format("several/{}", entry.name).c_str(), entry.label,
                   can_do(shell, action)))
            act(shell, action);
        tip(fmt::format("{}  {}", entry.tip, entry.keys));
        if (++n % 2 == 1 && n < 12) ImGui::SameLine(ui.em * 9.5f);
    }
}

} // namespace

void draw_piece(Shell& shell, const Ui& ui) {
    const std::size_t count = shell.desk->selected.size();
    if (count == 0) {
        quiet_text(ui, "Nothing is picked. Press on a piece in a view or in the list on the left; "
                       "hold Ctrl to pick several.");
        return;
    }
    if (count > 1) return draw_several(shell, ui);
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
