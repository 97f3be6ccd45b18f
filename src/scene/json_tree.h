// JSON text as a small tree that knows where each value stands, and the layout of files.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace standpoint {

inline constexpr std::size_t deepest_json = 64;

enum class JsonKind { null, boolean, number, string, array, object };

struct JsonNode {
    JsonKind kind = JsonKind::null;
    std::string token; // a scalar as it stands in the file: 1600, "5' 3\"", true
    std::string text;  // a string, decoded
    double number = 0;
    std::size_t begin = 0, end = 0; // bytes of the text that was read
    std::vector<std::string> keys;  // of an object, beside items
    std::vector<std::size_t> key_begin;
    std::vector<JsonNode> items; // of an array or object

    const JsonNode* find(std::string_view key) const; // null: none
    void add(std::string key, JsonNode value);        // to an object being built
};

// Errors (input): anything but one JSON value with distinct keys in each object, nested at most
// `deepest_json` deep, in UTF-8 (a byte order mark in front is allowed). `file` is for messages.
Result<JsonNode> read_json_tree(std::string_view text, const std::string& file);

// "file:line:column" of a byte; both count from 1, the column in characters.
std::string place_of(std::string_view text, std::size_t byte, const std::string& file);
// The JSON pointer of the innermost value that begins at or holds the byte; long keys are cut.
std::string pointer_of(const JsonNode& root, std::size_t byte);
// Where the value a pointer names begins, or the nearest one about it that is there.
std::size_t byte_of(const JsonNode& root, std::string_view pointer);

std::string pointer_step(std::string_view key); // "/key" with ~ and / escaped
std::string shortened(std::string_view text);   // for messages: cut after 60 bytes

// A string as a JSON token.
std::string json_string(std::string_view text);
// What was found, short enough for one line: `"hut"`, `12`, `an object`.
std::string describe_found(const JsonNode& node);

// The layout of files: two spaces, one line where it fits in 100 columns; the value itself and
// lists of objects directly inside it are always opened out.
std::string lay_out(const JsonNode& root);
// All on one line, for logs.
std::string lay_out_line(const JsonNode& root);

} // namespace standpoint
