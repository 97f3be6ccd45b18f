// Whole scenes as .glb: every form, and the demo scenes, stand where they are staged.
#include <cmath>
#include <filesystem>
#include <fstream>

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include "scene/json.h"
#include "shape/gltf_read.h"
#include "shape/gltf_samples.h"
#include "shape/gltf_write.h"
#include "shape/staging_scenes.h"

using namespace standpoint;

namespace {

namespace fs = std::filesystem;

// Exports for the test of the Khronos validator, reads back, and compares the boxes.
void check_export(const Staging& staging, const std::string& name) {
    StringSink sink;
    REQUIRE(write_glb(staging, sink).ok());
    const fs::path folder = fs::path(STANDPOINT_BINARY_DIR) / "validate";
    fs::create_directories(folder);
    std::ofstream(folder / (name + ".glb"), std::ios::binary) << sink.bytes;
    const auto back =
        read_gltf(gltf_samples::sample_path, gltf_samples::one_file(sink.bytes), 1000);
    REQUIRE_MESSAGE(back.ok(), one_line(back.error()));
    gltf_samples::check_sound(*back);
    Box staged;
    std::size_t triangles = 0;
    for (const StagedPiece& piece : staging.pieces) {
        staged = joined(staged, piece.box);
        triangles += piece.mesh->triangles.size();
    }
    CHECK(back->triangles.size() == triangles);
    // Single precision at an original of up to 250 mm, enlarged 12 to 14 times, and of the hall.
    const Box box = bounds(*back);
    CHECK(glm::distance(box.low, staged.low) < 2e-3);
    CHECK(glm::distance(box.high, staged.high) < 2e-3);
}

} // namespace

TEST_CASE("every form is exported") {
    const std::vector<PlanPoint> outline{{0, 0}, {60, 0}, {60, 40}, {20, 40}, {20, 70}, {0, 70}};
    const std::vector<Form> forms{BoxForm{40, 30, 20},
                                  CylinderForm{30, 50},
                                  ConeForm{30, 0, 50},
                                  SphereForm{30},
                                  CapsuleForm{20, 90},
                                  ExtrusionForm{outline, 12},
                                  TurningForm{{{0, 0}, {20, 0}, {8, 30}, {0, 45}}},
                                  StairsForm{60, 20, 15, 4},
                                  FenceForm{{{0, 0}, {200, 0}}, 80, 5, 60, {75, 40}, 3, 6},
                                  WallForm{120, 4, 180, {{40, 80, 40, 50}}},
                                  TerrainForm{100, 80, 3, 2, {5, 6, 7, 8, 9, 4}}};
    std::vector<Piece> pieces;
    for (std::size_t i = 0; i < forms.size(); ++i) {
        Part part = staging_scenes::part("", forms[i]);
        if (i % 3 == 1) part.lets_through = Number(0.5);
        pieces.push_back(staging_scenes::piece(form_names[i], {part}));
        pieces.back().at.x = Length(300.0 * static_cast<double>(i));
        pieces.back().at.facing = Angle(31.0 * static_cast<double>(i));
    }
    check_export(staging_scenes::staged(staging_scenes::with_pieces(pieces)), "every-form");
}

TEST_CASE("the demo scenes are exported") {
    int scenes = 0;
    for (const auto& entry :
         fs::directory_iterator(fs::path(STANDPOINT_SOURCE_DIR) / "assets-demo")) {
        const std::string path = entry.path().string();
        if (!path.ends_with(".scene.json")) continue;
        const auto json = DiskFiles().read(path);
        REQUIRE(json.ok());
        const auto document = read_document(*json, path);
        REQUIRE_MESSAGE(document.ok(), one_line(document.error()));
        const auto staging = stage(*document, path, DiskFiles(), StagedFor::views);
        REQUIRE_MESSAGE(staging.ok(), one_line(staging.error()));
        check_export(*staging, entry.path().filename().stem().stem().string());
        ++scenes;
    }
    CHECK(scenes >= 2);
}
