// Which pieces a picture shows, how fine each is drawn, and where each stands in the view.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include <glm/mat4x4.hpp>

#include "shape/staging.h"
#include "window/gl_mesh_store.h"

namespace standpoint {

// A mesh at one place. Rows of the matrix from its own axes to the view's, worked out in double.
struct Instance {
    float rows[12];
    float id; // 1/65535 steps: piece + 1, floor_number for the floor
    float unused[3];
};
static_assert(sizeof(Instance) == 64);

inline constexpr std::uint32_t floor_number = 65535;
// Pieces beyond the numbers that fit share them; only their edges and tints are at stake.
std::uint32_t number_of(std::size_t piece);

struct Batch { // equal meshes, drawn at once
    const GpuMesh* mesh = nullptr;
    std::size_t level = 0;
    std::uint32_t first = 0, count = 0; // of instances
    bool backs_hidden = false;          // only fronts are drawn
    double depth = 0;                   // of the nearest
};

struct GlassDraw {
    const GpuMesh* mesh = nullptr;
    std::size_t level = 0, look = 0;
    std::uint32_t instance = 0;
    double depth = 0;
};

struct DrawList {
    std::vector<Instance> instances;
    std::vector<Batch> opaque;    // nearest first
    std::vector<GlassDraw> glass; // farthest first
    std::vector<Batch> cut;       // meshes with solids that the cut passes through
};

struct ListWish {
    const Staging* staging = nullptr;
    glm::dmat4 view{1.0}, projection{1.0};
    glm::dvec2 mm_per_pixel{1, 0}; // at depth 0, and more for each mm of depth
    double stray_pixels = 0.5;     // how far a coarser level may stray
    bool walls = false;            // of the hall
    bool columns = true;
    std::optional<double> cut_height;
};

DrawList list_pieces(MeshStore& store, const ListWish& wish);
// Puts the floor behind what is listed; its underside is not drawn.
void add_floor(MeshStore& store, const StagedPiece& floor, const ListWish& wish, DrawList& list);

} // namespace standpoint
