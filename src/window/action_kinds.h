// What each action does, by kind of action; inside the window room.
#pragma once

#include "window/actions.h"

namespace standpoint {

inline const Document& document_of(const Shell& shell) {
    return shell.desk->history.now();
}
inline const Ids& picked(const Shell& shell) {
    return shell.desk->selected;
}
inline void open_dialog(Shell& shell, Dialog dialog) {
    shell.dialog = dialog;
    shell.dialog_opens = true;
}

void act_on_file(Shell& shell, Action action);
void act_on_edit(Shell& shell, Action action);
void act_on_place(Shell& shell, Action action);
void act_on_view(Shell& shell, Action action);
void act_on_check(Shell& shell, Action action);

} // namespace standpoint
