// A glTF file opened: .gltf or .glb taken apart, its version and extensions checked, and the files
// it refers to.
#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "base/files.h"
#include "shape/gltf_read_json.h"

namespace standpoint::gltf {

// Of all the files that a model refers to, together; a file is limited by its access as well.
inline constexpr std::size_t most_neighbour_bytes = std::size_t{4} << 30;

struct File { // stays where it is: spots and views point into it
    std::string path;
    std::string bytes; // of the whole file
    JsonValue json;
    std::string_view binary; // the .glb's binary chunk
    bool has_binary = false;
    bool quantised = false; // KHR_mesh_quantization is in use

    Spot root() const { return {&json, "", &path}; }
};

Result<std::unique_ptr<const File>> open_file(const std::string& path, const FileAccess& files);

// True of the extensions that a file may require.
bool known_extension(std::string_view name);

// The bytes behind a "uri" member: decoded from a data URI, or read from beside the model.
Result<std::string> uri_bytes(const Spot& uri, const std::string& text, const FileAccess& files);
bool is_data_uri(std::string_view uri);

} // namespace standpoint::gltf
