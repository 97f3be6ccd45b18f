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
    const GpuLevel* level = nullptr;
    std::uint32_t first = 0, count = 0; // of instances
    bool backs_hidden = false;          // only fronts are drawn
    double depth = 0;                   // of the nearest
};

struct DrawItem { // what one call to the GL draws: a range of a batch
    const GpuMesh* mesh = nullptr;
    const GpuLevel* level = nullptr;
    std::size_t look = 0;
    IndexSpan span;
    std::uint32_t first = 0, count = 0; // of instances
    bool textured = false, backs_hidden = false;
    std::size_t triangles() const { return std::size_t{span.count} / 3 * count; }
};

struct GlassDraw {
    const GpuMesh* mesh = nullptr;
    const GpuLevel* level = nullptr;
    std::size_t look = 0;
    std::uint32_t instance = 0;
    double depth = 0;
};

struct DrawList {
    std::vector<Instance> instances;
    std::vector<Batch> opaque;    // nearest first
    std::vector<GlassDraw> glass; // farthest first
    std::vector<Batch> cut;       // meshes with solids that the cut passes through
    std::vector<DrawItem> items;  // of `opaque`: those without pictures first
    bool lacking = false;         // meshes that are not on the GPU yet
    bool unsure = false;          // of panes it is not known yet whether they are closed
    double stray_pixels = 0;      // how far coarser levels were let stray
};

struct ListWish {
    const Staging* staging = nullptr;
    glm::dmat4 view{1.0}, projection{1.0};
    glm::dvec2 mm_per_pixel{1, 0};  // at depth 0, and more for each mm of depth
    double stray_pixels = 0.5;      // how far a coarser level may stray
    std::size_t most_triangles = 0; // more make it stray farther; 0: any number
    bool walls = false;             // of the hall
    bool columns = true;
    std::optional<double> cut_height;
    glm::dvec2 low{-1}, high{1}; // what lies outside this part of the picture (-1..1) is left out
};

// `floor` goes behind the pieces, its underside is not drawn; null: none.
DrawList list_pieces(GpuMeshStore& store, const ListWish& wish, const StagedPiece* floor = nullptr);
// Where to stop so that about so many triangles are drawn, at least one item.
std::size_t items_until(const std::vector<DrawItem>& items, std::size_t from,
                        std::size_t triangles);

} // namespace standpoint
