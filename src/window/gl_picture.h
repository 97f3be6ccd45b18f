// A small picture as a texture that panels can show.
#pragma once

#include "shape/mesh.h"

namespace standpoint {

// Keeps the texture until the context goes. 0: no pixels. From the thread that owns the context.
unsigned upload_picture(const Image& image);

} // namespace standpoint
