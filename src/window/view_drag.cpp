// Dragging pieces, the turning dot and the visitor with the pointer.
#include "window/view_drag.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <glm/trigonometric.hpp>

#include "desk/arrange.h"
#include "desk/landing.h"
#include "window/answers.h"
#include "window/overlay.h"

namespace standpoint {

namespace {

constexpr double turn_step_deg = 5; // while turning by the handle; Alt turns freely

Snapping snapping_of(const Shell& shell, const ViewCamera& camera, double a_pixel) {
    Snapping how;
    for (std::size_t i = 0; i < 5; ++i)
        how.enabled[i] = shell.settings.snap_on && shell.settings.snap_kinds[i];
    how.grid_mm = shell.settings.grid_step_mm;
    how.tolerance_mm = snap_pixels * a_pixel;
    // What comes from the library moves over what lies beneath, in every view.
    const bool lets_down = shell.pointer.drag == Drag::from_library;
    how.axes[0] = lets_down || camera.kind != ViewKind::side;
    how.axes[1] = lets_down || camera.kind != ViewKind::front;
    how.axes[2] = !lets_down && (camera.kind == ViewKind::front || camera.kind == ViewKind::side);
    const Settings& settings = *shell.desk->history.now().settings;
    how.style.system = settings.units;
    how.style.inch_denominator = settings.inch_denominator;
    return how;
}

std::string said(const Shell& shell, const glm::dvec3& by) {
    const Document& document = shell.desk->history.now();
    std::string text =
        fmt::format("{} across, {} deep", length_text(document, by.x), length_text(document, by.y));
    if (std::abs(by.z) >= 0.05) text += fmt::format(", {} up", length_text(document, by.z));
    return text;
}

glm::dvec3 origin_before(const Shell& shell) {
    const StagedPiece* lead = find_staged(*shell.pointer.staging_before, shell.pointer.ids.back());
    return lead ? lead->placement.frame.origin : *shell.pointer.grip;
}

} // namespace

View& view_of(Shell& shell, int view) {
    return shell.views[static_cast<std::size_t>(view)];
}

Segment line_at(Shell& shell, int view, const glm::ivec2& size, const glm::dvec2& pixel) {
    const View& v = view_of(shell, view);
    return line_through(v.camera, size, pixel, everything(shell), v.cut_height);
}

glm::dvec3 snapped_by(Shell& shell, const glm::ivec2& size, const glm::dvec3& by, bool free) {
    Pointer& p = shell.pointer;
    p.guides.clear();
    if (free) return by;
    const ViewCamera& camera = view_of(shell, p.view).camera;
    const Snapping how = snapping_of(shell, camera, mm_a_pixel_at(camera, size, *p.grip));
    const std::vector<SnapBody> others = snap_others(*p.staging_before, p.ids);
    Snapped snapped =
        snap(snap_moved(*p.staging_before, p.ids), origin_before(shell), by, others, how);
    p.guides = std::move(snapped.guides);
    return snapped.by;
}

bool has_followed(Pointer& p, const ViewPointer& pointer) {
    const Followed now{p.view, pointer.at, pointer.ctrl, pointer.alt};
    const bool has = p.followed == now;
    p.followed = now;
    return has;
}

void drag_pieces(Shell& shell, const glm::ivec2& size, const ViewPointer& pointer) {
    Pointer& p = shell.pointer;
    const ViewKind kind = view_of(shell, p.view).camera.kind;
    const Segment before = line_at(shell, p.view, size, p.start),
                  now = line_at(shell, p.view, size, pointer.at);
    const bool free = pointer.ctrl; // Ctrl: without snapping
    if (kind == ViewKind::front || kind == ViewKind::side) {
        const glm::dvec3 normal =
            kind == ViewKind::front ? glm::dvec3(0, 1, 0) : glm::dvec3(1, 0, 0);
        const auto by = drag_on_plane(before, now, *p.grip, normal);
        if (!by) return;
        const glm::dvec3 to = kept_above_floor(snap_moved(*p.staging_before, p.ids).box,
                                               snapped_by(shell, size, *by, free));
        p.says = said(shell, to);
        return follow_drag(shell, move_by(p.before, p.ids, to));
    }
    const auto onto =
        drag_over(p.before, *shell.desk->indexed, *shell.desk->index, p.ids, *p.grip, before, now);
    if (!onto) return;
    const glm::dvec3 origin = origin_before(shell);
    const glm::dvec3 by =
        snapped_by(shell, size, {onto->x - origin.x, onto->y - origin.y, 0}, free);
    p.says = said(shell, by);
    follow_drag(shell, drop(p.before, *shell.desk->indexed, *shell.desk->index, p.ids,
                            {origin.x + by.x, origin.y + by.y, onto->z}));
}

void drag_raise(Shell& shell, const glm::ivec2& size, const ViewPointer& pointer) {
    Pointer& p = shell.pointer;
    const double a_pixel = mm_a_pixel_at(view_of(shell, p.view).camera, size, *p.grip);
    double by = (p.start.y - pointer.at.y) * a_pixel;
    if (shell.settings.snap_on && !pointer.ctrl) by = std::round(by / 5) * 5;
    by = kept_above_floor(snap_moved(*p.staging_before, p.ids).box, {0, 0, by}).z;
    p.says = said(shell, {0, 0, by});
    follow_drag(shell, raise_by(p.before, p.ids, by));
}

void drag_turn(Shell& shell, const glm::ivec2& size, const ViewPointer& pointer) {
    Pointer& p = shell.pointer;
    const StagedPiece* lead = find_staged(*p.staging_before, p.ids.back());
    if (!lead) return;
    const glm::dvec3 pivot = lead->placement.frame.origin;
    const auto place = on_plane(line_at(shell, p.view, size, pointer.at), pivot, {0, 0, 1});
    if (!place) return;
    const glm::dvec2 to = glm::dvec2(*place) - glm::dvec2(pivot);
    if (glm::length(to) < 1) return;
    // Facing 0 looks along -Y and grows clockwise seen from above.
    const double facing = glm::degrees(std::atan2(-to.x, -to.y));
    const double was = turns_of(lead->placement.frame.rotation).facing_deg;
    double wanted = facing;
    if (!pointer.alt) wanted = std::round(facing / turn_step_deg) * turn_step_deg;
    p.says = fmt::format("facing {:.1f}\xc2\xb0", std::fmod(wanted + 720, 360.0));
    follow_drag(shell, turn_about(p.before, p.ids, pivot, wanted - was));
}

void drag_visitor(Shell& shell, const glm::ivec2& size, const ViewPointer& pointer) {
    const Path& path = *shell.desk->history.now().path;
    const auto place =
        on_plane(line_at(shell, shell.pointer.view, size, pointer.at), {0, 0, 0}, {0, 0, 1});
    if (!place) return;
    double nearest = 1e300;
    for (const Station& s : stations_of(path, 50)) {
        for (int lane = 0; lane < lane_count; ++lane) {
            const double side = (1 - lane) * path.width.mm / 3;
            const glm::dvec2 at(point_beside(path, s, side, 0));
            const double distance = glm::length(at - glm::dvec2(*place));
            if (distance >= nearest) continue;
            nearest = distance;
            shell.scrub.distance_mm = s.distance;
            shell.scrub.lane = lane;
        }
    }
    follow_visitor(shell);
}

} // namespace standpoint
