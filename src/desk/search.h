// Finding things of the scene by what is typed: ids, names, notes and kinds.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "scene/document.h"

namespace standpoint {

enum class FoundKind { piece, target, section, reference_point, visitor };
inline constexpr const char* found_kind_names[] = {"Piece", "Target", "Section", "Reference point",
                                                   "Visitor"};

// How a word was found, the best first.
enum class FoundHow { id_begins, name_begins, word_begins, inside };

struct Found {
    FoundKind kind = FoundKind::piece;
    std::string id, name;
    FoundHow how = FoundHow::inside; // of the word that was found worst
    friend bool operator==(const Found&, const Found&) = default;
};

// Every word of `text` must be found somewhere in the thing, whatever the case of letters. Best
// first; then in the order of FoundKind and of the document. No words: nothing. Bytes that are not
// UTF-8 stand for themselves.
std::vector<Found> search(const Document& document, std::string_view text);

// Letters of ASCII, Latin-1, Latin Extended-A, Greek and Cyrillic made small, one for one; the rest
// as it is.
std::string small_letters(std::string_view text);

} // namespace standpoint
