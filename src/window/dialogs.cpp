// The dialogs: unsaved work, recovery, sheets, repeat, ratio; and what holds every dialog.
#include <algorithm>

#include <fmt/format.h>
#include <imgui.h>

#include "check/run.h"
#include "desk/arrange.h"
#include "desk/make_files.h"
#include "desk/piece_fields.h"
#include "desk/typed.h"
#include "window/answers.h"
#include "window/dialogs.h"
#include "window/panels.h"

namespace standpoint {

namespace {

constexpr float most_of_screen = 0.95f;

void words(const Ui& ui, const std::string& text) {
    coloured_text(ui, ui.palette->ink, text);
}

// Beside the scene, named after it: two scenes of one folder keep theirs apart.
std::string folder_for_sheets(const std::string& file) {
    if (file.empty()) return "./sheets";
    const std::size_t slash = file.rfind('/');
    const std::string name = file.substr(slash + 1);
    return file.substr(0, slash + 1) + name.substr(0, name.find('.')) + "-sheets";
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
            shell.sheets_folder = folder_for_sheets(shell.desk->file);
        break;
    default:
        break;
    }
}

void draw_unsaved(Shell& shell, const Ui& ui) {
    words(ui, "This scene has changes that are not saved.");
    if (button(ui, "unsaved/save", "Save")) {
        close_dialog(shell);
        if (save_now(shell)) do_after(shell);
        return;
    }
    ImGui::SameLine();
    if (button(ui, "unsaved/discard", "Do not save")) {
        close_dialog(shell);
        return do_after(shell);
    }
    ImGui::SameLine();
    if (button(ui, "unsaved/cancel", "Cancel")) {
        shell.after = After::nothing;
        close_dialog(shell);
    }
}

void draw_recover(Shell& shell, const Ui& ui) {
    words(ui, "The program ended before these were saved:");
    for (std::size_t i = 0; i < shell.left_behind.size(); ++i) {
        const Recovery left = shell.left_behind[i];
        ImGui::PushID(static_cast<int>(i));
        ImGui::Separator();
        words(ui, left.readable() ? (left.title.empty() ? "A scene" : left.title) : "Unreadable");
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
    if (shell.left_behind.empty() || button(ui, "recover/later", "Later")) close_dialog(shell);
}

void draw_sheets(Shell& shell, const Ui& ui) {
    words(ui, "Folder for sheets.pdf and placements.csv");
    text_field(ui, "sheets/folder", shell.sheets_folder, -1);
    for (const std::string& caution : cautions())
        quiet_text(ui, caution);
    for (const std::string& file : shell.made_files) {
        if (button(ui, ("sheets/open" + file).c_str(), "Open")) shell.open_outside = file;
        ImGui::SameLine();
        ImGui::AlignTextToFramePadding();
        quiet_text(ui, shortened_front(file, ImGui::GetContentRegionAvail().x));
        tip(file);
    }
    if (button(ui, "sheets/make", "Make them", !shell.job)) {
        const auto& full = shell.answers.full;
        const bool checked = full && full->revision == shell.desk->revision;
        shell.job = std::make_unique<BackgroundJob>(
            "sheets", checked ? sheets_job(full, shell.sheets_folder)
                              : sheets_job(shell.desk->history.now(), shell.desk->file,
                                           shell.sheets_folder));
        say_done(shell, "Making the sheets ...");
        return close_dialog(shell);
    }
    ImGui::SameLine();
    if (button(ui, "sheets/close", "Close")) close_dialog(shell);
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
        if (do_edit(shell, copied->edit)) close_dialog(shell);
    };
    if (button(ui, "repeat/across", "Across")) go({1, 0});
    ImGui::SameLine();
    if (button(ui, "repeat/deep", "Deep")) go({0, 1});
    ImGui::SameLine();
    if (button(ui, "repeat/cancel", "Cancel")) close_dialog(shell);
    if (shell.message_is_error) coloured_text(ui, ui.palette->fail, shell.message);
}

void draw_ratio(Shell& shell, const Ui& ui) {
    const Document& document = shell.desk->history.now();
    words(ui, "How big it is, and how big it is to be built");
    const float gap = ui.em * 0.5f, becomes = text_width("becomes") + 2 * gap;
    const float field = (ImGui::GetContentRegionAvail().x - becomes) / 2;
    text_field(ui, "ratio/original", shell.original_size, field, "original");
    ImGui::SameLine(0, gap);
    ImGui::TextUnformatted("becomes");
    ImGui::SameLine(0, gap);
    text_field(ui, "ratio/built", shell.built_size, field, "built");
    const bool both = !shell.original_size.empty() && !shell.built_size.empty();
    const Result<Ratio> ratio =
        ratio_from_typed(shell.original_size, shell.built_size, document.settings->units);
    if (both && ratio.ok()) {
        quiet_text(ui, fmt::format("{:.5g}:1, built over original", ratio->value));
        if (button(ui, "ratio/apply", "Use it") &&
            do_edit(shell, set_ratio(document, shell.desk->selected, *ratio)))
            return close_dialog(shell);
        ImGui::SameLine();
    } else if (both) {
        coloured_text(ui, ui.palette->fail, one_line(ratio.error()));
        tag_item(ui, "ratio/problem");
    } else {
        quiet_text(ui, "Any unit: 150, 15 cm, 5' 3\".");
    }
    if (button(ui, "ratio/cancel", "Cancel")) close_dialog(shell);
}

struct DialogPage {
    Dialog dialog;
    const char* title;
    float width; // in ems, where the screen has so many
    void (*draw)(Shell&, const Ui&);
};

constexpr DialogPage pages[] = {
    {Dialog::open, "Open a scene", 38, draw_browser},
    {Dialog::save_as, "Save the scene as", 38, draw_browser},
    {Dialog::bring_in, "Bring in a model", 38, draw_browser},
    {Dialog::sheets, "Make the sheets", 36, draw_sheets},
    {Dialog::ask_unsaved, "Unsaved work", 26, draw_unsaved},
    {Dialog::recover, "Left unsaved", 34, draw_recover},
    {Dialog::keys, "Keys", 52, draw_keys},
    {Dialog::settings, "Settings", 28, draw_settings},
    {Dialog::repeat, "Repeat along a line", 26, draw_repeat},
    {Dialog::ratio, "Ratio from two sizes", 28, draw_ratio},
};

// A dialog that grew stays where it is, as far as the screen goes.
void keep_on_screen() {
    const ImVec2 screen = ImGui::GetIO().DisplaySize, size = ImGui::GetWindowSize(),
                 at = ImGui::GetWindowPos();
    const ImVec2 kept = {std::clamp(at.x, 0.0f, std::max(0.0f, screen.x - size.x)),
                         std::clamp(at.y, 0.0f, std::max(0.0f, screen.y - size.y))};
    if (kept.x != at.x || kept.y != at.y) ImGui::SetWindowPos(kept);
}

} // namespace

void close_dialog(Shell& shell) {
    shell.dialog = Dialog::none;
    ImGui::CloseCurrentPopup();
}

float list_height(const Ui& ui, float wanted, int other_lines) {
    const float line = ImGui::GetFrameHeightWithSpacing();
    const float others = line * static_cast<float>(other_lines) + ui.em;
    const float most = ImGui::GetIO().DisplaySize.y * most_of_screen - others;
    return std::clamp(most, std::min(wanted, line * 3), wanted);
}

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
        // As high as what is in it; where the screen has not so much, it scrolls.
        ImGui::SetNextWindowSize({std::min(ui.em * page.width, size.x * most_of_screen), 0});
        ImGui::SetNextWindowSizeConstraints({0, 0}, {size.x, size.y * most_of_screen});
        constexpr ImGuiWindowFlags flags =
            ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoSavedSettings;
        if (ImGui::BeginPopupModal(page.title, nullptr, flags)) {
            keep_on_screen();
            tag_panel(ui, "panel/dialog");
            if (ImGui::IsKeyPressed(256)) {
                shell.after = After::nothing;
                close_dialog(shell);
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
