// What the actions of the Place menu do.
#include <algorithm>

#include "desk/arrange.h"
#include "desk/drop.h"
#include "window/action_kinds.h"
#include "window/answers.h"

namespace standpoint {

namespace {

void nudge(Shell& shell, const glm::dvec3& direction) {
    const double step = std::max(1.0, shell.settings.grid_step_mm);
    do_edit(shell, move_by(document_of(shell), picked(shell), direction * step));
}

void turn(Shell& shell, double degrees) {
    const StagedPiece* lead = find_staged(*shell.desk->shown, picked(shell).back());
    if (!lead) return;
    do_edit(shell,
            turn_about(document_of(shell), picked(shell), lead->placement.frame.origin, degrees));
}

void align_picked(Shell& shell, Align how) {
    do_edit(shell, align(document_of(shell), *shell.desk->shown, picked(shell), how));
}

void act_on_alignment(Shell& shell, Action action) {
    const auto spread_along = [&](int axis) {
        do_edit(shell, spread(document_of(shell), *shell.desk->shown, picked(shell), axis,
                              SpreadBy::gaps));
    };
    switch (action) {
    case Action::align_left:
        align_picked(shell, Align::left);
        break;
    case Action::align_right:
        align_picked(shell, Align::right);
        break;
    case Action::align_front:
        align_picked(shell, Align::front);
        break;
    case Action::align_back:
        align_picked(shell, Align::back);
        break;
    case Action::centre_across:
        align_picked(shell, Align::centre_x);
        break;
    case Action::centre_deep:
        align_picked(shell, Align::centre_y);
        break;
    case Action::align_tops:
        align_picked(shell, Align::top);
        break;
    case Action::align_bottoms:
        align_picked(shell, Align::bottom);
        break;
    case Action::spread_across:
        spread_along(0);
        break;
    case Action::spread_deep:
        spread_along(1);
        break;
    case Action::repeat:
        open_dialog(shell, Dialog::repeat);
        break;
    default:
        break;
    }
}

} // namespace

void act_on_place(Shell& shell, Action action) {
    const Document& document = document_of(shell);
    switch (action) {
    case Action::move_left:
        nudge(shell, {-1, 0, 0});
        break;
    case Action::move_right:
        nudge(shell, {1, 0, 0});
        break;
    case Action::move_away:
        nudge(shell, {0, 1, 0});
        break;
    case Action::move_nearer:
        nudge(shell, {0, -1, 0});
        break;
    case Action::raise:
        nudge(shell, {0, 0, 1});
        break;
    case Action::lower:
        nudge(shell, {0, 0, -1});
        break;
    case Action::turn_right:
        turn(shell, 15);
        break;
    case Action::turn_left:
        turn(shell, -15);
        break;
    case Action::turn_right_fine:
        turn(shell, 1);
        break;
    case Action::turn_left_fine:
        turn(shell, -1);
        break;
    case Action::let_down:
        refresh_index(*shell.desk);
        do_edit(shell, let_down(document, *shell.desk->indexed, *shell.desk->index, picked(shell)));
        break;
    case Action::let_go:
        do_edit(shell, let_go(document, picked(shell), Place::keep));
        break;
    default:
        act_on_alignment(shell, action);
        break;
    }
}

} // namespace standpoint
