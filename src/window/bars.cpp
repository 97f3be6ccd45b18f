// The bars: menus and tools at the top, status at the bottom.
#include <fmt/format.h>
#include <imgui.h>

#include "window/answers.h"
#include "window/overlay.h"
#include "window/panels.h"

namespace standpoint {

namespace {

void menu_item(Shell& shell, const Ui& ui, const ActionEntry& entry) {
    const bool on = (entry.action == Action::snap_on_off && shell.settings.snap_on) ||
                    (entry.action == Action::measure && shell.tool == Tool::measure);
    if (ImGui::MenuItem(entry.label, entry.keys, on, can_do(shell, entry.action)))
        act(shell, entry.action);
    tag_item(ui, fmt::format("menu/{}", entry.name));
    tip(entry.tip);
}

void tool(Shell& shell, const Ui& ui, Action action, const char* label, bool on = false) {
    const ActionEntry& entry = entry_of(action);
    const std::string name = fmt::format("tool/{}", entry.name);
    ImGui::BeginDisabled(!can_do(shell, action));
    if (switch_button(ui, name.c_str(), label, on)) act(shell, action);
    ImGui::EndDisabled();
    tip(fmt::format("{}\n{}  {}", entry.label, entry.tip, entry.keys));
    ImGui::SameLine();
}

void divide(const Ui& ui) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::GetWindowDrawList()->AddLine({at.x, at.y + 2}, {at.x, at.y + ui.em * 1.4f},
                                        packed(ui.palette->rule));
    ImGui::Dummy({ui.em * 0.3f, 1});
    ImGui::SameLine();
}

std::string snapping_words(const Shell& shell) {
    if (!shell.settings.snap_on) return "snapping off";
    return fmt::format(
        "snap, grid {}",
        shell.desk ? length_text(shell.desk->history.now(), shell.settings.grid_step_mm) : "");
}

std::string hint(const Shell& shell) {
    if (!shell.pointer.says.empty())
        return shell.pointer.says + "    Ctrl: without snapping    Esc: back";
    if (shell.tool == Tool::measure) return "Measure: press on two points. Esc ends";
    if (shell.desk && !shell.over.empty()) {
        const Piece* piece = find_piece(shell.desk->history.now(), shell.over);
        if (piece) return spoken(piece->name, piece->id) + (piece->locked ? " (locked)" : "");
    }
    return shell.message;
}

} // namespace

std::string title_of(const Shell& shell) {
    if (!shell.desk) return "Standpoint";
    const std::string& title = shell.desk->history.now().settings->title;
    const std::size_t slash = shell.desk->file.rfind('/');
    const std::string file =
        shell.desk->file.empty() ? "not saved yet" : shell.desk->file.substr(slash + 1);
    const std::string mark = is_unsaved(*shell.desk) ? "  \xe2\x80\xa2 unsaved" : "";
    return (title.empty() ? file : title + "  \xe2\x80\x93  " + file) + mark;
}

void draw_menus(Shell& shell, const Ui& ui) {
    if (!ImGui::BeginMenuBar()) return;
    for (const char* menu : {"File", "Edit", "Place", "View", "Check", "Help"}) {
        const bool open = ImGui::BeginMenu(menu);
        tag_item(ui, fmt::format("menu/{}", menu));
        if (!open) continue;
        for (const ActionEntry& entry : all_actions())
            if (std::string_view(entry.menu) == menu) menu_item(shell, ui, entry);
        ImGui::EndMenu();
    }
    const std::string title = title_of(shell);
    const float width = ImGui::CalcTextSize(title.c_str()).x;
    const float right = ImGui::GetWindowWidth() - width - ui.em;
    if (right > ImGui::GetCursorPosX()) ImGui::SetCursorPosX(right);
    quiet_text(ui, title);
    ImGui::EndMenuBar();
}

void draw_tools(Shell& shell, const Ui& ui) {
    tool(shell, ui, Action::undo, "Undo");
    tool(shell, ui, Action::redo, "Redo");
    divide(ui);
    tool(shell, ui, Action::turn_left, "Turn left");
    tool(shell, ui, Action::turn_right, "Turn right");
    tool(shell, ui, Action::let_down, "Let down");
    tool(shell, ui, Action::duplicate, "Duplicate");
    tool(shell, ui, Action::repeat, "Repeat");
    divide(ui);
    tool(shell, ui, Action::snap_on_off, "Snap", shell.settings.snap_on);
    tool(shell, ui, Action::measure, "Measure", shell.tool == Tool::measure);
    tool(shell, ui, Action::cut_plan, "Cut");
    divide(ui);
    tool(shell, ui, Action::one_view, "1 view", shell.settings.view_count == 1);
    tool(shell, ui, Action::two_views, "2", shell.settings.view_count == 2);
    tool(shell, ui, Action::four_views, "4", shell.settings.view_count == 4);
    divide(ui);
    tool(shell, ui, Action::make_sheets, "Make sheets");
    if (shell.job) {
        const JobState state = shell.job->state();
        ImGui::ProgressBar(static_cast<float>(state.share), {ui.em * 9, 0}, state.what.c_str());
        ImGui::SameLine();
        if (button(ui, "tool/stop-job", "Stop")) shell.job->cancel();
        ImGui::SameLine();
    }
    ImGui::NewLine();
}

void draw_status(Shell& shell, const Ui& ui) {
    const std::string text = hint(shell);
    const bool error = shell.message_is_error && text == shell.message;
    const float right = ui.em * 26;
    ImGui::PushClipRect(ImGui::GetCursorScreenPos(),
                        {ImGui::GetWindowPos().x + ImGui::GetWindowWidth() - right,
                         ImGui::GetWindowPos().y + ImGui::GetWindowHeight()},
                        true);
    ImGui::PushStyleColor(ImGuiCol_Text, packed(error ? ui.palette->fail : ui.palette->ink));
    ImGui::TextUnformatted(text.c_str());
    ImGui::PopStyleColor();
    tag_item(ui, "status/message");
    if (!text.empty()) tip(text);
    ImGui::PopClipRect();
    ImGui::SameLine(ImGui::GetWindowWidth() - right);
    const std::string picked =
        shell.desk && !shell.desk->selected.empty()
            ? spoken(shell.desk->history.now(), shell.desk->selected) + " picked    "
            : "";
    ImGui::TextUnformatted((picked + snapping_words(shell) + "    F1 keys").c_str());
    tag_item(ui, "status/snapping");
}

} // namespace standpoint
