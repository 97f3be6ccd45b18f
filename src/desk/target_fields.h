// What must be seen or hidden of a piece, as a person sets it.
// Errors everywhere (input): an unknown id, or a value that validate refuses.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "desk/piece_ids.h"
#include "scene/edit.h"
#include "shape/staging.h"

namespace standpoint {

// Of a piece, document order.
std::vector<std::shared_ptr<const Target>> targets_of(const Document& document,
                                                      const std::string& piece);

// Names a patch may speak of: of parts, nodes of models and regions of figures, each once.
std::vector<std::string> patch_names(const StagedPiece& piece);

// A new target at the end of the list. To be seen of a figure that has a face: the face, facing
// where the figure looks; of anything else, and to be hidden: the whole piece. `scene_file` leads
// to the files of skeletons and poses. Errors: those of find_figure as well.
Result<Edit> add_target(const Document& document, const Staging& staging, const std::string& piece,
                        Aim aim, const std::string& scene_file, const FileAccess& files);
Result<Edit> remove_target(const Document& document, const std::string& id);

// Degrees clockwise from the front of the piece in which its figure looks; nothing: no figure.
Result<std::optional<double>> gaze_facing(const Piece& piece, const std::string& scene_file,
                                          const FileAccess& files);

// The edit, and with it the facing of faces whose figures look another way after it: of a target
// that is a figure's face and faced where it looked, to a degree. Where a figure's files cannot be
// read the edit stays as it is.
Edit with_faces(const Document& document, const Edit& edit, const std::string& scene_file,
                const FileAccess& files);

Result<Edit> set_target_name(const Document& document, const std::string& id,
                             const std::string& name);
Result<Edit> set_target_aim(const Document& document, const std::string& id, Aim aim);
// One of patch_names; "": the whole piece. A box that cuts the patch is taken off it.
Result<Edit> set_target_part(const Document& document, const std::string& id,
                             const std::string& part);
Result<Edit> set_target_facing(const Document& document, const std::string& id,
                               const std::optional<Angle>& facing);
Result<Edit> set_target_share(const Document& document, const std::string& id,
                              const std::optional<Number>& seen_share);
// Original's length.
Result<Edit> set_target_detail(const Document& document, const std::string& id,
                               const std::optional<Length>& smallest_detail);

} // namespace standpoint
