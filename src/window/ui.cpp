// Widgets, style and fonts shared by the panels.
#include "window/ui.h"

#include <filesystem>

#include <imgui.h>

namespace standpoint {

namespace {

ImVec4 vec(const Colour& c) {
    return {c.r / 255.0f, c.g / 255.0f, c.b / 255.0f, c.a / 255.0f};
}

// InputText over a std::string that may grow.
int grow(ImGuiInputTextCallbackData* data) {
    if (data->EventFlag == ImGuiInputTextFlags_CallbackResize) {
        auto* text = static_cast<std::string*>(data->UserData);
        text->resize(static_cast<std::size_t>(data->BufTextLen));
        data->Buf = text->data();
    }
    return 0;
}

} // namespace

void tag_rect(const Ui& ui, std::string_view name, const glm::vec2& low, const glm::vec2& high) {
    ui.tags->insert_or_assign(std::string(name), TaggedRect{low, high});
}

void tag_item(const Ui& ui, std::string_view name) {
    const ImVec2 low = ImGui::GetItemRectMin(), high = ImGui::GetItemRectMax();
    tag_rect(ui, name, {low.x, low.y}, {high.x, high.y});
}

unsigned packed(const Colour& c) {
    return IM_COL32(c.r, c.g, c.b, c.a);
}

bool button(const Ui& ui, const char* name, const char* label, bool enabled) {
    const float room = ImGui::GetContentRegionAvail().x - 2 * ImGui::GetStyle().FramePadding.x;
    const std::string shown = shortened(label, room);
    ImGui::PushID(name);
    ImGui::BeginDisabled(!enabled);
    const bool pressed = ImGui::Button(shown.empty() ? label : shown.c_str());
    ImGui::EndDisabled();
    ImGui::PopID();
    tag_item(ui, name);
    if (shown != label) tip(label);
    return pressed;
}

bool switch_button(const Ui& ui, const char* name, const char* label, bool on) {
    if (on) {
        ImGui::PushStyleColor(ImGuiCol_Button, vec(ui.palette->picked));
        ImGui::PushStyleColor(ImGuiCol_ButtonHovered, vec(ui.palette->picked));
        ImGui::PushStyleColor(ImGuiCol_Text, vec(ui.palette->on_picked));
    }
    const bool pressed = button(ui, name, label);
    if (on) ImGui::PopStyleColor(3);
    return pressed;
}

void tip(const std::string& text) {
    if (!ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenDisabled)) return;
    ImGui::BeginTooltip();
    ImGui::PushTextWrapPos(ImGui::GetFontSize() * 24);
    ImGui::TextUnformatted(text.c_str());
    ImGui::PopTextWrapPos();
    ImGui::EndTooltip();
}

std::string shortened(const std::string& text, float width) {
    if (ImGui::CalcTextSize(text.c_str()).x <= width) return text;
    std::string kept = text;
    while (!kept.empty()) {
        while (!kept.empty() && (static_cast<unsigned char>(kept.back()) & 0xc0) == 0x80)
            kept.pop_back(); // a letter of several bytes goes whole
        if (!kept.empty()) kept.pop_back();
        const std::string now = kept + "\xe2\x80\xa6";
        if (ImGui::CalcTextSize(now.c_str()).x <= width) return now;
    }
    return "";
}

std::string shortened_front(const std::string& text, float width) {
    if (text_width(text) <= width) return text;
    for (std::size_t from = 1; from < text.size(); ++from) {
        if ((static_cast<unsigned char>(text[from]) & 0xc0) == 0x80) continue;
        const std::string now = "\xe2\x80\xa6" + text.substr(from);
        if (text_width(now) <= width) return now;
    }
    return "";
}

void line_text(const Ui&, const Colour& colour, const std::string& text, float width) {
    const std::string shown = shortened(text, width);
    ImGui::PushStyleColor(ImGuiCol_Text, vec(colour));
    ImGui::TextUnformatted(shown.c_str());
    ImGui::PopStyleColor();
    if (shown != text) tip(text);
}

float button_width(const char* label) {
    return ImGui::CalcTextSize(label).x + 2 * ImGui::GetStyle().FramePadding.x;
}

float text_width(const std::string& text) {
    return ImGui::CalcTextSize(text.c_str()).x;
}

void tag_panel(const Ui& ui, std::string_view name) {
    const ImVec2 low = ImGui::GetWindowPos(), size = ImGui::GetWindowSize();
    tag_rect(ui, name, {low.x, low.y}, {low.x + size.x, low.y + size.y});
}

void coloured_text(const Ui&, const Colour& colour, const std::string& text) {
    ImGui::PushStyleColor(ImGuiCol_Text, vec(colour));
    ImGui::PushTextWrapPos(0);
    ImGui::TextUnformatted(text.c_str());
    ImGui::PopTextWrapPos();
    ImGui::PopStyleColor();
}

void quiet_text(const Ui& ui, const std::string& text) {
    coloured_text(ui, ui.palette->ink_quiet, text);
}

void heading(const Ui& ui, const std::string& text) {
    ImGui::Dummy({0, ui.em * 0.15f});
    coloured_text(ui, ui.palette->ink_quiet, text);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x;
    ImGui::GetWindowDrawList()->AddLine({at.x, at.y - 2}, {at.x + width, at.y - 2},
                                        packed(ui.palette->rule));
    ImGui::Dummy({0, 2});
}

bool text_field(const Ui& ui, const char* name, std::string& text, float width, const char* hint) {
    ImGui::PushID(name);
    ImGui::SetNextItemWidth(width);
    const bool entered = ImGui::InputTextWithHint("##text", hint, text.data(), text.capacity() + 1,
                                                  ImGuiInputTextFlags_CallbackResize |
                                                      ImGuiInputTextFlags_EnterReturnsTrue |
                                                      ImGuiInputTextFlags_AutoSelectAll,
                                                  grow, &text);
    // What is typed is kept apart, because leaving a field brings its old text back.
    const auto kept = ui.typing->find(std::string_view(name));
    const bool left = ImGui::IsItemDeactivatedAfterEdit() && kept != ui.typing->end();
    if (left) text = kept->second;
    if (ImGui::IsItemActive())
        ui.typing->insert_or_assign(name, std::string(text.c_str()));
    else if (kept != ui.typing->end())
        ui.typing->erase(kept);
    text = text.c_str();
    ImGui::PopID();
    tag_item(ui, name);
    return entered || left;
}

void apply_style(const Palette& p, float scale) {
    ImGuiStyle style;
    style.WindowRounding = style.ChildRounding = style.PopupRounding = 3;
    style.FrameRounding = style.GrabRounding = style.TabRounding = 2;
    style.WindowBorderSize = style.ChildBorderSize = style.FrameBorderSize = 1;
    style.WindowPadding = {10, 8};
    style.FramePadding = {8, 4};
    style.ItemSpacing = {8, 6};
    style.ItemInnerSpacing = {6, 4};
    style.ScrollbarSize = 13;
    style.ScaleAllSizes(scale);
    ImVec4* c = style.Colors;
    for (int i = 0; i < ImGuiCol_COUNT; ++i)
        c[i] = vec(p.field);
    c[ImGuiCol_Text] = vec(p.ink);
    c[ImGuiCol_TextDisabled] = vec(p.ink_quiet);
    c[ImGuiCol_WindowBg] = c[ImGuiCol_ChildBg] = c[ImGuiCol_PopupBg] = vec(p.panel);
    c[ImGuiCol_MenuBarBg] = vec(p.board);
    c[ImGuiCol_Border] = c[ImGuiCol_Separator] = vec(p.rule);
    c[ImGuiCol_BorderShadow] = {0, 0, 0, 0};
    c[ImGuiCol_FrameBg] = vec(p.field);
    c[ImGuiCol_FrameBgHovered] = c[ImGuiCol_FrameBgActive] = vec(p.field_over);
    c[ImGuiCol_TitleBg] = c[ImGuiCol_TitleBgActive] = c[ImGuiCol_TitleBgCollapsed] = vec(p.board);
    c[ImGuiCol_ScrollbarBg] = vec(p.panel);
    c[ImGuiCol_ScrollbarGrab] = vec(mixed(p.rule, p.frame, 0.4));
    c[ImGuiCol_ScrollbarGrabHovered] = c[ImGuiCol_ScrollbarGrabActive] = vec(p.frame);
    c[ImGuiCol_CheckMark] = c[ImGuiCol_SliderGrab] = c[ImGuiCol_SliderGrabActive] = vec(p.picked);
    c[ImGuiCol_Button] = vec(p.field);
    c[ImGuiCol_ButtonHovered] = vec(p.field_over);
    c[ImGuiCol_ButtonActive] = vec(mixed(p.field_over, p.picked, 0.25));
    c[ImGuiCol_Header] = vec(mixed(p.panel, p.picked, 0.18));
    c[ImGuiCol_HeaderHovered] = vec(p.field_over);
    c[ImGuiCol_HeaderActive] = vec(mixed(p.panel, p.picked, 0.28));
    c[ImGuiCol_SeparatorHovered] = c[ImGuiCol_SeparatorActive] = vec(p.picked);
    c[ImGuiCol_ResizeGrip] = {0, 0, 0, 0};
    c[ImGuiCol_Tab] = c[ImGuiCol_TabUnfocused] = vec(p.panel);
    c[ImGuiCol_TabHovered] = vec(p.field_over);
    c[ImGuiCol_TabActive] = c[ImGuiCol_TabUnfocusedActive] = vec(mixed(p.panel, p.picked, 0.28));
    c[ImGuiCol_PlotHistogram] = vec(mixed(p.field, p.picked, 0.3)); // words lie on it
    c[ImGuiCol_TableHeaderBg] = vec(p.board);
    c[ImGuiCol_TableBorderStrong] = c[ImGuiCol_TableBorderLight] = vec(p.rule);
    c[ImGuiCol_TableRowBg] = c[ImGuiCol_TableRowBgAlt] = {0, 0, 0, 0};
    c[ImGuiCol_TextSelectedBg] = vec(with_alpha(p.picked, 0.35));
    c[ImGuiCol_DragDropTarget] = c[ImGuiCol_NavHighlight] = vec(p.picked);
    c[ImGuiCol_NavWindowingHighlight] = vec(p.picked);
    c[ImGuiCol_NavWindowingDimBg] = c[ImGuiCol_ModalWindowDimBg] = vec(with_alpha(p.board, 0.6));
    ImGui::GetStyle() = style;
}

bool add_fonts(float scale) {
    ImGuiIO& io = ImGui::GetIO();
    io.Fonts->Clear();
    static constexpr ImWchar ranges[] = {0x0020, 0x024f, 0x0370, 0x04ff, 0x2010, 0x2027, 0x2030,
                                         0x203a, 0x2044, 0x2044, 0x20ac, 0x20ac, 0x2190, 0x2199,
                                         0x2212, 0x2212, 0x2248, 0x2248, 0x2264, 0x2265, 0x25a0,
                                         0x25cf, 0x2713, 0x2717, 0};
    static constexpr const char* places[] = {
        "/usr/share/fonts/truetype/dejavu/DejaVuSansCondensed.ttf",
        "/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf", "/usr/share/fonts/TTF/DejaVuSans.ttf"};
    for (const char* place : places) {
        std::error_code error;
        if (!std::filesystem::exists(place, error)) continue;
        ImFontConfig config;
        config.OversampleH = 2;
        config.OversampleV = 1;
        if (io.Fonts->AddFontFromFileTTF(place, static_cast<float>(static_cast<int>(16 * scale)),
                                         &config, ranges))
            return true;
    }
    io.Fonts->AddFontDefault();
    return false;
}

} // namespace standpoint
