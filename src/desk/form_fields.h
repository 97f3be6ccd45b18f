// The sizes a primitive is made to, one by one, as a person sets them. Lengths are the original's,
// millimetres; models and figures have none (a figure is set by figure_fields.h).
// Errors everywhere (input): unknown id or part, a locked piece, a key the form lacks, or a value
// that validate refuses.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "desk/piece_ids.h"
#include "scene/edit.h"

namespace standpoint {

struct FormRow {
    std::string key;   // stable: "width", "openings/0/sill", "run/2/x"
    std::string label; // "Width", "Opening 1, sill", "Post 3, across"
    double value = 0;  // mm, or a count
    bool count = false;
};
// In the order of the scene file. Of a terrain only its sides: its heights are too many.
std::vector<FormRow> form_rows(const Form& form);

Result<Edit> set_form_length(const Document& document, const std::string& id, std::size_t part,
                             const std::string& key, const Length& value);
Result<Edit> set_form_count(const Document& document, const std::string& id, std::size_t part,
                            const std::string& key, int value);

// What a form has any number of: "corner" of an outline, "ring" of a turning, "post" of a fence,
// "opening" of a wall; empty: nothing.
std::string form_item(const Form& form);
// One more after the last, carried on from the last two (an opening: where there is room beyond the
// last); one fewer. Errors: no room, or the form would be none.
Result<Edit> add_form_item(const Document& document, const std::string& id, std::size_t part);
Result<Edit> drop_form_item(const Document& document, const std::string& id, std::size_t part);

} // namespace standpoint
