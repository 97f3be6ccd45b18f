// Setting what a piece is: ratio, name, id, group, kind, note, colour, light let through, gloss.
// Errors everywhere (input): unknown id, or a value that validate refuses.
#pragma once

#include <optional>

#include "desk/piece_ids.h"
#include "scene/edit.h"

namespace standpoint {

// Nothing: the scene's ratio for its kind. Several at once, as are kind and colour. A locked piece
// refuses another ratio.
Result<Edit> set_ratio(const Document& document, const Ids& ids, const std::optional<Ratio>& ratio);
// built / original, both > 0. Errors (input): not so, or outside 0.001 to 10000.
Result<Ratio> ratio_from_sizes(double original_mm, double built_mm);
// The same from what was typed, each size in any unit (a bare number as typed_length takes it).
// Errors (input): the first size that is none, or those of ratio_from_sizes.
Result<Ratio> ratio_from_typed(const std::string& original, const std::string& built,
                               UnitSystem units);

Result<Edit> set_name(const Document& document, const std::string& id, const std::string& name);
// What stands on it, hangs from it or is aimed at it follows in the same edit. Errors: an id that
// is taken or malformed.
Result<Edit> set_id(const Document& document, const std::string& id, const std::string& new_id);
// The pieces are picked together with all others of that group; "": with nothing else.
Result<Edit> set_group(const Document& document, const Ids& ids, const std::string& name);
Result<Edit> set_kind(const Document& document, const Ids& ids, PieceKind kind);
Result<Edit> set_note(const Document& document, const std::string& id, const std::string& note);

// `part` counts from 0; nothing: every part. Colour "#rrggbb" or "" for that of its kind.
Result<Edit> set_colour(const Document& document, const Ids& ids, const std::string& colour,
                        std::optional<std::size_t> part = std::nullopt);
Result<Edit> set_lets_through(const Document& document, const Ids& ids,
                              const std::optional<Number>& share,
                              std::optional<std::size_t> part = std::nullopt);
Result<Edit> set_gloss(const Document& document, const Ids& ids, const std::optional<Number>& share,
                       std::optional<std::size_t> part = std::nullopt);

} // namespace standpoint
