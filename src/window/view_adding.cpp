// Bringing an entry of the library into a view.
#include "window/view_adding.h"

#include <algorithm>

#include <fmt/format.h>

#include "desk/landing.h"
#include "window/answers.h"
#include "window/view_drag.h"

namespace standpoint {

namespace {

std::optional<glm::dvec3> landing_at(Shell& shell, int view, const glm::ivec2& size,
                                     const glm::dvec2& at, double half_width) {
    const Desk& desk = *shell.desk;
    const ViewCamera& camera = view_of(shell, view).camera;
    const LetGo how{half_width, snap_pixels * mm_a_pixel_at(camera, size, camera.middle),
                    shell.pointer.ids};
    return landing(desk.history.now(), *desk.indexed, *desk.index, line_at(shell, view, size, at),
                   how);
}

// Adds it where it first stands; false, with nothing begun, when it cannot stand there.
bool begin_entry(Shell& shell, const LibraryEntry& entry, int view, const glm::ivec2& size,
                 const ViewPointer& pointer) {
    Desk& desk = *shell.desk;
    refresh_index(desk);
    shell.pointer = Pointer{};
    const auto onto = landing_at(shell, view, size, pointer.at, 0);
    if (!onto) return false;
    const Piece piece = new_piece(entry, desk.history.now());
    const Result<Edit> edit =
        add_piece(desk.history.now(), *desk.indexed, *desk.index, piece, *onto);
    if (!edit.ok()) {
        say_error(shell, edit.error());
        return false;
    }
    start_drag(shell, edit->label);
    const Status status = update_drag(desk, *edit, shell.files);
    if (!status.ok()) {
        cancel_drag(desk, shell.files);
        shell.dragged_entry.clear(); // said once
        say_error(shell, status.error());
        return false;
    }
    Pointer& p = shell.pointer;
    p.drag = Drag::from_library;
    p.ids = {desk.history.now().pieces->back()->id};
    p.before = desk.history.now();
    p.staging_before = desk.shown;
    p.grip = *onto;
    refresh_index(desk); // with it, so that its feet are known
    return true;
}

double half_width_of(const Shell& shell) {
    const StagedPiece* added = find_staged(*shell.pointer.staging_before, shell.pointer.ids.back());
    if (!added || added->box.empty()) return 0;
    const glm::dvec3 size = added->box.size();
    return std::min(size.x, size.y) / 2;
}

void bring(Shell& shell, const glm::ivec2& size, const ViewPointer& pointer) {
    Pointer& p = shell.pointer;
    const Desk& desk = *shell.desk;
    const auto onto = landing_at(shell, p.view, size, pointer.at, half_width_of(shell));
    const StagedPiece* added = find_staged(*p.staging_before, p.ids.back());
    if (!onto || !added) return;
    p.grip = *onto;
    const glm::dvec3 origin = added->placement.frame.origin;
    const glm::dvec3 by =
        snapped_by(shell, size, {onto->x - origin.x, onto->y - origin.y, 0}, pointer.ctrl);
    const glm::dvec3 to(origin.x + by.x, origin.y + by.y, onto->z);
    const Result<Edit> moved = drop(p.before, *desk.indexed, *desk.index, p.ids, to);
    if (!moved.ok()) return say_error(shell, moved.error());
    const auto last = static_cast<int>(p.before.pieces->size()) - 1;
    Edit edit(moved->label, PutPiece{last, p.before.pieces->back()});
    edit.steps.insert(edit.steps.end(), moved->steps.begin(), moved->steps.end());
    follow_drag(shell, edit);
    const Document& document = desk.history.now();
    p.says = fmt::format("X {}, Y {}", length_text(document, to.x), length_text(document, to.y));
}

} // namespace

void hold_entry(Shell& shell, const LibraryEntry& entry, int view, const glm::ivec2& size,
                const ViewPointer& pointer) {
    if (shell.pointer.drag != Drag::from_library && !begin_entry(shell, entry, view, size, pointer))
        return;
    shell.active_view = view;
    shell.pointer.view = view;
    if (!has_followed(shell.pointer, pointer)) bring(shell, size, pointer);
}

void let_go_entry(Shell& shell) {
    if (shell.pointer.drag != Drag::from_library) {
        if (!shell.dragged_entry.empty())
            say_done(shell, "Nothing to stand on there: let it go over the floor or on something");
        return;
    }
    const std::string id = shell.pointer.ids.back();
    keep_drag(shell);
    shell.pointer = Pointer{};
    select_only(*shell.desk, id);
    follow_visitor(shell); // who looks at the middle of it all
}

void take_away_entry(Shell& shell) {
    if (shell.pointer.drag != Drag::from_library) return;
    cancel_drag(*shell.desk, shell.files);
    shell.pointer = Pointer{};
}

bool put_entry_at(Shell& shell, const LibraryEntry& entry, const glm::dvec2& at) {
    const int count = shell.settings.view_count;
    for (int i = 0; i < most_views; ++i) {
        if (count == 1 ? i != shell.active_view : i >= count) continue; // not shown
        const View& view = view_of(shell, i);
        const glm::dvec2 low(view.low), high(view.high);
        if (at.x < low.x || at.y < low.y || at.x >= high.x || at.y >= high.y) continue;
        ViewPointer pointer;
        pointer.at = at - low;
        hold_entry(shell, entry, i, glm::ivec2(high - low), pointer);
        if (shell.pointer.drag != Drag::from_library) return false;
        let_go_entry(shell);
        return true;
    }
    return false;
}

} // namespace standpoint
