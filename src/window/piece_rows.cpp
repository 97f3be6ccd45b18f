// Labels, fields and folds of the panel about a piece.
#include "window/piece_rows.h"

#include <cmath>
#include <cstdio>

#include <fmt/format.h>
#include <imgui.h>

#include "measure/steps.h"
#include "window/answers.h"

namespace standpoint {

namespace {

bool is_wrong(const Shell& shell, const char* name) {
    return shell.panels.wrong.name == name;
}

} // namespace

std::string length_shown(const Document& document, double mm) {
    constexpr double step = 0.1;
    LengthStyle style;
    style.system = document.settings->units;
    style.inch_denominator = document.settings->inch_denominator;
    const double shown = from_steps(steps_of(mm, step), step);
    style.metric_step_mm = shown == std::round(shown) ? 1 : step; // "2000 mm", "2000.5 mm"
    return print_length(mm, style);
}

void row_label(const Ui& ui, const char* text) {
    constexpr float label_ems = 6, narrow_ems = 11;
    const bool beside = ImGui::GetContentRegionAvail().x >= narrow_ems * ui.em;
    if (beside) ImGui::AlignTextToFramePadding();
    quiet_text(ui, text);
    if (beside) ImGui::SameLine(label_ems * ui.em);
}

std::optional<std::string> typed_row(Shell& shell, const Ui& ui, const FieldRow& row) {
    if (*row.label) row_label(ui, row.label);
    const bool wrong = is_wrong(shell, row.name);
    std::string typed = wrong ? shell.panels.wrong.text : row.shown;
    const bool left = text_field(ui, row.name, typed, row.width, row.hint);
    if (!row.tip.empty() && !wrong && !ImGui::IsItemActive()) tip(row.tip);
    if (left && typed == row.shown) shell.panels.wrong = {};
    if (wrong) coloured_text(ui, ui.palette->fail, shell.panels.wrong.message);
    if (!left || typed == row.shown) return std::nullopt;
    return typed;
}

void refuse(Shell& shell, const char* name, const std::string& typed, const Error& error) {
    say_error(shell, error);
    WrongField& wrong = shell.panels.wrong;
    wrong = {name, typed, shell.message, 0, {}};
    if (!shell.desk) return;
    wrong.revision = shell.desk->revision;
    wrong.picked = shell.desk->selected;
}

bool take_typed(Shell& shell, const char* name, const std::string& typed,
                const Result<Edit>& edit) {
    if (do_edit(shell, edit)) {
        shell.panels.wrong = {};
        return true;
    }
    shell.panels.wrong = {name, typed, shell.message, shell.desk->revision, shell.desk->selected};
    return false;
}

namespace {

std::string part_name(const Piece& piece, std::size_t part) {
    const std::string& name = piece.parts[part].name;
    return name.empty() ? fmt::format("Part {}", part + 1) : name;
}

} // namespace

void part_row(Shell& shell, const Ui& ui, const Piece& piece, const char* name, const char* all) {
    std::optional<std::size_t>& chosen = shell.panels.facts.part;
    row_label(ui, "Part");
    ImGui::SetNextItemWidth(-1);
    const std::string now = chosen   ? part_name(piece, *chosen)
                            : *all   ? fmt::format("all {}", piece.parts.size())
                                     : part_name(piece, 0);
    const bool open = ImGui::BeginCombo(fmt::format("##{}", name).c_str(), now.c_str());
    tag_item(ui, name);
    if (!open) return;
    if (*all && ImGui::Selectable(all, !chosen)) chosen.reset();
    if (*all) tag_item(ui, "part/all");
    for (std::size_t i = 0; i < piece.parts.size(); ++i) {
        ImGui::PushID(static_cast<int>(i));
        if (ImGui::Selectable(part_name(piece, i).c_str(), chosen == i)) chosen = i;
        ImGui::PopID();
        tag_item(ui, fmt::format("part/{}", i));
    }
    ImGui::EndCombo();
}

void paint_swatch(const Ui& ui, const char* name, const std::string& colour) {
    unsigned rgb = 0;
    if (colour.size() != 7 || std::sscanf(colour.c_str(), "#%06x", &rgb) != 1) return;
    const TaggedRect& field = ui.tags->find(std::string_view(name))->second;
    const float inset = ui.em * 0.25f, side = field.high.y - field.low.y - 2 * inset;
    const ImVec2 high = {field.high.x - inset, field.high.y - inset},
                 low = {high.x - side, high.y - side};
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddRectFilled(low, high, IM_COL32(rgb >> 16 & 255, rgb >> 8 & 255, rgb & 255, 255));
    list->AddRect(low, high, packed(ui.palette->frame));
}

bool fold(Shell& shell, const Ui& ui, const char* name, const std::string& title,
          bool open_at_first) {
    bool& open = shell.panels.folds.try_emplace(name, open_at_first).first->second;
    ImGui::SetNextItemOpen(open);
    ImGui::PushStyleColor(ImGuiCol_Text, packed(ui.palette->ink_quiet));
    ImGui::PushStyleColor(ImGuiCol_Header, packed(ui.palette->panel));
    const ImGuiTreeNodeFlags flags =
        ImGuiTreeNodeFlags_NoTreePushOnOpen | ImGuiTreeNodeFlags_SpanAvailWidth;
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding,
                        {ui.em * 0.1f, ImGui::GetStyle().FramePadding.y});
    open = ImGui::TreeNodeEx(name, flags, "%s", title.c_str());
    ImGui::PopStyleVar();
    ImGui::PopStyleColor(2);
    tag_item(ui, name);
    const ImVec2 low = ImGui::GetItemRectMin(), high = ImGui::GetItemRectMax();
    ImGui::GetWindowDrawList()->AddLine({low.x, high.y + 1}, {high.x, high.y + 1},
                                        packed(ui.palette->rule));
    return open;
}

void flow_on(const Ui& ui, const char* next_label) {
    const float gap = ui.em * 0.5f;
    const float wanted =
        ImGui::CalcTextSize(next_label).x + ImGui::GetStyle().FramePadding.x * 2 + gap;
    const float end = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    if (ImGui::GetItemRectMax().x + wanted <= end) ImGui::SameLine(0, gap);
}

namespace {

constexpr int frames_before_step = 2;

void move_slider(Shell& shell, double value, const SliderEdit& edit) {
    const Result<Edit> step = edit(value);
    if (!step.ok()) return say_error(shell, step.error());
    if (!shell.desk->history.dragging()) {
        if (step->steps.empty()) return;
        begin_drag(*shell.desk, step->label);
    }
    const Status status = update_drag(*shell.desk, *step, shell.files);
    if (!status.ok()) return say_error(shell, status.error());
    say_done(shell, step->label);
}

void let_go_of_slider(Shell& shell) {
    if (shell.desk->history.dragging()) {
        commit_drag(*shell.desk, shell.files);
        refresh_index(*shell.desk);
    }
    shell.pointer = Pointer{};
    shell.panels.slider = {};
}

} // namespace

void hold_slider(Shell& shell, const std::string& name, bool changed, double value,
                 const SliderEdit& edit) {
    HeldSlider& held = shell.panels.slider;
    if (ImGui::IsItemActivated() && shell.pointer.drag == Drag::none) {
        shell.pointer = Pointer{};
        shell.pointer.drag = Drag::slider;
        shell.pointer.view = -1;
        held = {name, 0, std::nullopt, std::nullopt};
    }
    if (shell.pointer.drag != Drag::slider || held.name != name) return;
    const bool active = ImGui::IsItemActive();
    if (active && (changed || held.wanted)) held.wanted = value;
    if (++held.frames > frames_before_step || !active) {
        if (held.wanted && held.wanted != held.done) move_slider(shell, *held.wanted, edit);
        held.done = held.wanted;
    }
    if (!active) let_go_of_slider(shell);
}

void tidy_panel(Shell& shell) {
    const bool gone =
        shell.pointer.drag == Drag::slider && !ImGui::IsMouseDown(0) && !ImGui::IsAnyItemActive();
    if (gone) let_go_of_slider(shell);
    WrongField& wrong = shell.panels.wrong;
    if (wrong.revision != shell.desk->revision || wrong.picked != shell.desk->selected) wrong = {};
}

} // namespace standpoint
