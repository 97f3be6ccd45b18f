// Copies, rows of copies, groups, locks, switching off and deleting.
#include <algorithm>
#include <cmath>
#include <map>
#include <unordered_set>

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include "desk/arrange.h"
#include "desk/contact_fields.h"
#include "desk/places.h"
#include "measure/angle.h"

namespace standpoint {

namespace {

using Chosen = std::unordered_set<std::string_view>;

Chosen chosen_of(const Ids& ids) {
    return Chosen(ids.begin(), ids.end());
}

bool on_a_piece(const Piece& piece) {
    return piece.support == Support::stands_on || piece.support == Support::hangs_from;
}

std::string counted(std::size_t count, const char* one, const char* several) {
    return fmt::format("{} {}", count, count == 1 ? one : several);
}

bool reaches(const Section& section, const glm::dvec2& p) {
    const glm::dvec2 low(section.corner.x.mm, section.corner.y.mm);
    const glm::dvec2 high = low + glm::dvec2(section.width.mm, section.depth.mm);
    return p.x >= low.x && p.y >= low.y && p.x <= high.x && p.y <= high.y;
}

// The section that a place is over; `now` where it is over that as well, or over none.
std::string section_under(const Document& document, const std::string& now, const glm::dvec2& p) {
    std::string found = now;
    for (const Section& section : *document.sections) {
        if (!reaches(section, p)) continue;
        if (section.id == now) return now;
        if (found == now) found = section.id;
    }
    return found;
}

// Makes copies of one set, any number of times, with ids and groups that stay disjoint.
class Copier {
  public:
    Copier(const Document& document, const Ids& ids)
        : document_(document), places_(document), taken_(taken_ids(document)),
          names_(taken_names(document)), next_(static_cast<int>(document.pieces->size())) {
        const Chosen chosen = chosen_of(ids);
        for (const auto& piece : *document.pieces) {
            if (chosen.contains(piece->id)) originals_.push_back(piece.get());
            if (!piece->group.empty()) groups_.insert(piece->group);
        }
        for (const Piece* original : originals_)
            if (!on_a_piece(*original) || !chosen.contains(original->host))
                roots_.insert(original->id);
    }

    // A copy of the set whose roots are carried into place by `place`, of frames in the scene.
    template <class Place> void add(const Place& place) {
        std::map<std::string, std::string> names, groups;
        for (const Piece* original : originals_)
            names[original->id] = fresh_id(original->id);
        for (const Piece* original : originals_)
            put(*original, names, groups, place);
    }

    Copied done(std::string label) {
        return {Edit(std::move(label), std::move(steps_)), std::move(ids_)};
    }

  private:
    std::string fresh_id(const std::string& of) {
        std::string id = unique_id(taken_, of);
        taken_.insert(id);
        return id;
    }
    std::string fresh_group(const std::string& of, std::map<std::string, std::string>& groups) {
        if (of.empty()) return of;
        std::string& made = groups[of];
        if (made.empty()) {
            made = unique_id(groups_, of);
            groups_.insert(made);
        }
        return made;
    }
    template <class Place>
    void put(const Piece& original, const std::map<std::string, std::string>& names,
             std::map<std::string, std::string>& groups, const Place& place) {
        Piece made = original;
        made.id = names.at(original.id);
        made.name = numbered_name(names_, original.name);
        names_.insert(made.name);
        made.locked = false;
        made.group = fresh_group(original.group, groups);
        if (on_a_piece(original) && names.contains(original.host))
            made.host = names.at(original.host);
        made = with_contact_ids(
            made, [&](const std::string& id) { return names.contains(id) ? names.at(id) : id; });
        if (roots_.contains(original.id)) {
            const Frame there = place(places_.frame(original.id));
            if (made.support == Support::section)
                made.host = section_under(document_, made.host, glm::dvec2(there.origin));
            const Frame host =
                on_a_piece(made) ? places_.host_frame(original.id) : host_frame(document_, made);
            made.at = pose_in(host, there, original.at, Rounding::exact);
        }
        ids_.push_back(made.id);
        steps_.push_back({PutPiece{next_++, std::make_shared<const Piece>(std::move(made))}});
    }

    const Document& document_;
    Places places_;
    std::vector<const Piece*> originals_;
    std::set<std::string> taken_, names_, groups_, roots_;
    int next_ = 0;
    std::vector<EditStep> steps_;
    Ids ids_;
};

// A stop of a row: where, and by how much the line has turned clockwise since it began.
struct Stop {
    glm::dvec2 at;
    double turned_deg;
};

double heading_deg(const glm::dvec2& along) {
    return atan2_deg(-along.y, along.x);
} // clockwise

std::vector<glm::dvec2> without_repeats(const std::vector<glm::dvec2>& line) {
    std::vector<glm::dvec2> points;
    for (const glm::dvec2& point : line)
        if (points.empty() || glm::distance(points.back(), point) > 0) points.push_back(point);
    return points;
}

double length_of(const std::vector<glm::dvec2>& points) {
    double length = 0;
    for (std::size_t i = 1; i < points.size(); ++i)
        length += glm::distance(points[i - 1], points[i]);
    return length;
}

Stop stop_at(const std::vector<glm::dvec2>& points, double along) {
    std::size_t i = 1;
    while (i + 1 < points.size() && along > glm::distance(points[i - 1], points[i])) {
        along -= glm::distance(points[i - 1], points[i]);
        ++i;
    }
    const glm::dvec2 step = points[i] - points[i - 1];
    return {points[i - 1] + step * (along / glm::length(step)),
            heading_deg(step) - heading_deg(points[1] - points[0])};
}

// Distances of the copies along the line.
Result<std::vector<double>> stops_along(double length, const Repeat& repeat) {
    const bool spaced = repeat.spacing_mm > 0;
    // A line that is to fit six spacings exactly fits six.
    const double fit = spaced ? std::floor(length / repeat.spacing_mm + 1e-9) : repeat.count - 1;
    if (!(fit >= 1))
        return input_error("", spaced ? "found a line shorter than the spacing, expected room for "
                                        "at least one copy"
                                      : "found a count below 2, expected at least 2");
    if (fit > most_repeats)
        return input_error(
            "", fmt::format("found {:.0f} copies, expected at most {}", fit, most_repeats));
    const auto count = static_cast<int>(fit);
    std::vector<double> stops;
    for (int i = 1; i <= count; ++i)
        stops.push_back(spaced ? i * repeat.spacing_mm : length * i / count);
    return stops;
}

// ReplacePiece for each chosen piece that comes out another.
template <class Change>
std::vector<EditStep> changes(const Document& document, const Ids& ids, Change change) {
    const Chosen chosen = chosen_of(ids);
    std::vector<EditStep> steps;
    for (const auto& piece : *document.pieces) {
        if (!chosen.contains(piece->id)) continue;
        Piece made = *piece;
        change(made);
        if (!(made == *piece))
            steps.push_back({ReplacePiece{piece->id, std::make_shared<const Piece>(made)}});
    }
    return steps;
}

// The carrier that is left when all of `gone` are: that of the outermost of them.
const Piece& last_gone(const Document& document, const Piece& piece, const Chosen& gone) {
    const Piece* carrier = find_piece(document, piece.host);
    while (on_a_piece(*carrier) && gone.contains(carrier->host))
        carrier = find_piece(document, carrier->host);
    return *carrier;
}

} // namespace

Result<Copied> copy(const Document& document, const Ids& ids, const glm::dvec3& by_mm) {
    STANDPOINT_TRY_STATUS(check_there(document, ids));
    Copier copier(document, ids);
    copier.add([&](Frame frame) {
        frame.origin += by_mm;
        return frame;
    });
    return copier.done("Copy " + spoken(document, ids));
}

Result<Copied> paste(const Document& document, const std::vector<Piece>& pieces,
                     const glm::dvec3& by_mm) {
    if (pieces.empty()) return input_error("", "found nothing copied, expected a piece at least");
    std::set<std::string> taken = taken_ids(document), names = taken_names(document), groups;
    std::map<std::string, std::string> renamed, regrouped;
    for (const auto& piece : *document.pieces)
        groups.insert(piece->group);
    for (const Piece& piece : pieces) {
        renamed[piece.id] = unique_id(taken, piece.id);
        taken.insert(renamed[piece.id]);
        std::string& group = regrouped[piece.group];
        if (group.empty() && !piece.group.empty()) group = unique_id(groups, piece.group);
        groups.insert(group);
    }
    Copied out{Edit("Paste", std::vector<EditStep>{}), {}};
    int index = static_cast<int>(document.pieces->size());
    for (Piece piece : pieces) {
        piece.id = renamed[piece.id];
        piece.name = numbered_name(names, piece.name);
        names.insert(piece.name);
        piece.group = regrouped[piece.group];
        piece.locked = false;
        piece = with_contact_ids(piece, [&](const std::string& id) {
            if (renamed.contains(id)) return renamed[id];
            return find_piece(document, id) ? id : std::string();
        });
        if (piece.looks_at && piece.looks_at->piece.empty() &&
            !find_visitor(document, piece.looks_at->visitor))
            piece.looks_at.reset();
        if (piece.support != Support::section && renamed.contains(piece.host)) {
            piece.host = renamed[piece.host];
        } else {
            const bool there = piece.support == Support::section
                                   ? find_section(document, piece.host) != nullptr
                                   : find_piece(document, piece.host) != nullptr;
            if (!there) {
                piece.support = Support::none;
                piece.host.clear();
            }
            piece.at.x = piece.at.x.mm + by_mm.x;
            piece.at.y = piece.at.y.mm + by_mm.y;
            piece.at.z = piece.at.z.mm + by_mm.z;
        }
        out.ids.push_back(piece.id);
        out.edit.steps.push_back(
            {PutPiece{index++, std::make_shared<const Piece>(std::move(piece))}});
    }
    return out;
}

Result<Copied> repeat_along(const Document& document, const Ids& ids, const Repeat& repeat) {
    STANDPOINT_TRY_STATUS(check_there(document, ids));
    const std::vector<glm::dvec2> points = without_repeats(repeat.line);
    if (points.size() < 2)
        return input_error("", "found a line without length, expected two different points");
    STANDPOINT_TRY(stops, stops_along(length_of(points), repeat));
    Copier copier(document, ids);
    for (const double along : stops) {
        const Stop stop = stop_at(points, along);
        const double turn_deg = repeat.turn_with_line ? stop.turned_deg : 0;
        const glm::dmat3 turn = rotation_of(turn_deg, 0, 0);
        const glm::dvec3 start(points[0], 0.0), end(stop.at, 0.0);
        copier.add([&](const Frame& frame) {
            return Frame{turn * frame.rotation, end + turn * (frame.origin - start)};
        });
    }
    return copier.done(fmt::format("Repeat {} {} times", spoken(document, ids), stops.size() + 1));
}

Result<Edit> group(const Document& document, const Ids& ids) {
    STANDPOINT_TRY_STATUS(check_there(document, ids));
    if (chosen_of(ids).size() < 2)
        return input_error("", "found one piece chosen, expected at least two to group");
    std::set<std::string> groups;
    for (const auto& piece : *document.pieces)
        groups.insert(piece->group);
    const std::string made = unique_id(groups, "group-1");
    return Edit("Group " + spoken(document, ids),
                changes(document, ids, [&](Piece& piece) { piece.group = made; }));
}

Result<Edit> ungroup(const Document& document, const Ids& ids) {
    STANDPOINT_TRY_STATUS(check_there(document, ids));
    return Edit("Ungroup " + spoken(document, ids),
                changes(document, ids, [](Piece& piece) { piece.group.clear(); }));
}

Result<Edit> lock(const Document& document, const Ids& ids, bool locked) {
    STANDPOINT_TRY_STATUS(check_there(document, ids));
    return Edit((locked ? "Lock " : "Unlock ") + spoken(document, ids),
                changes(document, ids, [&](Piece& piece) { piece.locked = locked; }));
}

Result<Edit> switch_off(const Document& document, const Ids& ids, Off off) {
    STANDPOINT_TRY_STATUS(check_there(document, ids));
    const Chosen chosen = chosen_of(ids);
    std::vector<EditStep> steps;
    for (const auto& piece : *document.pieces)
        if (chosen.contains(piece->id) && piece->off != off)
            steps.push_back({SwitchPiece{piece->id, off}});
    return Edit((off == Off::no ? "Switch on " : "Switch off ") + spoken(document, ids),
                std::move(steps));
}

namespace {

// Figures that stay let go of what goes. One that is set down anew in the same edit (a figure that
// stood on what goes) is replaced as it is set down.
void let_go_of(const Document& document, const Chosen& gone, std::vector<EditStep>& steps) {
    const std::vector<EditStep> before = steps;
    const auto is_gone = [&](const std::string& id) { return gone.contains(id); };
    for (const auto& piece : *document.pieces) {
        if (gone.contains(piece->id) || !touches_any(*piece, is_gone)) continue;
        Piece made = with_contact_ids(
            *piece, [&](const std::string& id) { return is_gone(id) ? std::string() : id; });
        for (const EditStep& step : before)
            if (const auto* set_down = std::get_if<AttachPiece>(&step.what);
                set_down && set_down->id == piece->id) {
                made.support = set_down->support;
                made.host = set_down->host;
                made.at = set_down->at;
            }
        steps.push_back({ReplacePiece{piece->id, std::make_shared<const Piece>(std::move(made))}});
    }
}

} // namespace

Result<Edit> remove_pieces(const Document& document, const Ids& ids) {
    STANDPOINT_TRY_STATUS(check_movable(document, ids));
    const Chosen gone = chosen_of(ids);
    const Places places(document);
    std::vector<EditStep> steps;
    std::size_t freed = 0, targets = 0;
    for (const auto& piece : *document.pieces) {
        if (gone.contains(piece->id) || !on_a_piece(*piece) || !gone.contains(piece->host))
            continue;
        const Piece& carrier = last_gone(document, *piece, gone);
        steps.push_back({AttachPiece{piece->id, carrier.support, carrier.host,
                                     pose_in(places.host_frame(carrier.id), places.frame(piece->id),
                                             piece->at, Rounding::exact)}});
        ++freed;
    }
    for (const auto& target : *document.targets) {
        if (!gone.contains(target->piece)) continue;
        steps.push_back({RemoveTarget{target->id}});
        ++targets;
    }
    let_go_of(document, gone, steps);
    for (const auto& piece : *document.pieces)
        if (gone.contains(piece->id)) steps.push_back({RemovePiece{piece->id}});
    std::string label = "Delete " + spoken(document, ids);
    if (targets > 0) label += " with " + counted(targets, "target", "targets");
    if (freed > 0) label += fmt::format(", {} it carried stays", counted(freed, "piece", "pieces"));
    return Edit(std::move(label), std::move(steps));
}

} // namespace standpoint
