// Bringing a model in from elsewhere: copied beside the scene with all it refers to.
#include <algorithm>
#include <filesystem>
#include <map>
#include <optional>
#include <system_error>

#include <fmt/format.h>

#include "base/save.h"
#include "desk/library.h"
#include "shape/gltf_read.h"
#include "shape/gltf_read_file.h"

namespace standpoint {

namespace {

namespace fs = std::filesystem;

// Remembers what is read through it.
class Remembering : public FileAccess {
  public:
    explicit Remembering(const FileAccess& files) : files_(files) {}
    Result<std::string> read(const std::string& path) const override {
        Result<std::string> bytes = files_.read(path);
        if (bytes.ok()) read_[path] = *bytes;
        return bytes;
    }
    const std::map<std::string, std::string>& all() const { return read_; }

  private:
    const FileAccess& files_;
    mutable std::map<std::string, std::string> read_;
};

// Images that are not drawn here but belong to the model; those that are missing are left out.
Status read_other_images(const std::string& path, const FileAccess& files) {
    STANDPOINT_TRY(file, gltf::open_file(path, files));
    STANDPOINT_TRY(images, gltf::list_member(file->root(), "images"));
    for (std::size_t i = 0; i < gltf::length(images); ++i) {
        STANDPOINT_TRY(image, gltf::object_item(images, i));
        STANDPOINT_TRY(uri, gltf::text_member(image, "uri"));
        if (!uri || gltf::is_data_uri(*uri)) continue;
        const Result<std::string> beside = path_beside(path, *uri);
        if (beside.ok() && !files.read(*beside).ok()) continue;
    }
    return Done{};
}

std::string folder_part(const std::string& path) {
    const std::size_t slash = path.rfind('/');
    return slash == std::string::npos ? "" : path.substr(0, slash + 1);
}

fs::path whole(const std::string& path) {
    std::error_code error;
    const fs::path absolute = fs::absolute(path, error);
    return (error ? fs::path(path) : absolute).lexically_normal();
}

// The path from the scene's folder to a model below it; nothing when it lies elsewhere.
std::optional<std::string> path_below(const std::string& file, const std::string& scene_file) {
    const fs::path below = whole(file).lexically_relative(whole(scene_file).parent_path());
    const std::string text = below.generic_string();
    if (text.empty() || text == ".." || text.starts_with("../")) return std::nullopt;
    return text;
}

// A name that path_beside takes: what may be read as a scheme, an escape or a folder is replaced.
std::string plain_name(const fs::path& file) {
    std::string name = file.filename().string();
    for (char& c : name)
        if (c == '%' || c == ':' || c == '\\') c = '-';
    return name;
}

// Where the files go on the n-th try: beside the others, then under another name, then, where
// there are several, into a folder of their own.
struct Destination {
    std::string model;             // below the scene's folder
    std::vector<NamedBytes> files; // whole paths
};
Destination destination_of(const std::map<std::string, std::string>& read, const std::string& file,
                           const std::string& scene_folder, int attempt) {
    const fs::path name = plain_name(file);
    std::string below = "models/", model = name.string();
    if (attempt > 1 && read.size() == 1)
        model = fmt::format("{}-{}{}", name.stem().string(), attempt, name.extension().string());
    if (attempt > 1 && read.size() > 1)
        below += fmt::format("{}-{}/", name.stem().string(), attempt);
    Destination to;
    to.model = below + model;
    const std::string from = folder_part(file);
    for (const auto& [path, bytes] : read) {
        const std::string inner = path == file ? model : path.substr(from.size());
        to.files.push_back({scene_folder + below + inner, bytes});
    }
    return to;
}

// Leaves the files that have to be written; false when one is taken by another content.
bool fits(Destination& to, const FileAccess& files) {
    std::vector<NamedBytes> missing;
    for (NamedBytes& file : to.files) {
        std::error_code error;
        const bool there = fs::exists(file.path, error);
        if (!there && !error) {
            missing.push_back(std::move(file));
            continue;
        }
        const Result<std::string> bytes = files.read(file.path);
        if (!bytes.ok() || *bytes != file.bytes) return false;
    }
    to.files = std::move(missing);
    return true;
}

Status write_all(const Destination& to) {
    for (const NamedBytes& file : to.files) {
        std::error_code error;
        fs::create_directories(fs::path(file.path).parent_path(), error);
        if (error) return io_error(file.path, "cannot make its folder: " + error.message());
    }
    return to.files.empty() ? Status(Done{}) : save_files(to.files);
}

} // namespace

Result<LibraryEntry> bring_in(const std::string& file, const std::string& scene_file,
                              const FileAccess& files) {
    if (scene_file.empty())
        return input_error(file, "found a scene that was never saved, expected one with a folder "
                                 "that models can lie in. Save the scene first.");
    const Remembering remembering(files);
    const Result<Mesh> mesh = read_gltf(file, remembering, 1000);
    if (!mesh.ok()) return mesh.error();
    if (const auto below = path_below(file, scene_file)) return model_entry(*below);
    STANDPOINT_TRY_STATUS(read_other_images(file, remembering));
    constexpr int most_attempts = 1000;
    for (int attempt = 1; attempt <= most_attempts; ++attempt) {
        Destination to = destination_of(remembering.all(), file, folder_part(scene_file), attempt);
        if (!fits(to, files)) continue;
        STANDPOINT_TRY_STATUS(write_all(to));
        return model_entry(to.model);
    }
    return io_error(file, "cannot find a free name for it beside the scene");
}

} // namespace standpoint
