// What the picked pieces stand on or hang from, chosen from a list that can be searched.
#include <algorithm>
#include <set>

#include <fmt/format.h>
#include <imgui.h>

#include "desk/arrange.h"
#include "desk/drop.h"
#include "desk/search.h"
#include "window/answers.h"
#include "window/overlay.h"
#include "window/piece_rows.h"

namespace standpoint {

namespace {

std::string section_spoken(const Section& section) {
    const std::string& name = section.name.empty() ? section.id : section.name;
    return small_letters(name).starts_with("section") ? name : "section " + name;
}

std::string carrier_of(const Document& document, const Piece& piece) {
    switch (piece.support) {
    case Support::none:
        return "hall floor";
    case Support::section:
        if (const Section* section = find_section(document, piece.host))
            return section_spoken(*section);
        return piece.host;
    case Support::stands_on:
        return spoken(document, {piece.host});
    case Support::hangs_from:
        return "hangs from " + spoken(document, {piece.host});
    }
    return "";
}

// "several" when they do not all have one.
std::string carrier_shown(const Document& document, const Ids& ids) {
    std::string shown;
    for (const std::string& id : ids) {
        const std::string one = carrier_of(document, *find_piece(document, id));
        if (!shown.empty() && one != shown) return "several";
        shown = one;
    }
    return shown;
}

void choose_carrier(Shell& shell, const Ui& ui, const Ids& ids) {
    const Document document = shell.desk->history.now(); // an edit makes another
    if (searched_choice(ui, shell, "Hall floor", "", "carrier/floor"))
        do_edit(shell, let_go(document, ids, Place::settle));
    for (const Section& section : *document.sections)
        if (searched_choice(ui, shell, section_spoken(section), section.id,
                            "carrier/in/" + section.id))
            do_edit(shell, put_into_section(document, ids, section.id, Place::keep));
    const auto hosts = pieces_by_name(document, with_carried(document, ids));
    if (hosts.empty()) return;
    heading(ui, "Stands on");
    for (const auto& [name, id] : hosts)
        if (searched_choice(ui, shell, name, id, "carrier/on/" + id))
            do_edit(shell, put_on(document, *shell.desk->shown, ids, id, Place::settle));
    heading(ui, "Hangs from");
    for (const auto& [name, id] : hosts)
        if (searched_choice(ui, shell, name, id, "carrier/from/" + id))
            do_edit(shell, hang_from(document, ids, id));
}

} // namespace

void search_field(Shell& shell, const Ui& ui, const char* name) {
    if (ImGui::IsWindowAppearing()) {
        shell.panels.piece_search.clear();
        ImGui::SetKeyboardFocusHere();
    }
    text_field(ui, name, shell.panels.piece_search, -1, "Find");
}

bool searched_choice(const Ui& ui, const Shell& shell, const std::string& name,
                     const std::string& id, const std::string& tag) {
    const std::string looked_for = small_letters(shell.panels.piece_search);
    if (small_letters(name + " " + id).find(looked_for) == std::string::npos) return false;
    const bool chosen = ImGui::Selectable((name + "###" + tag).c_str());
    tag_item(ui, tag);
    return chosen;
}

void carrier_row(Shell& shell, const Ui& ui) {
    const Ids ids = shell.desk->selected;
    row_label(ui, "Stands on");
    ImGui::SetNextItemWidth(-1);
    const std::string shown = carrier_shown(shell.desk->history.now(), ids);
    const bool open = ImGui::BeginCombo("##support", shown.c_str(), ImGuiComboFlags_HeightLarge);
    tag_item(ui, "piece/support");
    if (!open) return tip("What carries it: it goes along when that is moved");
    search_field(shell, ui, "carrier/search");
    choose_carrier(shell, ui, ids);
    ImGui::EndCombo();
}

} // namespace standpoint
