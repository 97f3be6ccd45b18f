// Drawing the whole window for tests.
#include "drawn_window.h"

#include <backends/imgui_impl_opengl3.h>
#include <doctest/doctest.h>
#include <epoxy/gl.h>
#include <imgui.h>

namespace standpoint {

DrawnWindow::DrawnWindow(const glm::ivec2& size, float scale)
    : size_(size), page(size), hand(size.x, size.y, scale) {
    ImGui_ImplOpenGL3_Init("#version 330 core");
    ImGui_ImplOpenGL3_NewFrame();
    auto made = SceneDrawing::create();
    REQUIRE(made.ok());
    drawing = std::move(*made);
    hand.shell.drawing = drawing.get();
}

DrawnWindow::~DrawnWindow() {
    hand.shell.drawing = nullptr;
    ImGui_ImplOpenGL3_Shutdown();
}

void DrawnWindow::settle() {
    for (int i = 0; i < 50'000 && (i < 5 || drawing->unfinished()); ++i)
        hand.frame();
    REQUIRE_FALSE(drawing->unfinished());
}

Pixels DrawnWindow::picture() {
    kept.draw(*ImGui::GetDrawData(), size_, drawing.get());
    kept.show(page.page());
    REQUIRE(glGetError() == GL_NO_ERROR);
    return pixels_of_texture(page.colour());
}

} // namespace standpoint
