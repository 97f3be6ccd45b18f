// Applies edits.
#include "scene/edit.h"

#include <algorithm>
#include <optional>

#include <fmt/format.h>

namespace standpoint {

namespace {

// A list of the document that is copied when the first step touches it.
template <class T> class OpenList {
  public:
    using Items = std::vector<std::shared_ptr<const T>>;
    explicit OpenList(std::shared_ptr<const Items>& list) : list_(list) {}

    Status put(int index, const std::shared_ptr<const T>& item) {
        STANDPOINT_CHECK(item != nullptr);
        Items& all = items();
        if (index < 0 || static_cast<std::size_t>(index) > all.size())
            return input_error(
                "", fmt::format("found the index {}, expected 0 to {}", index, all.size()));
        all.insert(all.begin() + index, item);
        return Done{};
    }
    Status remove(const std::string& id, const char* kind) {
        STANDPOINT_TRY(at, find(id, kind));
        items().erase(items().begin() + at);
        return Done{};
    }
    Status replace(const std::string& id, const char* kind, std::shared_ptr<const T> item) {
        STANDPOINT_CHECK(item != nullptr);
        STANDPOINT_TRY(at, find(id, kind));
        items()[at] = std::move(item);
        return Done{};
    }
    template <class Change> Status change(const std::string& id, const char* kind, Change change) {
        STANDPOINT_TRY(at, find(id, kind));
        T changed = *items()[at];
        change(changed);
        items()[at] = std::make_shared<const T>(std::move(changed));
        return Done{};
    }
    void close() {
        if (open_) list_ = std::make_shared<const Items>(std::move(*open_));
    }

  private:
    Items& items() {
        if (!open_) open_ = *list_;
        return *open_;
    }
    Result<std::ptrdiff_t> find(const std::string& id, const char* kind) const {
        const Items& all = open_ ? *open_ : *list_;
        const auto at =
            std::find_if(all.begin(), all.end(), [&](const auto& item) { return item->id == id; });
        if (at == all.end())
            return input_error("", "found " + in_quotes(id) + ", expected the id of a " + kind);
        return at - all.begin();
    }

    std::shared_ptr<const Items>& list_;
    std::optional<Items> open_;
};

class Applier {
  public:
    explicit Applier(Document& document)
        : document_(document), pieces_(document.pieces), targets_(document.targets) {}

    Status operator()(const PutPiece& edit) { return pieces_.put(edit.index, edit.piece); }
    Status operator()(const ReplacePiece& edit) {
        return pieces_.replace(edit.id, "piece", edit.piece);
    }
    Status operator()(const RemovePiece& edit) { return pieces_.remove(edit.id, "piece"); }
    Status operator()(const MovePiece& edit) {
        return pieces_.change(edit.id, "piece", [&](Piece& piece) { piece.at = edit.at; });
    }
    Status operator()(const AttachPiece& edit) {
        return pieces_.change(edit.id, "piece", [&](Piece& piece) {
            piece.support = edit.support;
            piece.host = edit.host;
            piece.at = edit.at;
        });
    }
    Status operator()(const SwitchPiece& edit) {
        return pieces_.change(edit.id, "piece", [&](Piece& piece) { piece.off = edit.off; });
    }
    Status operator()(const PutTarget& edit) { return targets_.put(edit.index, edit.target); }
    Status operator()(const ReplaceTarget& edit) {
        return targets_.replace(edit.id, "target", edit.target);
    }
    Status operator()(const RemoveTarget& edit) { return targets_.remove(edit.id, "target"); }
    Status operator()(const SetSettings& edit) { return set(document_.settings, edit.settings); }
    Status operator()(const SetHall& edit) { return set(document_.hall, edit.hall); }
    Status operator()(const SetSections& edit) { return set(document_.sections, edit.sections); }
    Status operator()(const SetJoinLines& edit) {
        return set(document_.join_lines, edit.join_lines);
    }
    Status operator()(const SetReferencePoints& edit) {
        return set(document_.reference_points, edit.reference_points);
    }
    Status operator()(const SetPath& edit) { return set(document_.path, edit.path); }
    Status operator()(const SetVisitors& edit) { return set(document_.visitors, edit.visitors); }
    Status operator()(const SetRules& edit) { return set(document_.rules, edit.rules); }

    void close() {
        pieces_.close();
        targets_.close();
    }

  private:
    template <class T>
    Status set(std::shared_ptr<const T>& place, const std::shared_ptr<const T>& value) {
        STANDPOINT_CHECK(value != nullptr);
        place = value;
        return Done{};
    }

    Document& document_;
    OpenList<Piece> pieces_;
    OpenList<Target> targets_;
};

} // namespace

Result<Document> apply(const Document& document, const Edit& edit) {
    Document after = document;
    Applier applier(after);
    for (const EditStep& step : edit.steps)
        STANDPOINT_TRY_STATUS(std::visit(applier, step.what));
    applier.close();
    STANDPOINT_TRY_STATUS(validate(after));
    return after;
}

} // namespace standpoint
