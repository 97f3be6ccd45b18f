// The driver compiles a program for each way it is used, when it is first used so; that takes
// hundreds of milliseconds in all where drawing is done in software. Better before a scene is open.
#include <epoxy/gl.h>

#include "window/scene_drawing_gl.h"

namespace standpoint {

namespace {

StagedPiece sheet(const Material& material, double height) {
    const Box box{{-100, -100, height}, {100, 100, height}};
    StagedPiece piece = floor_piece(box, {0.5f, 0.5f, 0.5f});
    auto mesh = std::make_shared<Mesh>(*piece.mesh);
    mesh->materials = {material};
    mesh->uvs = {{0, 0}, {1, 0}, {1, 1}, {0, 1}};
    piece.mesh = mesh;
    piece.staged = StagedKind::piece;
    return piece;
}

// A plain, a textured and a see-through sheet.
std::shared_ptr<const Staging> samples() {
    auto staging = std::make_shared<Staging>();
    Material textured, pane;
    textured.image = std::make_shared<const Image>(Image{1, 1, {255, 255, 255, 255}});
    pane.lets_through = 0.5f;
    staging->pieces = {sheet({}, 0), sheet(textured, 50), sheet(pane, 100)};
    return staging;
}

} // namespace

void GlDrawing::warm_up() {
    DrawRequest request;
    request.staging = samples();
    request.size = {64, 48};
    request.tints = {{0, glm::vec3(1.0f), 0.5f, true}};
    for (const ViewKind kind : {ViewKind::plan, ViewKind::round}) {
        Slot slot;
        request.camera.kind = kind;
        store_.start_frame(1);
        draw_moving(slot, request);
        finish(slot, request);
        while (slot.steps < 2) {
            called_ = Clock::now();
            spent_ = 0;
            get_better(slot, request);
        }
        draw_moving(slot, request); // with the shadow that is there now
        finish(slot, request);
    }
    shadow_of_ = boxed_ = nullptr;
    effort_ = {};
    step_seconds_ = 1;
    facts_ = {};
    glBindVertexArray(0);
    glUseProgram(0);
    glActiveTexture(GL_TEXTURE0);
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
}

} // namespace standpoint
