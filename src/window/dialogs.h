// What the dialogs share, and the pages that have a file of their own.
#pragma once

#include "window/shell.h"
#include "window/ui.h"

namespace standpoint {

// Inside an open dialog.
void close_dialog(Shell& shell);

// Height that a list in a dialog can take, pixels: what it wants, or what the screen leaves beside
// so many lines of fields and buttons.
float list_height(const Ui& ui, float wanted, int other_lines);

void prepare_browser(Shell& shell); // when one of the file dialogs opens
void draw_browser(Shell& shell, const Ui& ui);
void draw_keys(Shell& shell, const Ui& ui);
void draw_settings(Shell& shell, const Ui& ui);

} // namespace standpoint
