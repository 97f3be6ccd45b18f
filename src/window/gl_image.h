// Smaller pictures of a picture, for surfaces seen from afar.
#pragma once

#include "shape/mesh.h"

namespace standpoint {

// Half as wide and high, each texel the mean light of those it stands for; rounded down, at least
// one. No texels when the picture is of one texel already.
Image halved(const Image& image);

} // namespace standpoint
