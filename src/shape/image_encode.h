// 8-bit RGBA to PNG, the same bytes every time.
#pragma once

#include <string>

#include "base/result.h"
#include "shape/mesh.h"

namespace standpoint {

// Without an alpha channel where every texel is opaque. Errors (io) come from the PNG library.
Result<std::string> encode_png(const Image& image);

} // namespace standpoint
