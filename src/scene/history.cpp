// Undo and redo.
#include "scene/history.h"

#include "scene/memory.h"

namespace standpoint {

namespace {

bool all_shared(const Document& a, const Document& b) {
    return a.settings == b.settings && a.hall == b.hall && a.sections == b.sections &&
           a.join_lines == b.join_lines && a.reference_points == b.reference_points &&
           a.path == b.path && a.visitors == b.visitors && a.rules == b.rules &&
           a.pieces == b.pieces && a.targets == b.targets;
}

} // namespace

History::History(Document start, std::size_t budget_bytes) : budget_(budget_bytes) {
    entries_.push_back({std::move(start), {}});
    hold(entries_.back());
}

const Document& History::now() const {
    return drag_ ? drag_->document : entries_[at_].document;
}

Status History::perform(const Edit& edit) {
    STANDPOINT_CHECK(!drag_);
    STANDPOINT_TRY(after, apply(now(), edit));
    push(std::move(after), edit.label);
    return Done{};
}

bool History::undo() {
    if (!can_undo()) return false;
    --at_;
    return true;
}

bool History::redo() {
    if (!can_redo()) return false;
    ++at_;
    return true;
}

std::string History::undo_label() const {
    return can_undo() ? entries_[at_].label : "";
}
std::string History::redo_label() const {
    return can_redo() ? entries_[at_ + 1].label : "";
}

void History::begin_drag(std::string label) {
    STANDPOINT_CHECK(!drag_);
    drag_ = Drag{std::move(label), entries_[at_].document};
}

Status History::update_drag(const Edit& edit) {
    STANDPOINT_CHECK(drag_.has_value());
    STANDPOINT_TRY(after, apply(entries_[at_].document, edit));
    drag_->document = std::move(after);
    return Done{};
}

const Document& History::before_drag() const {
    return entries_[at_].document;
}

bool History::commit_drag() {
    STANDPOINT_CHECK(drag_.has_value());
    Drag drag = std::move(*drag_);
    drag_.reset();
    if (all_shared(drag.document, entries_[at_].document)) return false;
    push(std::move(drag.document), drag.label);
    return true;
}

void History::cancel_drag() {
    drag_.reset();
}

void History::push(Document document, const std::string& label) {
    while (entries_.size() > at_ + 1) {
        release(entries_.back());
        entries_.pop_back();
    }
    entries_.push_back({std::move(document), label});
    hold(entries_.back());
    at_ = entries_.size() - 1;
    while (bytes_ > budget_ && at_ > 0) {
        release(entries_.front());
        entries_.pop_front();
        --at_;
    }
}

void History::hold(const Entry& entry) {
    bytes_ += sizeof(Entry) + entry.label.size();
    each_block(entry.document, [&](const Block& block) {
        Held& held = held_[block.address];
        if (held.count++ > 0) return;
        held.bytes = block.bytes();
        bytes_ += held.bytes;
    });
}

void History::release(const Entry& entry) {
    bytes_ -= sizeof(Entry) + entry.label.size();
    each_block(entry.document, [&](const Block& block) {
        const auto at = held_.find(block.address);
        STANDPOINT_CHECK(at != held_.end());
        if (--at->second.count > 0) return;
        bytes_ -= at->second.bytes;
        held_.erase(at);
    });
}

} // namespace standpoint
