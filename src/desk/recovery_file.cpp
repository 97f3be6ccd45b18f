// Recovery files as bytes: one line that says what it is, then the document.
#include "desk/autosave.h"

#include <cmath>

#include <fmt/format.h>

#include "base/hash.h"
#include "desk/state_folders.h"
#include "scene/json.h"
#include "scene/json_tree.h"

namespace standpoint {

namespace {

constexpr const char* mark = "standpoint-recovery";
constexpr double version = 1;
constexpr std::size_t longest_header = 64 << 10;
constexpr double largest_exact = 9007199254740992.0; // 2^53: beyond, a number is not exact

JsonNode text_node(const std::string& text) {
    JsonNode node;
    node.kind = JsonKind::string;
    node.token = json_string(text);
    node.text = text;
    return node;
}

JsonNode number_node(std::uint64_t number) {
    JsonNode node;
    node.kind = JsonKind::number;
    node.token = fmt::format("{}", number);
    return node;
}

std::string hash_text(std::string_view bytes) {
    return fmt::format("{:016x}", hash_bytes(bytes));
}

const std::string* text_in(const JsonNode& header, const char* key) {
    const JsonNode* node = header.find(key);
    return node != nullptr && node->kind == JsonKind::string ? &node->text : nullptr;
}

std::optional<std::uint64_t> whole_in(const JsonNode& header, const char* key) {
    const JsonNode* node = header.find(key);
    if (node == nullptr || node->kind != JsonKind::number) return std::nullopt;
    const double number = node->number;
    if (!(number >= 0 && number <= largest_exact) || number != std::floor(number))
        return std::nullopt;
    return static_cast<std::uint64_t>(number);
}

} // namespace

std::string recovery_bytes(const Recovered& recovered) {
    const std::string document = write_document(recovered.document);
    JsonNode header;
    header.add(mark, number_node(static_cast<std::uint64_t>(version)));
    header.add("original", text_node(text_of_path(recovered.original)));
    header.add("revision", number_node(recovered.revision));
    header.add("saved-at", text_node(recovered.saved_at));
    header.add("bytes", number_node(document.size()));
    header.add("hash", text_node(hash_text(document)));
    return lay_out_line(header) + "\n" + document;
}

Result<Recovered> read_recovery(std::string_view bytes, const std::string& file) {
    const std::size_t line = bytes.substr(0, longest_header).find('\n');
    if (line == std::string_view::npos || !bytes.starts_with('{'))
        return input_error(file,
                           "found no recovery file: the line that says what it is is missing");
    const Result<JsonNode> header = read_json_tree(bytes.substr(0, line), file);
    if (!header.ok() || whole_in(*header, mark) != static_cast<std::uint64_t>(version))
        return input_error(file, fmt::format("found no recovery file: its first line does not say "
                                             "\"{}\": {}",
                                             mark, version));
    const std::string* original = text_in(*header, "original");
    const std::string* saved_at = text_in(*header, "saved-at");
    const std::string* hash = text_in(*header, "hash");
    const auto revision = whole_in(*header, "revision");
    const auto size = whole_in(*header, "bytes");
    if (original == nullptr || saved_at == nullptr || hash == nullptr || !revision || !size)
        return input_error(file, "found a first line with something missing");
    const std::string_view document = bytes.substr(line + 1);
    if (document.size() != *size)
        return input_error(
            file, fmt::format("found {} bytes of the scene, expected {}", document.size(), *size));
    if (hash_text(document) != *hash)
        return input_error(file, "found a scene that was changed or damaged since it was written");
    STANDPOINT_TRY(read, read_document(document, file));
    return Recovered{read, path_of_text(*original), *revision, *saved_at};
}

} // namespace standpoint
