// The page that is there before a scene is open: what to begin with.
#include <algorithm>

#include <fmt/format.h>
#include <imgui.h>

#include "check/run.h"
#include "window/answers.h"
#include "window/panels.h"

namespace standpoint {

namespace {

// What the program is about, as a plan of a few lines: a base with something on it, the path
// before it, and a visitor's sight. It fills a box of twice its height.
void draw_emblem(const Ui& ui, const ImVec2& low, float height) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    const Palette& p = *ui.palette;
    const auto at = [&](float x, float y) {
        return ImVec2{low.x + x * height, low.y + y * height};
    };
    const float line = std::max(1.0f, ui.em / 14);
    list->AddRectFilled(at(0.35f, 0.04f), at(1.65f, 0.5f), packed(p.paper));
    list->AddRect(at(0.35f, 0.04f), at(1.65f, 0.5f), packed(p.section), 0, 0, line);
    list->AddTriangleFilled(at(0.75f, 0.86f), at(0.98f, 0.14f), at(1.32f, 0.14f),
                            packed(with_alpha(p.path, 0.16)));
    list->AddLine(at(0.75f, 0.86f), at(0.98f, 0.14f), packed(p.path), line);
    list->AddLine(at(0.75f, 0.86f), at(1.32f, 0.14f), packed(p.path), line);
    list->AddRectFilled(at(0.98f, 0.1f), at(1.32f, 0.18f), packed(p.picked));
    list->AddRect(at(0.5f, 0.26f), at(0.72f, 0.44f), packed(p.line), 0, 0, line);
    list->AddCircle(at(1.48f, 0.34f), height * 0.07f, packed(p.line), 0, line);
    for (int i = 0; i < 10; ++i) {
        const float x = 0.02f + 0.2f * static_cast<float>(i);
        list->AddLine(at(x, 0.86f), at(x + 0.12f, 0.86f), packed(p.path), line);
    }
    list->AddCircleFilled(at(0.75f, 0.86f), height * 0.06f, packed(p.path));
}

void draw_head(const Ui& ui) {
    const ImVec2 low = ImGui::GetCursorScreenPos();
    const float room = ImGui::GetContentRegionAvail().x, height = ui.em * 5;
    const bool drawn = room > ui.em * 30;
    if (drawn) draw_emblem(ui, {low.x + room - 2 * height, low.y}, height);
    ImGui::PushTextWrapPos(ImGui::GetCursorPosX() + room - (drawn ? 2 * height + ui.em : 0));
    ImGui::SetWindowFontScale(1.6f);
    ImGui::TextUnformatted("Standpoint");
    ImGui::SetWindowFontScale(1);
    ImGui::PushStyleColor(ImGuiCol_Text, packed(ui.palette->ink_quiet));
    ImGui::TextUnformatted("Stage an enlarged scene by hand, and see at once what visitors see, "
                           "whether they get through, and where each piece goes.");
    ImGui::PopStyleColor();
    ImGui::PopTextWrapPos();
    const float used = ImGui::GetCursorScreenPos().y - low.y;
    ImGui::Dummy({1, ui.em * 0.4f + (drawn ? std::max(0.0f, height - used) : 0)});
}

// Beside the last button when this one still has room there.
bool start_button(const Ui& ui, const char* name, const char* label, bool first) {
    if (!first) {
        const float end = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
        const float gap = ui.em * 0.7f;
        if (ImGui::GetItemRectMax().x + gap + button_width(label) <= end) ImGui::SameLine(0, gap);
    }
    return button(ui, name, label);
}

void draw_starts(Shell& shell, const Ui& ui) {
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {ui.em * 0.8f, ui.em * 0.4f});
    const bool demo = !shell.demo_file.empty();
    if (demo) {
        if (start_button(ui, "first/demo", "Open the demo, Low Water", true))
            open_file(shell, shell.demo_file);
        tip("A ferry landing at low tide, with four faults to put right");
    }
    if (start_button(ui, "first/new", "Start a new scene", !demo)) open_new(shell);
    if (start_button(ui, "first/open", "Open a scene ...", false)) act(shell, Action::open);
    ImGui::PopStyleVar();
}

// The name of the file, and its folder as far as there is room.
void recent_row(Shell& shell, const Ui& ui, const RecentScene& scene) {
    const std::size_t slash = scene.path.rfind('/');
    const std::string name = slash == std::string::npos ? scene.path : scene.path.substr(slash + 1);
    const std::string folder = slash == std::string::npos ? "" : scene.path.substr(0, slash);
    const float room = ImGui::GetContentRegionAvail().x, gap = ui.em;
    const ImVec2 low = ImGui::GetCursorScreenPos();
    ImGui::BeginDisabled(scene.missing);
    ImGui::PushID(scene.path.c_str());
    if (ImGui::Selectable("##recent")) open_file(shell, scene.path);
    ImGui::PopID();
    ImGui::EndDisabled();
    tag_item(ui, "first/" + scene.path);
    tip(scene.path + (scene.missing ? "\nIt is not there now." : ""));
    const Palette& p = *ui.palette;
    const std::string shown = shortened(name, room * 0.62f);
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddText(low, packed(scene.missing ? p.ink_quiet : p.ink), shown.c_str());
    const std::string aside = scene.missing ? "not there now" : folder;
    const std::string where = shortened_front(aside, room - text_width(shown) - gap);
    list->AddText({low.x + room - text_width(where), low.y}, packed(p.ink_quiet), where.c_str());
}

void draw_page(Shell& shell, const Ui& ui) {
    draw_head(ui);
    draw_starts(shell, ui);
    if (shell.message_is_error) {
        coloured_text(ui, ui.palette->fail, shell.message);
        tag_item(ui, "first/problem");
    }
    if (!shell.settings.recent.empty()) {
        ImGui::Dummy({1, ui.em * 0.3f});
        heading(ui, "Lately opened");
        for (const RecentScene& scene : std::vector<RecentScene>(shell.settings.recent))
            recent_row(shell, ui, scene);
    }
    ImGui::Dummy({1, ui.em * 0.3f});
    heading(ui, "Good to know");
    quiet_text(ui, "A scene or a model can be dropped on this window. F1 lists every key. Every "
                   "step can be taken back with Ctrl+Z.");
    ImGui::Dummy({1, ui.em * 0.3f});
    heading(ui, "Before anything is built");
    for (const std::string& caution : cautions())
        quiet_text(ui, caution);
}

} // namespace

void draw_first_page(Shell& shell, const Ui& ui) {
    const ImVec2 room = ImGui::GetContentRegionAvail(), start = ImGui::GetCursorPos();
    const float width = std::min(ui.em * 46, room.x - ui.em * 2);
    // As high as what was in it in the frame before.
    float* used = ImGui::GetStateStorage()->GetFloatRef(ImGui::GetID("page height"), ui.em * 30);
    const float height = std::min(*used, room.y - ui.em * 2);
    ImGui::SetCursorPos({start.x + (room.x - width) / 2, start.y + (room.y - height) * 0.4f});
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {ui.em * 1.8f, ui.em * 1.4f});
    ImGui::BeginChild("first", {width, height}, true);
    ImGui::PopStyleVar();
    tag_panel(ui, "panel/first");
    draw_page(shell, ui);
    *used = ImGui::GetCursorPosY() + ui.em * 1.4f;
    ImGui::EndChild();
}

} // namespace standpoint
