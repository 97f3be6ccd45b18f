// Lays the panels out: bars above and below, library and piece at the sides, views and strip
// between.
#include "window/frame.h"

#include <algorithm>

#include <imgui.h>

#include "window/answers.h"
#include "window/panels.h"
#include "window/view_input.h"

namespace standpoint {

namespace {

constexpr ImGuiWindowFlags fixed =
    ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove |
    ImGuiWindowFlags_NoCollapse | ImGuiWindowFlags_NoSavedSettings |
    ImGuiWindowFlags_NoBringToFrontOnFocus | ImGuiWindowFlags_NoScrollbar |
    ImGuiWindowFlags_NoScrollWithMouse;

// Widths and heights of the panels, pixels.
struct Layout {
    float left = 0, right = 0, strip = 0, status = 0;
};

constexpr float gap = 5; // between panels, where it can be dragged

Layout layout_of(const Shell& shell, const Ui& ui, const ImVec2& room) {
    // As they come the side panels take less than half of the window; dragged wide they leave the
    // views two fifths of it.
    const auto wanted = [&](double ems, float normal, float most, float most_dragged) {
        const float size = (ems > 0 ? static_cast<float>(ems) : normal) * ui.em;
        const float limit = ems > 0 ? most_dragged : most;
        return std::clamp(size, ui.em * 6, std::max(ui.em * 6, limit));
    };
    Layout layout;
    layout.left = wanted(shell.settings.left_width, 15, room.x * 0.22f, room.x * 0.27f);
    layout.right = wanted(shell.settings.right_width, 20, room.x * 0.26f, room.x * 0.31f - 3 * gap);
    // By the scene, not by what is known of it: the views stay when the answers come.
    const float rows = static_cast<float>(
        std::clamp<std::size_t>(shell.desk->history.now().targets->size(), 3, 12));
    layout.strip =
        wanted(shell.settings.strip_height, 7.2f + rows * 1.2f, room.y * 0.36f, room.y * 0.7f);
    layout.status = ui.em * 1.7f;
    return layout;
}

// A bar between panels that can be dragged; the amount is added to a size in ems.
void splitter(const Ui& ui, const char* name, const ImVec2& size, bool upright, float sign,
              float now, double& ems) {
    ImGui::InvisibleButton(name, size);
    tag_item(ui, name);
    if (ImGui::IsItemHovered() || ImGui::IsItemActive())
        ImGui::SetMouseCursor(upright ? ImGuiMouseCursor_ResizeEW : ImGuiMouseCursor_ResizeNS);
    if (!ImGui::IsItemActive()) return;
    const ImVec2 by = ImGui::GetIO().MouseDelta;
    ems = static_cast<double>((now + sign * (upright ? by.x : by.y)) / ui.em);
    ems = std::clamp(ems, 6.0, 100.0);
}

void draw_left(Shell& shell, const Ui& ui, const ImVec2& size) {
    ImGui::BeginChild("left", size, true);
    tag_panel(ui, "panel/left");
    // Narrow tabs, so that both have room for their words in large text as well.
    const ImVec2 narrow = {ui.em * 0.3f, ImGui::GetStyle().FramePadding.y};
    const auto tab = [&](const char* title, const char* name, ImGuiTabItemFlags flags,
                         void (*draw)(Shell&, const Ui&)) {
        ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, narrow);
        const bool open = ImGui::BeginTabItem(title, nullptr, flags);
        ImGui::PopStyleVar();
        tag_item(ui, name);
        if (!open) return;
        ImGui::BeginChild(name); // so that the tabs stay where they are
        draw(shell, ui);
        ImGui::EndChild();
        ImGui::EndTabItem();
    };
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, narrow);
    const bool bar = ImGui::BeginTabBar("left tabs");
    ImGui::PopStyleVar();
    if (bar) {
        const bool finding = shell.focus_search;
        tab("Bring in", "tab/library", 0, draw_library);
        tab("Staged", "tab/staged", finding ? ImGuiTabItemFlags_SetSelected : 0, draw_piece_list);
        ImGui::EndTabBar();
    }
    ImGui::EndChild();
}

void draw_middle(Shell& shell, const Ui& ui, float width, float height, const Layout& layout) {
    ImGui::BeginChild("middle", {width, height}, false,
                      ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {0, 0});
    ImGui::BeginChild("views", {width, height - layout.strip - gap}, false,
                      ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
    tag_panel(ui, "panel/views");
    draw_views(shell, ui);
    ImGui::EndChild();
    ImGui::PopStyleVar();
    splitter(ui, "splitter/strip", {width, gap}, false, -1, layout.strip,
             shell.settings.strip_height);
    ImGui::BeginChild("strip", {width, layout.strip}, true);
    tag_panel(ui, "panel/strip");
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {ui.em * 0.5f, ui.em * 0.35f});
    draw_strip(shell, ui);
    ImGui::PopStyleVar();
    ImGui::EndChild();
    ImGui::EndChild();
}

void draw_right(Shell& shell, const Ui& ui, const ImVec2& size) {
    const float least = std::min(ui.em * 6, size.y * 0.3f); // of each of the two
    // While nothing is picked the findings are what is worked with: most of the height is theirs,
    // but in a scene with nothing in it, where there is nothing to find.
    const bool picked = !shell.desk->selected.empty();
    const bool empty = shell.desk->history.now().pieces->empty();
    double& ems = picked ? shell.settings.piece_height : shell.settings.scene_height;
    const float normal = size.y * (picked || empty ? 0.62f : 0.36f);
    const float wanted = ems > 0 ? static_cast<float>(ems) * ui.em : normal;
    const float top = std::floor(std::clamp(wanted, least, size.y - gap - least));
    const auto panel = [&](const char* name, const char* tag, float height, auto draw) {
        ImGui::BeginChild(name, {size.x, height}, true);
        tag_panel(ui, tag);
        ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {ui.em * 0.5f, ui.em * 0.35f});
        draw(shell, ui);
        ImGui::PopStyleVar();
        ImGui::EndChild();
    };
    ImGui::BeginChild("right", size, false, ImGuiWindowFlags_NoScrollbar);
    panel("piece", "panel/piece", top, draw_piece);
    splitter(ui, "splitter/piece", {size.x, gap}, false, 1, top, ems);
    panel("findings", "panel/findings", size.y - top - gap, draw_findings);
    ImGui::EndChild();
}

void draw_desk(Shell& shell, const Ui& ui) {
    const ImVec2 room = ImGui::GetContentRegionAvail();
    const Layout layout = layout_of(shell, ui, room);
    const float height = room.y - layout.status;
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {0, 0});
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {ui.em * 0.5f, ui.em * 0.35f});
    draw_left(shell, ui, {layout.left, height});
    ImGui::PopStyleVar();
    ImGui::SameLine(0, 0);
    splitter(ui, "splitter/left", {gap, height}, true, 1, layout.left, shell.settings.left_width);
    ImGui::SameLine(0, 0);
    const float middle = room.x - layout.left - layout.right - 2 * gap;
    draw_middle(shell, ui, std::max(8.0f, middle), height, layout);
    ImGui::SameLine(0, 0);
    splitter(ui, "splitter/right", {gap, height}, true, -1, layout.right,
             shell.settings.right_width);
    ImGui::SameLine(0, 0);
    draw_right(shell, ui, {layout.right, height});
    ImGui::PopStyleVar();
    draw_status(shell, ui);
}

} // namespace

void draw_frame(Shell& shell, const Ui& ui) {
    ui.tags->clear();
    work_behind(shell);
    act_on_keys(shell);
    const ImGuiIO& io = ImGui::GetIO();
    ImGui::SetNextWindowPos({0, 0});
    ImGui::SetNextWindowSize(io.DisplaySize);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowRounding, 0);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 0);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {6, 4});
    ImGui::PushStyleColor(ImGuiCol_WindowBg, packed(ui.palette->board));
    const bool open = ImGui::Begin("Standpoint", nullptr, fixed | ImGuiWindowFlags_MenuBar);
    ImGui::PopStyleColor();
    ImGui::PopStyleVar(3);
    if (open) {
        draw_menus(shell, ui);
        if (shell.desk) {
            draw_tools(shell, ui);
            draw_desk(shell, ui);
        } else {
            draw_first_page(shell, ui);
        }
    }
    ImGui::End();
    if (!shell.left_behind.empty() && shell.dialog == Dialog::none && !shell.offered_recovery) {
        shell.offered_recovery = true;
        shell.dialog = Dialog::recover;
        shell.dialog_opens = true;
    }
    draw_dialogs(shell, ui);
}

} // namespace standpoint
