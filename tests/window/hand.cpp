// Frames without a window: a context, a font atlas, and input put in by hand.
#include "hand.h"

#include <doctest/doctest.h>
#include <imgui.h>

#include "window/actions.h"

namespace standpoint {

Hand::Hand(int width, int height, float scale) {
    context_ = ImGui::CreateContext();
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.BackendFlags |= ImGuiBackendFlags_RendererHasVtxOffset; // as the drawing backend has it
    io.DisplaySize = {static_cast<float>(width), static_cast<float>(height)};
    io.DeltaTime = 1 / 60.0f;
    io.MousePos = {-1000, -1000};
    // The toolkit's codes for editing keys, numbered as the window library does.
    io.KeyMap[ImGuiKey_Tab] = 258;
    io.KeyMap[ImGuiKey_LeftArrow] = 263;
    io.KeyMap[ImGuiKey_RightArrow] = 262;
    io.KeyMap[ImGuiKey_Home] = 268;
    io.KeyMap[ImGuiKey_End] = 269;
    io.KeyMap[ImGuiKey_Delete] = 261;
    io.KeyMap[ImGuiKey_Backspace] = 259;
    io.KeyMap[ImGuiKey_Enter] = 257;
    io.KeyMap[ImGuiKey_Escape] = 256;
    io.KeyMap[ImGuiKey_A] = 'A';
    io.KeyMap[ImGuiKey_Z] = 'Z';
    apply_style(light_palette(), scale);
    add_fonts(scale);
    unsigned char* pixels = nullptr;
    int w = 0, h = 0;
    io.Fonts->GetTexDataAsRGBA32(&pixels, &w, &h);
}

Hand::~Hand() {
    ImGui::DestroyContext(static_cast<ImGuiContext*>(context_));
}

void Hand::frame(int count) {
    for (int i = 0; i < count; ++i) {
        ImGui::NewFrame();
        shell.clock += 1 / 60.0;
        const Ui ui = {shell.settings.dark ? &dark_palette() : &light_palette(),
                       ImGui::GetFontSize(), &tags, &typing};
        draw_frame(shell, ui);
        ImGui::Render();
        ImGui::GetIO().MouseWheel = 0;
    }
}

void Hand::move_to(const glm::vec2& at) {
    ImGui::GetIO().MousePos = {at.x, at.y};
    frame();
}

void Hand::press(int button) {
    ImGui::GetIO().MouseDown[button] = true;
    frame();
}

void Hand::let_go(int button) {
    ImGui::GetIO().MouseDown[button] = false;
    frame();
}

void Hand::click(const glm::vec2& at, int button) {
    move_to(at);
    frame(30); // two presses in a row are not meant as one pressed twice
    press(button);
    let_go(button);
    frame();
}

void Hand::click(const std::string& tag) {
    click(middle(tag));
}

void Hand::drag(const glm::vec2& from, const glm::vec2& to, int button) {
    move_to(from);
    frame(30);
    press(button);
    for (int i = 1; i <= 8; ++i)
        move_to(from + (to - from) * (static_cast<float>(i) / 8));
    let_go(button);
    frame();
}

void Hand::key(const std::string& keys) {
    const Chord chord = chord_of(keys);
    REQUIRE(chord.key != 0);
    ImGuiIO& io = ImGui::GetIO();
    io.KeyCtrl = chord.ctrl;
    io.KeyShift = chord.shift;
    io.KeyAlt = chord.alt;
    io.KeysDown[chord.key] = true;
    frame();
    io.KeysDown[chord.key] = false;
    io.KeyCtrl = io.KeyShift = io.KeyAlt = false;
    frame();
}

void Hand::type(const std::string& text) {
    ImGui::GetIO().AddInputCharactersUTF8(text.c_str());
    frame();
}

void Hand::wheel(float by) {
    ImGui::GetIO().MouseWheel = by;
    frame();
}

glm::vec2 Hand::middle(const std::string& tag) const {
    CAPTURE(tag);
    const auto found = tags.find(tag);
    REQUIRE(found != tags.end());
    return found->second.middle();
}

glm::vec2 Hand::on_screen(int view, const glm::dvec3& point) const {
    const View& v = shell.views[static_cast<std::size_t>(view)];
    const auto pixel = pixel_of(v.camera, glm::ivec2(v.high - v.low), point);
    REQUIRE(pixel);
    return v.low + glm::vec2(*pixel);
}

void Hand::settle_checks() {
    frame();
    REQUIRE(shell.check);
    shell.check->settle();
    frame(2);
}

} // namespace standpoint
