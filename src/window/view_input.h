// What the pointer does in a view: pick, drag, turn, raise, select by rectangle, pan, zoom, orbit,
// measure, and drag the visitor.
#pragma once

#include "window/shell.h"

namespace standpoint {

// One frame's pointer over a view, in pixels of that view.
struct ViewPointer {
    glm::dvec2 at{0.0};
    bool inside = false;                    // over the view and nothing in front of it
    bool pressed[3] = {}, released[3] = {}; // left, right, middle, in this frame
    bool held[3] = {};
    bool twice = false; // left pressed twice
    double wheel = 0;
    bool ctrl = false, shift = false, alt = false, space = false;
};

void handle_view(Shell& shell, int view, const glm::ivec2& size, const ViewPointer& pointer);

// Stops what the pointer does; a drag goes back to where it began. False when nothing went on.
bool cancel_pointer(Shell& shell);

// Puts the eye views where the visitor stands.
void follow_visitor(Shell& shell);

} // namespace standpoint
