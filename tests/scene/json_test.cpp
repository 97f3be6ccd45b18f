// Scene files: what is written reads back, what was read is written as it was, bad files refused.
#include <doctest/doctest.h>

#include <fstream>
#include <iterator>
#include <sstream>

#include "random_scenes.h"
#include "scene/json.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

std::string file_text(const std::string& name) {
    std::ifstream file(std::string(STANDPOINT_SOURCE_DIR) + "/" + name, std::ios::binary);
    REQUIRE_MESSAGE(file.good(), name);
    return {std::istreambuf_iterator<char>(file), {}};
}

// In the layout of the writer, with tokens that only a person would write.
const char* const landing = R"json({
  "standpoint": 1,
  "settings": {
    "title": "Low Water",
    "units": "imperial",
    "inch_fraction": 8,
    "setting_ratio": "12:1",
    "figure_ratio": 14.0,
    "course": "0' 8\"",
    "turning_tolerance": "2 deg"
  },
  "hall": {
    "outline": [[-4e3, -3500], [10000, -3500], ["32 ft 9 3/4 in", 7500], [-4000.00, 7.5E3]],
    "ceiling": "11' 9 3/4\"",
    "columns": [{ "id": "column-west", "centre": [-1500, 1000], "diameter": 400 }]
  },
  "sections": [
    { "id": "section-a", "corner": [0, 0.0], "width": "3 m", "depth": 1800, "height": 1.5e2 }
  ],
  "path": { "points": [["-1500 mm", 5000], [-1500, -1500], [7500, -1500]], "width": "2\u00a0m" },
  "pieces": [
    {
      "id": "hut",
      "name": "ticket hut",
      "kind": "setting",
      "section": "section-a",
      "at": { "x": 900, "y": 1200.50, "z": 0, "facing": "0\u00b0", "roll": -0 },
      "ratio": "24:2",
      "parts": [
        {
          "name": "front",
          "wall": {
            "width": 120,
            "thickness": 4,
            "height": 180,
            "openings": [{ "from_left": 40, "sill": 80, "width": 40, "height": 50 }]
          },
          "colour": "#6f7f86",
          "lets_through": 0.0
        },
        {
          "name": "shingle",
          "terrain": {
            "width": 400,
            "depth": 400,
            "columns": 6,
            "rows": 6,
            "heights": [
              0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1, 1.1, 1.2, 1.3, 1.4, 1.5, 1.6, 1.7,
              1.8, 1.9, 2, 2.1, 2.2, 2.3, 2.4, 2.5, 2.6, 2.7, 2.8, 2.9, 3, 3.1, 3.2, 3.3, 3.4, 3.5,
              3.6
            ]
          }
        }
      ],
      "note": "two\nlines"
    }
  ]
}
)json";

std::string written_again(const std::string& text) {
    const auto document = read_document(text, "landing.json");
    REQUIRE_MESSAGE(document.ok(), one_line(document.error()));
    return write_document(*document);
}

std::string refusal(const std::string& text) {
    const auto document = read_document(text, "f");
    REQUIRE(!document.ok());
    CHECK(document.error().code == ErrorCode::input);
    return one_line(document.error());
}

} // namespace

TEST_CASE("a file in the writer's layout is written back byte for byte") {
    CHECK(written_again(landing) == landing);
}

TEST_CASE("the values behind the texts") {
    const auto document = read_document(landing, "landing.json");
    REQUIRE(document.ok());
    // 11 ft 9 3/4 in at 304.8 and 25.4 mm exactly (NIST SP 811, 2008, App. B).
    CHECK(document->hall->ceiling.mm == 3600.45);
    CHECK(document->hall->outline[0].x.mm == -4000);
    CHECK(document->settings->course->mm == 203.2);
    CHECK(document->path->width.mm == 2000);
    const Piece& hut = *find_piece(*document, "hut");
    CHECK(hut.ratio->value == 12);
    CHECK(hut.at.y.mm == 1200.5);
    CHECK(hut.support == Support::section);
    CHECK(hut.parts[0].form.index() == 9);
    CHECK(std::get<TerrainForm>(hut.parts[1].form).heights[35].mm == 3.6);
}

TEST_CASE("layout does not matter to what is read") {
    std::string crammed;
    for (const char c : std::string(landing))
        if (c != '\n') crammed += c;
    CHECK(written_again(crammed) == landing);
    std::string other_line_ends;
    for (const char c : std::string(landing))
        other_line_ends += c == '\n' ? "\r\n" : std::string(1, c);
    CHECK(written_again(other_line_ends) == landing);
    CHECK(written_again("\xEF\xBB\xBF" + std::string(landing)) == landing); // a byte order mark
}

TEST_CASE("only what an edit touches is written anew") {
    auto document = read_document(landing, "landing.json");
    REQUIRE(document.ok());
    Pose6 at = find_piece(*document, "hut")->at;
    at.x = 0.1 + 0.2;
    const auto moved = apply(*document, Edit("move", MovePiece{"hut", at}));
    REQUIRE(moved.ok());
    std::string expected = landing;
    const std::string before = "\"x\": 900,";
    expected.replace(expected.find(before), before.size(), "\"x\": 0.30000000000000004,");
    CHECK(write_document(*moved) == expected);
}

TEST_CASE("a remembered text that no longer says the value is not written") {
    Document document = with_piece(bare_scene(), box_piece("crate", 0, 0, 0, 10, 10, 10));
    const auto written_with = [&](double mm, const std::string& token) {
        Piece piece = box_piece("crate", mm, 0, 0, 10, 10, 10);
        piece.at.x.as_read = token;
        return write_document(with_piece(bare_scene(), piece));
    };
    const auto has = [](const std::string& text, const char* part) {
        return text.find(part) != std::string::npos;
    };
    CHECK(has(written_with(1600.2, "\"63 in\""), "\"x\": \"63 in\""));
    CHECK(has(written_with(1600, "\"63 in\""), "\"x\": 1600 "));
    CHECK(has(written_with(5, "5, \"z\": 7"), "\"x\": 5 "));
    CHECK(has(written_with(5, " 5"), "\"x\": 5 "));
    CHECK(has(written_with(5, "05"), "\"x\": 5 "));
    CHECK(has(written_with(5, "\"5"), "\"x\": 5 "));
}

TEST_CASE("random scenes: written, read and written again are the same") {
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
        SceneMaker maker(seed);
        const Document document = maker.document(12);
        const Status valid = validate(document);
        REQUIRE_MESSAGE(valid.ok(), one_line(valid.error()));
        const std::string text = write_document(document);
        const auto back = read_document(text, "random");
        REQUIRE_MESSAGE(back.ok(), one_line(back.error()));
        CHECK(same_content(*back, document));
        CHECK(write_document(*back) == text);
        std::istringstream lines(text);
        // Names may be long; numbers and lists of them keep to the width.
        for (std::string line; std::getline(lines, line);)
            CHECK_MESSAGE(line.size() <= 100, line);
    }
}

TEST_CASE("bad files are refused with place, finding and expectation") {
    std::istringstream cases(file_text("tests/scene/bad/cases.tsv"));
    int count = 0;
    for (std::string line; std::getline(cases, line);) {
        if (line.starts_with("#")) continue;
        std::istringstream cells(line);
        std::string name, place, message;
        std::getline(cells, name, '\t');
        std::getline(cells, place, '\t');
        std::getline(cells, message, '\t');
        const auto read = read_document(file_text("tests/scene/bad/" + name + ".json"), name);
        REQUIRE_MESSAGE(!read.ok(), name);
        CHECK(read.error().where == name + ":" + place);
        CHECK_MESSAGE(read.error().message.find(message) != std::string::npos,
                      name << ": " << read.error().message);
        CHECK(one_line(read.error()).find('\n') == std::string::npos);
        ++count;
    }
    CHECK(count >= 70);
}

TEST_CASE("nesting: 64 deep is read, 65 is refused, 100 000 does no harm") {
    const auto nested = [](std::size_t depth, const char* open, const char* close) {
        std::string text = "{\"standpoint\": 1, \"deep\": ";
        for (std::size_t i = 0; i < depth; ++i)
            text += open;
        text += "1";
        for (std::size_t i = 0; i < depth; ++i)
            text += close;
        return text + "}";
    };
    // 63 lists in one object are 64 levels; then only the key is wrong.
    CHECK(refusal(nested(63, "[", "]")).find("unknown key \"deep\"") != std::string::npos);
    CHECK(refusal(nested(64, "[", "]")).find("deeper than 64") != std::string::npos);
    CHECK(refusal(nested(100000, "[", "]")).find("deeper than 64") != std::string::npos);
    CHECK(refusal(nested(100000, "{\"a\":", "}")).find("deeper than 64") != std::string::npos);
    CHECK(refusal(std::string(100000, '[')).find("deeper than 64") != std::string::npos);
}

TEST_CASE("large hostile files are refused in good time") {
    std::string keys = "{";
    for (int i = 0; i < 100000; ++i)
        keys += "\"k" + std::to_string(i) + "\": 0, ";
    CHECK(refusal(keys + "\"k5\": 0}").find("\"k5\" a second time") != std::string::npos);
    const std::string long_key(1 << 20, 'k');
    const std::string error = refusal("{\"" + long_key + "\": 1}");
    CHECK(error.find("unknown key") != std::string::npos);
    CHECK(error.size() < 500);
    CHECK(refusal("{\"standpoint\": " + std::string(1 << 20, '1') + "}").size() < 500);
}

TEST_CASE("mutated files never crash, and what is accepted is stable") {
    SceneMaker maker(7);
    std::string good = landing;
    const std::string random_text = write_document(maker.document(6));
    int accepted = 0;
    Random random(20261125);
    static const std::string bytes("\"{}[],:0-.e \\\n\xFF\xC3\0u9t", 21);
    for (int round = 0; round < 6000; ++round) {
        std::string text = round % 2 == 0 ? good : random_text;
        const auto position = [&] {
            return static_cast<std::size_t>(
                random.integer(0, static_cast<std::int64_t>(text.size()) - 1));
        };
        const std::int64_t changes = random.integer(1, 3);
        for (std::int64_t i = 0; i < changes && !text.empty(); ++i) {
            switch (random.integer(0, 4)) {
            case 0:
                text.resize(position());
                break;
            case 1:
                text[position()] = bytes[static_cast<std::size_t>(random.integer(0, 20))];
                break;
            case 2:
                text.erase(position(), static_cast<std::size_t>(random.integer(1, 9)));
                break;
            case 3:
                text.insert(position(), text.substr(position(), 12));
                break;
            default:
                text[position()] = static_cast<char>(random.integer(0, 255));
                break;
            }
        }
        const auto read = read_document(text, "mutated");
        if (!read.ok()) {
            CHECK(read.error().where.starts_with("mutated:"));
            continue;
        }
        ++accepted;
        const std::string saved = write_document(*read);
        const auto again = read_document(saved, "saved");
        REQUIRE_MESSAGE(again.ok(), one_line(again.error()));
        CHECK(same_content(*again, *read));
        CHECK(write_document(*again) == saved);
    }
    CHECK(accepted > 100); // changed digits and names; else the test would show nothing
}
