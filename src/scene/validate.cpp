// What must hold between the parts of a document: ids unique, references met, no cycle of supports.
#include <algorithm>
#include <map>
#include <unordered_map>

#include "scene/document.h"
#include "scene/field_check.h"
#include "scene/fields.h"
#include "scene/json_tree.h"
#include "scene/text.h"

namespace standpoint {

namespace {

std::string step(const char* list, std::size_t index) {
    return "/" + std::string(list) + "/" + std::to_string(index);
}

// Ids of one space, each with the pointer of what bears it.
class IdSpace {
  public:
    explicit IdSpace(const char* whose) : whose_(whose) {}

    template <class Items> Trouble add(const char* list, const Items& items) {
        for (std::size_t i = 0; i < items.size(); ++i)
            if (!taken_.emplace(id_of(items[i]), i).second)
                return trouble(step(list, i) + "/id", "found the id " + in_quotes(id_of(items[i])) +
                                                          " a second time, expected the ids of " +
                                                          whose_ + " to differ");
        return std::nullopt;
    }

  private:
    template <class T> static std::string_view id_of(const T& item) { return item.id; }
    template <class T> static std::string_view id_of(const std::shared_ptr<const T>& item) {
        return item->id;
    }

    const char* whose_;
    std::unordered_map<std::string_view, std::size_t> taken_;
};

Trouble check_ids(const Document& document) {
    IdSpace things("pieces, sections, columns and doors");
    if (auto fault = things.add("hall/columns", document.hall->columns)) return fault;
    if (auto fault = things.add("hall/doors", document.hall->doors)) return fault;
    if (auto fault = things.add("sections", *document.sections)) return fault;
    if (auto fault = things.add("pieces", *document.pieces)) return fault;
    if (auto fault =
            IdSpace("reference points").add("reference_points", *document.reference_points))
        return fault;
    if (auto fault = IdSpace("visitors").add("visitors", *document.visitors)) return fault;
    return IdSpace("targets").add("targets", *document.targets);
}

std::string unknown_id(const std::string& id, const char* kind,
                       const std::vector<std::string>& known) {
    const std::string near = nearest_word(id, known);
    return "found " + in_quotes(id) + ", expected the id of a " + kind +
           (near.empty() ? "" : " such as " + in_quotes(near));
}

// Sorted ids of sections and pieces, for references to be looked up in.
struct KnownIds {
    std::vector<std::string> sections, pieces, visitors;
    std::unordered_map<std::string_view, const Piece*> piece_by_id;

    explicit KnownIds(const Document& document) {
        for (const Section& section : *document.sections)
            sections.push_back(section.id);
        for (const auto& piece : *document.pieces) {
            pieces.push_back(piece->id);
            piece_by_id.emplace(piece->id, piece.get());
        }
        for (const Visitor& visitor : *document.visitors)
            visitors.push_back(visitor.id);
        std::sort(sections.begin(), sections.end());
        std::sort(pieces.begin(), pieces.end());
    }
    Trouble section(std::string pointer, const std::string& id) const {
        if (std::binary_search(sections.begin(), sections.end(), id)) return std::nullopt;
        return trouble(std::move(pointer), unknown_id(id, "section", sections));
    }
    Trouble piece(std::string pointer, const std::string& id) const {
        if (piece_by_id.contains(id)) return std::nullopt;
        return trouble(std::move(pointer), unknown_id(id, "piece", pieces));
    }
    Trouble visitor(std::string pointer, const std::string& id) const {
        if (std::find(visitors.begin(), visitors.end(), id) != visitors.end()) return std::nullopt;
        return trouble(std::move(pointer), unknown_id(id, "visitor", visitors));
    }
    // What the figure of a piece touches and looks at.
    Trouble others(const Piece& figure) const {
        for (std::size_t i = 0; i < figure.touches.size(); ++i)
            if (auto fault = piece(step("touches", i) + "/piece", figure.touches[i].piece))
                return fault;
        if (!figure.looks_at) return std::nullopt;
        if (figure.looks_at->piece.empty())
            return visitor("/looks_at/visitor", figure.looks_at->visitor);
        return piece("/looks_at/piece", figure.looks_at->piece);
    }
};

// A piece made of primitives alone has no other names than those of its parts; those of a model
// or a figure are known when it is made solid.
Trouble check_patch(const Target& target, const Piece& piece) {
    for (const Part& part : piece.parts)
        if (std::holds_alternative<ModelForm>(part.form) ||
            std::holds_alternative<FigureForm>(part.form))
            return std::nullopt;
    std::vector<std::string> names;
    for (const Part& part : piece.parts)
        names.push_back(part.name);
    for (std::size_t i = 0; i < target.patch.parts.size(); ++i) {
        const std::string& wanted = target.patch.parts[i];
        if (std::find(names.begin(), names.end(), wanted) != names.end()) continue;
        const std::string near = nearest_word(wanted, names);
        return trouble(step("patch/parts", i),
                       "found " + in_quotes(wanted) + ", expected the name of a part of " +
                           in_quotes(piece.id) +
                           (near.empty() ? "" : " such as " + in_quotes(near)));
    }
    return std::nullopt;
}

Trouble check_references(const Document& document) {
    const KnownIds known(document);
    const auto& lines = *document.join_lines;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const std::string pointer = step("join_lines", i) + "/between";
        if (auto fault = known.section(pointer + "/0", lines[i].between_a)) return fault;
        if (auto fault = known.section(pointer + "/1", lines[i].between_b)) return fault;
    }
    const auto& pieces = *document.pieces;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        if (auto fault = known.others(*pieces[i])) return within(step("pieces", i), fault);
        const Support support = pieces[i]->support;
        if (support == Support::none) continue;
        const std::string pointer =
            step("pieces", i) + pointer_step(support_keys[static_cast<int>(support)]);
        auto fault = support == Support::section ? known.section(pointer, pieces[i]->host)
                                                 : known.piece(pointer, pieces[i]->host);
        if (fault) return fault;
    }
    const auto& targets = *document.targets;
    for (std::size_t i = 0; i < targets.size(); ++i) {
        if (auto fault = known.piece(step("targets", i) + "/piece", targets[i]->piece))
            return fault;
        const Piece& piece = *known.piece_by_id.at(targets[i]->piece);
        if (auto fault = check_patch(*targets[i], piece)) return within(step("targets", i), fault);
    }
    return std::nullopt;
}

// Follows each chain of supports once; a chain that comes back to itself is a cycle.
Trouble check_cycles(const Document& document) {
    const std::vector<std::ptrdiff_t> hosts = host_indices(document);
    std::vector<std::size_t> visited_by(hosts.size(), hosts.size());
    for (std::size_t start = 0; start < hosts.size(); ++start) {
        for (auto at = static_cast<std::ptrdiff_t>(start); at >= 0; at = hosts[at]) {
            if (visited_by[at] < start) break;
            if (visited_by[at] == start) {
                const Piece& piece = *(*document.pieces)[at];
                return trouble(step("pieces", at) +
                                   pointer_step(support_keys[static_cast<int>(piece.support)]),
                               "found that " + in_quotes(piece.id) +
                                   " is in the end carried by itself, expected a chain that ends "
                                   "on a section or the floor");
            }
            visited_by[at] = start;
        }
    }
    return std::nullopt;
}

} // namespace

Status validate(const Document& document) {
    Trouble fault = check_fields(document);
    if (!fault) fault = check_ids(document);
    if (!fault) fault = check_references(document);
    if (!fault) fault = check_cycles(document);
    if (fault) return input_error(fault->pointer, fault->message);
    return Done{};
}

} // namespace standpoint
