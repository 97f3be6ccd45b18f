// Dragging the visitor path.
#include "window/view_path.h"

#include <cmath>

#include <fmt/format.h>
#include <glm/geometric.hpp>
#include <imgui.h>

#include "desk/measure_tool.h"
#include "desk/scene_fields.h"
#include "window/answers.h"
#include "window/overlay.h"

namespace standpoint {

namespace {

bool shows_handles(const Shell& shell, const ViewCamera& camera) {
    return camera.kind == ViewKind::plan && shell.desk->selected.empty() &&
           shell.tool == Tool::pick;
}

glm::dvec3 place_of(const PlanPoint& point) {
    return {point.x.mm, point.y.mm, 0};
}

double on_grid(double mm, double step) {
    return std::round(mm / step) * step;
}

} // namespace

std::optional<std::size_t> path_handle(const Shell& shell, const ViewCamera& camera,
                                       const glm::ivec2& size, const glm::dvec2& at,
                                       double pixels) {
    if (!shows_handles(shell, camera)) return std::nullopt;
    std::optional<std::size_t> nearest;
    const auto& points = shell.desk->history.now().path->points;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const auto pixel = pixel_of(camera, size, place_of(points[i]));
        if (!pixel || glm::length(*pixel - at) > pixels) continue;
        pixels = glm::length(*pixel - at);
        nearest = i;
    }
    return nearest;
}

void drag_path_point(Shell& shell, const ViewCamera& camera, const glm::ivec2& size,
                     const ViewPointer& pointer) {
    Pointer& p = shell.pointer;
    const auto place = on_plane(line_through(camera, size, pointer.at, everything(shell), {}),
                                {0, 0, 0}, {0, 0, 1});
    if (!place) return;
    const bool snaps = shell.settings.snap_on && !pointer.ctrl;
    const double step = snaps ? shell.settings.grid_step_mm : 1;
    const PlanPoint to{on_grid(place->x, step), on_grid(place->y, step)};
    const Result<Edit> edit = set_point(p.before, PointList::path, p.point, to);
    if (!edit.ok()) return say_error(shell, edit.error());
    if (!shell.desk->history.dragging()) begin_drag(*shell.desk, edit->label);
    const Status status = update_drag(*shell.desk, *edit, shell.files);
    if (!status.ok()) return say_error(shell, status.error());
    const Document& document = shell.desk->history.now();
    p.says = length_text(document, to.x.mm) + ", " + length_text(document, to.y.mm);
    say_done(shell, fmt::format("Point {} of the path at {}", p.point + 1, p.says));
}

void paint_path_handles(const Shell& shell, const ViewPaint& paint) {
    if (!shows_handles(shell, paint.camera)) return;
    const float half = paint.ui->em * 0.32f;
    for (const PlanPoint& point : shell.desk->history.now().path->points) {
        glm::vec2 at;
        if (!place_on_screen(paint, place_of(point), at)) continue;
        const ImVec2 low{at.x - half, at.y - half}, high{at.x + half, at.y + half};
        paint.list->AddRectFilled(low, high, packed(paint.ui->palette->field));
        paint.list->AddRect(low, high, packed(paint.ui->palette->path), 0, 0, 1.5f);
    }
}

} // namespace standpoint
