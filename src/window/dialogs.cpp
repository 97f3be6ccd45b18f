// The dialogs: files, unsaved work, recovery, sheets, repeat, ratio, keys and settings.
#include <algorithm>
#include <cstdlib>

#include <fmt/format.h>
#include <imgui.h>

#include "check/run.h"
#include "desk/arrange.h"
#include "desk/make_files.h"
#include "desk/piece_fields.h"
#include "desk/typed.h"
#include "window/answers.h"
#include "window/overlay.h"
#include "window/panels.h"
#include "window/piece_rows.h"

namespace standpoint {

namespace {

void close(Shell& shell) {
    shell.dialog = Dialog::none;
    ImGui::CloseCurrentPopup();
}

std::string folder_of(const std::string& file) {
    const std::size_t slash = file.rfind('/');
    return slash == std::string::npos ? "" : file.substr(0, slash);
}

void prepare_browser(Shell& shell) {
    FileDialog& browser = shell.browser;
    browser.saving = shell.dialog == Dialog::save_as;
    browser.endings = shell.dialog == Dialog::bring_in ? std::vector<std::string>{".glb", ".gltf"}
                                                       : std::vector<std::string>{".json"};
    const char* home = std::getenv("HOME");
    browser.home = home ? home : "";
    browser.message.clear();
    std::string folder = shell.desk ? folder_of(shell.desk->file) : "";
    if (folder.empty() && !shell.settings.recent.empty())
        folder = folder_of(shell.settings.recent.front().path);
    if (folder.empty()) folder = browser.folder.empty() ? browser.home : browser.folder;
    go_to_folder(browser, folder.empty() ? "/" : folder);
    browser.typed = browser.saving ? "scene.scene.json" : "";
    if (browser.saving && shell.desk && !shell.desk->file.empty())
        browser.typed = shell.desk->file.substr(shell.desk->file.rfind('/') + 1);
}

void prepare(Shell& shell) {
    switch (shell.dialog) {
    case Dialog::open:
    case Dialog::save_as:
    case Dialog::bring_in:
        prepare_browser(shell);
        break;
    case Dialog::sheets:
        if (shell.sheets_folder.empty() && shell.desk)
            shell.sheets_folder =
                (shell.desk->file.empty() ? "." : folder_of(shell.desk->file)) + "/sheets";
        break;
    default:
        break;
    }
}

// What a chosen file is for.
void take_choice(Shell& shell, const Choice& choice) {
    const Dialog dialog = shell.dialog;
    if (choice.kind == ChoiceKind::open) {
        close(shell);
        if (dialog == Dialog::open)
            open_file(shell, choice.path);
        else
            drop_file(shell, choice.path);
    } else if (choice.kind == ChoiceKind::save) {
        close(shell);
        if (save_to(shell, choice.path) && shell.after != After::nothing) do_after(shell);
    } else if (choice.kind == ChoiceKind::ask_overwrite) {
        shell.typed_file = choice.path;
    }
}

void draw_browser(Shell& shell, const Ui& ui) {
    FileDialog& browser = shell.browser;
    if (button(ui, "files/up", "Up")) go_up(browser);
    ImGui::SameLine();
    if (button(ui, "files/home", "Home")) go_home(browser);
    ImGui::SameLine();
    quiet_text(ui, browser.folder);
    ImGui::BeginChild("rows", {ui.em * 36, ui.em * 18}, true);
    Choice choice;
    for (const FileRow& row : std::vector<FileRow>(browser.rows)) {
        const std::string label = row.folder ? row.name + "/" : row.name;
        if (ImGui::Selectable(label.c_str(), false,
                              ImGuiSelectableFlags_AllowDoubleClick |
                                  ImGuiSelectableFlags_DontClosePopups)) {
            if (row.folder || ImGui::IsMouseDoubleClicked(0))
                choice = choose_row(browser, row);
            else
                browser.typed = row.name;
        }
        tag_item(ui, "files/" + row.name);
    }
    ImGui::EndChild();
    if (ImGui::IsWindowAppearing()) ImGui::SetKeyboardFocusHere();
    std::string typed = browser.typed;
    const bool entered = text_field(ui, "files/typed", typed, ui.em * 26, "name or path") &&
                         ImGui::IsKeyPressed(257);
    browser.typed = typed;
    ImGui::SameLine();
    const char* verb = browser.saving ? "Save" : shell.dialog == Dialog::open ? "Open" : "Bring in";
    if (button(ui, "files/choose", verb) || entered) choice = choose(browser);
    ImGui::SameLine();
    if (button(ui, "files/cancel", "Cancel")) {
        shell.after = After::nothing;
        return close(shell);
    }
    if (!browser.message.empty()) coloured_text(ui, ui.palette->fail, browser.message);
    if (!shell.typed_file.empty()) {
        coloured_text(ui, ui.palette->warn, shell.typed_file + " is there already.");
        if (button(ui, "files/overwrite", "Write over it")) {
            choice = {ChoiceKind::save, shell.typed_file};
            shell.typed_file.clear();
        }
        ImGui::SameLine();
        if (button(ui, "files/keep", "Keep it")) shell.typed_file.clear();
    }
    if (choice.kind != ChoiceKind::nothing) take_choice(shell, choice);
}

void draw_unsaved(Shell& shell, const Ui& ui) {
    ImGui::TextUnformatted("This scene has changes that are not saved.");
    if (button(ui, "unsaved/save", "Save")) {
        close(shell);
        if (save_now(shell)) do_after(shell);
        return;
    }
    ImGui::SameLine();
    if (button(ui, "unsaved/discard", "Do not save")) {
        close(shell);
        return do_after(shell);
    }
    ImGui::SameLine();
    if (button(ui, "unsaved/cancel", "Cancel")) {
        shell.after = After::nothing;
        close(shell);
    }
}

void draw_recover(Shell& shell, const Ui& ui) {
    ImGui::TextUnformatted("The program ended before these were saved:");
    for (std::size_t i = 0; i < shell.left_behind.size(); ++i) {
        const Recovery left = shell.left_behind[i];
        ImGui::PushID(static_cast<int>(i));
        ImGui::Separator();
        ImGui::TextUnformatted(
            left.readable() ? (left.title.empty() ? "A scene" : left.title.c_str()) : "Unreadable");
        quiet_text(ui, left.readable()
                           ? fmt::format("{}  {}",
                                         left.original.empty() ? "never saved" : left.original,
                                         left.saved_at)
                           : left.problem);
        bool gone = false;
        if (left.readable() &&
            button(ui, fmt::format("recover/take{}", i).c_str(), "Go on with it")) {
            take_over(shell, left);
            gone = true;
        }
        ImGui::SameLine();
        if (button(ui, fmt::format("recover/discard{}", i).c_str(), "Throw away")) {
            const Status status = discard_recovery(left);
            if (!status.ok()) say_error(shell, status.error());
            gone = true;
        }
        ImGui::PopID();
        if (!gone) continue;
        shell.left_behind.erase(shell.left_behind.begin() + static_cast<std::ptrdiff_t>(i));
        break;
    }
    if (shell.left_behind.empty() || button(ui, "recover/later", "Later")) close(shell);
}

void draw_sheets(Shell& shell, const Ui& ui) {
    ImGui::TextUnformatted("Folder for sheets.pdf and placements.csv");
    text_field(ui, "sheets/folder", shell.sheets_folder, ui.em * 32);
    for (const std::string& caution : cautions())
        quiet_text(ui, caution);
    if (button(ui, "sheets/make", "Make them", !shell.job)) {
        shell.job = std::make_unique<BackgroundJob>(
            "sheets", sheets_job(shell.desk->history.now(), shell.desk->file, shell.sheets_folder));
        say_done(shell, "Making the sheets ...");
        return close(shell);
    }
    for (const std::string& file : shell.made_files) {
        ImGui::Bullet();
        ImGui::TextUnformatted(file.c_str());
        ImGui::SameLine();
        if (button(ui, ("sheets/open" + file).c_str(), "Open")) shell.open_outside = file;
    }
    ImGui::SameLine();
    if (button(ui, "sheets/close", "Close")) close(shell);
}

void draw_repeat(Shell& shell, const Ui& ui) {
    const Document& document = shell.desk->history.now();
    quiet_text(ui, "Copies along a line to the right (Across) or to the back (Deep).");
    text_field(ui, "repeat/count", shell.repeat_count, ui.em * 8);
    ImGui::SameLine();
    ImGui::TextUnformatted("pieces in all");
    text_field(ui, "repeat/spacing", shell.repeat_spacing, ui.em * 8);
    ImGui::SameLine();
    ImGui::TextUnformatted("from one to the next");
    const auto go = [&](const glm::dvec2& along) {
        const Result<Length> step =
            typed_length(shell.repeat_spacing, Length(0), document.settings->units);
        const Result<int> typed = typed_count(shell.repeat_count, 2, most_repeats + 1);
        if (!typed.ok()) return say_error(shell, typed.error());
        if (!step.ok()) return say_error(shell, step.error());
        const int count = *typed;
        if (step->mm == 0)
            return say_error(shell, input_error("", "found no distance from one piece to the next, "
                                                    "expected one such as 1000 mm"));
        Repeat repeat;
        const StagedPiece* lead = find_staged(*shell.desk->shown, shell.desk->selected.back());
        const glm::dvec2 from = lead ? glm::dvec2(lead->placement.frame.origin) : glm::dvec2(0.0);
        repeat.line = {from, from + along * (step->mm * (count - 1))};
        repeat.count = count;
        Result<Copied> copied = repeat_along(document, shell.desk->selected, repeat);
        if (!copied.ok()) return say_error(shell, copied.error());
        if (do_edit(shell, copied->edit)) close(shell);
    };
    if (button(ui, "repeat/across", "Across")) go({1, 0});
    ImGui::SameLine();
    if (button(ui, "repeat/deep", "Deep")) go({0, 1});
    ImGui::SameLine();
    if (button(ui, "repeat/cancel", "Cancel")) close(shell);
    if (shell.message_is_error) coloured_text(ui, ui.palette->fail, shell.message);
}

void draw_ratio(Shell& shell, const Ui& ui) {
    const Document& document = shell.desk->history.now();
    ImGui::TextUnformatted("How big it is, and how big it is to be built");
    text_field(ui, "ratio/original", shell.original_size, ui.em * 10, "original");
    ImGui::SameLine();
    ImGui::TextUnformatted("becomes");
    ImGui::SameLine();
    text_field(ui, "ratio/built", shell.built_size, ui.em * 10, "built");
    const bool both = !shell.original_size.empty() && !shell.built_size.empty();
    const Result<Ratio> ratio =
        ratio_from_typed(shell.original_size, shell.built_size, document.settings->units);
    if (both && ratio.ok()) {
        quiet_text(ui, fmt::format("{:.5g}:1, built over original", ratio->value));
        if (button(ui, "ratio/apply", "Use it") &&
            do_edit(shell, set_ratio(document, shell.desk->selected, *ratio)))
            return close(shell);
        ImGui::SameLine();
    } else if (both) {
        coloured_text(ui, ui.palette->fail, one_line(ratio.error()));
        tag_item(ui, "ratio/problem");
    } else {
        quiet_text(ui, "Any unit: 150, 15 cm, 5' 3\".");
    }
    if (button(ui, "ratio/cancel", "Cancel")) close(shell);
}

void draw_keys(Shell& shell, const Ui& ui) {
    ImGui::BeginChild("keys", {ui.em * 46, ui.em * 26}, false);
    for (const char* menu : {"File", "Edit", "Place", "View", "Check", "Help"}) {
        heading(ui, menu);
        for (const ActionEntry& entry : all_actions()) {
            if (std::string_view(entry.menu) != menu || !*entry.keys) continue;
            ImGui::TextUnformatted(entry.keys);
            ImGui::SameLine(ui.em * 10);
            ImGui::TextUnformatted(entry.label);
            ImGui::SameLine(ui.em * 24);
            quiet_text(ui, entry.tip);
        }
    }
    heading(ui, "Pointer in a view");
    constexpr const char* lines[][2] = {
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
    for (const auto& line : lines) {
        ImGui::TextUnformatted(line[0]);
        ImGui::SameLine(ui.em * 12);
        quiet_text(ui, line[1]);
    }
    ImGui::EndChild();
    if (button(ui, "keys/close", "Close")) close(shell);
}

void draw_settings(Shell& shell, const Ui& ui) {
    WindowSettings& settings = shell.settings;
    if (ImGui::Checkbox("Dark", &settings.dark)) shell.font_changed = true;
    tag_item(ui, "settings/dark");
    float scale = static_cast<float>(settings.text_scale) * 100;
    ImGui::SetNextItemWidth(ui.em * 12);
    ImGui::SliderFloat("Text size", &scale, 75, 300, "%.0f %%");
    tag_item(ui, "settings/text");
    // While the slider is held the page would jump under the pointer.
    if (ImGui::IsItemDeactivatedAfterEdit()) {
        settings.text_scale = static_cast<double>(scale) / 100;
        shell.font_changed = true;
    }
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
    ImGui::TextUnformatted("Snap to");
    for (std::size_t i = 0; i < settings.snap_kinds.size(); ++i) {
        ImGui::SameLine();
        ImGui::Checkbox(snap_kind_names[i], &settings.snap_kinds[i]);
        tag_item(ui, fmt::format("settings/snap{}", i));
    }
    if (button(ui, "settings/close", "Close")) close(shell);
}

struct DialogPage {
    Dialog dialog;
    const char* title;
    void (*draw)(Shell&, const Ui&);
};

constexpr DialogPage pages[] = {
    {Dialog::open, "Open a scene", draw_browser},
    {Dialog::save_as, "Save the scene as", draw_browser},
    {Dialog::bring_in, "Bring in a model", draw_browser},
    {Dialog::sheets, "Make the sheets", draw_sheets},
    {Dialog::ask_unsaved, "Unsaved work", draw_unsaved},
    {Dialog::recover, "Left unsaved", draw_recover},
    {Dialog::keys, "Keys", draw_keys},
    {Dialog::settings, "Settings", draw_settings},
    {Dialog::repeat, "Repeat along a line", draw_repeat},
    {Dialog::ratio, "Ratio from two sizes", draw_ratio},
};

} // namespace

void draw_dialogs(Shell& shell, const Ui& ui) {
    for (const DialogPage& page : pages) {
        if (page.dialog != shell.dialog) continue;
        if (shell.dialog_opens) {
            shell.dialog_opens = false;
            prepare(shell);
            ImGui::OpenPopup(page.title);
        }
        const ImVec2 size = ImGui::GetIO().DisplaySize;
        ImGui::SetNextWindowPos({size.x / 2, size.y / 2}, ImGuiCond_Appearing, {0.5f, 0.5f});
        ImGui::SetNextWindowSizeConstraints({ui.em * 20, 0}, {size.x * 0.95f, size.y * 0.95f});
        if (ImGui::BeginPopupModal(page.title, nullptr, ImGuiWindowFlags_AlwaysAutoResize)) {
            if (ImGui::IsKeyPressed(256)) {
                shell.after = After::nothing;
                close(shell);
            } else {
                page.draw(shell, ui);
            }
            ImGui::EndPopup();
        } else if (!shell.dialog_opens && !ImGui::IsPopupOpen(page.title)) {
            shell.dialog = Dialog::none;
        }
        return;
    }
}

} // namespace standpoint
