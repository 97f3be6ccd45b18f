// What a figure touches and looks at.
#include "desk/contact_fields.h"

#include <algorithm>
#include <limits>

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include "check/results.h"
#include "desk/figure_fields.h"
#include "desk/piece_ids.h"
#include "measure/tolerance.h"

namespace standpoint {

namespace {

// The edit that changes one figure.
template <class Change>
Result<Edit> changed(const Document& document, const std::string& id, const std::string& label,
                     const Change& change) {
    STANDPOINT_TRY_STATUS(check_movable(document, {id}));
    Piece made = *find_piece(document, id);
    STANDPOINT_TRY_STATUS(change(made));
    return Edit(label, ReplacePiece{id, std::make_shared<const Piece>(std::move(made))});
}

std::string name_of(const Document& document, const std::string& id) {
    const Piece* piece = find_piece(document, id);
    return piece ? spoken(*piece) : id;
}

// -- the nearest place --

struct Place {
    glm::dvec3 point{0.0}, normal{0, 0, 1}; // scene mm; unit
};

// After the regions of a triangle: a corner, an edge, or within (Ericson, Real-Time Collision
// Detection, 2005, 5.1.5; from memory).
glm::dvec3 nearest_in(const Triangle& t, const glm::dvec3& p) {
    const glm::dvec3 ab = t.b - t.a, ac = t.c - t.a, ap = p - t.a;
    const double d1 = glm::dot(ab, ap), d2 = glm::dot(ac, ap);
    if (d1 <= 0 && d2 <= 0) return t.a;
    const glm::dvec3 bp = p - t.b;
    const double d3 = glm::dot(ab, bp), d4 = glm::dot(ac, bp);
    if (d3 >= 0 && d4 <= d3) return t.b;
    const double vc = d1 * d4 - d3 * d2;
    if (vc <= 0 && d1 >= 0 && d3 <= 0) return t.a + ab * (d1 / (d1 - d3));
    const glm::dvec3 cp = p - t.c;
    const double d5 = glm::dot(ab, cp), d6 = glm::dot(ac, cp);
    if (d6 >= 0 && d5 <= d6) return t.c;
    const double vb = d5 * d2 - d1 * d6;
    if (vb <= 0 && d2 >= 0 && d6 <= 0) return t.a + ac * (d2 / (d2 - d6));
    const double va = d3 * d6 - d5 * d4;
    if (va <= 0 && d4 >= d3 && d5 >= d6)
        return t.b + (t.c - t.b) * ((d4 - d3) / ((d4 - d3) + (d5 - d6)));
    const double whole = va + vb + vc;
    return whole > 0 ? t.a + ab * (vb / whole) + ac * (vc / whole) : t.a;
}

std::optional<Place> nearest_place(const StagedPiece& piece, const glm::dvec3& to) {
    double best = std::numeric_limits<double>::infinity();
    std::optional<Place> place;
    for (std::uint32_t i = 0; i < piece.mesh->triangles.size(); ++i) {
        const Triangle triangle = scene_triangle(piece, i);
        const glm::dvec3 point = nearest_in(triangle, to);
        const glm::dvec3 off = to - point;
        const double distance = glm::dot(off, off);
        if (distance >= best) continue;
        const glm::dvec3 normal = glm::cross(triangle.b - triangle.a, triangle.c - triangle.a);
        if (!(glm::dot(normal, normal) > 0)) continue;
        best = distance;
        place = Place{point, glm::normalize(normal)};
    }
    return place;
}

// The side of a piece that a surface is nearest to facing.
PieceSide side_of(const Frame& frame, const glm::dvec3& normal) {
    const glm::dvec3 own = glm::transpose(frame.rotation) * normal;
    const glm::dvec3 size = glm::abs(own);
    if (size.z >= size.x && size.z >= size.y) return own.z > 0 ? PieceSide::top : PieceSide::bottom;
    if (size.x >= size.y) return own.x > 0 ? PieceSide::right : PieceSide::left;
    return own.y > 0 ? PieceSide::back : PieceSide::front;
}

Point3 written(const glm::dvec3& mm) {
    const auto rounded = [](double value) { return Length(std::round(value * 100) / 100); };
    return {rounded(mm.x), rounded(mm.y), rounded(mm.z)};
}

std::optional<std::string> palm_to_meet(const std::optional<PlacedFigure>& other,
                                        const std::string& contact) {
    if (!other) return std::nullopt;
    const Skeleton& skeleton = *other->figure.skeleton;
    const int own = contact_index(skeleton, contact);
    if (own < 0 || skeleton.contacts[own].kind != ContactKind::palm) return std::nullopt;
    return contact;
}

std::size_t index_of(const Document& document, const std::string& id) {
    std::size_t at = 0;
    while (at < document.pieces->size() && (*document.pieces)[at]->id != id)
        ++at;
    return at;
}

Result<Touch> touch_of(const Document& document, const Staging& staging, const PlacedFigure& figure,
                       const PlacedFigures& figures, const std::string& contact,
                       const std::string& other) {
    const int index = contact_index(*figure.figure.skeleton, contact);
    if (index < 0)
        return input_error("", "found no contact " + in_quotes(contact) + ", expected one of " +
                                   in_quotes(figure.figure.skeleton->name));
    const BodyContact& own = figure.figure.skeleton->contacts[index];
    Touch touch{usual_how(own.kind), contact, other, {}, {}, {}};
    const auto palm = palm_to_meet(figures[index_of(document, other)], contact);
    if (own.kind == ContactKind::palm && palm) {
        touch.meets = *palm;
        touch.how = TouchHow::holds;
        return touch;
    }
    const StagedPiece* staged = find_staged(staging, other);
    const auto place =
        staged ? nearest_place(*staged, to_outer(figure.form, figure.posed.contacts[index].place))
               : std::nullopt;
    if (!place)
        return input_error("", "found nothing to touch of " + in_quotes(other) +
                                   ", expected a piece that is switched on and has a surface");
    const Placement& at = staged->placement;
    touch.at = written(to_inner(at.frame, place->point) / at.scale);
    touch.side = side_of(at.frame, place->normal);
    return touch;
}

// What is held takes the figure's ratio.
void take_ratio(const Document& document, const Touch& touch, const Piece& figure, Edit& edit) {
    if (touch.how != TouchHow::holds && touch.how != TouchHow::hands_over) return;
    const Piece* held = find_piece(document, touch.piece);
    if (held->kind != PieceKind::prop || held->ratio || held->locked) return;
    if (ratio_of(document, *held) == ratio_of(document, figure)) return;
    Piece made = *held;
    made.ratio = Ratio(ratio_of(document, figure));
    edit.steps.push_back({ReplacePiece{made.id, std::make_shared<const Piece>(made)}});
}

// -- rows --

std::string sentence(std::string text) {
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z')
        text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

bool looks_at_eyes(const Piece& piece, const std::string& of) {
    return piece.looks_at && piece.looks_at->piece == of && !piece.looks_at->at;
}

std::string look_text(const Document& document, const PlacedFigures& figures, const Piece& piece) {
    const Gaze& look = *piece.looks_at;
    if (look.piece.empty()) {
        const Visitor* visitor = find_visitor(document, look.visitor);
        return fmt::format("{} at {}", visitor->name.empty() ? visitor->id : visitor->name,
                           length_text(document, look.way->mm));
    }
    const std::string name = name_of(document, look.piece);
    if (look.at || !figures[index_of(document, look.piece)]) return name;
    return name + (looks_at_eyes(*find_piece(document, look.piece), piece.id) ? ", eye to eye"
                                                                              : ", the eyes");
}

TouchRow touch_row(const Document& document, const Touch& touch, const TouchPlace& place) {
    TouchRow row{sentence(touch.contact),
                 touch_how_names[static_cast<int>(touch.how)],
                 name_of(document, touch.piece),
                 {},
                 place.off_mm(),
                 place.off_deg()};
    if (!touch.meets.empty())
        row.at = "its " + touch.meets;
    else if (touch.side)
        row.at = fmt::format("its {}", piece_side_names[static_cast<int>(*touch.side)]);
    return row;
}

} // namespace

bool TouchRow::kept() const {
    return off_mm <= touch_gap_mm;
}
bool LookRow::kept() const {
    return by_head <= eyes_turn_deg;
}

Point3 middle_of(const StagedPiece& piece) {
    const Box box = bounds(*piece.mesh);
    return written(box.centre());
}

TouchHow usual_how(ContactKind kind) {
    switch (kind) {
    case ContactKind::sole:
        return TouchHow::stands_on;
    case ContactKind::seat:
        return TouchHow::sits_on;
    case ContactKind::back:
        return TouchHow::leans_on;
    case ContactKind::palm:
    case ContactKind::grip:
    case ContactKind::eyes:
        break;
    }
    return TouchHow::holds;
}

Result<ContactRows> contact_rows(const Document& document, const std::string& id,
                                 const std::string& scene_file, const FileAccess& files) {
    STANDPOINT_TRY_STATUS(check_there(document, {id}));
    STANDPOINT_TRY(figures, placed_figures(document, scene_file, files));
    const std::size_t index = index_of(document, id);
    const Piece& piece = *(*document.pieces)[index];
    ContactRows rows;
    for (const TouchPlace& place : touch_places(document, figures))
        if (place.piece == index)
            rows.touches.push_back(touch_row(document, piece.touches[place.touch], place));
    for (const LookPlace& place : look_places(document, figures))
        if (place.piece == index)
            rows.look = LookRow{look_text(document, figures, piece), place.off_deg()};
    for (const auto& other : *document.pieces)
        if (other->looks_at && other->looks_at->piece == id)
            rows.watched_by.push_back(spoken(*other));
    if (!figures[index]) return rows;
    for (const BodyContact& contact : figures[index]->figure.skeleton->contacts) {
        const bool taken =
            std::any_of(piece.touches.begin(), piece.touches.end(),
                        [&](const Touch& touch) { return touch.contact == contact.name; });
        if (!taken && contact.kind != ContactKind::eyes) rows.free.push_back(contact.name);
    }
    return rows;
}

Result<Edit> set_look(const Document& document, const std::string& id,
                      const std::optional<Gaze>& look) {
    const std::string label = !look                 ? "No longer looks: " + name_of(document, id)
                              : look->piece.empty() ? name_of(document, id) + " looks at a visitor"
                                                    : name_of(document, id) + " looks at " +
                                                          name_of(document, look->piece);
    return changed(document, id, label, [&](Piece& piece) {
        piece.looks_at = look;
        return Status(Done{});
    });
}

Result<Edit> add_touch(const Document& document, const Staging& staging, const std::string& id,
                       const std::string& contact, const std::string& other,
                       const std::string& scene_file, const FileAccess& files) {
    STANDPOINT_TRY_STATUS(check_there(document, {id, other}));
    STANDPOINT_TRY(figures, placed_figures(document, scene_file, files));
    const auto& figure = figures[index_of(document, id)];
    if (!figure) return input_error("", "found no figure in " + in_quotes(id) + ", expected one");
    STANDPOINT_TRY(touch, touch_of(document, staging, *figure, figures, contact, other));
    const std::string label =
        fmt::format("{} {} {}", name_of(document, id), touch_how_names[static_cast<int>(touch.how)],
                    name_of(document, other));
    STANDPOINT_TRY(edit, changed(document, id, label, [&](Piece& piece) {
                       std::erase_if(piece.touches,
                                     [&](const Touch& t) { return t.contact == contact; });
                       piece.touches.push_back(touch);
                       return Status(Done{});
                   }));
    take_ratio(document, touch, *find_piece(document, id), edit);
    return std::move(edit);
}

Result<Edit> set_touch(const Document& document, const std::string& id, std::size_t index,
                       const Touch& touch) {
    return changed(document, id, "Where " + name_of(document, id) + " touches", [&](Piece& piece) {
        if (index >= piece.touches.size())
            return Status(input_error("", "found no such touch, expected one of the figure's"));
        piece.touches[index] = touch;
        return Status(Done{});
    });
}

Result<Edit> remove_touch(const Document& document, const std::string& id, std::size_t index) {
    return changed(document, id, name_of(document, id) + " lets go", [&](Piece& piece) {
        if (index >= piece.touches.size())
            return Status(input_error("", "found no such touch, expected one of the figure's"));
        piece.touches.erase(piece.touches.begin() + static_cast<std::ptrdiff_t>(index));
        return Status(Done{});
    });
}

Piece with_contact_ids(const Piece& piece, const NewId& new_id) {
    Piece made = piece;
    for (Touch& touch : made.touches)
        touch.piece = new_id(touch.piece);
    std::erase_if(made.touches, [](const Touch& touch) { return touch.piece.empty(); });
    if (!made.looks_at || made.looks_at->piece.empty()) return made;
    made.looks_at->piece = new_id(made.looks_at->piece);
    if (made.looks_at->piece.empty()) made.looks_at.reset();
    return made;
}

bool touches_any(const Piece& piece, const std::function<bool(const std::string& id)>& is_it) {
    return (piece.looks_at && is_it(piece.looks_at->piece)) ||
           std::any_of(piece.touches.begin(), piece.touches.end(),
                       [&](const Touch& touch) { return is_it(touch.piece); });
}

} // namespace standpoint
