// The dialogs for opening, saving and bringing in: folders and files, and a field for a path.
#include <cstdlib>

#include <imgui.h>

#include "desk/piece_ids.h"
#include "window/answers.h"
#include "window/dialogs.h"
#include "window/panels.h"

namespace standpoint {

namespace {

std::string folder_of(const std::string& file) {
    const std::size_t slash = file.rfind('/');
    return slash == std::string::npos ? "" : file.substr(0, slash);
}

// What a chosen file is for.
void take_choice(Shell& shell, const Choice& choice) {
    const Dialog dialog = shell.dialog;
    if (choice.kind == ChoiceKind::open) {
        close_dialog(shell);
        if (dialog == Dialog::open)
            open_file(shell, choice.path);
        else
            drop_file(shell, choice.path);
    } else if (choice.kind == ChoiceKind::save) {
        close_dialog(shell);
        if (save_to(shell, choice.path) && shell.after != After::nothing) do_after(shell);
    } else if (choice.kind == ChoiceKind::ask_overwrite) {
        shell.typed_file = choice.path;
    }
}

// The rows of the folder; what was chosen there.
Choice draw_rows(FileDialog& browser, const Ui& ui) {
    Choice choice;
    // Title, two rows of buttons, and what may be said beneath.
    ImGui::BeginChild("rows", {0, list_height(ui, ui.em * 18, browser.message.empty() ? 5 : 7)},
                      true);
    for (const FileRow& row : std::vector<FileRow>(browser.rows)) {
        const std::string label = row.folder ? row.name + "/" : row.name;
        const ImVec2 low = ImGui::GetCursorScreenPos();
        const float room = ImGui::GetContentRegionAvail().x;
        ImGui::PushID(row.name.c_str());
        const bool pressed = ImGui::Selectable("##row", browser.typed == row.name,
                                               ImGuiSelectableFlags_AllowDoubleClick |
                                                   ImGuiSelectableFlags_DontClosePopups);
        ImGui::PopID();
        tag_item(ui, "files/" + row.name);
        const std::string shown = shortened(label, room);
        if (shown != label) tip(label);
        ImGui::GetWindowDrawList()->AddText(
            low, packed(row.folder ? ui.palette->ink_quiet : ui.palette->ink), shown.c_str());
        if (!pressed) continue;
        if (row.folder || ImGui::IsMouseDoubleClicked(0))
            choice = choose_row(browser, row);
        else
            browser.typed = row.name;
    }
    if (browser.rows.empty())
        quiet_text(ui, browser.saving ? "No scene here yet." : "Nothing here that can be opened.");
    ImGui::EndChild();
    tag_item(ui, "files/rows");
    return choice;
}

// Where a file of that name is already.
void ask_to_write_over(Shell& shell, const Ui& ui, Choice& choice) {
    if (shell.typed_file.empty()) return;
    coloured_text(ui, ui.palette->warn, shell.typed_file + " is there already.");
    if (button(ui, "files/overwrite", "Write over it")) {
        choice = {ChoiceKind::save, shell.typed_file};
        shell.typed_file.clear();
    }
    ImGui::SameLine();
    if (button(ui, "files/keep", "Keep it")) shell.typed_file.clear();
}

std::string name_to_save(const Desk& desk) {
    if (!desk.file.empty()) return desk.file.substr(desk.file.rfind('/') + 1);
    const std::string& title = desk.history.now().settings->title;
    return (title.empty() ? "new" : unique_id({}, title)) + ".scene.json";
}

} // namespace

void draw_browser(Shell& shell, const Ui& ui) {
    FileDialog& browser = shell.browser;
    if (button(ui, "files/up", "Up")) go_up(browser);
    ImGui::SameLine();
    if (button(ui, "files/home", "Home")) go_home(browser);
    ImGui::SameLine();
    ImGui::AlignTextToFramePadding();
    const float room = ImGui::GetContentRegionAvail().x;
    quiet_text(ui, shortened_front(browser.folder, room));
    tag_item(ui, "files/folder");
    tip(browser.folder);
    Choice choice = draw_rows(browser, ui);
    const char* verb = browser.saving ? "Save" : shell.dialog == Dialog::open ? "Open" : "Bring in";
    const float buttons =
        button_width(verb) + button_width("Cancel") + 2 * ImGui::GetStyle().ItemSpacing.x;
    if (ImGui::IsWindowAppearing()) ImGui::SetKeyboardFocusHere();
    std::string typed = browser.typed;
    const bool entered = text_field(ui, "files/typed", typed,
                                    ImGui::GetContentRegionAvail().x - buttons, "name or path") &&
                         ImGui::IsKeyPressed(257);
    browser.typed = typed;
    ImGui::SameLine();
    if (button(ui, "files/choose", verb) || entered) choice = choose(browser);
    ImGui::SameLine();
    if (button(ui, "files/cancel", "Cancel")) {
        shell.after = After::nothing;
        return close_dialog(shell);
    }
    if (!browser.message.empty()) coloured_text(ui, ui.palette->fail, browser.message);
    ask_to_write_over(shell, ui, choice);
    if (choice.kind != ChoiceKind::nothing) take_choice(shell, choice);
}

void prepare_browser(Shell& shell) {
    FileDialog& browser = shell.browser;
    browser.saving = shell.dialog == Dialog::save_as;
    using Endings = std::vector<std::string>;
    browser.endings = shell.dialog == Dialog::bring_in ? Endings{".glb", ".gltf"}
                      : browser.saving ? Endings{".scene.json", ".json"} // the first is put on
                                       : Endings{".json"};
    const char* home = std::getenv("HOME");
    browser.home = home ? home : "";
    browser.message.clear();
    std::string folder = shell.desk ? folder_of(shell.desk->file) : "";
    if (folder.empty() && !shell.settings.recent.empty())
        folder = folder_of(shell.settings.recent.front().path);
    if (folder.empty()) folder = browser.folder.empty() ? browser.home : browser.folder;
    go_to_folder(browser, folder.empty() ? "/" : folder);
    browser.typed = browser.saving && shell.desk ? name_to_save(*shell.desk) : "";
}

} // namespace standpoint
