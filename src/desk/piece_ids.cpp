// Ids of pieces: names for people, refusals, new ids, who rides on whom.
#include "desk/piece_ids.h"

#include <algorithm>
#include <unordered_set>

#include <fmt/format.h>

#include "desk/places.h"
#include "desk/search.h"
#include "scene/text.h"

namespace standpoint {

namespace {

constexpr std::size_t longest_id = 64;

// For each piece whether it is one of the ids or carried by one.
std::vector<bool> carried_by(const Document& document, const Ids& ids, bool themselves) {
    const std::unordered_set<std::string_view> chosen(ids.begin(), ids.end());
    const std::vector<std::ptrdiff_t> hosts = host_indices(document);
    const auto& pieces = *document.pieces;
    std::vector<bool> carried(pieces.size(), false);
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        auto at = themselves ? static_cast<std::ptrdiff_t>(i) : hosts[i];
        for (; at >= 0 && !carried[i]; at = hosts[static_cast<std::size_t>(at)])
            carried[i] = chosen.contains(pieces[static_cast<std::size_t>(at)]->id);
    }
    return carried;
}

bool is_id_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
}

std::string made_an_id(std::string_view wanted) {
    std::string id;
    for (char c : wanted) {
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
        if (is_id_letter(c))
            id += c;
        else if (!id.empty() && id.back() != '-')
            id += '-';
    }
    id.resize(std::min(id.size(), longest_id));
    while (id.ends_with('-'))
        id.pop_back();
    return id.empty() ? "piece" : id;
}

// "lamp-12" -> "lamp", 12; "lamp" -> "lamp", 1.
constexpr std::size_t longest_name = 1000; // the schema's

// What stands before a number at the end, and the number; 1 where there is none.
std::pair<std::string, long> split_number(const std::string& id, char before) {
    const std::size_t dash = id.rfind(before);
    constexpr std::size_t most_digits = 6;
    if (dash == std::string::npos || dash == 0 || dash + 1 == id.size() ||
        id.size() - dash - 1 > most_digits ||
        id.find_first_not_of("0123456789", dash + 1) != std::string::npos)
        return {id, 1};
    return {id.substr(0, dash), std::stol(id.substr(dash + 1))};
}

} // namespace

std::string spoken(const Piece& piece) {
    return piece.name.empty() ? piece.id : piece.name;
}

std::string spoken(const Document& document, const Ids& ids) {
    const std::unordered_set<std::string_view> each(ids.begin(), ids.end());
    if (each.size() != 1) return fmt::format("{} pieces", each.size());
    const Piece* piece = find_piece(document, ids.front());
    return piece ? spoken(*piece) : ids.front();
}

Status check_there(const Document& document, const Ids& ids) {
    if (ids.empty()) return input_error("", "found no piece chosen, expected at least one");
    std::unordered_set<std::string_view> known;
    for (const auto& piece : *document.pieces)
        known.insert(piece->id);
    for (const std::string& id : ids)
        if (!known.contains(id))
            return input_error("", "found " + in_quotes(id) + ", expected the id of a piece");
    return Done{};
}

Status check_movable(const Document& document, const Ids& ids) {
    STANDPOINT_TRY_STATUS(check_there(document, ids));
    const std::unordered_set<std::string_view> chosen(ids.begin(), ids.end());
    for (const auto& piece : *document.pieces)
        if (piece->locked && chosen.contains(piece->id))
            return input_error("", in_quotes(spoken(*piece)) + " is locked. Unlock it first.");
    return Done{};
}

Ids roots_of(const Document& document, const Ids& ids) {
    const std::unordered_set<std::string_view> chosen(ids.begin(), ids.end());
    const std::vector<bool> carried = carried_by(document, ids, false);
    Ids roots;
    for (std::size_t i = 0; i < carried.size(); ++i) {
        const std::string& id = (*document.pieces)[i]->id;
        if (chosen.contains(id) && !carried[i]) roots.push_back(id);
    }
    return roots;
}

std::set<std::string> with_carried(const Document& document, const Ids& ids) {
    const std::vector<bool> carried = carried_by(document, ids, true);
    std::set<std::string> all;
    for (std::size_t i = 0; i < carried.size(); ++i)
        if (carried[i]) all.insert((*document.pieces)[i]->id);
    return all;
}

std::vector<std::pair<std::string, std::string>>
pieces_by_name(const Document& document, const std::set<std::string>& without) {
    std::vector<std::pair<std::string, std::string>> all;
    for (const auto& piece : *document.pieces)
        if (!without.contains(piece->id)) all.emplace_back(spoken(*piece), piece->id);
    std::sort(all.begin(), all.end(), [](const auto& a, const auto& b) {
        return std::pair(small_letters(a.first), a.second) <
               std::pair(small_letters(b.first), b.second);
    });
    return all;
}

std::set<std::string> taken_ids(const Document& document) {
    std::set<std::string> taken{"hall"}; // the staging's own name for the walls
    for (const auto& piece : *document.pieces)
        taken.insert(piece->id);
    for (const Section& section : *document.sections)
        taken.insert(section.id);
    for (const Column& column : document.hall->columns)
        taken.insert(column.id);
    for (const Door& door : document.hall->doors)
        taken.insert(door.id);
    return taken;
}

std::string unique_id(const std::set<std::string>& taken, std::string_view wanted) {
    const std::string id = is_id(wanted) ? std::string(wanted) : made_an_id(wanted);
    if (!taken.contains(id)) return id;
    const auto [stem, number] = split_number(id, '-');
    for (long next = number + 1;; ++next) {
        const std::string tail = fmt::format("-{}", next);
        const std::string made = stem.substr(0, longest_id - tail.size()) + tail;
        if (!taken.contains(made)) return made;
    }
}

std::set<std::string> taken_names(const Document& document) {
    std::set<std::string> taken;
    for (const auto& piece : *document.pieces)
        taken.insert(piece->name);
    return taken;
}

std::string numbered_name(const std::set<std::string>& taken, const std::string& wanted) {
    if (wanted.empty() || !taken.contains(wanted)) return wanted;
    const auto [stem, number] = split_number(wanted, ' ');
    for (long next = number + 1;; ++next) {
        std::string made = fmt::format("{} {}", stem, next);
        if (made.size() > longest_name) return wanted;
        if (!taken.contains(made)) return made;
    }
}

} // namespace standpoint
