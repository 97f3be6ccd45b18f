// What the checks say, what changed since the last full check, and how the check is getting on.
#include <fmt/format.h>
#include <imgui.h>

#include "desk/finding_changes.h"
#include "window/answers.h"
#include "window/panels.h"
#include "window/view_paint.h"

namespace standpoint {

namespace {

// What the answer is worth: beside the button with as much as has room there, or beneath it.
void beside_button(const Ui& ui, const Colour& colour, const std::string& words,
                   const std::string& more) {
    const float gap = ui.em * 0.5f;
    const float room = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x -
                       ImGui::GetItemRectMax().x - gap;
    if (text_width(words) <= room) {
        ImGui::SameLine(0, gap);
        ImGui::AlignTextToFramePadding();
        line_text(ui, colour, text_width(words + more) <= room ? words + more : words, room);
    } else {
        coloured_text(ui, colour, words + more);
    }
    tag_item(ui, "findings/state");
}

void draw_progress(Shell& shell, const Ui& ui) {
    const BackgroundProgress progress =
        shell.check ? shell.check->progress() : BackgroundProgress{};
    const Answers& answers = shell.answers;
    if (progress.running) {
        ImGui::ProgressBar(static_cast<float>(progress.share),
                           {-(button_width("Stop") + ui.em * 0.5f), 0}, progress.what.c_str());
        tag_item(ui, "findings/progress");
        ImGui::SameLine(0, ui.em * 0.5f);
        if (button(ui, "findings/stop", "Stop")) act(shell, Action::stop_check);
    } else {
        if (button(ui, "findings/check", "Check now")) act(shell, Action::check_now);
        tip("F9");
        const bool fresh = answers.outcome && answers.outcome->revision == shell.desk->revision;
        if (!answers.outcome)
            beside_button(ui, ui.palette->ink_quiet, "not checked yet", "");
        else if (!fresh)
            beside_button(ui, ui.palette->warn, "stale", ": the scene has changed");
        else if (answers.outcome->rough())
            beside_button(ui, ui.palette->warn, "rough", ", a first answer");
        else
            beside_button(ui, ui.palette->ink_quiet, "up to date",
                          fmt::format(" ({:.1f} s)", answers.outcome->seconds));
    }
}

void draw_changes(const Shell& shell, const Ui& ui) {
    const Changes& changes = shell.answers.changes;
    if (!changes.compared || (changes.better == 0 && changes.worse == 0)) return;
    heading(ui, "Since the check before:  " + changes.summary);
    const auto line = [&](bool better, const std::string& text) {
        coloured_text(ui, better ? ui.palette->good : ui.palette->fail,
                      fmt::format("{} {}", better ? "\xe2\x86\x91" : "\xe2\x86\x93", text));
    };
    for (const TargetChange& target : changes.targets)
        if (target.trend != Trend::same) line(target.trend == Trend::better, target.text);
    for (const LengthChange* length : {&changes.width, &changes.headroom})
        if (length->trend != Trend::same) line(length->trend == Trend::better, length->text);
    const Answers& answers = shell.answers;
    for (const FindingChange& finding : changes.findings) {
        const Trend trend = trend_of_finding(*answers.full_before, *answers.full, finding);
        if (trend != Trend::same) line(trend == Trend::better, finding.text);
    }
}

void draw_finding(Shell& shell, const Ui& ui, const Finding& finding, std::size_t index) {
    const float r = ui.em * 0.42f;
    ImGui::PushID(static_cast<int>(index));
    const ImVec2 low = ImGui::GetCursorScreenPos();
    const float indent = ui.em * 1.4f, width = ImGui::GetContentRegionAvail().x - indent;
    const ImVec2 text = ImGui::CalcTextSize(finding.message.c_str(), nullptr, false, width);
    if (ImGui::Selectable("##finding", shell.finding == static_cast<int>(index), 0,
                          {0, text.y + ui.em * 0.2f})) {
        shell.finding = static_cast<int>(index);
        go_to(shell, finding);
    }
    tag_item(ui, fmt::format("finding/{}", index));
    if (shell.finding == static_cast<int>(index) && shell.panels.scrolled_to != shell.finding) {
        shell.panels.scrolled_to = shell.finding; // picked by a key or in a view
        if (!ImGui::IsItemVisible()) ImGui::SetScrollHereY();
    }
    if (!finding.source.empty()) tip(finding.source);
    const char letter = finding.grade == Grade::fail   ? 'f'
                        : finding.grade == Grade::warn ? 'w'
                                                       : 'g';
    const ViewPaint paint = {&ui, ImGui::GetWindowDrawList(), {}, {1, 1}, {0, 0}};
    paint_flag(paint, {low.x + r + 2, low.y + ui.em * 0.6f}, letter, r);
    ImGui::GetWindowDrawList()->AddText(ImGui::GetFont(), ImGui::GetFontSize(),
                                        {low.x + indent, low.y}, packed(ui.palette->ink),
                                        finding.message.c_str(), nullptr, width);
    ImGui::PopID();
}

// After an edit what has got better and worse is looked for, at the top of the list.
void scroll_up_after_edits(Shell& shell) {
    if (shell.desk->history.dragging() || shell.panels.findings_of == shell.desk->revision) return;
    shell.panels.findings_of = shell.desk->revision;
    ImGui::SetScrollY(0);
}

} // namespace

void draw_findings(Shell& shell, const Ui& ui) {
    scroll_up_after_edits(shell);
    draw_progress(shell, ui);
    const auto outcome = shell.answers.outcome;
    if (!outcome) return;
    if (outcome->error) return coloured_text(ui, ui.palette->fail, one_line(*outcome->error));
    if (!outcome->results) return;
    draw_changes(shell, ui);
    const auto& findings = outcome->results->findings;
    int count[3] = {};
    for (const Finding& finding : findings)
        ++count[static_cast<int>(finding.grade)];
    // Before the sights are in, nothing to put right would be a promise.
    const char* so_far = outcome->rough() ? "So far " : "";
    heading(ui, fmt::format("{}{} to put right, {} to look at, {} to know", so_far, count[0],
                            count[1], count[2]));
    if (shell.finding < 0) shell.panels.scrolled_to = -1;
    for (std::size_t i = 0; i < findings.size(); ++i)
        draw_finding(shell, ui, findings[i], i);
    heading(ui, "Cautions");
    for (const std::string& caution : cautions())
        quiet_text(ui, caution);
}

} // namespace standpoint
