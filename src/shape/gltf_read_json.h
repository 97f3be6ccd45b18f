// The JSON of a glTF file as values that know the pointer leading to them, and checked ways in.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/result.h"

namespace standpoint::gltf {

struct JsonMember;
struct JsonValue;
using JsonList = std::vector<JsonValue>;
using JsonObject = std::vector<JsonMember>; // sorted by key, no key twice

struct JsonValue {
    std::variant<std::monostate, bool, double, std::string, JsonList, JsonObject> data;
};
struct JsonMember {
    std::string key;
    JsonValue value;
};

// Deeper or larger than this is no model but an attack on memory: a glTF of a few thousand nodes
// has some 100 000 values, at most 10 deep.
inline constexpr std::size_t most_json_levels = 64;
inline constexpr std::size_t most_json_values = 10'000'000;

// Refused: malformed JSON, broken UTF-8, numbers beyond double, a key twice in an object, too deep,
// too many values. `file` goes into the error's where.
Result<JsonValue> parse_json(std::string_view text, const std::string& file);

// A place in the file: the value there (null: absent) and its JSON pointer.
struct Spot {
    const JsonValue* value = nullptr;
    std::string pointer;
    const std::string* file = nullptr; // outlives the spot

    explicit operator bool() const { return value != nullptr; }
};

// "pointer: found F, expected E", where = the file.
Error wrong(const Spot& spot, std::string_view found, std::string_view expected);
// What stands at a spot, short and on one line: `"abc"`, `-4`, `a list of 3`, `nothing`.
std::string describe(const Spot& spot);
// Text of a file made fit for one line of a message or for a name: no control characters.
std::string printable(std::string_view text, std::size_t most = 64);

Spot member(const Spot& owner, std::string_view key); // absent: a spot without value
// Absent: a spot without value, of length 0. Another kind of value is an error.
Result<Spot> object_member(const Spot& owner, std::string_view key);
Result<Spot> list_member(const Spot& owner, std::string_view key);
std::size_t length(const Spot& list);
Spot item(const Spot& list, std::size_t index);
Result<Spot> object_item(const Spot& list, std::size_t index);

Result<std::optional<double>> number_member(const Spot& owner, std::string_view key);
Result<double> number_member(const Spot& owner, std::string_view key, double fallback, double low,
                             double high);
// Whole numbers from 0 to 2^53.
Result<std::optional<std::uint64_t>> whole_member(const Spot& owner, std::string_view key);
Result<std::uint64_t> whole_member(const Spot& owner, std::string_view key, std::uint64_t fallback);
Result<std::uint64_t> needed_whole(const Spot& owner, std::string_view key);
Result<std::optional<std::string>> text_member(const Spot& owner, std::string_view key);
Result<bool> flag_member(const Spot& owner, std::string_view key, bool fallback);
// Exactly `count` numbers, or none when absent.
Result<std::vector<double>> numbers_member(const Spot& owner, std::string_view key,
                                           std::size_t count);

// The index at a spot into a list of `size` things called `what` ("meshes").
Result<std::uint32_t> index_at(const Spot& spot, std::size_t size, std::string_view what);
Result<std::optional<std::uint32_t>> index_member(const Spot& owner, std::string_view key,
                                                  const Spot& list, std::string_view what);

} // namespace standpoint::gltf
