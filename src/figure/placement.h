// placements(document): the one resolver of who stands on or hangs from what.
#pragma once

#include <vector>

#include "measure/frame.h"
#include "scene/document.h"

namespace standpoint {

// scene point = to_outer(frame, scale * original point)
struct Placement {
    Frame frame;      // of the piece in scene axes, mm
    double scale = 1; // its ratio
};

// One a piece, in document order. Requires validate(document).
std::vector<Placement> placements(const Document& document);

// The frame that `at` of a piece is given in: identity, its section's deck, or its host piece.
Frame host_frame(const Document& document, const Piece& piece);

} // namespace standpoint
