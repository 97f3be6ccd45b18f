// The page of every key, and the settings.
#include <algorithm>

#include <fmt/format.h>
#include <imgui.h>

#include "desk/typed.h"
#include "window/actions.h"
#include "window/answers.h"
#include "window/dialogs.h"
#include "window/piece_rows.h"

namespace standpoint {

namespace {

constexpr const char* pointer_lines[][2] = {
    {"Press", "pick a piece; Ctrl adds or takes away"},
    {"Drag a piece", "moves it over what lies beneath; Ctrl without snapping"},
    {"Alt and drag", "raises it (round, front and side views)"},
    {"Drag the dot before it", "turns it in steps of 5\xc2\xb0; Alt turns freely"},
    {"Drag on nothing",
     "picks by rectangle: to the right what is inside, to the left what is touched"},
    {"Drag the visitor's dot", "walks the visitor along the path"},
    {"Middle button", "moves the view; so does Space and drag"},
    {"Right button", "turns the round view"},
    {"Wheel", "nearer and farther"}};

constexpr const char* menus[] = {"File", "Edit", "Place", "View", "Check", "Help"};

// Where the columns begin, pixels from the left end: wide enough for the longest words in them.
struct Columns {
    float label = 0, about = 0;
    bool beneath = false; // no room for a third column: it stands below the second
};

Columns columns_of(const Ui& ui, float room) {
    Columns columns;
    for (const ActionEntry& entry : all_actions()) {
        if (!*entry.keys) continue;
        columns.label = std::max(columns.label, text_width(entry.keys));
        columns.about = std::max(columns.about, text_width(entry.label));
    }
    columns.label += ui.em;
    columns.about += columns.label + ui.em;
    columns.beneath = room - columns.about < ui.em * 12;
    return columns;
}

void key_row(const Ui& ui, const Columns& columns, const ActionEntry& entry) {
    const float left = ImGui::GetCursorPosX();
    ImGui::TextUnformatted(entry.keys);
    ImGui::SameLine(left + columns.label);
    ImGui::TextUnformatted(entry.label);
    if (columns.beneath)
        ImGui::SetCursorPosX(left + columns.label);
    else
        ImGui::SameLine(left + columns.about);
    quiet_text(ui, entry.tip);
    tag_item(ui, fmt::format("keys/{}", entry.name));
}

void pointer_rows(const Ui& ui) {
    float column = 0;
    for (const auto& line : pointer_lines)
        column = std::max(column, text_width(line[0]) + ui.em);
    for (const auto& line : pointer_lines) {
        const float left = ImGui::GetCursorPosX();
        ImGui::TextUnformatted(line[0]);
        ImGui::SameLine(left + column);
        quiet_text(ui, line[1]);
    }
}

} // namespace

void draw_keys(Shell& shell, const Ui& ui) {
    ImGui::BeginChild("keys", {0, list_height(ui, ui.em * 30, 2)}, false);
    const Columns columns = columns_of(ui, ImGui::GetContentRegionAvail().x);
    for (const char* menu : menus) {
        heading(ui, menu);
        for (const ActionEntry& entry : all_actions())
            if (std::string_view(entry.menu) == menu && *entry.keys) key_row(ui, columns, entry);
    }
    heading(ui, "Pointer in a view");
    pointer_rows(ui);
    ImGui::EndChild();
    tag_item(ui, "keys/list");
    if (button(ui, "keys/close", "Close")) close_dialog(shell);
}

namespace {

void grid_row(Shell& shell, const Ui& ui) {
    WindowSettings& settings = shell.settings;
    ImGui::TextUnformatted("Grid step and arrow keys, 1 mm to 10 m");
    const auto typed =
        typed_row(shell, ui,
                  {"", "settings/grid", fmt::format("{:g} mm", settings.grid_step_mm), "Any unit",
                   "", ui.em * 8});
    if (typed) {
        const Result<Length> step =
            typed_length(*typed, Length(settings.grid_step_mm), UnitSystem::metric);
        if (!step.ok())
            refuse(shell, "settings/grid", *typed, step.error());
        else if (step->mm < 1 || step->mm > 10000)
            refuse(shell, "settings/grid", *typed,
                   input_error("", "found " + in_quotes(*typed) + ", expected 1 mm to 10 m"));
        else {
            settings.grid_step_mm = step->mm;
            shell.panels.wrong = {};
        }
    }
}

void snap_rows(Shell& shell, const Ui& ui) {
    ImGui::TextUnformatted("Snap to");
    const float box = ImGui::GetFrameHeight() + ImGui::GetStyle().ItemInnerSpacing.x;
    for (std::size_t i = 0; i < shell.settings.snap_kinds.size(); ++i) {
        const float end = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
        const float wanted = box + text_width(snap_kind_names[i]) + ui.em * 0.8f;
        if (i > 0 && ImGui::GetItemRectMax().x + wanted <= end) ImGui::SameLine(0, ui.em * 0.8f);
        ImGui::Checkbox(snap_kind_names[i], &shell.settings.snap_kinds[i]);
        tag_item(ui, fmt::format("settings/snap{}", i));
    }
}

} // namespace

void draw_settings(Shell& shell, const Ui& ui) {
    WindowSettings& settings = shell.settings;
    if (ImGui::Checkbox("Dark", &settings.dark)) shell.font_changed = true;
    tag_item(ui, "settings/dark");
    float scale = static_cast<float>(settings.text_scale) * 100;
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted("Text size");
    ImGui::SameLine();
    ImGui::SetNextItemWidth(-1);
    ImGui::SliderFloat("##text size", &scale, 75, 300, "%.0f %%");
    tag_item(ui, "settings/text");
    // While the slider is held the page would jump under the pointer.
    if (ImGui::IsItemDeactivatedAfterEdit()) {
        settings.text_scale = static_cast<double>(scale) / 100;
        shell.font_changed = true;
    }
    grid_row(shell, ui);
    snap_rows(shell, ui);
    if (button(ui, "settings/close", "Close")) close_dialog(shell);
}

} // namespace standpoint
