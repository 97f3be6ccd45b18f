// The shipped demo scenes: kept in the writer's own form, and worth looking at.
#include <string>

#include <doctest/doctest.h>

#include "base/files.h"
#include "levels.h"
#include "picture/picture.h"
#include "scene/json.h"

using namespace standpoint;
using namespace standpoint::test;

namespace {

const std::string folder = std::string(STANDPOINT_SOURCE_DIR) + "/assets-demo/";

} // namespace

TEST_CASE("the demo scenes are in the form the program writes") {
    for (const char* name : {"low-water.scene.json", "low-water-corrected.scene.json"}) {
        const Result<std::string> text = DiskFiles().read(folder + name);
        REQUIRE(text.ok());
        const Result<Document> document = read_document(*text, name);
        REQUIRE(document.ok());
        CHECK(write_document(*document) == *text);
    }
}

TEST_CASE("the demo draws neither dark nor burnt out, with many shades, and alike twice") {
    const std::string file = folder + "low-water-corrected.scene.json";
    const Result<std::string> text = DiskFiles().read(file);
    REQUIRE(text.ok());
    const Result<Document> document = read_document(*text, file);
    REQUIRE(document.ok());
    const Result<Staging> staging = stage(*document, file, DiskFiles(), StagedFor::views);
    REQUIRE(staging.ok());
    const auto index = make_ray_index(*staging);
    Camera camera; // from the middle of the front, at a standing adult's eyes
    camera.eye = {2050, -2330, 1560};
    camera.look_at = {3000, 1900, 900};
    camera.field_of_view_deg = 78;
    PictureOptions options;
    options.width = 96;
    options.height = 54;
    options.samples = 2;
    options.light_samples = 2;
    const Result<Image> image = draw_picture(*staging, *index, camera, options, {});
    REQUIRE(image.ok());
    const Levels levels = levels_of(*image);
    CHECK(levels.mean > 70);
    CHECK(levels.mean < 185);
    CHECK(levels.burnt_share < 0.02);
    CHECK(levels.black_share < 0.05);
    CHECK(levels.spread > 30);
    options.threads = 1;
    CHECK(draw_picture(*staging, *index, camera, options, {})->rgba == image->rgba);
}
