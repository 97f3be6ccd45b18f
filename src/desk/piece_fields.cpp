// Setting what a piece is.
#include "desk/piece_fields.h"

#include <functional>
#include <unordered_set>

#include <fmt/format.h>

#include "desk/contact_fields.h"
#include "desk/typed.h"
#include "measure/length.h"

namespace standpoint {

namespace {

using Change = std::function<Status(Piece&)>;

// One ReplacePiece for each of the ids that comes out another.
Result<Edit> changed(const Document& document, const Ids& ids, const std::string& label,
                     const Change& change) {
    STANDPOINT_TRY_STATUS(check_there(document, ids));
    const std::unordered_set<std::string_view> chosen(ids.begin(), ids.end());
    std::vector<EditStep> steps;
    for (const auto& piece : *document.pieces) {
        if (!chosen.contains(piece->id)) continue;
        Piece made = *piece;
        STANDPOINT_TRY_STATUS(change(made));
        if (!(made == *piece))
            steps.push_back({ReplacePiece{piece->id, std::make_shared<const Piece>(made)}});
    }
    return Edit(label, std::move(steps));
}

// The change of one part, or of each.
Change of_parts(std::optional<std::size_t> part, std::function<void(Part&)> change) {
    return [part, change = std::move(change)](Piece& piece) -> Status {
        if (part && *part >= piece.parts.size())
            return input_error("", fmt::format("found part {}, expected one of the {} of {}", *part,
                                               piece.parts.size(), in_quotes(spoken(piece))));
        for (std::size_t i = 0; i < piece.parts.size(); ++i)
            if (!part || *part == i) change(piece.parts[i]);
        return Done{};
    };
}

} // namespace

Result<Edit> set_ratio(const Document& document, const Ids& ids,
                       const std::optional<Ratio>& ratio) {
    STANDPOINT_TRY_STATUS(check_movable(document, ids));
    return changed(document, ids, "Set the ratio of " + spoken(document, ids), [&](Piece& piece) {
        piece.ratio = ratio;
        return Status(Done{});
    });
}

Result<Ratio> ratio_from_sizes(double original_mm, double built_mm) {
    if (!(original_mm > 0 && built_mm > 0))
        return input_error("", "found a size of nothing, expected both sizes above 0 mm");
    const double ratio = built_mm / original_mm;
    STANDPOINT_TRY_STATUS(parse_ratio(print_exact(ratio)).ok()
                              ? Status(Done{})
                              : Status(input_error("", "found a ratio of " + print_exact(ratio) +
                                                           ", expected 1:1000 to 10000:1")));
    return Ratio(ratio);
}

Result<Ratio> ratio_from_typed(const std::string& original, const std::string& built,
                               UnitSystem units) {
    STANDPOINT_TRY(from, typed_length(original, Length(0), units));
    STANDPOINT_TRY(to, typed_length(built, Length(0), units));
    return ratio_from_sizes(from.mm, to.mm);
}

Result<Edit> set_name(const Document& document, const std::string& id, const std::string& name) {
    return changed(document, {id}, "Name " + (name.empty() ? id : name), [&](Piece& piece) {
        piece.name = name;
        return Status(Done{});
    });
}

Result<Edit> set_id(const Document& document, const std::string& id, const std::string& new_id) {
    STANDPOINT_TRY_STATUS(check_there(document, {id}));
    if (id == new_id) return Edit("Call " + id + " " + new_id, std::vector<EditStep>{});
    if (taken_ids(document).contains(new_id))
        return input_error("", "found the id " + in_quotes(new_id) +
                                   " taken, expected one that nothing else has");
    std::vector<EditStep> steps;
    for (const auto& piece : *document.pieces) {
        const bool carried = piece->host == id && (piece->support == Support::stands_on ||
                                                   piece->support == Support::hangs_from);
        const auto is_it = [&](const std::string& other) { return other == id; };
        if (piece->id != id && !carried && !touches_any(*piece, is_it)) continue;
        Piece made = with_contact_ids(
            *piece, [&](const std::string& now) { return now == id ? new_id : now; });
        if (carried) made.host = new_id;
        if (piece->id == id) made.id = new_id;
        steps.push_back({ReplacePiece{piece->id, std::make_shared<const Piece>(made)}});
    }
    for (const auto& target : *document.targets) {
        if (target->piece != id) continue;
        Target made = *target;
        made.piece = new_id;
        steps.push_back({ReplaceTarget{target->id, std::make_shared<const Target>(made)}});
    }
    return Edit("Call " + id + " " + new_id, std::move(steps));
}

Result<Edit> set_group(const Document& document, const Ids& ids, const std::string& name) {
    const std::string what = spoken(document, ids);
    const std::string label = name.empty() ? "Take " + what + " out of the group"
                                           : "Put " + what + " into the group " + in_quotes(name);
    return changed(document, ids, label, [&](Piece& piece) {
        piece.group = name;
        return Status(Done{});
    });
}

Result<Edit> set_kind(const Document& document, const Ids& ids, PieceKind kind) {
    return changed(document, ids, "Set the kind of " + spoken(document, ids), [&](Piece& piece) {
        piece.kind = kind;
        return Status(Done{});
    });
}

Result<Edit> set_note(const Document& document, const std::string& id, const std::string& note) {
    return changed(document, {id}, "Note on " + spoken(document, {id}), [&](Piece& piece) {
        piece.note = note;
        return Status(Done{});
    });
}

Result<Edit> set_colour(const Document& document, const Ids& ids, const std::string& colour,
                        std::optional<std::size_t> part) {
    return changed(document, ids, "Colour " + spoken(document, ids),
                   of_parts(part, [&](Part& one) { one.colour = colour; }));
}

Result<Edit> set_lets_through(const Document& document, const Ids& ids,
                              const std::optional<Number>& share, std::optional<std::size_t> part) {
    return changed(document, ids, "Set the light through " + spoken(document, ids),
                   of_parts(part, [&](Part& one) { one.lets_through = share; }));
}

Result<Edit> set_gloss(const Document& document, const Ids& ids, const std::optional<Number>& share,
                       std::optional<std::size_t> part) {
    return changed(document, ids, "Set the gloss of " + spoken(document, ids),
                   of_parts(part, [&](Part& one) { one.gloss = share; }));
}

} // namespace standpoint
