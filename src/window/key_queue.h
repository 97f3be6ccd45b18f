// Key events handed to the toolkit one change of a key a frame: it looks at keys once a frame and
// would miss one that went down and up between two frames.
#pragma once

#include <deque>
#include <set>
#include <vector>

namespace standpoint {

struct KeyEvent {
    int key = 0, scancode = 0, action = 0, mods = 0; // as the window library gives them
};

class KeyQueue {
  public:
    void put(const KeyEvent& event) { waiting_.push_back(event); }
    bool empty() const { return waiting_.empty(); }
    // Those for the next frame, in order: up to the first whose key changes a second time, and to
    // the first Ctrl, Shift or Alt after another key, which would be read with the wrong ones held.
    std::vector<KeyEvent> take() {
        std::vector<KeyEvent> now;
        std::set<int> changed;
        bool other = false;
        while (!waiting_.empty() && !(other && is_modifier(waiting_.front().key)) &&
               changed.insert(waiting_.front().key).second) {
            other = other || !is_modifier(waiting_.front().key);
            now.push_back(waiting_.front());
            waiting_.pop_front();
        }
        return now;
    }

  private:
    // As the window library numbers them: Shift, Ctrl, Alt and Super, left and right.
    static bool is_modifier(int key) { return key >= 340 && key <= 347; }

    std::deque<KeyEvent> waiting_;
};

} // namespace standpoint
