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
#include "window/overlay_marks.h"
#include "window/view_drag.h"
#include "window/view_path.h"

namespace standpoint {

namespace {

constexpr double drag_starts_at = 4; // pixels: less is a slip of the hand
constexpr double pick_pixels = 12;   // for handles and the visitor's mark

bool near_point(Shell& shell, int view, const glm::ivec2& size, const glm::dvec3& point,
                const glm::dvec2& at) {
    const auto pixel = pixel_of(view_of(shell, view).camera, size, point);
    return pixel && glm::length(*pixel - at) <= pick_pixels;
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
    start_drag(shell, label);
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
        if (!has_followed(p, pointer)) drag_pieces(shell, size, pointer);
        break;
    case Drag::raise:
        if (!has_followed(p, pointer)) drag_raise(shell, size, pointer);
        break;
    case Drag::turn:
        if (!has_followed(p, pointer)) drag_turn(shell, size, pointer);
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
        if (pointer.ctrl || pointer.shift || !press_mark(shell, view, size, p.start))
            click(shell, pointer);
        break;
    case Drag::rectangle:
        end_rectangle(shell, view, size, pointer);
        break;
    case Drag::pieces:
    case Drag::raise:
    case Drag::turn:
        keep_drag(shell);
        if (p.drag == Drag::turn && !p.under.empty() &&
            glm::length(pointer.at - p.start) < drag_starts_at)
            click(shell, pointer);
        break;
    case Drag::path_point:
        if (shell.desk->history.dragging()) commit_drag(*shell.desk, shell.files);
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
    if (drag == Drag::from_library) shell.dragged_entry.clear(); // though it is held still
    shell.pointer = Pointer{};
    return true;
}

void handle_view(Shell& shell, int view, const glm::ivec2& size, const ViewPointer& pointer) {
    Pointer& p = shell.pointer;
    if (p.drag == Drag::from_library) return; // view_adding's
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

} // namespace standpoint
