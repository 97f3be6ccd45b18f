// Draws the toolkit's lists within areas.
#include "window/gl_screen.h"

#include <algorithm>

#include <backends/imgui_impl_opengl3.h>
#include <epoxy/gl.h>
#include <imgui.h>

namespace standpoint {

namespace {

void clear(const ScreenArea& area, int height, std::uint32_t colour = 0) {
    glEnable(GL_SCISSOR_TEST);
    glScissor(area.low.x, height - area.high.y, area.high.x - area.low.x, area.high.y - area.low.y);
    const auto share = [&](int shift) {
        return static_cast<float>(colour >> shift & 255U) / 255.0f;
    };
    glClearColor(share(0), share(8), share(16), share(24));
    glClear(GL_COLOR_BUFFER_BIT);
    glDisable(GL_SCISSOR_TEST);
}

// Leaves in a list the commands that can touch an area, cut down to it; commands before `first` are
// left out. `whole`, which is empty, takes what has to be put back.
void narrow(ImDrawList& list, const ScreenArea& area, const ImVec2& off, int first,
            unsigned first_index, ImVector<ImDrawCmd>& whole) {
    whole.swap(list.CmdBuffer);
    for (int c = first; c < whole.Size; ++c) {
        ImDrawCmd command = whole[c];
        if (c == first) {
            command.IdxOffset += first_index;
            command.ElemCount -= first_index;
        }
        ImVec4& clip = command.ClipRect;
        clip.x = std::max(clip.x, static_cast<float>(area.low.x) + off.x);
        clip.y = std::max(clip.y, static_cast<float>(area.low.y) + off.y);
        clip.z = std::min(clip.z, static_cast<float>(area.high.x) + off.x);
        clip.w = std::min(clip.w, static_cast<float>(area.high.y) + off.y);
        if (clip.x < clip.z && clip.y < clip.w && command.ElemCount > 0)
            list.CmdBuffer.push_back(command);
    }
}

void draw_area(const ImDrawData& data, const ScreenArea& area, const DrawStart& start, int height) {
    if (!start.covered || start.plain) clear(area, height, start.colour);
    std::vector<ImDrawList*> lists;
    // Swapped, not copied: the toolkit copies an empty list from a null pointer.
    std::vector<ImVector<ImDrawCmd>> whole(
        static_cast<std::size_t>(std::max(0, data.CmdListsCount - start.list)));
    for (int l = start.list; l < data.CmdListsCount; ++l) {
        const bool first = l == start.list && start.covered;
        narrow(*data.CmdLists[l], area, data.DisplayPos, first ? start.command : 0,
               first ? start.index : 0, whole[static_cast<std::size_t>(l - start.list)]);
        if (!data.CmdLists[l]->CmdBuffer.empty()) lists.push_back(data.CmdLists[l]);
    }
    ImDrawData part = data;
    part.CmdLists = lists.data();
    part.CmdListsCount = static_cast<int>(lists.size());
    ImGui_ImplOpenGL3_RenderDrawData(&part);
    for (int l = start.list; l < data.CmdListsCount; ++l)
        data.CmdLists[l]->CmdBuffer.swap(whole[static_cast<std::size_t>(l - start.list)]);
}

} // namespace

bool Screen::make_page(const glm::ivec2& pixels) {
    page_ = make_target(TexelForm::colour8, pixels);
    const unsigned colour = page_.name();
    Result<GlFramebuffer> made = make_framebuffer({&colour, 1}, 0);
    if (!made.ok()) return false;
    frame_ = std::move(*made);
    return true;
}

bool Screen::draw(const ImDrawData& data, const glm::ivec2& pixels, const SceneDrawing* drawing) {
    areas_.clear();
    if (pixels.x < 1 || pixels.y < 1) return false;
    const auto edition_of = [&](std::uintptr_t texture) {
        return drawing ? drawing->edition(static_cast<unsigned>(texture)) : 0;
    };
    const auto is_solid = [&](std::uintptr_t texture) {
        return drawing && drawing->is_solid(static_cast<unsigned>(texture));
    };
    const auto changed_since = [&](std::uintptr_t texture, std::uint64_t edition) {
        return drawing ? drawing->changed_since(static_cast<unsigned>(texture), edition)
                       : glm::vec4(0, 0, 1, 1);
    };
    Drawn now = drawn_by(data, edition_of, drawn_);
    const ScreenArea page{{0, 0}, pixels};
    // Lists are in the toolkit's units; where those are not pixels everything is drawn.
    const bool scaled = data.FramebufferScale.x != 1 || data.FramebufferScale.y != 1;
    const bool afresh = size_ != pixels || scaled;
    if (size_ != pixels && !make_page(pixels)) return false;
    size_ = pixels;
    areas_ =
        afresh ? std::vector<ScreenArea>{page} : changed_areas(drawn_, now, page, changed_since);
    drawn_ = std::move(now);
    if (areas_.empty()) return false;
    glBindFramebuffer(GL_FRAMEBUFFER, frame_.name());
    if (afresh) {
        glViewport(0, 0, pixels.x, pixels.y);
        clear(page, pixels.y);
        ImGui_ImplOpenGL3_RenderDrawData(const_cast<ImDrawData*>(&data));
        return true;
    }
    for (const ScreenArea& area : areas_)
        draw_area(data, area, start_for(data, area, is_solid), pixels.y);
    return true;
}

// Only the fonts: the backend remembers the sizes of the buffers that it would destroy with all the
// rest, and fills none of the new ones until a list is longer.
void Screen::fonts_changed() {
    if (ImGui::GetIO().Fonts->TexID) { // else the first frame makes them
        ImGui_ImplOpenGL3_DestroyFontsTexture();
        ImGui_ImplOpenGL3_CreateFontsTexture();
    }
    forget();
}

void Screen::show(unsigned framebuffer) const {
    if (!frame_) return;
    glBindFramebuffer(GL_READ_FRAMEBUFFER, frame_.name());
    glBindFramebuffer(GL_DRAW_FRAMEBUFFER, framebuffer);
    glBlitFramebuffer(0, 0, size_.x, size_.y, 0, 0, size_.x, size_.y, GL_COLOR_BUFFER_BIT,
                      GL_NEAREST);
    glBindFramebuffer(GL_FRAMEBUFFER, framebuffer);
}

} // namespace standpoint
