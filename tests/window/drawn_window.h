// The whole window drawn without a display, and read back.
#pragma once

#include <memory>

#include "hand.h"
#include "offscreen.h"
#include "window/gl_screen.h"

namespace standpoint {

class DrawnWindow {
  public:
    explicit DrawnWindow(const glm::ivec2& size, float scale = 1);
    ~DrawnWindow();
    DrawnWindow(const DrawnWindow&) = delete;
    DrawnWindow& operator=(const DrawnWindow&) = delete;

    // Frames until the pictures get no better.
    void settle();
    // What would be on the screen after the last frame, drawn as the program does it: only what
    // changed since the last call.
    Pixels picture();

  private:
    glm::ivec2 size_;

  public:
    Offscreen page; // before what needs it
    Hand hand;
    Screen kept; // from frame to frame
    std::unique_ptr<SceneDrawing> drawing;
};

} // namespace standpoint
