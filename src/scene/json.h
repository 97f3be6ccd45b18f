// Scene files: JSON in and out. Schema: src/scene/scene.schema.json.
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "scene/document.h"

namespace standpoint {

// Reads and validates. `file` is only used in messages. Errors (input) carry
// "file:line:column (/json/pointer)". Refused: malformed or truncated JSON, wrong types, unknown
// version, unknown keys (the nearest known key is named), duplicate keys or ids, dangling
// references, cycles, numbers out of range, nesting deeper than 64, broken UTF-8.
Result<Document> read_document(std::string_view json, const std::string& file);

// Stable order and layout; lengths, angles, ratios and numbers that nobody touched are written as
// they were read. Empty texts and lists, false, and "off" at "no" are left out. Ends in newline.
std::string write_document(const Document& document);

} // namespace standpoint
