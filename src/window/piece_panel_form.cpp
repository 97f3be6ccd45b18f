// The sizes of a primitive, each as the original has it and as it is built.
#include <fmt/format.h>
#include <imgui.h>

#include "desk/form_fields.h"
#include "desk/typed.h"
#include "measure/steps.h"
#include "window/answers.h"
#include "window/overlay.h"
#include "window/piece_rows.h"

namespace standpoint {

namespace {

constexpr double built_step = 1e-4; // of the original that follows from a built size, mm
constexpr int most_count = 1000;

struct FormPanel {
    Shell& shell;
    const Ui& ui;
    const Piece& piece;
    std::size_t part = 0;
    float label = 0, field = 0; // widths, pixels
};

void label_of(const FormPanel& panel, const FormRow& row) {
    ImGui::AlignTextToFramePadding();
    const float left = ImGui::GetCursorPosX();
    quiet_text(panel.ui, shortened(row.label, panel.label - panel.ui.em * 0.4f));
    tip(row.label);
    ImGui::SameLine(left + panel.label);
}

void original_field(const FormPanel& panel, const FormRow& row) {
    Shell& shell = panel.shell;
    const Document& document = shell.desk->history.now();
    const std::string name = "form/" + row.key;
    const auto typed =
        typed_row(shell, panel.ui,
                  {"", name.c_str(), length_shown(document, row.value),
                   row.label + " of the original. Any unit; +5 adds, - 5 takes away, *2 doubles.",
                   "", panel.field});
    if (!typed) return;
    const auto value = typed_length(*typed, Length(row.value), document.settings->units);
    if (!value.ok()) return refuse(shell, name.c_str(), *typed, value.error());
    take_typed(shell, name.c_str(), *typed,
               set_form_length(document, panel.piece.id, panel.part, row.key, *value));
}

void built_field(const FormPanel& panel, const FormRow& row) {
    Shell& shell = panel.shell;
    const Document& document = shell.desk->history.now();
    const double ratio = ratio_of(document, panel.piece);
    const std::string name = "form/" + row.key + "/built";
    const auto typed = typed_row(shell, panel.ui,
                                 {"", name.c_str(), length_shown(document, row.value * ratio),
                                  row.label + " as built. The original follows by the ratio.", "",
                                  panel.field});
    if (!typed) return;
    const auto value = typed_length(*typed, Length(row.value * ratio), document.settings->units);
    if (!value.ok()) return refuse(shell, name.c_str(), *typed, value.error());
    const double original = from_steps(steps_of(value->mm / ratio, built_step), built_step);
    take_typed(shell, name.c_str(), *typed,
               set_form_length(document, panel.piece.id, panel.part, row.key, Length(original)));
}

void count_field(const FormPanel& panel, const FormRow& row) {
    Shell& shell = panel.shell;
    const std::string name = "form/" + row.key;
    const auto typed =
        typed_row(shell, panel.ui,
                  {"", name.c_str(), fmt::format("{:.0f}", row.value), row.label, "", panel.field});
    if (!typed) return;
    const Result<int> value = typed_count(*typed, 1, most_count);
    if (!value.ok()) return refuse(shell, name.c_str(), *typed, value.error());
    take_typed(shell, name.c_str(), *typed,
               set_form_count(shell.desk->history.now(), panel.piece.id, panel.part, row.key,
                              *value));
}

void item_buttons(const FormPanel& panel, const std::string& item) {
    Shell& shell = panel.shell;
    const std::string more = "Add " + std::string(item == "opening" ? "an " : "a ") + item;
    if (button(panel.ui, "form/add", more.c_str()))
        do_edit(shell, add_form_item(shell.desk->history.now(), panel.piece.id, panel.part));
    flow_on(panel.ui, "Take the last away");
    if (button(panel.ui, "form/drop", "Take the last away"))
        do_edit(shell, drop_form_item(shell.desk->history.now(), panel.piece.id, panel.part));
}

} // namespace

bool has_form_rows(const Piece& piece) {
    for (const Part& part : piece.parts)
        if (!form_rows(part.form).empty()) return true;
    return false;
}

void draw_form(Shell& shell, const Ui& ui, const Piece& piece) {
    FormPanel panel{shell, ui, piece};
    if (piece.parts.size() > 1) part_row(shell, ui, piece, "form/part", "");
    panel.part = shell.panels.facts.part.value_or(0);
    const Form& form = piece.parts[panel.part].form;
    const std::vector<FormRow> rows = form_rows(form);
    if (rows.empty()) {
        quiet_text(ui, "This part is a model or a figure; its size follows from the ratio.");
        return;
    }
    const float room = ImGui::GetContentRegionAvail().x, gap = ImGui::GetStyle().ItemSpacing.x;
    const bool enlarged = ratio_of(shell.desk->history.now(), piece) != 1;
    panel.label = room * 0.43f;
    panel.field = enlarged ? (room - panel.label - gap) / 2 : room - panel.label;
    const float left = ImGui::GetCursorPosX();
    if (enlarged) {
        ImGui::SetCursorPosX(left + panel.label);
        quiet_text(ui, "original");
        ImGui::SameLine(left + panel.label + panel.field + gap);
        quiet_text(ui, "built");
    }
    const std::string item = form_item(form);
    for (const FormRow& row : rows) {
        label_of(panel, row);
        if (row.count) {
            count_field(panel, row);
            continue;
        }
        original_field(panel, row);
        if (!enlarged) continue;
        ImGui::SameLine(left + panel.label + panel.field + gap);
        built_field(panel, row);
    }
    if (!item.empty()) item_buttons(panel, item);
}

} // namespace standpoint
