// The panels of the window; each draws itself in the window that is open and acts through desk.
#pragma once

#include <string>

#include "window/actions.h"
#include "window/shell.h"
#include "window/ui.h"

namespace standpoint {

std::string title_of(const Shell& shell); // the open scene, its file, whether it is saved

void draw_menus(Shell& shell, const Ui& ui);      // the bar at the top
void draw_tools(Shell& shell, const Ui& ui);      // the row of buttons under it
void draw_library(Shell& shell, const Ui& ui);    // what can be dragged in
void draw_piece_list(Shell& shell, const Ui& ui); // search, and what is staged
void draw_piece(Shell& shell, const Ui& ui);      // numbers of what is picked
void draw_findings(Shell& shell, const Ui& ui);   // what the checks say, and what changed
void draw_strip(Shell& shell, const Ui& ui);      // who sees what along the path
void draw_status(Shell& shell, const Ui& ui);     // the line at the bottom
void draw_views(Shell& shell, const Ui& ui);      // one, two or four views
void draw_first_page(Shell& shell, const Ui& ui); // when nothing is open
void draw_dialogs(Shell& shell, const Ui& ui);    // whatever dialog is open

} // namespace standpoint
