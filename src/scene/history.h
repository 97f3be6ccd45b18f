// Undo and redo: a row of snapshots with a memory budget. A value: a copy is another history.
#pragma once

#include <cstddef>
#include <deque>
#include <optional>
#include <string>
#include <unordered_map>

#include "base/result.h"
#include "scene/document.h"
#include "scene/edit.h"

namespace standpoint {

class History {
  public:
    static constexpr std::size_t default_budget_bytes = std::size_t{256} << 20;

    explicit History(Document start, std::size_t budget_bytes = default_budget_bytes);

    // The document in force; during a drag, where the drag is now.
    const Document& now() const;

    // Applies the edit as one step and forgets what was undone. An error changes nothing.
    Status perform(const Edit& edit);

    // False when there is nothing to undo or redo, or a drag is going on.
    bool undo();
    bool redo();
    bool can_undo() const { return !drag_ && at_ > 0; }
    bool can_redo() const { return !drag_ && at_ + 1 < entries_.size(); }
    std::string undo_label() const; // of the step that undo takes back; empty: none
    std::string redo_label() const;

    // A drag is one step however often it updates. Each update starts from the document the drag
    // began with; one that fails leaves the last good one. Starting a second drag, or performing
    // an edit during one, is a programmer error.
    void begin_drag(std::string label);
    Status update_drag(const Edit& edit);
    const Document& before_drag() const; // now() when nothing is dragged
    bool commit_drag();                  // false, and no step, when nothing changed
    void cancel_drag();
    bool dragging() const { return drag_.has_value(); }

    std::size_t steps() const { return entries_.size() - 1; } // undoable and redoable
    // Bytes of everything the snapshots hold, each shared block counted once. At most the budget,
    // unless the document in force alone takes more.
    std::size_t bytes() const { return bytes_; }

  private:
    struct Entry {
        Document document;
        std::string label; // of the edit that led here; empty for the first
    };
    struct Held {
        std::size_t count = 0, bytes = 0;
    };
    struct Drag {
        std::string label;
        Document document;
    };

    void push(Document document, const std::string& label);
    void hold(const Entry& entry);
    void release(const Entry& entry);

    std::deque<Entry> entries_;
    std::size_t at_ = 0;
    std::optional<Drag> drag_;
    std::size_t budget_ = 0;
    std::size_t bytes_ = 0;
    std::unordered_map<const void*, Held> held_;
};

} // namespace standpoint
