// A glTF file opened: the .glb container, version, extensions, data URIs and neighbouring files.
#include "shape/gltf_read_file.h"

#include <algorithm>
#include <array>
#include <cctype>

#include <fmt/format.h>

namespace standpoint::gltf {

namespace {

// JSON beyond this size is refused unread; geometry belongs into buffers.
constexpr std::size_t most_json_bytes = std::size_t{256} << 20;

// Understood: texture_transform, mesh_quantization, transmission (as light let through). Harmless:
// the rest change how a surface shines or add lamps, and leave its shape and base colour alone.
constexpr std::array<std::string_view, 10> known_extensions = {
    "KHR_lights_punctual",   "KHR_materials_clearcoat",    "KHR_materials_emissive_strength",
    "KHR_materials_ior",     "KHR_materials_sheen",        "KHR_materials_specular",
    "KHR_materials_unlit",   "KHR_materials_transmission", "KHR_mesh_quantization",
    "KHR_texture_transform",
};

std::uint32_t word_at(std::string_view bytes, std::size_t at) {
    std::uint32_t out = 0;
    for (int i = 3; i >= 0; --i)
        out = out << 8 | static_cast<unsigned char>(bytes[at + static_cast<std::size_t>(i)]);
    return out;
}

constexpr std::uint32_t chunk_json = 0x4e4f534a;
constexpr std::uint32_t chunk_binary = 0x004e4942;

// Points `json` and the file's binary chunk into its bytes.
Status split_glb(File& file, std::string_view& json) {
    const std::string_view all = file.bytes;
    if (all.size() < 20)
        return input_error(file.path, fmt::format("found a .glb of {} bytes, expected a header and "
                                                  "a chunk, at least 20 bytes",
                                                  all.size()));
    if (word_at(all, 4) != 2)
        return input_error(
            file.path, fmt::format("found .glb container version {}, expected 2", word_at(all, 4)));
    if (word_at(all, 8) != all.size())
        return input_error(file.path,
                           fmt::format("found {} bytes, expected the {} that the .glb header says",
                                       all.size(), word_at(all, 8)));
    std::size_t at = 12;
    for (int chunk = 0; at < all.size(); ++chunk) {
        if (all.size() - at < 8)
            return input_error(file.path, fmt::format("at byte {}: found {} bytes, expected a "
                                                      "chunk header of 8",
                                                      at, all.size() - at));
        const std::size_t size = word_at(all, at);
        const std::uint32_t type = word_at(all, at + 4);
        if (size > all.size() - at - 8)
            return input_error(file.path, fmt::format("at byte {}: found a chunk of {} bytes, "
                                                      "expected at most the {} that are left",
                                                      at, size, all.size() - at - 8));
        if (size % 4 != 0)
            return input_error(file.path, fmt::format("at byte {}: found a chunk of {} bytes, "
                                                      "expected a multiple of 4",
                                                      at, size));
        if ((chunk == 0) != (type == chunk_json))
            return input_error(file.path, fmt::format("at byte {}: found chunk type {:#010x}, "
                                                      "expected one JSON chunk, the first",
                                                      at, type));
        if (chunk == 0) json = all.substr(at + 8, size);
        if (chunk == 1 && type == chunk_binary) {
            file.binary = all.substr(at + 8, size);
            file.has_binary = true;
        }
        at += 8 + size;
    }
    return Done{};
}

struct Version {
    std::uint64_t major = 0, minor = 0;
};

Result<std::optional<Version>> version_member(const Spot& asset, std::string_view key) {
    STANDPOINT_TRY(text, text_member(asset, key));
    if (!text) return std::optional<Version>();
    const std::size_t dot = text->find('.');
    const auto digits = [](std::string_view part) {
        return !part.empty() && part.size() <= 9 &&
               std::all_of(part.begin(), part.end(), [](char c) { return c >= '0' && c <= '9'; });
    };
    if (dot == std::string::npos || !digits(std::string_view(*text).substr(0, dot)) ||
        !digits(std::string_view(*text).substr(dot + 1))) {
        const Spot spot = member(asset, key);
        return wrong(spot, describe(spot), "a version such as \"2.0\"");
    }
    return std::optional<Version>(Version{std::stoul(*text), std::stoul(text->substr(dot + 1))});
}

Status check_version(const File& file) {
    STANDPOINT_TRY(asset, object_member(file.root(), "asset"));
    STANDPOINT_TRY(version, version_member(asset, "version"));
    STANDPOINT_TRY(least, version_member(asset, "minVersion"));
    const Spot spot = member(asset, "version");
    if (!version || version->major != 2) return wrong(spot, describe(spot), "glTF version 2.0");
    if (least && (least->major != 2 || least->minor != 0)) {
        const Spot needed = member(asset, "minVersion");
        return wrong(needed, describe(needed), "\"2.0\", the version that is understood");
    }
    return Done{};
}

Status check_extensions(File& file) {
    for (const char* key : {"extensionsRequired", "extensionsUsed"}) {
        STANDPOINT_TRY(list, list_member(file.root(), key));
        for (std::size_t i = 0; i < length(list); ++i) {
            const Spot spot = item(list, i);
            const auto* name = std::get_if<std::string>(&spot.value->data);
            if (!name) return wrong(spot, describe(spot), "the name of an extension");
            if (std::string_view(key) == "extensionsRequired" && !known_extension(*name))
                return wrong(spot, "the required extension " + describe(spot),
                             "one of " + fmt::format("{}", fmt::join(known_extensions, ", ")));
            if (*name == "KHR_mesh_quantization") file.quantised = true;
        }
    }
    return Done{};
}

int base64_value(char c) {
    if (c >= 'A' && c <= 'Z') return c - 'A';
    if (c >= 'a' && c <= 'z') return c - 'a' + 26;
    if (c >= '0' && c <= '9') return c - '0' + 52;
    if (c == '+') return 62;
    return c == '/' ? 63 : -1;
}

Result<std::string> decode_base64(const Spot& uri, std::string_view text) {
    if (text.size() % 4 != 0)
        return wrong(uri, fmt::format("{} characters of base64", text.size()), "a multiple of 4");
    std::size_t padding = 0;
    while (padding < 2 && padding < text.size() && text[text.size() - 1 - padding] == '=')
        ++padding;
    const std::size_t meant = text.size() - padding;
    std::string out;
    out.reserve(text.size() / 4 * 3);
    std::uint32_t word = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const int value = i < meant ? base64_value(text[i]) : 0;
        if (value < 0)
            return wrong(uri, fmt::format("\"{}\" in base64", printable(text.substr(i, 1))),
                         "A-Z, a-z, 0-9, + or /");
        word = word << 6 | static_cast<std::uint32_t>(value);
        if (i % 4 != 3) continue;
        for (int shift = 16; shift >= 0; shift -= 8)
            out += static_cast<char>(word >> shift & 0xff);
        word = 0;
    }
    out.resize(out.size() - padding);
    return out;
}

} // namespace

bool known_extension(std::string_view name) {
    return std::find(known_extensions.begin(), known_extensions.end(), name) !=
           known_extensions.end();
}

bool is_data_uri(std::string_view uri) {
    constexpr std::string_view scheme = "data:";
    return uri.size() >= scheme.size() &&
           std::equal(scheme.begin(), scheme.end(), uri.begin(), [](char a, char b) {
               return a == static_cast<char>(std::tolower(static_cast<unsigned char>(b)));
           });
}

Result<std::string> uri_bytes(const Spot& uri, const std::string& text, const FileAccess& files) {
    if (is_data_uri(text)) {
        constexpr std::string_view mark = ";base64,";
        const std::size_t comma = text.find(',');
        if (comma == std::string::npos || comma + 1 < mark.size() ||
            text.compare(comma + 1 - mark.size(), mark.size(), mark) != 0)
            return wrong(uri, '"' + printable(text, 40) + '"', "a data URI in base64");
        return decode_base64(uri, std::string_view(text).substr(comma + 1));
    }
    const Result<std::string> path = path_beside(*uri.file, text);
    if (!path.ok())
        return input_error(*uri.file, fmt::format("{}: {}", uri.pointer, path.error().message));
    Result<std::string> bytes = files.read(*path);
    if (!bytes.ok())
        return Error{bytes.error().code,
                     fmt::format("{}: found \"{}\" unreadable ({}), expected a file beside the "
                                 "model",
                                 uri.pointer, printable(text), bytes.error().message),
                     *uri.file};
    return bytes;
}

Result<std::unique_ptr<const File>> open_file(const std::string& path, const FileAccess& files) {
    auto file = std::make_unique<File>();
    file->path = path;
    STANDPOINT_TRY(bytes, files.read(path));
    file->bytes = std::move(bytes);
    std::string_view json = file->bytes;
    if (json.starts_with("glTF")) STANDPOINT_TRY_STATUS(split_glb(*file, json));
    if (json.size() > most_json_bytes)
        return input_error(path, fmt::format("found {} bytes of JSON, expected at most {}",
                                             json.size(), most_json_bytes));
    STANDPOINT_TRY(parsed, parse_json(json, path));
    file->json = std::move(parsed);
    STANDPOINT_TRY_STATUS(check_version(*file));
    STANDPOINT_TRY_STATUS(check_extensions(*file));
    return std::unique_ptr<const File>(std::move(file));
}

} // namespace standpoint::gltf
