// A hand for tests: the window's frames without a window, with pointer and keys put in.
#pragma once

#include <string>

#include "window/frame.h"

namespace standpoint {

// Owns a toolkit context and a shell; each call of frame() is one frame. Screen 1440 x 900.
class Hand {
  public:
    explicit Hand(int width = 1440, int height = 900, float scale = 1);
    ~Hand();
    Hand(const Hand&) = delete;
    Hand& operator=(const Hand&) = delete;

    Shell shell;
    Tags tags;
    Typing typing;

    void frame(int count = 1);
    void move_to(const glm::vec2& at);
    void press(int button = 0); // and let_go; one frame each
    void let_go(int button = 0);
    void click(const glm::vec2& at, int button = 0);
    void click(const std::string& tag); // in its middle; fails the test when it is not there
    void drag(const glm::vec2& from, const glm::vec2& to, int button = 0); // in eight steps
    void key(const std::string& chord); // "Ctrl+Z", as in the table of actions
    void type(const std::string& text); // into the field that has the keyboard
    void wheel(float by);
    bool has(const std::string& tag) const { return tags.contains(tag); }
    glm::vec2 middle(const std::string& tag) const;
    // Where a scene point is on the screen, in the view of that number.
    glm::vec2 on_screen(int view, const glm::dvec3& point) const;
    // Checks are done and their results shown.
    void settle_checks();

  private:
    void* context_ = nullptr;
};

} // namespace standpoint
