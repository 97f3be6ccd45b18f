// What panels ask of the shell that is neither drawing nor one single action.
#pragma once

#include "window/shell.h"

namespace standpoint {

Box everything(const Shell& shell); // all that is shown but the hall's walls; the hall when empty

void say_done(Shell& shell, const std::string& text); // in the status line
void say_error(Shell& shell, const Error& error);

// Performs an edit, or says why not. True when it was done.
bool do_edit(Shell& shell, const Result<Edit>& edit);

// A drag in the window: starting one clears the status line, keeping it says what was done unless
// what went wrong last is said there.
void start_drag(Shell& shell, const std::string& label);
void follow_drag(Shell& shell, const Result<Edit>& edit);
void keep_drag(Shell& shell);

// Makes a piece of a library entry and picks it.
void put_entry(Shell& shell, const LibraryEntry& entry, const glm::dvec3& onto);

// Opens a scene in place of what is open; asks nothing. Errors are said.
void open_file(Shell& shell, const std::string& file);
void open_new(Shell& shell);
// The same, but unsaved work is asked about first.
void ask_then(Shell& shell, After after, const std::string& file = "");
void do_after(Shell& shell); // what waited for the answer

// Goes on with what a crash left.
void take_over(Shell& shell, const Recovery& left);

bool save_to(Shell& shell, const std::string& file);
bool save_now(Shell& shell); // false: said why, or another file is being asked for

// A file let go over the window: a scene is opened, a model brought in at that place of the window,
// pixels; in the middle of the staging when no place is given or nothing lies there.
void drop_file(Shell& shell, const std::string& file, const std::optional<glm::dvec2>& at = {});

void list_library(Shell& shell); // when the scene's folder is another

// Shows the place of a finding in every view, and picks its piece.
void go_to(Shell& shell, const Finding& finding);

// Once a frame, before drawing: starts checks on what has changed and takes what has finished.
void work_behind(Shell& shell);

} // namespace standpoint
