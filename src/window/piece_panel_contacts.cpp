// What a figure touches and looks at: chosen from lists, let go with a button.
#include <algorithm>
#include <cctype>
#include <cmath>

#include <fmt/format.h>
#include <imgui.h>

#include "desk/contact_fields.h"
#include "desk/piece_ids.h"
#include "desk/typed.h"
#include "window/answers.h"
#include "window/piece_rows.h"

namespace standpoint {

namespace {

std::string sentence(std::string text) {
    if (!text.empty())
        text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
    return text;
}

// Read anew when the scene is another.
const ContactRows& rows_of(Shell& shell, const Piece& piece) {
    PieceFacts& facts = shell.panels.facts;
    if (facts.contacts && facts.contacts_of == std::pair(piece.id, shell.desk->revision))
        return *facts.contacts;
    facts.contacts_of = {piece.id, shell.desk->revision};
    const auto rows =
        contact_rows(shell.desk->history.now(), piece.id, shell.desk->file, shell.files);
    facts.contacts = rows.ok() ? *rows : ContactRows{};
    return *facts.contacts;
}

// -- what it looks at --

void choose_look(Shell& shell, const Ui& ui, const Piece& piece) {
    const Document document = shell.desk->history.now();
    if (searched_choice(ui, shell, "As the pose has it", "", "look/pose"))
        do_edit(shell, set_look(document, piece.id, std::nullopt));
    const auto& visitors = *document.visitors;
    if (!visitors.empty() &&
        searched_choice(ui, shell, "The visitor where it stands now", "", "look/visitor")) {
        Gaze gaze;
        const bool known = find_visitor(document, shell.scrub.visitor) != nullptr;
        gaze.visitor = known ? shell.scrub.visitor : visitors.front().id;
        gaze.way = Length(std::max(0.0, std::round(shell.scrub.distance_mm)));
        do_edit(shell, set_look(document, piece.id, gaze));
    }
    for (const auto& [name, id] : pieces_by_name(document, {piece.id})) {
        if (!searched_choice(ui, shell, name, id, "look/" + id)) continue;
        Gaze gaze;
        gaze.piece = id;
        if (!figure_form(*find_piece(document, id))) {
            const StagedPiece* staged = find_staged(*shell.desk->shown, id);
            if (staged) gaze.at = middle_of(*staged);
        }
        do_edit(shell, set_look(document, piece.id, gaze));
    }
}

void look_row(Shell& shell, const Ui& ui, const Piece& piece, const ContactRows& rows) {
    row_label(ui, "Looks at");
    ImGui::SetNextItemWidth(-1);
    const std::string shown = rows.look ? rows.look->at : "as the pose has it";
    const bool open = ImGui::BeginCombo("##looks", shown.c_str(), ImGuiComboFlags_HeightLarge);
    tag_item(ui, "figure/looks");
    if (open) {
        search_field(shell, ui, "look/search");
        choose_look(shell, ui, piece);
        ImGui::EndCombo();
    } else {
        tip("Neck and head turn to it, the back as little as it can, and again whenever it is "
            "moved");
    }
    if (rows.look && !rows.look->kept())
        coloured_text(ui, ui.palette->warn,
                      fmt::format("The head stays {:.0f}\xc2\xb0 short: more than eyes turn",
                                  rows.look->by_head));
}

// -- what it touches --

std::string off_text(const Document& document, const TouchRow& row) {
    return fmt::format("{} off{}", length_shown(document, row.off_mm),
                       row.off_deg > 5 ? fmt::format(", turned {:.0f}\xc2\xb0", row.off_deg) : "");
}

void place_row(Shell& shell, const Ui& ui, const Piece& piece, std::size_t index,
               Length Point3::*field, const char* label, const std::string& name) {
    const Document& document = shell.desk->history.now();
    const Length now = piece.touches[index].at.*field;
    const auto typed = typed_row(shell, ui,
                                 {label, name.c_str(), length_shown(document, now.mm),
                                  "Of the place touched, from the origin of what is touched, in "
                                  "the size of its original."});
    if (!typed) return;
    const Result<Length> value = typed_length(*typed, now, document.settings->units);
    if (!value.ok()) return refuse(shell, name.c_str(), *typed, value.error());
    Touch touch = piece.touches[index];
    touch.at.*field = *value;
    take_typed(shell, name.c_str(), *typed, set_touch(document, piece.id, index, touch));
}

void touch_rows(Shell& shell, const Ui& ui, const Piece& piece, const TouchRow& row,
                std::size_t index) {
    const Document document = shell.desk->history.now();
    const std::string name = "touch/" + piece.touches[index].contact;
    ImGui::PushID(name.c_str());
    const std::string at = row.at.empty() ? "" : " by " + row.at;
    line_text(ui, ui.palette->ink, fmt::format("{} {} {}{}", row.contact, row.how, row.piece, at),
              ImGui::GetContentRegionAvail().x);
    if (button(ui, (name + "/let-go").c_str(), "Let go"))
        do_edit(shell, remove_touch(document, piece.id, index));
    tip("The joints go back to the pose");
    ImGui::SameLine();
    if (row.kept())
        quiet_text(ui, "reached");
    else
        coloured_text(ui, ui.palette->warn, off_text(document, row));
    if (piece.touches[index].meets.empty() &&
        fold(shell, ui, ("fold/" + name).c_str(), "Where", false)) {
        place_row(shell, ui, piece, index, &Point3::x, "Across", name + "/x");
        place_row(shell, ui, piece, index, &Point3::y, "Deep", name + "/y");
        place_row(shell, ui, piece, index, &Point3::z, "Height", name + "/z");
    }
    ImGui::PopID();
}

void add_rows(Shell& shell, const Ui& ui, const Piece& piece, const ContactRows& rows) {
    std::string& contact = shell.panels.touching;
    if (std::find(rows.free.begin(), rows.free.end(), contact) == rows.free.end()) contact.clear();
    row_label(ui, "Touch with");
    ImGui::SetNextItemWidth(-1);
    const std::string shown = contact.empty() ? "a hand, a foot" : sentence(contact);
    if (ImGui::BeginCombo("##with", shown.c_str())) {
        for (const std::string& free : rows.free) {
            if (ImGui::Selectable(sentence(free).c_str(), free == contact)) contact = free;
            tag_item(ui, "with/" + free);
        }
        ImGui::EndCombo();
    }
    tag_item(ui, "figure/with");
    if (contact.empty()) return;
    row_label(ui, "What");
    ImGui::SetNextItemWidth(-1);
    const bool open = ImGui::BeginCombo("##what", "choose a piece", ImGuiComboFlags_HeightLarge);
    tag_item(ui, "figure/what");
    if (!open) return tip("It is touched where it is nearest now; another figure's hand is shaken");
    search_field(shell, ui, "what/search");
    const Document document = shell.desk->history.now();
    for (const auto& [name, id] : pieces_by_name(document, {piece.id}))
        if (searched_choice(ui, shell, name, id, "what/" + id))
            do_edit(shell, add_touch(document, *shell.desk->shown, piece.id, contact, id,
                                     shell.desk->file, shell.files));
    ImGui::EndCombo();
}

} // namespace

void draw_contacts(Shell& shell, const Ui& ui, const Piece& piece) {
    const ContactRows rows = rows_of(shell, piece); // an edit makes others
    look_row(shell, ui, piece, rows);
    const std::size_t count = std::min(rows.touches.size(), piece.touches.size());
    for (std::size_t i = 0; i < count; ++i)
        touch_rows(shell, ui, piece, rows.touches[i], i);
    add_rows(shell, ui, piece, rows);
    if (rows.watched_by.empty()) return;
    std::string by;
    for (const std::string& name : rows.watched_by)
        by += (by.empty() ? "Watched by " : ", ") + name;
    line_text(ui, ui.palette->ink_quiet, by, ImGui::GetContentRegionAvail().x);
}

} // namespace standpoint
