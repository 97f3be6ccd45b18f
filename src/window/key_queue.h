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
    // Those for the next frame, in order: up to the first whose key changes a second time.
    std::vector<KeyEvent> take() {
        std::vector<KeyEvent> now;
        std::set<int> changed;
        while (!waiting_.empty() && changed.insert(waiting_.front().key).second) {
            now.push_back(waiting_.front());
            waiting_.pop_front();
        }
        return now;
    }

  private:
    std::deque<KeyEvent> waiting_;
};

} // namespace standpoint
