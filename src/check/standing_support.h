// What carries each piece, and the gap between the two.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "check/mesh_meet.h"
#include "check/standing.h"

namespace standpoint {

struct StandingScene { // each list one a staged piece, in the staging's order
    const Staging& staging;
    std::vector<PlacedMesh> meshes;
    std::vector<std::string> sections; // the section it travels with; empty: none
};

bool is_kind(const StagedPiece& piece, PieceKind kind);

// The least vertical gap between the piece and its carrier: from the piece's lowest corners down to
// the deck (within the base's edges) or the floor (also when they are all beyond the edges and
// nothing of the piece bears on the deck), the host or a ground piece that travels with the same
// section, and from the carrier's corners up to the piece. In a ground piece there is no gap. A
// host touched anywhere within `contact_mm` carries by that touch; what hangs is measured by the
// least distance to its host alone. Nothing: it has no solid or is an effect, or its host is left
// out.
std::optional<Gap> gap_under(const StandingScene& scene, std::size_t piece, double contact_mm);

} // namespace standpoint
