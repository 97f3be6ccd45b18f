// Fills values from a positioned tree: the scalar types and the keys that need a word of their own.
#include "scene/json_reader.h"

#include <algorithm>
#include <charconv>

#include <fmt/format.h>

#include "scene/text.h"

namespace standpoint {

bool FieldReader::fail(std::size_t byte, std::string message) {
    const std::string pointer = pointer_of(root_, byte);
    std::string where = place_of(text_, byte, file_);
    if (!pointer.empty()) where += " (" + pointer + ")";
    error_ = input_error(std::move(where), std::move(message));
    return false;
}

bool FieldReader::mismatch(const JsonNode& node, const std::string& expected) {
    return fail(node.begin, "found " + describe_found(node) + ", expected " + expected);
}

bool FieldReader::missing(const JsonNode& node, const std::string& key) {
    return fail(node.begin, "found no " + in_quotes(key) + ", expected it in this object");
}

bool FieldReader::only_keys(const JsonNode& object, const std::vector<std::string>& known) {
    for (std::size_t i = 0; i < object.keys.size(); ++i) {
        const std::string& key = object.keys[i];
        if (std::find(known.begin(), known.end(), key) != known.end()) continue;
        const std::string near = nearest_word(key, known);
        if (!near.empty())
            return fail(object.key_begin[i], "found the unknown key " + in_quotes(key) +
                                                 ", expected " + in_quotes(near));
        std::string list;
        for (const std::string& one : known)
            list += (list.empty() ? "" : ", ") + one;
        return fail(object.key_begin[i],
                    "found the unknown key " + in_quotes(key) + ", expected one of " + list);
    }
    return true;
}

bool FieldReader::read_text(const JsonNode& node, std::string& out) {
    if (node.kind != JsonKind::string) return mismatch(node, "a text in quotes");
    out = node.text;
    return true;
}

bool FieldReader::read_bool(const JsonNode& node, bool& out) {
    if (node.kind != JsonKind::boolean) return mismatch(node, "true or false");
    out = node.token == "true";
    return true;
}

bool FieldReader::read_int(const JsonNode& node, int& out) {
    const char* end = node.token.data() + node.token.size();
    if (node.kind == JsonKind::number) {
        const auto read = std::from_chars(node.token.data(), end, out);
        if (read.ec == std::errc() && read.ptr == end) return true;
    }
    return mismatch(node, "a whole number");
}

bool FieldReader::read_length(const JsonNode& node, Length& out) {
    if (node.kind == JsonKind::number) {
        out.mm = node.number;
    } else if (node.kind == JsonKind::string) {
        const Result<double> parsed = parse_length_mm(node.text);
        if (!parsed.ok()) return fail(node.begin, parsed.error().message);
        out.mm = *parsed;
    } else {
        return mismatch(node, "a length such as 1600 or \"5' 3\\\"\"");
    }
    out.as_read = node.token;
    return true;
}

bool FieldReader::read_angle(const JsonNode& node, Angle& out) {
    if (node.kind == JsonKind::number) {
        out.deg = node.number;
    } else if (node.kind == JsonKind::string) {
        const Result<double> parsed = parse_angle_deg(node.text);
        if (!parsed.ok()) return fail(node.begin, parsed.error().message);
        out.deg = *parsed;
    } else {
        return mismatch(node, "an angle in degrees such as 90");
    }
    out.as_read = node.token;
    return true;
}

bool FieldReader::read_ratio(const JsonNode& node, Ratio& out) {
    if (node.kind == JsonKind::number) {
        out.value = node.number;
    } else if (node.kind == JsonKind::string) {
        const Result<double> parsed = parse_ratio(node.text);
        if (!parsed.ok()) return fail(node.begin, parsed.error().message);
        out.value = *parsed;
    } else {
        return mismatch(node, "a ratio such as \"12:1\"");
    }
    out.as_read = node.token;
    return true;
}

bool FieldReader::read_number(const JsonNode& node, Number& out) {
    if (node.kind != JsonKind::number) return mismatch(node, "a number");
    out.value = node.number;
    out.as_read = node.token;
    return true;
}

bool FieldReader::read_lengths(const JsonNode& node, std::initializer_list<Length*> out) {
    if (node.kind != JsonKind::array || node.items.size() != out.size())
        return mismatch(node, fmt::format("a list of {} lengths", out.size()));
    std::size_t i = 0;
    for (Length* length : out)
        if (!read_length(node.items[i++], *length)) return false;
    return true;
}

bool FieldReader::read_field(const JsonNode& object, Document&, const VersionField&) {
    const JsonNode* node = object.find(version_key);
    if (node == nullptr) return missing(object, version_key);
    if (node->kind == JsonKind::number && node->token == std::to_string(document_version))
        return true;
    return mismatch(*node, fmt::format("version {} of the scene format", document_version));
}

bool FieldReader::read_support(const JsonNode& object, Support& support, std::string& host) {
    const char* first = nullptr;
    for (int i = 1; i < static_cast<int>(std::size(support_keys)); ++i) {
        const JsonNode* node = object.find(support_keys[i]);
        if (node == nullptr) continue;
        if (first != nullptr)
            return fail(node->begin, fmt::format("found both \"{}\" and \"{}\", expected one",
                                                 first, support_keys[i]));
        first = support_keys[i];
        support = static_cast<Support>(i);
        if (!read_text(*node, host)) return false;
    }
    return true;
}

std::optional<std::size_t> FieldReader::only_one(const JsonNode& object, const char* const* names,
                                                 std::size_t count, const char* what) {
    std::optional<std::size_t> kind;
    std::string choices;
    for (std::size_t i = 0; i < count; ++i) {
        choices += (choices.empty() ? "" : ", ") + std::string(names[i]);
        const JsonNode* node = object.find(names[i]);
        if (node == nullptr) continue;
        if (kind) {
            fail(node->begin, fmt::format("found both \"{}\" and \"{}\", expected one {}",
                                          names[*kind], names[i], what));
            return std::nullopt;
        }
        kind = i;
    }
    if (!kind) fail(object.begin, fmt::format("found no {}, expected one of {}", what, choices));
    return kind;
}

bool FieldReader::read_field(const JsonNode& object, JoinLine& line, const BetweenField&) {
    const JsonNode* node = object.find(between_key);
    if (node == nullptr) return missing(object, between_key);
    if (node->kind != JsonKind::array || node->items.size() != 2)
        return mismatch(*node, "a list of two section ids");
    return read_text(node->items[0], line.between_a) && read_text(node->items[1], line.between_b);
}

} // namespace standpoint
