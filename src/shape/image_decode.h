// PNG and JPEG to 8-bit RGBA, with limits checked before memory is taken.
#pragma once

#include <string_view>

#include "base/result.h"
#include "shape/mesh.h"

namespace standpoint {

inline constexpr int longest_image_side = 16384;

// At most `most_pixels`. The kind is told by the first bytes. Errors (input) have no place: the
// caller adds it.
Result<Image> decode_image(std::string_view bytes, std::size_t most_pixels);

} // namespace standpoint
