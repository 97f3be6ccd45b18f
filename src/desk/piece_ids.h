// Ids of pieces as the editing logic takes them: names for people, refusals, new ids, who rides on
// whom.
#pragma once

#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "scene/document.h"

namespace standpoint {

using Ids = std::vector<std::string>; // of pieces; order and repeats do not matter unless said

// The name, or the id of a piece without one.
std::string spoken(const Piece& piece);
// "Tea stall" of one, "3 pieces" of several (each counted once); ids that are not there count too.
std::string spoken(const Document& document, const Ids& ids);

// Errors (input): no id at all, or an id that is not there.
Status check_there(const Document& document, const Ids& ids);
// The same, and one that is locked: the message names the piece.
Status check_movable(const Document& document, const Ids& ids);

// Those that no other of them carries, directly or over others, each once, in document order. What
// moves them moves all. Requires check_there.
Ids roots_of(const Document& document, const Ids& ids);
// The ids and everything that stands on or hangs from them, over any number of others.
std::set<std::string> with_carried(const Document& document, const Ids& ids);

// Names (spoken) and ids of all pieces but these, by name.
std::vector<std::pair<std::string, std::string>>
pieces_by_name(const Document& document, const std::set<std::string>& without);

// What a new piece may not be called: ids of pieces, sections, columns and doors, and "hall".
std::set<std::string> taken_ids(const Document& document);
// `wanted`, or with a number after it that is free: "lamp" or "lamp-4" becomes "lamp-5" when those
// up to 4 are taken. A well-formed id of at most 64 bytes; a malformed `wanted` is made one
// ("Tea stall" -> "tea-stall", "" -> "piece").
std::string unique_id(const std::set<std::string>& taken, std::string_view wanted);

// A name for one more of its kind: "Post", or with a number after it that no piece has: "Post" or
// "Post 2" becomes "Post 3" when those are there. No name stays none.
std::set<std::string> taken_names(const Document& document);
std::string numbered_name(const std::set<std::string>& taken, const std::string& wanted);

} // namespace standpoint
