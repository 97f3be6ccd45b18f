// What a figure touches and looks at, as a person sets it. One undo step each; performing the edit
// turns the joints (desk.h). Errors everywhere (input): unknown id, a locked piece, a piece without
// a figure, or a value that validate refuses.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "figure/contact.h"
#include "scene/edit.h"
#include "shape/staging.h"

namespace standpoint {

// -- what is there --

struct TouchRow {
    std::string contact, how, piece; // "Left palm", "holds", the name of the piece
    std::string at;                  // "near its top", or the contact it meets
    double off_mm = 0, off_deg = 0;
    bool kept() const; // within touch_gap_mm
};
struct LookRow {
    std::string at;     // "Tea seller, eye to eye", "a visitor at 4.5 m"
    double by_head = 0; // degrees left for the eyes to turn
    bool kept() const;  // eyes_turn_deg
};
struct ContactRows {
    std::vector<TouchRow> touches; // of the piece, in its order
    std::vector<std::string> free; // contacts that touch nothing, by name
    std::optional<LookRow> look;
    std::vector<std::string> watched_by; // names of the figures that look at the piece
};
Result<ContactRows> contact_rows(const Document& document, const std::string& id,
                                 const std::string& scene_file, const FileAccess& files);

// Of its box, as an eye is drawn to it: in its axes, original's lengths.
Point3 middle_of(const StagedPiece& piece);

// What a contact of this kind mostly does.
TouchHow usual_how(ContactKind kind);

// -- edits --

// Nothing: it looks where the pose has it.
Result<Edit> set_look(const Document& document, const std::string& id,
                      const std::optional<Gaze>& look);
// The contact comes to the place of the piece that is nearest to it now, flat against it. Another
// figure is met with a palm of its own where both are palms. What is held takes the figure's ratio
// unless it has one of its own. A contact that touches something touches this instead.
Result<Edit> add_touch(const Document& document, const Staging& staging, const std::string& id,
                       const std::string& contact, const std::string& other,
                       const std::string& scene_file, const FileAccess& files);
Result<Edit> set_touch(const Document& document, const std::string& id, std::size_t index,
                       const Touch& touch);
Result<Edit> remove_touch(const Document& document, const std::string& id, std::size_t index);

// -- for edits of other kinds --

// With other ids for what it touches and looks at; an empty one lets go of it.
using NewId = std::function<std::string(const std::string& id)>;
Piece with_contact_ids(const Piece& piece, const NewId& new_id);
bool touches_any(const Piece& piece, const std::function<bool(const std::string& id)>& is_it);

} // namespace standpoint
