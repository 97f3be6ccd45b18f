// A mesh made ready for the GPU: 28 bytes a vertex, triangles sorted into ranges that are drawn
// alike, and coarser levels of the same. No OpenGL here, so it may run on any thread.
#pragma once

#include <cstdint>
#include <memory>
#include <vector>

#include "shape/mesh.h"

namespace standpoint {

struct PackedVertex {
    float place[3];         // mm of the original, the mesh's own axes
    std::uint32_t normal;   // three signed numbers of ten bits
    std::uint8_t colour[4]; // square roots of linear light; the fourth is the gloss
    float uv[2];
};
static_assert(sizeof(PackedVertex) == 28);

// What tells triangles apart that are drawn differently; colour and gloss are in the vertices.
struct RangeLook {
    std::shared_ptr<const Image> image; // null: none
    bool repeat_u = true, repeat_v = true;
    float cutoff = -1;
    float lets_through = 0;
    friend bool operator==(const RangeLook&, const RangeLook&) = default;
};

struct IndexSpan {
    std::uint32_t first = 0, count = 0; // of indices
};

struct PackedLevel {
    std::vector<std::uint32_t> indices;
    std::vector<IndexSpan> spans; // one a look
    double error_mm = 0;          // how far it strays, original's mm
};

struct PackedMesh {
    std::vector<PackedVertex> vertices;
    std::vector<RangeLook> looks;
    PackedLevel full;
    std::vector<std::uint32_t> part; // one a triangle of `full`
};

PackedMesh packed(const Mesh& mesh);

// A rough form of it in one quick pass, for the first pictures: vertices that share a cell of a
// grid become one. No indices when that would not pay.
PackedLevel sketch_of(const PackedMesh& mesh);

// What takes time and is not needed for the first picture.
struct MeshDetails {
    std::vector<PackedLevel> coarser; // each coarser than the one before
    // Triangles of the opaque parts that are closed and wound outwards: what a cut fills. Indices.
    std::vector<std::uint32_t> solids;
    bool closed = false; // all parts are, and nothing is cut out: backs are never seen
};

MeshDetails details_of(const PackedMesh& mesh);

} // namespace standpoint
