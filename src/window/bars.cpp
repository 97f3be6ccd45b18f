// The bars: menus and tools at the top, status at the bottom.
#include <algorithm>

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

// The row of buttons; `gap`: a line before it.
struct ToolEntry {
    Action action;
    const char* label;
    bool gap = false;
};
constexpr ToolEntry tools[] = {
    {Action::undo, "Undo"},
    {Action::redo, "Redo"},
    {Action::turn_left, "Turn left", true},
    {Action::turn_right, "Turn right"},
    {Action::let_down, "Let down"},
    {Action::duplicate, "Duplicate"},
    {Action::repeat, "Repeat"},
    {Action::snap_on_off, "Snap", true},
    {Action::measure, "Measure"},
    {Action::cut_plan, "Cut height"},
    {Action::one_view, "1 view", true},
    {Action::two_views, "2"},
    {Action::four_views, "4"},
    {Action::make_sheets, "Make sheets", true},
};

bool is_on(const Shell& shell, Action action) {
    switch (action) {
    case Action::snap_on_off:
        return shell.settings.snap_on;
    case Action::measure:
        return shell.tool == Tool::measure;
    case Action::one_view:
        return shell.settings.view_count == 1;
    case Action::two_views:
        return shell.settings.view_count == 2;
    case Action::four_views:
        return shell.settings.view_count == 4;
    default:
        return false;
    }
}

float width_of(const Ui& ui, const ToolEntry& tool) {
    const float spacing = ImGui::GetStyle().ItemSpacing.x;
    return button_width(tool.label) + spacing + (tool.gap ? ui.em * 0.3f + spacing : 0);
}

// How many of the first tools have room; the others go behind "More", which then has room too.
std::size_t tools_that_fit(const Ui& ui, float room) {
    float width = 0;
    for (const ToolEntry& tool : tools)
        width += width_of(ui, tool);
    if (width <= room) return std::size(tools);
    width = button_width("More") + ImGui::GetStyle().ItemSpacing.x;
    std::size_t count = 0;
    while (count < std::size(tools) && width + width_of(ui, tools[count]) <= room)
        width += width_of(ui, tools[count++]);
    return count;
}

void draw_tool(Shell& shell, const Ui& ui, const ToolEntry& tool) {
    const ActionEntry& entry = entry_of(tool.action);
    if (tool.gap) {
        const ImVec2 at = ImGui::GetCursorScreenPos();
        ImGui::GetWindowDrawList()->AddLine({at.x, at.y + 2}, {at.x, at.y + ui.em * 1.4f},
                                            packed(ui.palette->rule));
        ImGui::Dummy({ui.em * 0.3f, 1});
        ImGui::SameLine();
    }
    const std::string name = fmt::format("tool/{}", entry.name);
    ImGui::BeginDisabled(!can_do(shell, tool.action));
    if (switch_button(ui, name.c_str(), tool.label, is_on(shell, tool.action)))
        act(shell, tool.action);
    ImGui::EndDisabled();
    tip(fmt::format("{}\n{}  {}", entry.label, entry.tip, entry.keys));
    ImGui::SameLine();
}

void draw_more(Shell& shell, const Ui& ui, std::size_t from) {
    if (button(ui, "tool/more", "More")) ImGui::OpenPopup("more tools");
    tip("The tools that have no room here");
    ImGui::SameLine();
    if (!ImGui::BeginPopup("more tools")) return;
    for (std::size_t i = from; i < std::size(tools); ++i) {
        const ActionEntry& entry = entry_of(tools[i].action);
        if (tools[i].gap && i > from) ImGui::Separator();
        if (ImGui::MenuItem(entry.label, entry.keys, is_on(shell, entry.action),
                            can_do(shell, entry.action)))
            act(shell, entry.action);
        tag_item(ui, fmt::format("more/{}", entry.name));
        tip(entry.tip);
    }
    ImGui::EndPopup();
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

// What stands at the right end of the status line: as much of it as has room.
std::string state_words(const Shell& shell, float room) {
    const std::string picked =
        shell.desk && !shell.desk->selected.empty()
            ? spoken(shell.desk->history.now(), shell.desk->selected) + " picked"
            : "";
    const std::string snapping = snapping_words(shell), gap = picked.empty() ? "" : "    ";
    for (const std::string& words :
         {picked + gap + snapping + "    F1 keys", picked + gap + snapping})
        if (text_width(words) <= room) return words;
    return shortened(picked.empty() ? snapping : picked, room);
}

} // namespace

std::string title_of(const Shell& shell) {
    if (!shell.desk) return "Standpoint";
    const std::string& title = shell.desk->history.now().settings->title;
    const std::size_t slash = shell.desk->file.rfind('/');
    const std::string file =
        shell.desk->file.empty() ? "not saved yet" : shell.desk->file.substr(slash + 1);
    const bool said = shell.desk->file.empty(); // that nothing of it is in a file
    const std::string mark = is_unsaved(*shell.desk) && !said ? "  \xe2\x80\xa2 unsaved" : "";
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
    const float end = ImGui::GetWindowWidth() - ui.em * 0.7f;
    const float room = end - ImGui::GetCursorPosX() - ui.em;
    if (shell.desk && room > ui.em * 4) {
        ImGui::SetCursorPosX(end - std::min(room, text_width(title)));
        line_text(ui, ui.palette->ink_quiet, title, room);
        tag_item(ui, "bar/title");
    }
    ImGui::EndMenuBar();
}

void draw_tools(Shell& shell, const Ui& ui) {
    float room = ImGui::GetContentRegionAvail().x + ImGui::GetStyle().ItemSpacing.x;
    const float bar = ui.em * 9, spacing = ImGui::GetStyle().ItemSpacing.x;
    if (shell.job) room -= bar + button_width("Stop") + 2 * spacing;
    const std::size_t count = tools_that_fit(ui, room);
    for (std::size_t i = 0; i < count; ++i)
        draw_tool(shell, ui, tools[i]);
    if (count < std::size(tools)) draw_more(shell, ui, count);
    if (shell.job) {
        const JobState state = shell.job->state();
        ImGui::ProgressBar(static_cast<float>(state.share), {bar, 0},
                           shortened(state.what, bar).c_str());
        tag_item(ui, "tool/job");
        ImGui::SameLine();
        if (button(ui, "tool/stop-job", "Stop")) shell.job->cancel();
        ImGui::SameLine();
    }
    ImGui::NewLine();
}

void draw_status(Shell& shell, const Ui& ui) {
    const std::string text = hint(shell);
    const bool error = shell.message_is_error && text == shell.message;
    const float room = ImGui::GetContentRegionAvail().x, left = ImGui::GetCursorPosX();
    const std::string state = state_words(shell, room * 0.5f);
    const float state_room = text_width(state);
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() + ui.em * 0.2f);
    line_text(ui, error ? ui.palette->fail : ui.palette->ink, text,
              room - state_room - ui.em * 1.5f);
    tag_item(ui, "status/message");
    ImGui::SameLine(left + room - state_room - ui.em * 0.3f);
    ImGui::TextUnformatted(state.c_str());
    tag_item(ui, "status/snapping");
}

} // namespace standpoint
