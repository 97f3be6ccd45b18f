// The window as a program: opens a display, runs frames until it is closed.
#pragma once

#include <string>

#include "base/result.h"

namespace standpoint {

struct WindowArguments {
    std::string scene; // empty: the first page
    int width = 1440, height = 900;
    std::string picture; // for tests and sheets of screens: after the checks are done, write the
                         // window's picture to this .png and leave; empty: stay open
};

// Errors (io): no display, no OpenGL 3.3.
Status run_window(const WindowArguments& arguments);

} // namespace standpoint
