// The desk: one open scene with its undo history, what is selected, and the solids to look at.
// Plain state; free functions act on it. Everything that can be decided without a screen happens
// here or below.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/files.h"
#include "scene/history.h"
#include "shape/ray_index.h"
#include "shape/staging.h"

namespace standpoint {

struct Desk {
    std::string file; // absolute or as given; empty: never saved
    History history;
    Document on_disk; // as last opened or saved
    // Ids of pieces, each once, in the order they were picked; the last one leads.
    std::vector<std::string> selected;
    std::shared_ptr<const Staging> shown; // for views, of history.now(); not null
    // What is dragged, while figures have not turned to it yet.
    std::optional<Edit> dragged;
    std::uint64_t revision = 0; // grows whenever the document in force changes
    // Over the staging it was made with, which it keeps alive; may lag behind `shown`.
    std::shared_ptr<const Staging> indexed;
    std::shared_ptr<const RayIndex> index;
};

// Errors: open_scene's (input, io). A new desk holds starting_document().
Result<Desk> open_desk(const std::string& file, const FileAccess& files);
Result<Desk> new_desk(const FileAccess& files);

bool is_unsaved(const Desk& desk); // differs from what is on disk

// One undo step each. After an edit that fails nothing has changed. What the new document no
// longer holds drops out of the selection. Figures keep to what they touch and look at
// (figure/settle.h), and targets that are faces follow where their figures look (with_faces).
Status perform(Desk& desk, const Edit& edit, const FileAccess& files);
// False when there is nothing to undo or redo. Errors: a model that is needed again and gone.
Result<bool> undo(Desk& desk, const FileAccess& files);
Result<bool> redo(Desk& desk, const FileAccess& files);

// A drag: begin, any number of updates (each from the document the drag began with), then commit or
// cancel. An update that fails leaves the last good one.
void begin_drag(Desk& desk, const std::string& label);
Status update_drag(Desk& desk, const Edit& edit, const FileAccess& files);
// Turns the figures that touch or look at what is dragged: making their bodies anew takes longer
// than a frame, so it is done when the hand rests, and when it lets go. Errors: settle's.
Status rest_drag(Desk& desk, const FileAccess& files);
// False, and no step, when nothing changed. Where figures cannot turn they stay as they were.
bool commit_drag(Desk& desk, const FileAccess& files);
void cancel_drag(Desk& desk, const FileAccess& files);

// Writes to `file` and remembers it. Errors (io): nothing of the old file is lost. Model paths are
// kept as they are, so they must lead to the models from the new place as well (error, input).
Status save_desk(Desk& desk, const std::string& file, const FileAccess& files);

// Brings the index up to `shown`; false when it was already. Takes tens of milliseconds a million
// triangles.
bool refresh_index(Desk& desk);

// -- selection --

void select_only(Desk& desk, const std::string& id); // with its group; empty: nothing
void select_toggle(Desk& desk, const std::string& id);
void select_all(Desk& desk); // that is neither locked nor off
bool is_selected(const Desk& desk, const std::string& id);
// The id and those of the other pieces of its group, document order.
std::vector<std::string> group_of(const Document& document, const std::string& id);

} // namespace standpoint
