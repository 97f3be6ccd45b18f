// The page that is there before a scene is open: what to begin with.
#include <filesystem>

#include <fmt/format.h>
#include <imgui.h>

#include "check/run.h"
#include "window/answers.h"
#include "window/panels.h"

namespace standpoint {

void draw_first_page(Shell& shell, const Ui& ui) {
    const ImVec2 room = ImGui::GetContentRegionAvail();
    const float width = std::min(ui.em * 44, room.x - ui.em * 2);
    ImGui::SetCursorPos({(room.x - width) / 2, std::max(ui.em * 2, room.y * 0.14f)});
    ImGui::BeginChild("first", {width, std::min(ui.em * 34, room.y * 0.8f)}, true);
    ImGui::Dummy({1, ui.em * 0.5f});
    ImGui::SetWindowFontScale(1.6f);
    ImGui::TextUnformatted("Standpoint");
    ImGui::SetWindowFontScale(1);
    quiet_text(
        ui, "Stage an enlarged scene by hand, and see at once what visitors see, whether they get "
            "through, and where each piece goes.");
    ImGui::Dummy({1, ui.em * 0.5f});
    if (!shell.demo_file.empty()) {
        if (button(ui, "first/demo", "Open the demo, Low Water")) open_file(shell, shell.demo_file);
        tip("A ferry landing at low tide, with four faults to put right");
    }
    if (button(ui, "first/new", "Start a new scene")) open_new(shell);
    if (button(ui, "first/open", "Open a scene ...")) act(shell, Action::open);
    if (!shell.settings.recent.empty()) {
        heading(ui, "Lately opened");
        for (const RecentScene& scene : std::vector<RecentScene>(shell.settings.recent)) {
            ImGui::BeginDisabled(scene.missing);
            if (ImGui::Selectable(
                    (scene.path + (scene.missing ? "   (not there now)" : "")).c_str()))
                open_file(shell, scene.path);
            ImGui::EndDisabled();
            tag_item(ui, "first/" + scene.path);
        }
    }
    heading(ui, "Good to know");
    quiet_text(ui, "A scene or a model can be dropped on this window. F1 lists every key. Every "
                   "step can be taken back with Ctrl+Z.");
    for (const std::string& caution : cautions())
        quiet_text(ui, caution);
    if (shell.message_is_error) coloured_text(ui, ui.palette->fail, shell.message);
    ImGui::EndChild();
}

} // namespace standpoint
