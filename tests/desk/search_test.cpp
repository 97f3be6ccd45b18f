// Search: what is there is found by any of its words, and nothing else is.
#include <doctest/doctest.h>

#include <algorithm>

#include "desk/search.h"
#include "scene/random_scenes.h"
#include "scene/text.h"
#include "support/random.h"
#include "support/scenes.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

Piece named(const std::string& id, const std::string& name, const std::string& note = "") {
    Piece piece = box_piece(id, 0, 0, 0, 100, 100, 100);
    piece.name = name;
    piece.note = note;
    return piece;
}

Document landing() {
    Document document = bare_scene();
    document = with_piece(document, named("tea-stall", "Tea stall"));
    document = with_piece(document, named("tea-seller", "Tea seller", "hands over a CUP"));
    document = with_piece(document, named("hut", "Ticket hut, steamy tea-coloured pane"));
    Piece lamp = named("lamp-1", "Brass lamp");
    lamp.kind = PieceKind::lamp;
    document = with_piece(document, lamp);
    document = with_piece(document, named("faehre", "FÄHRE Эбб ΛΊΜΝΗ"));
    Target target;
    target.id = "tea-face";
    target.name = "Tea seller's face";
    target.piece = "tea-seller";
    return with_target(document, target);
}

std::vector<std::string> ids(const std::vector<Found>& found) {
    std::vector<std::string> out;
    for (const Found& one : found)
        out.push_back(one.id);
    return out;
}

using Ids = std::vector<std::string>;

// The slow count: every word somewhere in one of the texts of a piece.
bool holds_all(const Piece& piece, const std::string& text) {
    std::vector<std::string> texts{piece.id,
                                   piece.name,
                                   piece.note,
                                   piece.group,
                                   piece_kind_names[static_cast<int>(piece.kind)],
                                   "piece"};
    for (const Part& part : piece.parts)
        texts.push_back(part.name);
    std::string word;
    for (const char c : small_letters(text) + " ") {
        if (c != ' ') {
            word += c;
            continue;
        }
        const bool found = std::any_of(texts.begin(), texts.end(), [&](const std::string& t) {
            return small_letters(t).find(word) != std::string::npos;
        });
        if (!word.empty() && !found) return false;
        word.clear();
    }
    return true;
}

} // namespace

TEST_CASE("ids come first, then names, then the beginnings of words, then the rest") {
    const Document document = landing();
    CHECK(ids(search(document, "tea")) == Ids{"tea-stall", "tea-seller", "tea-face", "hut"});
    const std::vector<Found> found = search(document, "tea");
    CHECK(found[0].how == FoundHow::id_begins);
    CHECK(found[3].how == FoundHow::word_begins); // "tea-coloured", though "steamy" comes before it
    const std::vector<Found> inside = search(document, "tall");
    REQUIRE(inside.size() == 1);
    CHECK(inside[0].how == FoundHow::inside);
    const std::vector<Found> by_name = search(document, "brass");
    REQUIRE(by_name.size() == 1);
    CHECK(by_name[0].how == FoundHow::name_begins);
}

TEST_CASE("every word must be found, in whatever order and case") {
    const Document document = landing();
    CHECK(ids(search(document, "cup TEA")) == Ids{"tea-seller"});
    CHECK(ids(search(document, "  seller\tFace ")) == Ids{"tea-face"});
    CHECK(search(document, "tea boat").empty());
    CHECK(search(document, "").empty());
    CHECK(search(document, " \t ").empty());
}

TEST_CASE("notes, kinds, sections and visitors are searched as well") {
    const Document document = landing();
    CHECK(ids(search(document, "lamp")) == Ids{"lamp-1"});
    CHECK(ids(search(document, "section")) == Ids{"section-a"});
    CHECK(ids(search(document, "visitor")) == Ids{"standing"});
    CHECK(ids(search(document, "target")) == Ids{"tea-face"});
    CHECK(search(document, "target")[0].kind == FoundKind::target);
}

TEST_CASE("letters beyond ASCII are found whatever their case") {
    const Document document = landing();
    for (const char* word : {"fähre", "FÄHRE", "эбб", "ЭББ", "λίμνη", "ΛΊΜΝΗ"})
        CHECK(ids(search(document, word)) == Ids{"faehre"});
}

TEST_CASE("capitals and small letters after Unicode's CaseFolding.txt") {
    // Pairs of that file (simple folding, status C), one from each block and its ends.
    const std::pair<const char*, const char*> pairs[] = {
        {"A", "a"}, {"Z", "z"}, {"À", "à"}, {"Þ", "þ"}, {"Ā", "ā"}, {"Į", "į"}, {"Ĳ", "ĳ"},
        {"Ĺ", "ĺ"}, {"Ň", "ň"}, {"Ŋ", "ŋ"}, {"Ŷ", "ŷ"}, {"Ÿ", "ÿ"}, {"Ź", "ź"}, {"Ž", "ž"},
        {"Ά", "ά"}, {"Ί", "ί"}, {"Ό", "ό"}, {"Ώ", "ώ"}, {"Α", "α"}, {"Ϋ", "ϋ"}, {"ς", "σ"},
        {"Ѐ", "ѐ"}, {"Џ", "џ"}, {"А", "а"}, {"Я", "я"}};
    for (const auto& [capital, small] : pairs) {
        CHECK(small_letters(capital) == small);
        CHECK(small_letters(small) == small);
    }
    for (const char* alike : {"×", "÷", "ß", "ĸ", "ı", "@", "[", "`", "{", "0", "日本", "🚢"})
        CHECK(small_letters(alike) == alike);
}

TEST_CASE("small letters keep text what it was: as long, and UTF-8 or not") {
    Random random(8);
    for (int i = 0; i < 2000; ++i) {
        std::string text;
        for (std::int64_t n = random.integer(0, 10); n > 0; --n)
            text += static_cast<char>(random.integer(0, 1) == 0 ? random.integer(0xC0, 0xDF)
                                                                : random.integer(0x20, 0xBF));
        const std::string small = small_letters(text);
        CHECK(small.size() == text.size());
        CHECK(find_bad_utf8(small).has_value() == find_bad_utf8(text).has_value());
        CHECK(small_letters(small) == small);
    }
}

TEST_CASE("bytes that are no text find nothing and break nothing") {
    const Document document = landing();
    CHECK(search(document, "\xFF").empty());
    CHECK(search(document, std::string("\xC3", 1)).size() == 1); // half of an ä: inside, harmless
    CHECK(search(document, std::string("\0", 1)).empty());
}

TEST_CASE("search agrees with a plain look through random scenes") {
    Random random(30);
    int found_some = 0;
    for (int i = 0; i < 60; ++i) {
        const Document document = SceneMaker(random.next()).document(12);
        const Piece& piece = *(*document.pieces)[static_cast<std::size_t>(random.integer(0, 11))];
        const auto begin = static_cast<std::size_t>(
            random.integer(0, static_cast<std::int64_t>(piece.id.size()) - 1));
        const std::string text =
            piece.id.substr(begin, static_cast<std::size_t>(random.integer(1, 4))) + " " +
            piece_kind_names[static_cast<int>(piece.kind)];
        Ids expected;
        for (const auto& other : *document.pieces)
            if (holds_all(*other, text)) expected.push_back(other->id);
        Ids found;
        for (const Found& one : search(document, text))
            if (one.kind == FoundKind::piece) found.push_back(one.id);
        CHECK(std::find(found.begin(), found.end(), piece.id) != found.end());
        std::sort(expected.begin(), expected.end());
        std::sort(found.begin(), found.end());
        CHECK(found == expected);
        found_some += found.size() > 1;
    }
    CHECK(found_some > 5);
}
