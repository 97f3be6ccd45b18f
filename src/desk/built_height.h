// How high a piece is to be built: what is set so that it comes out so.
#pragma once

#include <optional>
#include <string>

#include "base/result.h"
#include "measure/length.h"
#include "scene/edit.h"

namespace standpoint {

// The height a single upright primitive is made to, the original's, mm. Nothing: a model, a figure,
// several parts, a part that is tilted, or a form whose height is no size of its own (sphere,
// stairs, turning, terrain, and a fence, whose rails it would leave behind).
std::optional<double> made_height(const Piece& piece);

// A piece with a made height gets another one; any other gets the ratio that brings the height of
// its original, `original_mm` > 0 as upright, to `built`. Errors (input): unknown id, a locked
// piece, a height of nothing, a ratio outside its range, or what validate refuses.
Result<Edit> set_built_height(const Document& document, const std::string& id, double original_mm,
                              const Length& built);

} // namespace standpoint
