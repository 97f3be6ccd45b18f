// Bringing an entry of the library into a view: it stands where the pointer is until it is let go.
#pragma once

#include "desk/library.h"
#include "window/view_input.h"

namespace standpoint {

// The entry as one open drag, standing on what lies beneath the pointer; begins it when none is
// open. Where there is nothing to stand on it stays at the last place, or is not there yet.
void hold_entry(Shell& shell, const LibraryEntry& entry, int view, const glm::ivec2& size,
                const ViewPointer& pointer);
// One undo step; what was added is picked. Without a place to stand, says so.
void let_go_entry(Shell& shell);
// Takes it out again: the pointer has left the views.
void take_away_entry(Shell& shell);

// Puts an entry down at a place of the window, pixels. False where no view is.
bool put_entry_at(Shell& shell, const LibraryEntry& entry, const glm::dvec2& at);

} // namespace standpoint
