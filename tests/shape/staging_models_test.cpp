// Staging of pieces with model files: read once, told apart by content, errors with all names.
#include <map>
#include <string>
#include <vector>

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include "staging_scenes.h"

using namespace standpoint;
using namespace standpoint::staging_scenes;

namespace {

const std::vector<float> sail{0, 0, 0, 0.5f, 0, 0, 0, 2, -0.25f}; // metres, Y up

Piece with_model(const std::string& id, const std::string& file, double unit_mm = 1000) {
    Piece made = piece(id, {part("rig", ModelForm{file, unit_mm}), part("keel", BoxForm{9, 9, 9})});
    made.ratio = Ratio(1);
    return made;
}

MemoryFiles with_sail() {
    MemoryFiles files;
    add_model(files, "landing/models/sail.gltf", "mainsail", sail);
    return files;
}

// Counts what is read, so that a second reading shows.
class CountingFiles : public FileAccess {
  public:
    explicit CountingFiles(const FileAccess& files) : files_(files) {}
    Result<std::string> read(const std::string& path) const override {
        ++reads[path];
        return files_.read(path);
    }
    mutable std::map<std::string, int> reads;

  private:
    const FileAccess& files_;
};

} // namespace

TEST_CASE("a model lies beside the scene, in the piece's axes, its nodes named and owned") {
    const MemoryFiles files = with_sail();
    const Staging staging = staged(with_pieces({with_model("boat", "models/sail.gltf")}), files);
    const StagedPiece& boat = find(staging, "boat");
    REQUIRE(boat.mesh->parts.size() == 2);
    CHECK(boat.mesh->parts[0].name == "mainsail");
    CHECK(boat.mesh->parts[0].belongs_to == "rig");
    CHECK(boat.mesh->parts[1].name == "keel");
    // (x, y, z) of the file is (x, -z, y): 0.5 m wide, 0.25 m deep, 2 m high; the keel adds -4.5.
    CHECK(boat.box.low == glm::dvec3(-4.5, -4.5, 0));
    CHECK(boat.box.high == glm::dvec3(500, 250, 2000));
}

TEST_CASE("a model keeps its own colour, and lets through what its part says") {
    const MemoryFiles files = with_sail();
    Piece plain = with_model("plain", "models/sail.gltf"),
          thin = with_model("thin", "models/sail.gltf");
    thin.parts[0].colour = "#ff0000";
    thin.parts[0].lets_through = Number(0.75);
    const Staging staging = staged(with_pieces({plain, thin}), files);
    const auto material = [&](const char* id) {
        const Mesh& mesh = *find(staging, id).mesh;
        return mesh.materials[mesh.parts[0].material];
    };
    CHECK(material("plain").colour == material("thin").colour);
    CHECK(material("plain").lets_through == 0);
    CHECK(material("thin").lets_through == 0.75f);
}

TEST_CASE("one file is read for all pieces, and equal pieces share the mesh") {
    const MemoryFiles files = with_sail();
    const CountingFiles counted(files);
    std::vector<Piece> pieces;
    for (int i = 0; i < 20; ++i) {
        pieces.push_back(with_model("boat-" + std::to_string(i), "models/sail.gltf"));
    }
    staged(with_pieces({pieces[0]}), counted);
    const auto once = counted.reads;
    counted.reads.clear();
    pieces.back().parts[0].at.facing = 15; // another mesh of the same file
    const Staging staging = staged(with_pieces(pieces), counted);
    CHECK(counted.reads == once);
    CHECK(staging.pieces[0].mesh == staging.pieces[18].mesh);
    CHECK(staging.pieces[0].mesh != staging.pieces[19].mesh);
}

TEST_CASE("restaging sees that a file changed, and shares the mesh while it has not") {
    MemoryFiles files = with_sail();
    const Document document = with_pieces({with_model("boat", "models/sail.gltf")});
    const Staging before = staged(document, files);
    const auto again = [&](const Staging& earlier) {
        Result<Staging> next = restage(earlier, document, scene_file, files, StagedFor::checks);
        REQUIRE(next.ok());
        CHECK(same(*next, staged(document, files)));
        return std::move(*next);
    };
    const Staging unchanged = again(before);
    CHECK(find(unchanged, "boat").mesh == find(before, "boat").mesh);
    CHECK(find(unchanged, "boat").mesh_hash == find(before, "boat").mesh_hash);
    std::vector<float> taller = sail;
    taller[7] = 3;
    add_model(files, "landing/models/sail.gltf", "mainsail", taller);
    const Staging changed = again(unchanged);
    CHECK(find(changed, "boat").mesh != find(before, "boat").mesh);
    CHECK(find(changed, "boat").mesh_hash != find(before, "boat").mesh_hash);
    CHECK(find(changed, "boat").box.high.z == 3000);
    // The same file read in another unit is another mesh.
    const Staging other = staged(with_pieces({with_model("boat", "models/sail.gltf", 500)}), files);
    CHECK(find(other, "boat").mesh_hash != find(changed, "boat").mesh_hash);
    CHECK(find(other, "boat").box.high.z == 1500);
}

TEST_CASE("errors of models name scene file, pointer, piece and model file") {
    MemoryFiles files = with_sail();
    Piece lost = with_model("boat", "models/lost.gltf");
    const Error missing =
        refused(with_pieces({with_model("fine", "models/sail.gltf"), lost}), files);
    CHECK(missing.code == ErrorCode::io);
    CHECK(missing.where == "landing/scene.json (/pieces/1/parts/0)");
    CHECK(missing.message.find("piece \"boat\"") == 0);
    CHECK(missing.message.find("landing/models/lost.gltf") != std::string::npos);
    files.files["landing/models/torn.gltf"] = "{\"asset\":";
    const Error torn = refused(with_pieces({with_model("boat", "models/torn.gltf")}), files);
    CHECK(torn.code == ErrorCode::input);
    CHECK(torn.where == "landing/scene.json (/pieces/0/parts/0)");
    CHECK(torn.message.find("landing/models/torn.gltf") != std::string::npos);
    const Error outside = refused(with_pieces({with_model("boat", "../models/sail.gltf")}), files);
    CHECK(outside.code == ErrorCode::input);
    CHECK(outside.where == "landing/scene.json (/pieces/0/parts/0)");
    CHECK(outside.message.find("../models/sail.gltf") != std::string::npos);
}
