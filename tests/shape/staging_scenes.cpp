// Documents for the tests of staging.
#include "staging_scenes.h"

#include <algorithm>
#include <cstring>
#include <memory>
#include <utility>

#include <doctest/doctest.h>

namespace standpoint::staging_scenes {

Part part(const std::string& name, const Form& form, const Pose6& at) {
    Part made;
    made.name = name;
    made.form = form;
    made.at = at;
    return made;
}

Piece piece(const std::string& id, std::vector<Part> parts, const Pose6& at) {
    Piece made;
    made.id = id;
    made.parts = std::move(parts);
    made.at = at;
    return made;
}

Document with_pieces(const std::vector<Piece>& pieces) {
    Document document = empty_document();
    std::vector<std::shared_ptr<const Piece>> list;
    for (const Piece& one : pieces)
        list.push_back(std::make_shared<const Piece>(one));
    document.pieces =
        std::make_shared<const std::vector<std::shared_ptr<const Piece>>>(std::move(list));
    document.targets = std::make_shared<const std::vector<std::shared_ptr<const Target>>>();
    return document;
}

Document with_hall(Document document, const std::function<void(Hall&)>& change) {
    Hall hall = *document.hall;
    change(hall);
    document.hall = std::make_shared<const Hall>(std::move(hall));
    return document;
}

Staging staged(const Document& document, const FileAccess& files, StagedFor purpose) {
    Result<Staging> staging = stage(document, scene_file, files, purpose);
    REQUIRE_MESSAGE(staging.ok(), one_line(staging.error()));
    return std::move(*staging);
}

Error refused(const Document& document, const FileAccess& files) {
    const Result<Staging> staging = stage(document, scene_file, files, StagedFor::checks);
    REQUIRE(!staging.ok());
    return staging.error();
}

const StagedPiece& find(const Staging& staging, const std::string& id) {
    const StagedPiece* found = find_staged(staging, id);
    REQUIRE(found != nullptr);
    return *found;
}

bool same(const Staging& a, const Staging& b) {
    if (!same_content(a.document, b.document) || a.pieces.size() != b.pieces.size()) return false;
    for (std::size_t i = 0; i < a.pieces.size(); ++i) {
        const StagedPiece &p = a.pieces[i], &q = b.pieces[i];
        if (p.id != q.id || p.staged != q.staged || p.piece != q.piece ||
            p.mesh_hash != q.mesh_hash || p.mesh->positions != q.mesh->positions ||
            p.mesh->triangles != q.mesh->triangles || p.placement.scale != q.placement.scale ||
            p.placement.frame.origin != q.placement.frame.origin ||
            p.placement.frame.rotation != q.placement.frame.rotation || p.box.low != q.box.low ||
            p.box.high != q.box.high) {
            return false;
        }
    }
    return true;
}

void add_model(MemoryFiles& files, const std::string& path, const std::string& node,
               const std::vector<float>& nine_coordinates) {
    REQUIRE(nine_coordinates.size() == 9);
    std::string bytes(36, '\0');
    std::memcpy(bytes.data(), nine_coordinates.data(), bytes.size());
    const std::string name = path.substr(path.rfind('/') + 1);
    std::string low, high;
    for (std::size_t axis = 0; axis < 3; ++axis) {
        float least = nine_coordinates[axis], most = least;
        for (std::size_t i = axis; i < 9; i += 3) {
            least = std::min(least, nine_coordinates[i]);
            most = std::max(most, nine_coordinates[i]);
        }
        low += (axis > 0 ? "," : "") + std::to_string(least);
        high += (axis > 0 ? "," : "") + std::to_string(most);
    }
    files.files[path + ".bin"] = bytes;
    files.files[path] =
        R"({"asset":{"version":"2.0"},"scene":0,"scenes":[{"nodes":[0]}],"nodes":[{"name":")" +
        node + R"(","mesh":0}],"meshes":[{"primitives":[{"attributes":{"POSITION":0}}]}],)" +
        R"("accessors":[{"bufferView":0,"componentType":5126,"count":3,"type":"VEC3","min":[)" +
        low + R"(],"max":[)" + high +
        R"(]}],"bufferViews":[{"buffer":0,"byteLength":36}],"buffers":[{"byteLength":36,"uri":")" +
        name + R"(.bin"}]})";
}

} // namespace standpoint::staging_scenes
