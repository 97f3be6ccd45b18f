// Searches the things of a scene for words, and puts the best first.
#include "desk/search.h"

#include <algorithm>
#include <cstdint>
#include <optional>
#include <utility>

namespace standpoint {

namespace {

// A character of two bytes of UTF-8, U+0080 to U+07FF; nothing when there is none at `at`.
std::optional<std::uint32_t> two_bytes(std::string_view text, std::size_t at) {
    if (at + 1 >= text.size()) return std::nullopt;
    const auto first = static_cast<unsigned char>(text[at]);
    const auto second = static_cast<unsigned char>(text[at + 1]);
    if (first < 0xC2 || first > 0xDF || (second & 0xC0) != 0x80) return std::nullopt;
    return (first & 0x1Fu) << 6 | (second & 0x3Fu);
}

// The small letter of a capital among U+0080 to U+052F. After the simple foldings of Unicode
// CaseFolding.txt, those that stay in two bytes.
std::uint32_t small_of(std::uint32_t c) {
    const auto within = [c](std::uint32_t low, std::uint32_t high) {
        return c >= low && c <= high;
    };
    const bool even = c % 2 == 0;
    if (within(0x00C0, 0x00DE) && c != 0x00D7) return c + 32;
    if (within(0x0100, 0x012F) || within(0x0132, 0x0137) || within(0x014A, 0x0177))
        return even ? c + 1 : c;
    if (within(0x0139, 0x0148) || within(0x0179, 0x017E)) return even ? c : c + 1;
    if (c == 0x0178) return 0x00FF;
    if (c == 0x0386) return 0x03AC;
    if (within(0x0388, 0x038A)) return c + 37;
    if (c == 0x038C) return 0x03CC;
    if (c == 0x038E || c == 0x038F) return c + 63;
    if (within(0x0391, 0x03AB) && c != 0x03A2) return c + 32;
    if (c == 0x03C2) return 0x03C3; // a sigma at the end of a word
    if (within(0x0400, 0x040F)) return c + 80;
    if (within(0x0410, 0x042F)) return c + 32;
    return c;
}

} // namespace

std::string small_letters(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] >= 'A' && text[i] <= 'Z') {
            out += static_cast<char>(text[i] + ('a' - 'A'));
        } else if (const auto c = two_bytes(text, i)) {
            const std::uint32_t small = small_of(*c);
            out += static_cast<char>(0xC0u | small >> 6);
            out += static_cast<char>(0x80u | (small & 0x3Fu));
            ++i;
        } else {
            out += text[i];
        }
    }
    return out;
}

namespace {

struct Thing { // something that can be found, in small letters
    Found found;
    std::string id, name;
    std::vector<std::string> more; // notes, kinds, other names
};

Thing thing_of(FoundKind kind, const std::string& id, const std::string& name,
               std::vector<std::string> more) {
    Thing thing{{kind, id, name, FoundHow::inside}, small_letters(id), small_letters(name), {}};
    more.emplace_back(found_kind_names[static_cast<int>(kind)]);
    for (const std::string& text : more)
        thing.more.push_back(small_letters(text));
    return thing;
}

Thing thing_of_piece(const Piece& piece) {
    std::vector<std::string> more{piece.note, piece.group,
                                  piece_kind_names[static_cast<int>(piece.kind)]};
    for (const Part& part : piece.parts)
        more.push_back(part.name);
    return thing_of(FoundKind::piece, piece.id, piece.name, std::move(more));
}

std::vector<Thing> things_of(const Document& document) {
    std::vector<Thing> things;
    for (const auto& piece : *document.pieces)
        things.push_back(thing_of_piece(*piece));
    for (const auto& target : *document.targets)
        things.push_back(thing_of(FoundKind::target, target->id, target->name,
                                  {target->piece, target->aim == Aim::see ? "see" : "hide"}));
    for (const Section& section : *document.sections)
        things.push_back(thing_of(FoundKind::section, section.id, section.name, {}));
    for (const ReferencePoint& point : *document.reference_points)
        things.push_back(thing_of(FoundKind::reference_point, point.id, point.description, {}));
    for (const Visitor& visitor : *document.visitors)
        things.push_back(thing_of(FoundKind::visitor, visitor.id, visitor.name, {visitor.source}));
    return things;
}

constexpr std::string_view spaces = " \t\n\r\f\v";

std::vector<std::string> words_of(std::string_view text) {
    const std::string small = small_letters(text);
    std::vector<std::string> words;
    std::size_t at = small.find_first_not_of(spaces);
    while (at != std::string::npos) {
        const std::size_t end = std::min(small.find_first_of(spaces, at), small.size());
        words.push_back(small.substr(at, end - at));
        at = small.find_first_not_of(spaces, end);
    }
    return words;
}

// Letters, digits and every byte of a longer character belong to words.
bool in_word(char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') ||
           static_cast<unsigned char>(c) >= 0x80;
}

// How a word is found in one text; a match must begin with a character, not within one.
std::optional<FoundHow> found_in(std::string_view text, std::string_view word) {
    std::optional<FoundHow> how;
    for (std::size_t at = text.find(word); at != std::string_view::npos;
         at = text.find(word, at + 1)) {
        if (at == 0 || !in_word(text[at - 1])) return FoundHow::word_begins;
        how = FoundHow::inside;
    }
    return how;
}

std::optional<FoundHow> how_found(const Thing& thing, const std::string& word) {
    if (thing.id.starts_with(word)) return FoundHow::id_begins;
    if (thing.name.starts_with(word)) return FoundHow::name_begins;
    std::optional<FoundHow> best = found_in(thing.id, word);
    const auto also = [&](const std::string& text) {
        const auto how = found_in(text, word);
        if (how && (!best || *how < *best)) best = how;
    };
    also(thing.name);
    for (const std::string& text : thing.more)
        also(text);
    return best;
}

} // namespace

std::vector<Found> search(const Document& document, std::string_view text) {
    std::vector<Found> out;
    const std::vector<std::string> words = words_of(text);
    if (words.empty()) return out;
    for (const Thing& thing : things_of(document)) {
        FoundHow worst = FoundHow::id_begins;
        const bool all = std::all_of(words.begin(), words.end(), [&](const std::string& word) {
            const auto how = how_found(thing, word);
            if (how) worst = std::max(worst, *how);
            return how.has_value();
        });
        if (!all) continue;
        out.push_back(thing.found);
        out.back().how = worst;
    }
    std::stable_sort(out.begin(), out.end(),
                     [](const Found& a, const Found& b) { return a.how < b.how; });
    return out;
}

} // namespace standpoint
