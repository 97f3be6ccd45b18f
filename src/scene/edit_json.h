// Edits as lines of a log, and back. Lengths keep the text they were given in.
#pragma once

#include <string>
#include <string_view>

#include "scene/edit.h"

namespace standpoint {

// { "label": "move the hut", "steps": [{ "move_piece": { "id": "hut", "at": { "x": 900 } } }] }
// on one line, without a line end.
std::string write_edit(const Edit& edit);

// Errors (input) as read_document. Whether the edit fits a document, `apply` says.
Result<Edit> read_edit(std::string_view line, const std::string& file);

} // namespace standpoint
