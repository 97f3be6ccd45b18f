// The window's picture, kept from frame to frame: only what changed is drawn again. Where drawing
// is done in software a whole window costs more than the scene in it.
#pragma once

#include "window/gl_objects.h"
#include "window/gl_screen_changes.h"
#include "window/scene_drawing.h"

struct ImDrawData;

namespace standpoint {

class Screen {
  public:
    // Brings the kept picture up to what the toolkit wants drawn; `drawing` tells of its textures,
    // may be null. False: it was so already.
    bool draw(const ImDrawData& data, const glm::ivec2& pixels, const SceneDrawing* drawing);
    // Copies the kept picture onto a framebuffer of the same size; 0: the window's.
    void show(unsigned framebuffer) const;
    void forget() { size_ = {0, 0}; } // everything is drawn next time
    // After add_fonts: hands the new fonts to the screen. Everything is drawn next time.
    void fonts_changed();
    // Of the last draw().
    const std::vector<ScreenArea>& drawn_areas() const { return areas_; }

  private:
    bool make_page(const glm::ivec2& pixels);

    GlTexture page_;
    GlFramebuffer frame_;
    glm::ivec2 size_{0, 0}; // 0: nothing is kept
    Drawn drawn_;
    std::vector<ScreenArea> areas_;
};

} // namespace standpoint
