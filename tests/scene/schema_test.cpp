// The published schema names the same keys as the tables that read and write; and samples for the
// independent validator (validate_schema.py).
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <iterator>

#include "random_scenes.h"
#include "scene/fields.h"
#include "scene/json.h"
#include "scene/json_reader.h"

using namespace standpoint;

namespace {

JsonNode schema() {
    const std::string path = std::string(STANDPOINT_SOURCE_DIR) + "/src/scene/scene.schema.json";
    std::ifstream file(path, std::ios::binary);
    const std::string text{std::istreambuf_iterator<char>(file), {}};
    auto read = read_json_tree(text, "scene.schema.json");
    REQUIRE_MESSAGE(read.ok(), one_line(read.error()));
    return *read;
}

template <class Owner, class Member>
void append_needed(std::vector<std::string>& keys, const Field<Owner, Member>& field) {
    if (field.presence == Presence::needed) keys.emplace_back(field.key);
}
void append_needed(std::vector<std::string>& keys, const VersionField&) {
    keys.emplace_back(version_key);
}
void append_needed(std::vector<std::string>& keys, const BetweenField&) {
    keys.emplace_back(between_key);
}
template <class Special> void append_needed(std::vector<std::string>&, const Special&) {}

template <class T> void check_agrees(const JsonNode& described) {
    CHECK(described.find("properties")->keys == keys_of<T>());
    std::vector<std::string> needed, required;
    each_field<T>([&](const auto& field) {
        append_needed(needed, field);
        return true;
    });
    if (const JsonNode* list = described.find("required"))
        for (const JsonNode& item : list->items)
            required.push_back(item.text);
    CHECK(required == needed);
    REQUIRE(described.find("additionalProperties") != nullptr);
    CHECK(described.find("additionalProperties")->token == "false");
}

template <std::size_t... Index>
void check_forms(const JsonNode& definitions, std::index_sequence<Index...>) {
    (check_agrees<std::variant_alternative_t<Index, Form>>(*definitions.find(form_names[Index])),
     ...);
}

template <std::size_t Count>
void check_names(const JsonNode& object, const char* key, const char* const (&names)[Count]) {
    const JsonNode& list = *object.find("properties")->find(key)->find("enum");
    REQUIRE(list.items.size() == Count);
    for (std::size_t i = 0; i < Count; ++i)
        CHECK(list.items[i].text == names[i]);
}

} // namespace

TEST_CASE("the schema has the keys of the tables, in their order, and needs the same ones") {
    const JsonNode root = schema();
    const JsonNode& definitions = *root.find("$defs");
    const auto at = [&](const char* name) -> const JsonNode& {
        REQUIRE_MESSAGE(definitions.find(name) != nullptr, name);
        return *definitions.find(name);
    };
    check_agrees<Document>(root);
    check_agrees<Settings>(at("settings"));
    check_agrees<Hall>(at("hall"));
    check_agrees<Column>(at("column"));
    check_agrees<Door>(at("door"));
    check_agrees<Section>(at("section"));
    check_agrees<JoinLine>(at("join_line"));
    check_agrees<ReferencePoint>(at("reference_point"));
    check_agrees<Path>(at("path"));
    check_agrees<Visitor>(at("visitor"));
    check_agrees<RuleChoice>(at("rules"));
    check_agrees<OwnRule>(at("own_rule"));
    check_agrees<Piece>(at("piece"));
    check_agrees<Pose6>(at("at"));
    check_agrees<Part>(at("part"));
    check_agrees<Mark>(at("mark"));
    check_agrees<Touch>(at("touch"));
    check_agrees<Gaze>(at("look"));
    check_agrees<WallOpening>(at("opening"));
    check_agrees<JointTurn>(at("joint_turn"));
    check_agrees<FigureDress>(at("dress"));
    check_agrees<Target>(at("target"));
    check_agrees<Patch>(at("patch"));
    check_forms(definitions, std::make_index_sequence<std::variant_size_v<Form>>());
    check_names(at("piece"), "kind", piece_kind_names);
    check_names(at("piece"), "off", off_names);
    check_names(at("touch"), "how", touch_how_names);
    check_names(at("touch"), "side", piece_side_names);
    check_names(at("target"), "aim", aim_names);
    check_names(at("settings"), "units", unit_system_names);
}

TEST_CASE("sample scenes for the validator") {
    const std::filesystem::path folder =
        std::filesystem::path(STANDPOINT_BINARY_DIR) / "sample-scenes";
    std::filesystem::create_directories(folder);
    for (std::uint64_t seed = 1; seed <= 25; ++seed) {
        support::SceneMaker maker(seed);
        const std::string text = write_document(maker.document(12));
        std::ofstream file(folder / ("sample-" + std::to_string(seed) + ".scene.json"),
                           std::ios::binary);
        file << text;
        CHECK(file.good());
    }
    std::ofstream file(folder / "starting.scene.json", std::ios::binary);
    file << write_document(empty_document());
    CHECK(file.good());
}
