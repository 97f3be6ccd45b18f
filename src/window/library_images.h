// Pictures of the library on their way to the panel.
#pragma once

#include "window/shell.h"

namespace standpoint {

// Once a frame: asks for the pictures of a library that is another, and takes a few that are made,
// so that no frame waits for a file or for many textures.
void take_library_images(Shell& shell);

} // namespace standpoint
