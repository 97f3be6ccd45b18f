// Small questions about text: is it UTF-8, how alike are two words, is it a well-formed id.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace standpoint {

std::optional<std::size_t> find_bad_utf8(std::string_view text); // the first offending byte
std::string byte_name(char byte);                                // "0xFF"

// Insertions, removals and changes that turn the one into the other.
std::size_t edit_distance(std::string_view a, std::string_view b);
// The known word nearest to `word`; empty when none is near.
std::string nearest_word(std::string_view word, const std::vector<std::string>& known);

bool is_id(std::string_view text);       // [a-z0-9][a-z0-9-]*, at most 64
bool is_label_id(std::string_view text); // the same with capitals: R1
bool is_colour(std::string_view text);   // #rrggbb
bool is_date(std::string_view text);     // 2026-11-25, a day that exists

} // namespace standpoint
