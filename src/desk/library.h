// What can be brought into a scene: the models beside it, the primitives, the figures.
#pragma once

#include <string>
#include <vector>

#include "base/files.h"
#include "desk/drop.h"
#include "scene/edit.h"

namespace standpoint {

struct FolderEntry {
    std::string name; // without the folder's path
    bool folder = false;
};
// Looking into folders through an interface, so that a library can be tested without a disk.
class FolderListing {
  public:
    virtual ~FolderListing() = default;
    // Sorted by name; a folder that is not there is empty. Errors: io, where = folder.
    virtual Result<std::vector<FolderEntry>> list(const std::string& folder) const = 0;
};
class DiskFolders : public FolderListing { // names that begin with a point are left out
  public:
    Result<std::vector<FolderEntry>> list(const std::string& folder) const override;
};

enum class LibraryKind { model, primitive, figure };
struct LibraryEntry {
    LibraryKind kind = LibraryKind::primitive;
    std::string name; // "Box", "Crab pots", "Adult"
    std::string id;   // what a piece made of it is called, before a number
    Form form;        // original's lengths
    PieceKind piece_kind = PieceKind::prop;
};

// Models of the scene's folder and two folders deep (.glb, .gltf; by path), then every primitive,
// then the figures. Primitives are sized so that they come out at a believable built size under
// the ratio in force for their kind (a box of about 600 mm), from round sizes of the original. A
// scene that was never saved (scene_file empty) has no models. Errors: io, a folder that cannot be
// read.
Result<std::vector<LibraryEntry>>
library_of(const Document& document, const std::string& scene_file, const FolderListing& folders);

// The entry of a model by its path from the scene's folder.
LibraryEntry model_entry(const std::string& path);

// With an id and a name of its own; on the floor at the datum.
Piece new_piece(const LibraryEntry& entry, const Document& document);
// At the end of the list, its origin on what lies beneath `onto` (its height counts).
Result<Edit> add_piece(const Document& document, const Staging& staging, const RayIndex& index,
                       Piece piece, const glm::dvec3& onto, Rounding rounding = Rounding::tidy);

// Copies a model with its buffers and images into the folder "models" beside the scene (made when
// it is not there) and gives its entry. A file of the same name and content is used as it is; one
// of other content is never overwritten, the model goes in under a free name or into a folder of
// its own. A model that lies beside the scene already is not copied. Errors: input (no model, or
// one that refers outside its folder; a scene never saved), io. Nothing is left half copied.
Result<LibraryEntry> bring_in(const std::string& file, const std::string& scene_file,
                              const FileAccess& files);

} // namespace standpoint
