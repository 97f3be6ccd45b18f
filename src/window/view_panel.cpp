// Views side by side: picture, drawing over it, title with its switches, and the pointer.
#include <algorithm>

#include <fmt/format.h>
#include <imgui.h>

#include "window/answers.h"
#include "window/overlay.h"
#include "window/panels.h"
#include "window/view_adding.h"

namespace standpoint {

namespace {

glm::vec3 unit(const Colour& c) {
    return {c.r / 255.0f, c.g / 255.0f, c.b / 255.0f};
}

DrawColours colours_for(const Palette& p) {
    DrawColours colours;
    colours.background = unit(p.paper);
    colours.horizon = unit(p.horizon);
    colours.zenith = unit(p.zenith);
    colours.floor = unit(p.floor);
    colours.edge = unit(p.line);
    return colours;
}

// Pieces that hide the scrubbed target from the visitor, by what removing each would gain.
std::vector<std::string> blockers_now(const Shell& shell) {
    if (!shell.answers.outcome || shell.scrub.look_at.empty()) return {};
    return blockers_at(*shell.answers.outcome, shell.scrub.look_at, shell.scrub.visitor,
                       shell.scrub.distance_mm, shell.scrub.lane);
}

std::vector<PieceTint> tints_of(const Shell& shell, const Palette& p, ViewKind kind) {
    std::vector<PieceTint> tints;
    const Staging& staging = *shell.desk->shown;
    const std::vector<std::string> blockers =
        kind == ViewKind::eye ? blockers_now(shell) : std::vector<std::string>{};
    for (std::uint32_t i = 0; i < staging.pieces.size(); ++i) {
        const StagedPiece& piece = staging.pieces[i];
        if (is_selected(*shell.desk, piece.id)) {
            tints.push_back({i, unit(p.picked), 0.25f, true});
        } else if (std::find(blockers.begin(), blockers.end(), piece.id) != blockers.end()) {
            tints.push_back({i, unit(p.fail), 0.55f, true});
        } else if (piece.staged == StagedKind::piece && piece.id == shell.over) {
            tints.push_back({i, unit(p.over), 0.10f, true});
        }
    }
    return tints;
}

// A drag that is held still is drawn as well as what lies still.
constexpr double held_still_s = 0.3;

bool in_motion(const Shell& shell, int view) {
    if (shell.clock - shell.moved_at > held_still_s) return false;
    const Drag drag = shell.pointer.drag;
    if (drag == Drag::none || drag == Drag::pending || drag == Drag::rectangle) return false;
    const bool camera = drag == Drag::pan || drag == Drag::orbit;
    return camera ? shell.pointer.view == view : true;
}

void draw_picture(Shell& shell, const Ui& ui, int index, const glm::ivec2& size,
                  const glm::vec2& low) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    const ImVec2 a = {low.x, low.y},
                 b = {low.x + static_cast<float>(size.x), low.y + static_cast<float>(size.y)};
    list->AddRectFilled(a, b, packed(ui.palette->paper));
    const View& view = shell.views[static_cast<std::size_t>(index)];
    paint_under(shell, {&ui, list, view.camera, size, low});
    if (!shell.drawing) return;
    DrawRequest request;
    request.staging = shell.desk->shown;
    request.camera = view.camera;
    request.size = size;
    request.cut_height = view.camera.kind == ViewKind::plan ? view.cut_height : std::nullopt;
    request.tints = tints_of(shell, *ui.palette, view.camera.kind);
    request.colours = colours_for(*ui.palette);
    request.moving = in_motion(shell, index);
    const bool dragging = shell.pointer.drag != Drag::none;
    request.leading = index == (dragging ? shell.pointer.view : shell.active_view);
    const unsigned texture = shell.drawing->picture(index, request);
    if (texture == 0) return;
    list->AddImage(reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(texture)), a, b,
                   {0, 1}, {1, 0});
}

ViewPointer pointer_now(const glm::vec2& low, bool inside) {
    const ImGuiIO& io = ImGui::GetIO();
    ViewPointer p;
    p.at = {io.MousePos.x - low.x, io.MousePos.y - low.y};
    p.inside = inside;
    for (int i = 0; i < 3; ++i) {
        p.pressed[i] = inside && ImGui::IsMouseClicked(i);
        p.released[i] = ImGui::IsMouseReleased(i);
        p.held[i] = ImGui::IsMouseDown(i);
    }
    p.twice = inside && ImGui::IsMouseDoubleClicked(0);
    p.wheel = inside ? static_cast<double>(io.MouseWheel) : 0;
    p.ctrl = io.KeyCtrl;
    p.shift = io.KeyShift;
    p.alt = io.KeyAlt;
    p.space = !io.WantTextInput && ImGui::IsKeyDown(32);
    return p;
}

// How the row over a view is laid out in the width that it has.
struct TitleRow {
    bool buttons = true; // a button for each kind; else one drop-down with the kind that is shown
    float kinds = 0;     // width of them, pixels
    float field = 0;     // of the cut's height; 0: no field
    bool words = false;  // "cut at" before it
    float whole = 0;
};

constexpr float kind_gap = 2; // between the buttons, pixels

// With the style of the row pushed.
TitleRow title_row(const Ui& ui, const View& view, float width) {
    const float room = width - ui.em * 0.8f;
    float buttons = 0, widest = 0;
    for (const char* kind : view_kind_names) {
        buttons += button_width(kind) + (buttons > 0 ? kind_gap : 0);
        widest = std::max(widest, button_width(kind));
    }
    const bool cut = view.cut_height && view.camera.kind == ViewKind::plan;
    const float least_field = ui.em * 4, words = text_width("cut at") + ui.em * 1.4f;
    TitleRow row;
    row.buttons = buttons + (cut ? least_field + ui.em : 0) <= room;
    row.kinds = row.buttons ? buttons : std::min(room, widest + ImGui::GetFrameHeight() + ui.em);
    row.whole = row.kinds;
    if (!cut) return row;
    row.words = row.kinds + words + least_field <= room;
    const float before = row.words ? words : ui.em * 0.5f;
    row.field = std::clamp(room - row.kinds - before, ui.em, ui.em * 6);
    row.whole = row.kinds + before + row.field;
    return row;
}

void choose_kind(Shell& shell, int index, int kind) {
    shell.active_view = index;
    act(shell, static_cast<Action>(static_cast<int>(Action::plan) + kind));
}

void kind_buttons(Shell& shell, const Ui& ui, int index) {
    const View& view = shell.views[static_cast<std::size_t>(index)];
    for (int kind = 0; kind < view_kind_count; ++kind) {
        if (kind > 0) ImGui::SameLine();
        const std::string name = fmt::format("view{}/kind{}", index, kind);
        const bool on = view.camera.kind == static_cast<ViewKind>(kind);
        if (switch_button(ui, name.c_str(), view_kind_names[kind], on))
            choose_kind(shell, index, kind);
    }
}

void kind_choice(Shell& shell, const Ui& ui, int index, float width) {
    const ViewKind now = shell.views[static_cast<std::size_t>(index)].camera.kind;
    ImGui::SetNextItemWidth(width);
    const bool open = ImGui::BeginCombo("##kind", view_kind_names[static_cast<int>(now)]);
    tag_item(ui, fmt::format("view{}/kinds", index));
    if (!open) return;
    for (int kind = 0; kind < view_kind_count; ++kind) {
        if (ImGui::Selectable(view_kind_names[kind], now == static_cast<ViewKind>(kind)))
            choose_kind(shell, index, kind);
        tag_item(ui, fmt::format("view{}/kind{}", index, kind));
    }
    ImGui::EndCombo();
}

void cut_field(Shell& shell, const Ui& ui, int index, const TitleRow& row) {
    View& view = shell.views[static_cast<std::size_t>(index)];
    ImGui::SameLine(0, row.words ? ui.em : ui.em * 0.5f);
    if (row.words) {
        quiet_text(ui, "cut at");
        ImGui::SameLine(0, ui.em * 0.4f);
    }
    std::string text = length_text(shell.desk->history.now(), *view.cut_height);
    if (text_field(ui, fmt::format("view{}/cut", index).c_str(), text, row.field)) {
        const auto typed = parse_length_mm(text);
        if (typed) view.cut_height = *typed;
    }
    tip("Height above the hall floor; what lies above is left out. Any unit.");
}

void push_title_style(const Ui& ui) {
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {ui.em * 0.35f, 1});
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {kind_gap, 0});
}

void draw_title(Shell& shell, const Ui& ui, int index, const glm::vec2& low, float width) {
    const View& view = shell.views[static_cast<std::size_t>(index)];
    const bool active = shell.active_view == index;
    ImGui::SetCursorScreenPos({low.x + ui.em * 0.4f, low.y + ui.em * 0.3f});
    push_title_style(ui);
    const TitleRow row = title_row(ui, view, width);
    if (row.buttons)
        kind_buttons(shell, ui, index);
    else
        kind_choice(shell, ui, index, row.kinds);
    if (row.field > 0 && view.cut_height) cut_field(shell, ui, index, row);
    ImGui::PopStyleVar(2);
    if (active)
        ImGui::GetWindowDrawList()->AddRect({low.x, low.y}, {low.x + width, view.high.y},
                                            packed(ui.palette->picked), 0, 0, 1.5f);
}

// Where the row over the view will lie, so that words in the drawing keep away from it.
TaggedRect title_place(const Ui& ui, const View& view, const glm::vec2& low, float width) {
    push_title_style(ui);
    const TitleRow row = title_row(ui, view, width);
    const float height = ImGui::GetFrameHeight();
    ImGui::PopStyleVar(2);
    return {low, low + glm::vec2(row.whole + ui.em * 0.8f, height + ui.em * 0.6f)};
}

// True while an entry of the library is held over the view.
bool accept_entry(Shell& shell, int index, const glm::ivec2& size, const ViewPointer& pointer) {
    if (!ImGui::BeginDragDropTarget()) return false;
    const ImGuiPayload* payload =
        ImGui::AcceptDragDropPayload("library", ImGuiDragDropFlags_AcceptBeforeDelivery |
                                                    ImGuiDragDropFlags_AcceptNoDrawDefaultRect);
    ImGui::EndDragDropTarget();
    if (!payload) return false;
    const auto entry =
        std::find_if(shell.library.begin(), shell.library.end(),
                     [&](const LibraryEntry& e) { return e.name == shell.dragged_entry; });
    if (entry == shell.library.end()) return false; // given up
    hold_entry(shell, *entry, index, size, pointer);
    if (!payload->IsDelivery()) return true;
    let_go_entry(shell);
    shell.dragged_entry.clear();
    return false;
}

// True while an entry of the library is held over it.
bool draw_view(Shell& shell, const Ui& ui, int index, const glm::vec2& low,
               const glm::vec2& extent) {
    View& view = shell.views[static_cast<std::size_t>(index)];
    const glm::ivec2 size = glm::max(glm::ivec2(extent), glm::ivec2(1));
    view.low = low;
    view.high = low + extent;
    view.clear_top = title_place(ui, view, low, extent.x).high.y - low.y;
    if (!view.placed) {
        const Box all = everything(shell);
        view.camera = framed(view.camera, size, all, view.clear_top);
        view.placed = true;
        follow_visitor(shell);
    }
    ImGui::PushID(index);
    ImGui::SetCursorScreenPos({low.x, low.y});
    ImGui::InvisibleButton("view", {extent.x, extent.y},
                           ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonRight |
                               ImGuiButtonFlags_MouseButtonMiddle);
    ImGui::SetItemAllowOverlap();
    const bool over = ImGui::IsItemHovered();
    tag_item(ui, fmt::format("view{}", index));
    const ViewPointer pointer = pointer_now(low, over);
    const bool held = accept_entry(shell, index, size, pointer);
    handle_view(shell, index, size, pointer);
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->PushClipRect({low.x, low.y}, {low.x + extent.x, low.y + extent.y}, true);
    draw_picture(shell, ui, index, size, low);
    Taken taken;
    taken.places.push_back(title_place(ui, view, low, extent.x));
    const ViewPaint paint = {&ui, list, view.camera, size, low, &taken};
    paint_over(shell, paint);
    if (shell.pointer.drag == Drag::rectangle && shell.pointer.view == index) {
        const glm::vec2 from = low + glm::vec2(shell.pointer.start);
        const ImVec2 to = ImGui::GetIO().MousePos;
        list->AddRectFilled({from.x, from.y}, to, packed(with_alpha(ui.palette->picked, 0.12)));
        list->AddRect({from.x, from.y}, to, packed(ui.palette->picked));
    }
    draw_title(shell, ui, index, low, extent.x);
    list->PopClipRect();
    ImGui::PopID();
    return held;
}

} // namespace

void draw_views(Shell& shell, const Ui& ui) {
    const ImVec2 moved = ImGui::GetIO().MouseDelta;
    if (moved.x != 0 || moved.y != 0 || ImGui::GetIO().MouseWheel != 0)
        shell.moved_at = shell.clock;
    shell.over.clear(); // the view under the pointer says what is there
    const ImVec2 low = ImGui::GetCursorScreenPos(), room = ImGui::GetContentRegionAvail();
    const int count = shell.settings.view_count;
    const float gap = 3;
    const int columns = count == 1 ? 1 : 2, rows = count == 4 ? 2 : 1;
    const glm::vec2 extent = {
        std::floor((room.x - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns)),
        std::floor((room.y - gap * static_cast<float>(rows - 1)) / static_cast<float>(rows))};
    if (extent.x < 8 || extent.y < 8) return;
    bool held = false;
    for (int i = 0; i < count; ++i) {
        // A single view is the one that is worked in.
        const int index = count == 1 ? shell.active_view : i;
        const glm::vec2 at = {low.x + static_cast<float>(i % columns) * (extent.x + gap),
                              low.y + static_cast<float>(i / columns) * (extent.y + gap)};
        held = draw_view(shell, ui, index, at, extent) || held;
    }
    if (!held) take_away_entry(shell);
    if (shell.active_view >= count && count > 1) shell.active_view = 0;
}

} // namespace standpoint
