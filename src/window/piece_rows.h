// Rows of the panel about a piece: a label, and a field that says beneath it what was wrong with
// what was typed.
#pragma once

#include <functional>
#include <optional>
#include <string>

#include "base/result.h"
#include "window/shell.h"
#include "window/ui.h"

namespace standpoint {

std::string length_shown(const Document& document, double mm); // to a tenth of a millimetre

// The label, and the cursor where its field begins: beside it, or beneath where there is no room.
void row_label(const Ui& ui, const char* text);

struct FieldRow {
    const char* label = ""; // empty: none
    const char* name = "";  // its tag
    std::string shown;      // what is in it while nobody types
    std::string tip;
    const char* hint = "";
    float width = -1; // pixels; less than 0: to the right end
};
// What was typed, when it is another text than what is shown.
std::optional<std::string> typed_row(Shell& shell, const Ui& ui, const FieldRow& row);

// What was typed is not taken: it stays in the field, with the reason beneath.
void refuse(Shell& shell, const char* name, const std::string& typed, const Error& error);
// Does the edit or refuses what was typed. True when it was done.
bool take_typed(Shell& shell, const char* name, const std::string& typed, const Result<Edit>& edit);

// Which part of a piece the rows after it speak of; kept in the panel's facts. `all`: what the
// choice of every part is called; empty: one has to be chosen, the first at first.
void part_row(Shell& shell, const Ui& ui, const Piece& piece, const char* name, const char* all);

// A patch of "#rrggbb" at the right end of the field of that name; nothing for any other text.
void paint_swatch(const Ui& ui, const char* name, const std::string& colour);

// A heading that folds what follows away; true while it is open. It stays as it is for every piece.
bool fold(Shell& shell, const Ui& ui, const char* name, const std::string& title,
          bool open_at_first);

// Beside the last widget when one with this label still fits there, else on a new line.
void flow_on(const Ui& ui, const char* next_label);

// In a list of pieces that is open: where to type what is looked for, emptied when it opens, and a
// line of it, which is left out when neither its name nor its id has that. True when it was chosen.
void search_field(Shell& shell, const Ui& ui, const char* name);
bool searched_choice(const Ui& ui, const Shell& shell, const std::string& name,
                     const std::string& id, const std::string& tag);

// -- the parts of the panel --

void draw_several(Shell& shell, const Ui& ui);                      // more than one is picked
void draw_figure(Shell& shell, const Ui& ui, const Piece& piece);   // facts hold a figure
void draw_contacts(Shell& shell, const Ui& ui, const Piece& piece); // likewise
void draw_look(Shell& shell, const Ui& ui, const Piece& piece);
bool has_form_rows(const Piece& piece);                         // a part of it is a primitive
void draw_form(Shell& shell, const Ui& ui, const Piece& piece); // has_form_rows
void draw_targets(Shell& shell, const Ui& ui, const Piece& piece);
void draw_scene(Shell& shell, const Ui& ui);  // nothing is picked
void group_row(Shell& shell, const Ui& ui);   // of all that is picked, as is the next
void carrier_row(Shell& shell, const Ui& ui); // what it stands on or hangs from

// After a slider was drawn: while it is held the scene follows the hand, and from press to release
// is one undo step, which Escape takes back. `value` is where the slider is, `edit` the edit that
// takes the scene there. The step begins a few frames after the press: until then a field that
// lost the keyboard to the slider may hand over its text.
using SliderEdit = std::function<Result<Edit>(double value)>;
void hold_slider(Shell& shell, const std::string& name, bool changed, double value,
                 const SliderEdit& edit);
// Before the panel is drawn: lets go of a slider that is no longer there, and of what was refused
// in a field when the scene or the pick is another.
void tidy_panel(Shell& shell);

} // namespace standpoint
