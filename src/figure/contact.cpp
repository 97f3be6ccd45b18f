// Where figures touch and look, and where they are to.
#include "figure/contact.h"

#include <algorithm>
#include <unordered_map>

#include <fmt/format.h>
#include <glm/geometric.hpp>
#include <glm/trigonometric.hpp>

#include "base/check.h"
#include "scene/plan_path.h"
#include "scene/text.h"

namespace standpoint {

namespace {

glm::dvec3 point_of(const Point3& at) {
    return {at.x.mm, at.y.mm, at.z.mm};
}

Frame frame_of(const Pose6& at) {
    return {rotation_of(at.facing.deg, at.tilt.deg, at.roll.deg), {at.x.mm, at.y.mm, at.z.mm}};
}

std::optional<std::size_t> figure_part(const Piece& piece) {
    for (std::size_t i = 0; i < piece.parts.size(); ++i)
        if (std::holds_alternative<FigureForm>(piece.parts[i].form)) return i;
    return std::nullopt;
}

Posed posed_at(const Figure& figure, double stature_mm) {
    return posed(*figure.skeleton, joint_angles(*figure.skeleton, *figure.pose, all_turns(figure)),
                 figure.pose->stance, figure.pose->seat_on_ground, stature_mm);
}

Error located(const Error& error, const Piece& piece, const std::string& file,
              const std::string& pointer) {
    return {error.code, fmt::format("piece \"{}\": {}", piece.id, one_line(error)),
            fmt::format("{} ({})", file, pointer)};
}

Result<std::optional<PlacedFigure>> placed_figure(const Piece& piece, std::size_t index,
                                                  const Placement& placement,
                                                  const std::string& scene_file,
                                                  const FileAccess& files) {
    const auto part = figure_part(piece);
    if (!part) return std::optional<PlacedFigure>();
    const Result<Figure> figure =
        find_figure(std::get<FigureForm>(piece.parts[*part].form), scene_file, files);
    if (!figure.ok())
        return located(figure.error(), piece, scene_file,
                       fmt::format("/pieces/{}/parts/{}", index, *part));
    const Status known = check_touches(piece, *figure->skeleton);
    if (!known.ok())
        return located(known.error(), piece, scene_file, fmt::format("/pieces/{}/touches", index));
    Frame inner = frame_of(piece.parts[*part].at);
    inner.origin *= placement.scale;
    return std::optional<PlacedFigure>(
        PlacedFigure{index, *part, *figure, compose(placement.frame, inner), placement.scale,
                     posed_at(*figure, figure->stature_mm * placement.scale)});
}

glm::dvec3 side_normal(PieceSide side) {
    switch (side) { // left and right are those seen from the front of a thing
    case PieceSide::left:
        return {-1, 0, 0};
    case PieceSide::right:
        return {1, 0, 0};
    case PieceSide::front:
        return {0, -1, 0};
    case PieceSide::back:
        return {0, 1, 0};
    case PieceSide::top:
        return {0, 0, 1};
    case PieceSide::bottom:
        return {0, 0, -1};
    }
    return {0, 0, 1};
}

// What a scene refers to, found once.
class Places {
  public:
    Places(const Document& document, const PlacedFigures& figures)
        : document_(document), figures_(figures), placed_(placements(document)) {
        for (std::size_t i = 0; i < document.pieces->size(); ++i)
            index_.emplace((*document.pieces)[i]->id, i);
    }

    TouchPlace touch(const PlacedFigure& figure, std::size_t which) const {
        const Touch& touch = (*document_.pieces)[figure.piece]->touches[which];
        TouchPlace made{figure.piece, which, 0, {}, {}, {}, {}};
        made.contact = contact_index(*figure.figure.skeleton, touch.contact);
        STANDPOINT_CHECK(made.contact >= 0);
        made.found = contact_place(figure, made.contact);
        const std::size_t other = index_.at(touch.piece);
        if (!touch.meets.empty()) return meeting(made, touch, other);
        const Placement& placement = placed_[other];
        made.wanted = to_outer(placement.frame, placement.scale * point_of(touch.at));
        if (!touch.side) return made;
        made.found_normal = contact_normal(figure, made.contact);
        made.wanted_normal = -(placement.frame.rotation * side_normal(*touch.side));
        return made;
    }

    LookPlace look(const PlacedFigure& figure) const {
        const Gaze& look = *(*document_.pieces)[figure.piece]->looks_at;
        LookPlace made{figure.piece, eyes_of(figure), figure.form.rotation * figure.posed.gaze, {}};
        made.wanted = look.piece.empty() ? visitor_eyes(look) : place_in_piece(look);
        return made;
    }

  private:
    static glm::dvec3 contact_place(const PlacedFigure& figure, int contact) {
        return to_outer(figure.form, figure.posed.contacts[contact].place);
    }
    static glm::dvec3 contact_normal(const PlacedFigure& figure, int contact) {
        return figure.form.rotation * figure.posed.contacts[contact].normal;
    }
    static glm::dvec3 eyes_of(const PlacedFigure& figure) {
        return to_outer(figure.form, figure.posed.eyes);
    }

    // Contact on contact. One the other skeleton lacks is met where the figure stands.
    TouchPlace meeting(TouchPlace made, const Touch& touch, std::size_t other) const {
        made.wanted = placed_[other].frame.origin;
        if (!figures_[other]) return made;
        const int met = contact_index(*figures_[other]->figure.skeleton, touch.meets);
        if (met < 0) return made;
        made.wanted = contact_place(*figures_[other], met);
        const Piece& own = *(*document_.pieces)[made.piece];
        for (const Touch& back : (*document_.pieces)[other]->touches)
            if (back.piece == own.id && back.contact == touch.meets && back.meets == touch.contact)
                made.wanted = 0.5 * (made.wanted + made.found);
        return made;
    }

    glm::dvec3 place_in_piece(const Gaze& look) const {
        const std::size_t other = index_.at(look.piece);
        if (!look.at && figures_[other]) return eyes_of(*figures_[other]);
        const glm::dvec3 at = look.at ? point_of(*look.at) : glm::dvec3(0.0);
        return to_outer(placed_[other].frame, placed_[other].scale * at);
    }
    glm::dvec3 visitor_eyes(const Gaze& look) const {
        const Visitor* visitor = find_visitor(document_, look.visitor);
        STANDPOINT_CHECK(visitor != nullptr);
        const glm::dvec2 at = point_at(plan_path(*document_.path), look.way->mm);
        return {at.x, at.y, visitor->eye_height.mm};
    }

    const Document& document_;
    const PlacedFigures& figures_;
    std::vector<Placement> placed_;
    std::unordered_map<std::string_view, std::size_t> index_;
};

double angle_between(const glm::dvec3& a, const glm::dvec3& b) {
    return glm::degrees(std::atan2(glm::length(glm::cross(a, b)), glm::dot(a, b)));
}

} // namespace

int contact_index(const Skeleton& skeleton, std::string_view name) {
    const auto& all = skeleton.contacts;
    const auto at = std::find_if(all.begin(), all.end(),
                                 [&](const BodyContact& contact) { return contact.name == name; });
    return at == all.end() ? -1 : static_cast<int>(at - all.begin());
}

double TouchPlace::off_mm() const {
    return glm::length(wanted - found);
}
double TouchPlace::off_deg() const {
    return found_normal ? angle_between(*found_normal, *wanted_normal) : 0;
}
double LookPlace::off_deg() const {
    return angle_between(gaze, wanted - eyes);
}

Status check_touches(const Piece& piece, const Skeleton& skeleton) {
    for (std::size_t i = 0; i < piece.touches.size(); ++i) {
        const std::string& name = piece.touches[i].contact;
        if (contact_index(skeleton, name) >= 0) continue;
        std::vector<std::string> names;
        for (const BodyContact& contact : skeleton.contacts)
            names.push_back(contact.name);
        const std::string near = nearest_word(name, names);
        return input_error("", "found " + in_quotes(name) + ", expected a contact of " +
                                   in_quotes(skeleton.name) +
                                   (near.empty() ? "" : " such as " + in_quotes(near)));
    }
    return Done{};
}

Result<PlacedFigures> placed_figures(const Document& document, const std::string& scene_file,
                                     const FileAccess& files) {
    const std::vector<Placement> placed = placements(document);
    PlacedFigures figures;
    for (std::size_t i = 0; i < placed.size(); ++i) {
        STANDPOINT_TRY(figure,
                       placed_figure(*(*document.pieces)[i], i, placed[i], scene_file, files));
        figures.push_back(std::move(figure));
    }
    return figures;
}

std::vector<TouchPlace> touch_places(const Document& document, const PlacedFigures& figures) {
    const Places places(document, figures);
    std::vector<TouchPlace> made;
    for (const auto& figure : figures)
        if (figure)
            for (std::size_t i = 0; i < (*document.pieces)[figure->piece]->touches.size(); ++i)
                made.push_back(places.touch(*figure, i));
    return made;
}

std::vector<LookPlace> look_places(const Document& document, const PlacedFigures& figures) {
    const Places places(document, figures);
    std::vector<LookPlace> made;
    for (const auto& figure : figures)
        if (figure && (*document.pieces)[figure->piece]->looks_at)
            made.push_back(places.look(*figure));
    return made;
}

} // namespace standpoint
