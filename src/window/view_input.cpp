// The pointer in a view, turned into picks, drags and cameras.
#include "window/view_input.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <glm/trigonometric.hpp>

#include "desk/arrange.h"
#include "desk/drop.h"
#include "desk/measure_tool.h"
#include "desk/pick.h"
#include "desk/view.h"
#include "window/actions.h"
#include "window/answers.h"
#include "window/overlay.h"
#include "window/view_path.h"

namespace standpoint {

namespace {

constexpr double drag_starts_at = 4; // pixels: less is a slip of the hand
constexpr double snap_pixels = 8;
constexpr double pick_pixels = 12;  // for handles and the visitor's mark
constexpr double turn_step_deg = 5; // while turning by the handle; Alt turns freely

View& view_of(Shell& shell, int view) {
    return shell.views[static_cast<std::size_t>(view)];
}

Segment line_at(Shell& shell, int view, const glm::ivec2& size, const glm::dvec2& pixel) {
    const View& v = view_of(shell, view);
    return line_through(v.camera, size, pixel, everything(shell), v.cut_height);
}

bool near_point(Shell& shell, int view, const glm::ivec2& size, const glm::dvec3& point,
                const glm::dvec2& at) {
    const auto pixel = pixel_of(view_of(shell, view).camera, size, point);
    return pixel && glm::length(*pixel - at) <= pick_pixels;
}

Snapping snapping_of(const Shell& shell, const ViewCamera& camera, double a_pixel) {
    Snapping how;
    for (std::size_t i = 0; i < 5; ++i)
        how.enabled[i] = shell.settings.snap_on && shell.settings.snap_kinds[i];
    how.grid_mm = shell.settings.grid_step_mm;
    how.tolerance_mm = snap_pixels * a_pixel;
    how.axes[0] = camera.kind != ViewKind::side;
    how.axes[1] = camera.kind != ViewKind::front;
    how.axes[2] = camera.kind == ViewKind::front || camera.kind == ViewKind::side;
    const Settings& settings = *shell.desk->history.now().settings;
    how.style.system = settings.units;
    how.style.inch_denominator = settings.inch_denominator;
    return how;
}

void apply_drag(Shell& shell, const Result<Edit>& edit) {
    if (!edit.ok()) return say_error(shell, edit.error());
    const Status status = update_drag(*shell.desk, *edit, shell.files);
    if (!status.ok()) say_error(shell, status.error());
}

// -- what begins --

void begin_pieces(Shell& shell, Drag drag, const std::string& label) {
    Pointer& p = shell.pointer;
    p.ids = shell.desk->selected;
    p.before = shell.desk->history.now();
    p.staging_before = shell.desk->shown;
    refresh_index(*shell.desk);
    const Status movable = check_movable(p.before, p.ids);
    if (!movable.ok()) {
        say_error(shell, movable.error());
        p.drag = Drag::none;
        return;
    }
    begin_drag(*shell.desk, label);
    p.drag = drag;
}

// Empty: none.
std::string piece_at(Shell& shell, int view, const glm::ivec2& size, const glm::dvec2& at) {
    refresh_index(*shell.desk);
    const auto picked =
        pick(*shell.desk->indexed, *shell.desk->index, line_at(shell, view, size, at));
    return picked && picked->kind == StagedKind::piece ? picked->id : "";
}

void press_left(Shell& shell, int view, const glm::ivec2& size, const ViewPointer& pointer) {
    Pointer& p = shell.pointer;
    const ViewCamera& camera = view_of(shell, view).camera;
    if (shell.tool == Tool::measure) {
        const auto point = measure_point(*shell.desk->indexed, *shell.desk->index,
                                         line_at(shell, view, size, pointer.at),
                                         snap_pixels * mm_a_pixel_at(camera, size, camera.middle));
        if (!point) return;
        if (!shell.measuring.from || shell.measuring.to)
            shell.measuring = {point->at, {}};
        else
            shell.measuring.to = point->at;
        return;
    }
    const auto handle = turning_handle(shell, camera, size);
    if (handle && near_point(shell, view, size, *handle, pointer.at)) {
        p.under = piece_at(shell, view, size, pointer.at); // a press without a drag picks it
        return begin_pieces(shell, Drag::turn,
                            "Turn " + spoken(shell.desk->history.now(), shell.desk->selected));
    }
    const auto eye = scrubbed_eye(shell);
    if (eye && camera.kind != ViewKind::eye && near_point(shell, view, size, *eye, pointer.at)) {
        p.drag = Drag::visitor;
        return;
    }
    if (const auto point = path_handle(shell, camera, size, pointer.at, pick_pixels)) {
        p.drag = Drag::path_point;
        p.point = *point;
        p.before = shell.desk->history.now();
        return;
    }
    refresh_index(*shell.desk);
    const auto picked =
        pick(*shell.desk->indexed, *shell.desk->index, line_at(shell, view, size, pointer.at));
    p.under.clear();
    p.grip = std::nullopt;
    if (picked && picked->kind == StagedKind::piece) {
        p.under = picked->id;
        p.grip = picked->at;
    }
    p.drag = Drag::pending;
}

void press(Shell& shell, int view, const glm::ivec2& size, const ViewPointer& pointer) {
    shell.active_view = view;
    shell.pointer = Pointer{};
    shell.pointer.view = view;
    shell.pointer.start = pointer.at;
    if (pointer.pressed[0] && !pointer.space) return press_left(shell, view, size, pointer);
    const bool turns = pointer.pressed[1] && view_of(shell, view).camera.kind == ViewKind::round;
    shell.pointer.drag = turns ? Drag::orbit : Drag::pan;
}

// The button went down on something and has now moved far enough to be a drag.
void begin_pending(Shell& shell, const ViewPointer& pointer) {
    Pointer& p = shell.pointer;
    if (p.under.empty()) {
        p.drag = Drag::rectangle;
        return;
    }
    if (!is_selected(*shell.desk, p.under)) {
        if (pointer.shift || pointer.ctrl)
            select_toggle(*shell.desk, p.under);
        else
            select_only(*shell.desk, p.under);
    }
    const std::string what = spoken(shell.desk->history.now(), shell.desk->selected);
    const ViewKind kind = shell.views[static_cast<std::size_t>(p.view)].camera.kind;
    const bool raises = pointer.alt && kind != ViewKind::plan;
    begin_pieces(shell, raises ? Drag::raise : Drag::pieces, (raises ? "Raise " : "Move ") + what);
}

// -- what goes on --

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

// Plan and round: over what lies beneath. Front and side: within the drawing's own plane.
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
        const glm::dvec3 to = snapped_by(shell, size, *by, free);
        p.says = said(shell, to);
        return apply_drag(shell, move_by(p.before, p.ids, to));
    }
    const auto onto =
        drag_over(p.before, *shell.desk->indexed, *shell.desk->index, p.ids, *p.grip, before, now);
    if (!onto) return;
    const glm::dvec3 origin = origin_before(shell);
    const glm::dvec3 by =
        snapped_by(shell, size, {onto->x - origin.x, onto->y - origin.y, 0}, free);
    p.says = said(shell, by);
    apply_drag(shell, drop(p.before, *shell.desk->indexed, *shell.desk->index, p.ids,
                           {origin.x + by.x, origin.y + by.y, onto->z}));
}

void drag_raise(Shell& shell, const glm::ivec2& size, const ViewPointer& pointer) {
    Pointer& p = shell.pointer;
    const double a_pixel = mm_a_pixel_at(view_of(shell, p.view).camera, size, *p.grip);
    double by = (p.start.y - pointer.at.y) * a_pixel;
    if (shell.settings.snap_on && !pointer.ctrl) by = std::round(by / 5) * 5;
    p.says = said(shell, {0, 0, by});
    apply_drag(shell, raise_by(p.before, p.ids, by));
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
    apply_drag(shell, turn_about(p.before, p.ids, pivot, wanted - was));
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

void drag_on(Shell& shell, int view, const glm::ivec2& size, const ViewPointer& pointer) {
    Pointer& p = shell.pointer;
    ViewCamera& camera = view_of(shell, view).camera;
    const glm::dvec2 moved = pointer.at - p.start;
    switch (p.drag) {
    case Drag::pending:
        if (glm::length(moved) >= drag_starts_at) begin_pending(shell, pointer);
        break;
    case Drag::pan:
        camera = panned(camera, size, moved);
        p.start = pointer.at;
        break;
    case Drag::orbit:
        camera = orbited(camera, moved);
        p.start = pointer.at;
        break;
    case Drag::pieces:
        drag_pieces(shell, size, pointer);
        break;
    case Drag::raise:
        drag_raise(shell, size, pointer);
        break;
    case Drag::turn:
        drag_turn(shell, size, pointer);
        break;
    case Drag::visitor:
        drag_visitor(shell, size, pointer);
        break;
    case Drag::path_point:
        if (shell.desk->history.dragging() || glm::length(moved) >= drag_starts_at)
            drag_path_point(shell, camera, size, pointer);
        break;
    default:
        break;
    }
}

// -- what ends --

void click(Shell& shell, const ViewPointer& pointer) {
    const std::string id = shell.pointer.under;
    if (pointer.ctrl || pointer.shift) {
        if (!id.empty()) select_toggle(*shell.desk, id);
    } else {
        select_only(*shell.desk, id);
    }
}

void end_rectangle(Shell& shell, int view, const glm::ivec2& size, const ViewPointer& pointer) {
    const glm::dvec2 from = shell.pointer.start;
    // To the right: what is wholly inside; to the left: what is touched.
    const Inside how = pointer.at.x >= from.x ? Inside::wholly : Inside::touching;
    if (!pointer.ctrl && !pointer.shift) shell.desk->selected.clear();
    for (const std::string& id : pick_inside(*shell.desk->shown, view_of(shell, view).camera, size,
                                             from, pointer.at, how)) {
        const Piece* piece = find_piece(shell.desk->history.now(), id);
        if (piece && !piece->locked && !is_selected(*shell.desk, id))
            select_toggle(*shell.desk, id);
    }
}

void release(Shell& shell, int view, const glm::ivec2& size, const ViewPointer& pointer) {
    Pointer& p = shell.pointer;
    switch (p.drag) {
    case Drag::pending:
        click(shell, pointer);
        break;
    case Drag::rectangle:
        end_rectangle(shell, view, size, pointer);
        break;
    case Drag::pieces:
    case Drag::raise:
    case Drag::turn:
        commit_drag(*shell.desk);
        refresh_index(*shell.desk);
        if (p.drag == Drag::turn && !p.under.empty() &&
            glm::length(pointer.at - p.start) < drag_starts_at)
            click(shell, pointer);
        break;
    case Drag::path_point:
        if (shell.desk->history.dragging()) commit_drag(*shell.desk);
        break;
    default:
        break;
    }
    shell.pointer = Pointer{};
}

void hover(Shell& shell, int view, const glm::ivec2& size, const ViewPointer& pointer) {
    if (pointer.inside) shell.over = piece_at(shell, view, size, pointer.at);
}

} // namespace

bool cancel_pointer(Shell& shell) {
    const Drag drag = shell.pointer.drag;
    if (drag == Drag::none) return false;
    if (shell.desk && shell.desk->history.dragging()) cancel_drag(*shell.desk, shell.files);
    shell.pointer = Pointer{};
    return true;
}

void handle_view(Shell& shell, int view, const glm::ivec2& size, const ViewPointer& pointer) {
    Pointer& p = shell.pointer;
    if (p.drag == Drag::none) {
        const bool any = pointer.pressed[0] || pointer.pressed[1] || pointer.pressed[2];
        if (pointer.twice && !shell.desk->selected.empty()) {
            act(shell, Action::frame_picked);
            return;
        }
        if (any)
            press(shell, view, size, pointer);
        else
            hover(shell, view, size, pointer);
    } else if (p.view == view) {
        const bool held = pointer.held[0] || pointer.held[1] || pointer.held[2];
        drag_on(shell, view, size, pointer);
        if (!held) release(shell, view, size, pointer);
    }
    if (pointer.wheel != 0 && p.drag == Drag::none) {
        ViewCamera& camera = view_of(shell, view).camera;
        camera = zoomed(camera, size, pointer.at, std::pow(1.2, pointer.wheel));
    }
}

std::optional<glm::dvec3> beneath(Shell& shell, const glm::dvec2& at) {
    const int count = shell.settings.view_count;
    for (int i = 0; i < most_views; ++i) {
        if (count == 1 ? i != shell.active_view : i >= count) continue; // not shown
        const View& view = view_of(shell, i);
        const glm::dvec2 low(view.low), high(view.high);
        if (at.x < low.x || at.y < low.y || at.x >= high.x || at.y >= high.y) continue;
        refresh_index(*shell.desk);
        const Segment line = line_at(shell, i, glm::ivec2(high - low), at - low);
        if (const auto picked = pick(*shell.desk->indexed, *shell.desk->index, line))
            return picked->at;
        return on_plane(line, {0, 0, 0}, {0, 0, 1});
    }
    return std::nullopt;
}

} // namespace standpoint
