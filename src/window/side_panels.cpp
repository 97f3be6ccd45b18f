// The left-hand panels: what can be brought in, and what is staged.
#include <algorithm>
#include <cstdint>

#include <fmt/format.h>
#include <imgui.h>

#include "desk/arrange.h"
#include "desk/search.h"
#include "window/answers.h"
#include "window/overlay.h"
#include "window/panels.h"

namespace standpoint {

namespace {

// A small drawing of a form: an outline that tells a box from a turning at a glance.
void draw_sketch(const Ui& ui, const LibraryEntry& entry, const ImVec2& low, float size) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    const unsigned line = packed(ui.palette->line),
                   fill = packed(mixed(ui.palette->field, ui.palette->frame, 0.25));
    const auto at = [&](float x, float y) { return ImVec2{low.x + x * size, low.y + y * size}; };
    const std::string_view form = form_names[entry.form.index()];
    if (entry.kind == LibraryKind::figure) {
        list->AddCircleFilled(at(0.5f, 0.24f), size * 0.14f, fill);
        list->AddCircle(at(0.5f, 0.24f), size * 0.14f, line);
        const ImVec2 body[] = {at(0.34f, 0.42f), at(0.66f, 0.42f), at(0.62f, 0.92f),
                               at(0.38f, 0.92f)};
        list->AddConvexPolyFilled(body, 4, fill);
        list->AddPolyline(body, 4, line, ImDrawFlags_Closed, 1);
    } else if (form == "sphere" || form == "capsule") {
        list->AddCircleFilled(at(0.5f, 0.5f), size * 0.34f, fill);
        list->AddCircle(at(0.5f, 0.5f), size * 0.34f, line);
    } else if (form == "cylinder" || form == "turning" || form == "cone") {
        const float top = form == "cone" ? 0.06f : form == "turning" ? 0.2f : 0.3f;
        const ImVec2 body[] = {at(0.5f - top, 0.15f), at(0.5f + top, 0.15f), at(0.8f, 0.85f),
                               at(0.2f, 0.85f)};
        list->AddConvexPolyFilled(body, 4, fill);
        list->AddPolyline(body, 4, line, ImDrawFlags_Closed, 1);
    } else if (form == "stairs" || form == "terrain") {
        for (int i = 0; i < 3; ++i) {
            const float x = 0.15f + 0.23f * static_cast<float>(i),
                        y = 0.65f - 0.2f * static_cast<float>(i);
            list->AddRectFilled(at(x, y), at(x + 0.23f, 0.85f), fill);
            list->AddRect(at(x, y), at(x + 0.23f, 0.85f), line);
        }
    } else if (form == "fence") {
        for (int i = 0; i < 4; ++i) {
            const float x = 0.17f + 0.22f * static_cast<float>(i);
            list->AddLine(at(x, 0.25f), at(x, 0.85f), line, 2);
        }
        list->AddLine(at(0.1f, 0.4f), at(0.9f, 0.4f), line, 1);
    } else {
        const ImVec2 front[] = {at(0.15f, 0.35f), at(0.65f, 0.35f), at(0.65f, 0.85f),
                                at(0.15f, 0.85f)};
        list->AddConvexPolyFilled(front, 4, fill);
        list->AddPolyline(front, 4, line, ImDrawFlags_Closed, 1);
        list->AddLine(at(0.15f, 0.35f), at(0.35f, 0.15f), line);
        list->AddLine(at(0.35f, 0.15f), at(0.85f, 0.15f), line);
        list->AddLine(at(0.65f, 0.35f), at(0.85f, 0.15f), line);
        list->AddLine(at(0.85f, 0.15f), at(0.85f, 0.65f), line);
        list->AddLine(at(0.85f, 0.65f), at(0.65f, 0.85f), line);
    }
}

constexpr const char* kind_titles[] = {"Models", "Simple forms", "Figures"};
constexpr float picture_ems = 2.6f;
constexpr double above_all_mm = 10000; // what is put down there lands on what lies beneath

// The picture of an entry, or its sketch until there is one. Null: none.
const LibraryImage* image_of(const Shell& shell, const LibraryEntry& entry) {
    const auto found = shell.panels.images.find(picture_key(entry, shell.desk->file));
    return found == shell.panels.images.end() ? nullptr : &found->second;
}

void draw_picture(const Shell& shell, const Ui& ui, const LibraryEntry& entry,
                  const LibraryImage* image, const ImVec2& low, float size) {
    if (!image || image->texture == 0) return draw_sketch(ui, entry, low, size);
    // The toolkit names a texture by a pointer; ours are numbers.
    const auto texture = reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(image->texture));
    ImDrawList* list = ImGui::GetWindowDrawList();
    const ImVec2 high = {low.x + size, low.y + size};
    if (shell.settings.dark) // dark things on a dark panel would not show
        list->AddRectFilled(low, high, packed(mixed(ui.palette->panel, ui.palette->ink, 0.4)), 3);
    list->AddImage(texture, low, high);
}

void drag_entry(Shell& shell, const Ui& ui, const LibraryEntry& entry, const LibraryImage* image) {
    if (!ImGui::BeginDragDropSource(ImGuiDragDropFlags_SourceNoHoldToOpenOthers)) return;
    const ImGuiPayload* going = ImGui::GetDragDropPayload();
    if (!going || !going->IsDataType("library")) shell.dragged_entry = entry.name; // begins
    ImGui::SetDragDropPayload("library", "", 1);
    const float size = picture_ems * ui.em;
    const ImVec2 low = ImGui::GetCursorScreenPos();
    ImGui::Dummy({size, size});
    draw_picture(shell, ui, entry, image, low, size);
    ImGui::SameLine();
    ImGui::TextUnformatted(entry.name.c_str());
    ImGui::EndDragDropSource();
}

bool is_over(const Section& section, const glm::dvec2& p) {
    const glm::dvec2 from(section.corner.x.mm, section.corner.y.mm);
    return p.x >= from.x && p.y >= from.y && p.x <= from.x + section.width.mm &&
           p.y <= from.y + section.depth.mm;
}

// Where an entry lands that is pressed twice: in the middle of the active view, or of the base
// where that is beside it.
glm::dvec3 landing(const Shell& shell) {
    const View& view = shell.views[static_cast<std::size_t>(shell.active_view)];
    const auto& sections = *shell.desk->history.now().sections;
    glm::dvec2 low(1e300), high(-1e300);
    for (const Section& section : sections) {
        const glm::dvec2 from(section.corner.x.mm, section.corner.y.mm);
        low = glm::min(low, from);
        high = glm::max(high, from + glm::dvec2(section.width.mm, section.depth.mm));
    }
    for (const glm::dvec2& middle : {glm::dvec2(view.camera.middle), (low + high) * 0.5})
        for (const Section& section : sections)
            if (is_over(section, middle)) return {middle, above_all_mm};
    if (sections.empty()) return {glm::dvec2(view.camera.middle), above_all_mm};
    const Section& first = sections.front(); // the base has a gap in its middle
    return {first.corner.x.mm + first.width.mm / 2, first.corner.y.mm + first.depth.mm / 2,
            above_all_mm};
}

void draw_entry(Shell& shell, const Ui& ui, const LibraryEntry& entry) {
    const float size = ui.em * picture_ems;
    const ImVec2 low = ImGui::GetCursorScreenPos();
    const float room = ImGui::GetContentRegionAvail().x - size - ui.em * 0.5f;
    const LibraryImage* image = image_of(shell, entry);
    ImGui::PushID(entry.name.c_str());
    const bool pressed =
        ImGui::Selectable("##entry", false, ImGuiSelectableFlags_AllowDoubleClick, {0, size});
    tag_item(ui, "library/" + entry.name);
    std::string about =
        entry.name + "\nDrag it into a view, or press twice to put it in the middle.";
    if (image && !image->problem.empty()) about += "\nIt cannot be shown: " + image->problem;
    tip(about);
    if (pressed && ImGui::IsMouseDoubleClicked(0)) put_entry(shell, entry, landing(shell));
    drag_entry(shell, ui, entry, image);
    ImGui::PopID();
    draw_picture(shell, ui, entry, image, low, size);
    const bool broken = image && !image->problem.empty();
    ImGui::GetWindowDrawList()->AddText(
        {low.x + size + ui.em * 0.5f, low.y + size * 0.5f - ui.em * 0.55f},
        packed(broken ? ui.palette->fail : ui.palette->ink), shortened(entry.name, room).c_str());
}

void draw_row(Shell& shell, const Ui& ui, const Piece& piece) {
    ImGui::PushID(piece.id.c_str());
    const bool picked = is_selected(*shell.desk, piece.id);
    std::string label = spoken(piece.name, piece.id);
    if (piece.locked) label += "  (locked)";
    if (piece.off != Off::no) label += "  (off)";
    if (piece.off != Off::no) ImGui::PushStyleColor(ImGuiCol_Text, packed(ui.palette->ink_quiet));
    const std::string shown = shortened(label, ImGui::GetContentRegionAvail().x) + "##row";
    if (ImGui::Selectable(shown.c_str(), picked)) {
        const ImGuiIO& io = ImGui::GetIO();
        if (io.KeyCtrl || io.KeyShift)
            select_toggle(*shell.desk, piece.id);
        else
            select_only(*shell.desk, piece.id);
    }
    if (piece.off != Off::no) ImGui::PopStyleColor();
    tag_item(ui, "list/" + piece.id);
    tip(label + "\n" + piece.id + (piece.note.empty() ? "" : "\n" + piece.note));
    ImGui::PopID();
}

void draw_found(Shell& shell, const Ui& ui) {
    const std::vector<Found> all = search(shell.desk->history.now(), shell.search);
    if (all.empty()) {
        quiet_text(ui, "Nothing staged has that in its id, name or note.");
        tag_item(ui, "found-nothing");
    }
    for (const Found& found : all) {
        const char* kind = found_kind_names[static_cast<int>(found.kind)];
        const std::string whole = fmt::format("{}   {}", spoken(found.name, found.id), kind);
        const std::string shown = shortened(whole, ImGui::GetContentRegionAvail().x);
        const bool pressed =
            ImGui::Selectable(fmt::format("{}##{}{}", shown, kind, found.id).c_str());
        tag_item(ui, "found/" + found.id);
        if (shown != whole) tip(whole);
        if (!pressed) continue;
        std::string piece = found.id;
        if (const Target* target = found.kind == FoundKind::target
                                       ? find_target(shell.desk->history.now(), found.id)
                                       : nullptr) {
            piece = target->piece;
            shell.scrub.look_at = target->id;
        }
        select_only(*shell.desk, piece);
        act(shell, Action::frame_picked);
    }
}

} // namespace

void draw_library(Shell& shell, const Ui& ui) {
    list_library(shell);
    for (const LibraryKind kind :
         {LibraryKind::figure, LibraryKind::model, LibraryKind::primitive}) {
        if (std::none_of(shell.library.begin(), shell.library.end(),
                         [&](const LibraryEntry& e) { return e.kind == kind; }))
            continue;
        heading(ui, kind_titles[static_cast<int>(kind)]);
        for (const LibraryEntry& entry : shell.library)
            if (entry.kind == kind) draw_entry(shell, ui, entry);
    }
}

void draw_piece_list(Shell& shell, const Ui& ui) {
    if (shell.focus_search) {
        ImGui::SetKeyboardFocusHere();
        shell.focus_search = false;
    }
    text_field(ui, "list/search", shell.search, -1, "Find");
    tip("By id, name or note. Empty: everything is listed.");
    if (!shell.search.empty()) return draw_found(shell, ui);
    const Document& document = shell.desk->history.now();
    for (int kind = 0; kind < static_cast<int>(std::size(piece_kind_names)); ++kind) {
        std::vector<const Piece*> pieces;
        for (const auto& piece : *document.pieces)
            if (static_cast<int>(piece->kind) == kind) pieces.push_back(piece.get());
        if (pieces.empty()) continue;
        heading(ui, fmt::format("{}  {}", piece_kind_names[kind], pieces.size()));
        for (const Piece* piece : pieces)
            draw_row(shell, ui, *piece);
    }
}

} // namespace standpoint
