// The panel while nothing is picked: what the scene is beside its pieces.
#include <algorithm>

#include <fmt/format.h>
#include <imgui.h>

#include "check/rules.h"
#include "desk/scene_fields.h"
#include "desk/typed.h"
#include "window/answers.h"
#include "window/piece_rows.h"
#include "window/scene_panel.h"

namespace standpoint {

namespace {

constexpr const char* title_tips[] = {
    "Of the scene; on every sheet.", "The drawing's number.",
    "Of the drawing: A, B, ...",     "As 2026-11-25.",
    "Who drew the sheets.",          "Whose property the drawing is.",
    "Goes onto the sheets."};

void title_rows(Shell& shell, const Ui& ui) {
    for (int i = 0; i < static_cast<int>(std::size(title_line_names)); ++i) {
        const auto line = static_cast<TitleLine>(i);
        const std::string name = fmt::format("scene/title/{}", i);
        const auto typed = typed_row(shell, ui,
                                     {title_line_names[i], name.c_str(),
                                      title_line(*shell.desk->history.now().settings, line),
                                      title_tips[i], "none"});
        if (typed)
            take_typed(shell, name.c_str(), *typed,
                       set_title_line(shell.desk->history.now(), line, *typed));
    }
}

void ratio_row(Shell& shell, const Ui& ui, SceneRatio which) {
    const bool figures = which == SceneRatio::figures;
    const Settings& settings = *shell.desk->history.now().settings;
    const Ratio now = figures ? settings.figure_ratio : settings.setting_ratio;
    const char* name = figures ? "scene/figure-ratio" : "scene/setting-ratio";
    const auto typed = typed_row(
        shell, ui,
        {figures ? "Figures" : "Setting", name, fmt::format("{:.5g}:1", now.value),
         "Built over original: 12:1, 12, 125 %, or \"1:24 to 1:6\". Pieces without a ratio of "
         "their own follow; barriers, lamps and effects are 1:1."});
    if (!typed) return;
    const Result<Ratio> ratio = typed_ratio(*typed, now);
    if (!ratio.ok()) return refuse(shell, name, *typed, ratio.error());
    take_typed(shell, name, *typed, set_scene_ratio(shell.desk->history.now(), which, *ratio));
}

void tolerance_row(Shell& shell, const Ui& ui) {
    const Document& document = shell.desk->history.now();
    const auto& now = document.settings->placing_tolerance;
    const auto typed = typed_row(
        shell, ui,
        {"Placing", "scene/tolerance", now ? length_shown(document, now->mm) : "",
         "How far off a crew may set a piece; on the sheets and in the findings.", "as usual"});
    if (!typed) return;
    std::optional<Length> tolerance;
    if (!typed->empty()) {
        const auto value = typed_length(*typed, now.value_or(Length(0)), document.settings->units);
        if (!value.ok()) return refuse(shell, "scene/tolerance", *typed, value.error());
        tolerance = *value;
    }
    take_typed(shell, "scene/tolerance", *typed, set_placing_tolerance(document, tolerance));
}

void unit_row(Shell& shell, const Ui& ui) {
    row_label(ui, "Units");
    int units = static_cast<int>(shell.desk->history.now().settings->units);
    ImGui::SetNextItemWidth(-1);
    if (ImGui::Combo("##units", &units, "millimetres\0feet and inches\0"))
        do_edit(shell, set_units(shell.desk->history.now(), static_cast<UnitSystem>(units)));
    tag_item(ui, "scene/units");
}

void length_row(Shell& shell, const Ui& ui, const char* label, const char* name, double now,
                const char* about, Result<Edit> (*set)(const Document&, const Length&)) {
    const Document& document = shell.desk->history.now();
    const auto typed = typed_row(shell, ui, {label, name, length_shown(document, now), about});
    if (!typed) return;
    const auto value = typed_length(*typed, Length(now), document.settings->units);
    if (!value.ok()) return refuse(shell, name, *typed, value.error());
    take_typed(shell, name, *typed, set(document, *value));
}

void rule_rows(Shell& shell, const Ui& ui) {
    const auto used = shell.desk->history.now().rules->use;
    for (const std::string& id : preset_ids()) {
        bool use = std::find(used.begin(), used.end(), id) != used.end();
        if (ImGui::Checkbox(id.c_str(), &use))
            do_edit(shell, use_rules(shell.desk->history.now(), id, use));
        tag_item(ui, "rules/" + id);
        std::string about;
        for (const Rule& rule : preset(id))
            about += (about.empty() ? "" : "\n") + rule.quantity + ": " + source_line(rule);
        tip(about);
    }
    quiet_text(ui, "Local codes and a licensed designer's judgement come first.");
}

} // namespace

void draw_scene(Shell& shell, const Ui& ui) {
    const bool wide = ImGui::GetContentRegionAvail().x > ui.em * 13; // else it would be half a page
    quiet_text(ui, wide ? "Nothing is picked: this is the scene. Press on a piece to see its "
                          "numbers; hold Ctrl to pick several."
                        : "Nothing is picked: the scene.");
    if (fold(shell, ui, "fold/ratios", "Ratios and units", true)) {
        ratio_row(shell, ui, SceneRatio::setting);
        ratio_row(shell, ui, SceneRatio::figures);
        unit_row(shell, ui);
        tolerance_row(shell, ui);
    }
    if (fold(shell, ui, "fold/base", "Base", false)) draw_sections(shell, ui);
    if (fold(shell, ui, "fold/path", "Visitor path", false)) {
        length_row(shell, ui, "Wide", "scene/path-width", shell.desk->history.now().path->width.mm,
                   "Of the band visitors walk in.", set_path_width);
        draw_points(shell, ui, PointList::path);
    }
    if (fold(shell, ui, "fold/visitors", "Visitors", false)) draw_visitors(shell, ui);
    if (fold(shell, ui, "fold/hall", "Hall", false)) {
        length_row(shell, ui, "High", "scene/ceiling", shell.desk->history.now().hall->ceiling.mm,
                   "From the floor to the ceiling.", set_ceiling);
        draw_points(shell, ui, PointList::hall);
    }
    if (fold(shell, ui, "fold/references", "Reference points", false)) draw_references(shell, ui);
    if (fold(shell, ui, "fold/rules", "Rules it is checked against", false)) rule_rows(shell, ui);
    if (fold(shell, ui, "fold/title", "Title block", false)) title_rows(shell, ui);
}

} // namespace standpoint
