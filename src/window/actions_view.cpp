// What the actions of the View and Check menus do.
#include <algorithm>

#include "window/action_kinds.h"
#include "window/answers.h"
#include "window/overlay.h"
#include "window/view_input.h"

namespace standpoint {

namespace {

void show_kind(Shell& shell, ViewKind kind) {
    View& view = shell.views[static_cast<std::size_t>(shell.active_view)];
    view.camera.kind = kind;
    shell.settings.view_kinds[static_cast<std::size_t>(shell.active_view)] = kind;
    view.placed = false;
}

void frame_box(Shell& shell, const Box& box) {
    View& view = shell.views[static_cast<std::size_t>(shell.active_view)];
    const glm::ivec2 size = glm::max(glm::ivec2(view.high - view.low), glm::ivec2(1));
    if (!box.empty()) view.camera = framed(view.camera, size, box, view.clear_top);
}

// What is picked is shown with what stands beside it.
Box with_surroundings(const Box& box) {
    if (box.empty()) return box;
    const glm::dvec3 size = box.size();
    const double margin = 0.6 * std::max({size.x, size.y, size.z});
    return {box.low - margin, box.high + margin};
}

void cut_plan(Shell& shell) {
    View& view = shell.views[static_cast<std::size_t>(shell.active_view)];
    if (view.cut_height)
        view.cut_height.reset();
    else
        view.cut_height = 1200; // above a person's waist: the height plans are cut at, a habit
}

} // namespace

void act_on_view(Shell& shell, Action action) {
    const auto views = [&](int count) { shell.settings.view_count = count; };
    const auto text = [&](double factor) {
        shell.settings.text_scale = std::clamp(shell.settings.text_scale * factor, 0.75, 3.0);
        shell.font_changed = true;
    };
    switch (action) {
    case Action::one_view:
        views(1);
        break;
    case Action::two_views:
        views(2);
        break;
    case Action::four_views:
        views(4);
        break;
    case Action::frame_all:
        frame_box(shell, everything(shell));
        break;
    case Action::frame_picked:
        frame_box(shell, with_surroundings(selection_box(shell)));
        break;
    case Action::cut_plan:
        cut_plan(shell);
        break;
    case Action::measure:
        shell.tool = shell.tool == Tool::measure ? Tool::pick : Tool::measure;
        shell.measuring = {};
        break;
    case Action::snap_on_off:
        shell.settings.snap_on = !shell.settings.snap_on;
        break;
    case Action::light_dark:
        shell.settings.dark = !shell.settings.dark;
        shell.font_changed = true;
        break;
    case Action::larger_text:
        text(1.125);
        break;
    case Action::smaller_text:
        text(1 / 1.125);
        break;
    default:
        show_kind(shell,
                  static_cast<ViewKind>(static_cast<int>(action) - static_cast<int>(Action::plan)));
        break;
    }
}

namespace {

void walk(Shell& shell, double by) {
    const double length = path_length(*document_of(shell).path);
    shell.scrub.distance_mm = std::clamp(shell.scrub.distance_mm + by, 0.0, length);
    follow_visitor(shell);
}

void next_visitor(Shell& shell) {
    const auto& visitors = *document_of(shell).visitors;
    if (visitors.empty()) return;
    std::size_t now = 0;
    for (std::size_t i = 0; i < visitors.size(); ++i)
        if (visitors[i].id == shell.scrub.visitor) now = i;
    shell.scrub.visitor = visitors[(now + 1) % visitors.size()].id;
    follow_visitor(shell);
}

void step_finding(Shell& shell, int by) {
    if (!shell.answers.outcome || !shell.answers.outcome->results) return;
    const auto& findings = shell.answers.outcome->results->findings;
    if (findings.empty()) return;
    const int count = static_cast<int>(findings.size());
    shell.finding = ((shell.finding < 0 && by < 0 ? 0 : shell.finding) + by + count) % count;
    go_to(shell, findings[static_cast<std::size_t>(shell.finding)]);
}

} // namespace

void act_on_check(Shell& shell, Action action) {
    switch (action) {
    case Action::check_now:
        shell.checked_revision = ~std::uint64_t{0};
        break;
    case Action::stop_check:
        if (shell.check) shell.check->cancel();
        break;
    case Action::next_finding:
        step_finding(shell, 1);
        break;
    case Action::previous_finding:
        step_finding(shell, -1);
        break;
    case Action::walk_on:
        walk(shell, station_step_mm);
        break;
    case Action::walk_back:
        walk(shell, -station_step_mm);
        break;
    case Action::next_lane:
        shell.scrub.lane = (shell.scrub.lane + 1) % lane_count;
        follow_visitor(shell);
        break;
    case Action::next_visitor:
        next_visitor(shell);
        break;
    default:
        break;
    }
}

} // namespace standpoint
