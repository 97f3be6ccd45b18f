// A visitor's view: the eye stands where the path, the lane and the visitor say.
#include <doctest/doctest.h>

#include "check/stations.h"
#include "desk/open.h"
#include "desk/view.h"
#include "scene/json.h"
#include "support/scenes.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

Staging staged(const Document& document) {
    Result<Staging> staging =
        stage(document, "low-water.scene.json", MemoryFiles(), StagedFor::checks);
    REQUIRE(staging.ok());
    return std::move(staging).value();
}

} // namespace

TEST_CASE("opening a scene gives what the document says, solid and indexed") {
    MemoryFiles files;
    const Document document =
        with_piece(bare_scene(), box_piece("crate", 500, 500, 0, 300, 300, 300));
    files.files["a.scene.json"] = write_document(document);
    Result<OpenScene> scene = open_scene("a.scene.json", files);
    REQUIRE(scene.ok());
    CHECK(same_content(scene->document, document));
    CHECK(find_staged(*scene->staging, "crate") != nullptr);
    Crossing crossing;
    CHECK(scene->index->nearest({{500, 500, 3000}, {500, 500, -100}}, crossing));
    CHECK(scene->staging->pieces[crossing.piece].id == "crate");
    CHECK(!open_scene("b.scene.json", files).ok());
}

TEST_CASE("the eye is on the path, at the visitor's height, in the lane asked for") {
    const Staging staging = staged(bare_scene());
    const Visitor visitor = staging.document.visitors->front();
    ViewRequest request;
    request.distance_mm = 2010;
    const Result<Camera> middle = visitor_view(staging, request);
    REQUIRE(middle.ok());
    CHECK(middle->eye.z == visitor.eye_height.mm);
    for (int lane = 0; lane < lane_count; ++lane) {
        request.lane = lane;
        const Result<Camera> camera = visitor_view(staging, request);
        REQUIRE(camera.ok());
        // Left and right lanes lie as far off the middle as the eye may go towards the edge.
        const double off = staging.document.path->width.mm / 2 - visitor.setback.mm;
        CHECK(glm::length(camera->eye - middle->eye) == doctest::Approx(lane == 1 ? 0 : off));
    }
}

TEST_CASE("what is looked at is the middle of the piece, the section or the target") {
    const Document document =
        with_piece(bare_scene(), box_piece("crate", 700, 600, 0, 300, 200, 100));
    const Staging staging = staged(document);
    ViewRequest request;
    request.look_at = "crate";
    const Result<Camera> camera = visitor_view(staging, request);
    REQUIRE(camera.ok());
    CHECK(glm::length(camera->look_at - find_staged(staging, "crate")->box.centre()) < 1e-9);
}

TEST_CASE("what does not exist is refused with what there is") {
    const Staging staging = staged(bare_scene());
    const double length = path_length(*staging.document.path);
    ViewRequest request;
    request.distance_mm = length;
    CHECK(visitor_view(staging, request).ok());
    request.distance_mm = length + 1.01;
    CHECK(!visitor_view(staging, request).ok());
    request.distance_mm = -0.01;
    CHECK(!visitor_view(staging, request).ok());
    request = {};
    request.visitor = "nobody";
    const Result<Camera> camera = visitor_view(staging, request);
    REQUIRE(!camera.ok());
    CHECK(camera.error().message.find(staging.document.visitors->front().id) != std::string::npos);
    request = {};
    request.look_at = "nothing";
    CHECK(!visitor_view(staging, request).ok());
}
