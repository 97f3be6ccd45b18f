// The document made solid: every piece with its mesh, its placement and its box in the scene.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "base/files.h"
#include "base/result.h"
#include "figure/contact.h"
#include "figure/placement.h"
#include "scene/document.h"
#include "shape/mesh.h"

namespace standpoint {

enum class StagedKind { piece, section, column, hall };

struct StagedPiece {
    StagedKind staged = StagedKind::piece;
    std::string id;                     // hall walls: "hall"
    std::shared_ptr<const Piece> piece; // null unless staged == piece
    Placement placement;
    std::shared_ptr<const Mesh> mesh; // piece's axes, original's size; shared by equal forms
    std::uint64_t mesh_hash = 0;      // of parts with their colours, and file contents
    Box box;                          // of the built, placed mesh, scene mm, exact
};

// Pieces in document order, then sections, columns and hall walls: the order of ties everywhere.
struct Staging {
    Document document;
    std::vector<StagedPiece> pieces;
    // Of all pieces, off or not; null for views.
    std::shared_ptr<const PlacedFigures> figures;
};

enum class StagedFor { views, checks };
// Whether model files are read again to see what they hold now, or taken to be as they were: while
// something is being dragged nobody waits for a disk.
enum class ModelFiles { may_have_changed, as_before };

// `scene_file` is the path the model files lie beside. Pieces that are off are left out: for views
// when they are off at all, for checks only when they are off for both; what stands on them stays.
// Requires validate(document). Errors (input or io) name the scene file, the piece and the model
// file. The id "hall" is the walls' own and refused elsewhere.
//
// Sections are boxes from floor to deck (a sheet when the deck is the floor), columns stand from
// floor to ceiling. The hall's walls are one sheet without thickness, seen from both sides, with
// the doors left open; its front is inside.
Result<Staging> stage(const Document& document, const std::string& scene_file,
                      const FileAccess& files, StagedFor purpose);

// The same, moved on from an earlier staging: meshes of unchanged forms and files are shared.
Result<Staging> restage(const Staging& earlier, const Document& document,
                        const std::string& scene_file, const FileAccess& files, StagedFor purpose,
                        ModelFiles models = ModelFiles::may_have_changed);

glm::dvec3 to_scene(const StagedPiece& piece, const glm::dvec3& original_point);
// Triangle corners in scene mm.
struct Triangle {
    glm::dvec3 a, b, c;
};
Triangle scene_triangle(const StagedPiece& piece, std::uint32_t triangle);
const StagedPiece* find_staged(const Staging& staging, std::string_view id); // null: none

} // namespace standpoint
