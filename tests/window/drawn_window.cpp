// Drawing the whole window for tests.
#include "drawn_window.h"

#include <backends/imgui_impl_opengl3.h>
#include <doctest/doctest.h>
#include <epoxy/gl.h>
#include <imgui.h>

namespace standpoint {

DrawnWindow::DrawnWindow(const glm::ivec2& size, float scale)
    : size_(size), page_(size), hand(size.x, size.y, scale) {
    ImGui_ImplOpenGL3_Init("#version 330 core");
    ImGui_ImplOpenGL3_NewFrame();
    auto made = SceneDrawing::create();
    REQUIRE(made.ok());
    drawing_ = std::move(*made);
    hand.shell.drawing = drawing_.get();
}

DrawnWindow::~DrawnWindow() {
    hand.shell.drawing = nullptr;
    ImGui_ImplOpenGL3_Shutdown();
}

void DrawnWindow::settle() {
    for (int i = 0; i < 50'000 && (i < 5 || drawing_->unfinished()); ++i)
        hand.frame();
    REQUIRE_FALSE(drawing_->unfinished());
}

Pixels DrawnWindow::picture() {
    kept_.draw(*ImGui::GetDrawData(), size_, drawing_.get());
    kept_.show(page_.page());
    REQUIRE(glGetError() == GL_NO_ERROR);
    return pixels_of_texture(page_.colour());
}

} // namespace standpoint
