// Setting title block, hall, path, reference points, visitors and rules.
#include "desk/scene_fields.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <set>

#include <fmt/format.h>

#include "desk/piece_ids.h"

namespace standpoint {

namespace {

constexpr std::string Settings::*title_members[] = {
    &Settings::title, &Settings::number,   &Settings::revision,
    &Settings::date,  &Settings::drawn_by, &Settings::legal_owner,
    &Settings::note};

Edit nothing_new(const std::string& label) {
    return Edit(label, std::vector<EditStep>{});
}

Result<Edit> with_settings(const Document& document, const std::string& label,
                           const std::function<void(Settings&)>& change) {
    Settings made = *document.settings;
    change(made);
    if (made == *document.settings) return nothing_new(label);
    return Edit(label, SetSettings{std::make_shared<const Settings>(std::move(made))});
}

Result<Edit> with_hall(const Document& document, const std::string& label, Hall made) {
    if (made == *document.hall) return nothing_new(label);
    return Edit(label, SetHall{std::make_shared<const Hall>(std::move(made))});
}

Result<Edit> with_path(const Document& document, const std::string& label, Path made) {
    if (made == *document.path) return nothing_new(label);
    return Edit(label, SetPath{std::make_shared<const Path>(std::move(made))});
}

Result<Edit> with_points(const Document& document, PointList list, const std::string& what,
                         std::vector<PlanPoint> points) {
    if (list == PointList::hall) {
        Hall hall = *document.hall;
        hall.outline = std::move(points);
        return with_hall(document, what + " of the hall", std::move(hall));
    }
    Path path = *document.path;
    path.points = std::move(points);
    return with_path(document, what + " of the path", std::move(path));
}

Status check_index(std::size_t index, std::size_t count, const char* what) {
    if (index < count) return Done{};
    return input_error("", fmt::format("found {} {}, expected one of the {}", what, index + 1,
                                       count));
}

using References = std::vector<ReferencePoint>;

Edit with_references(const Document& document, const std::string& label, References made) {
    if (made == *document.reference_points) return nothing_new(label);
    return Edit(label, SetReferencePoints{std::make_shared<const References>(std::move(made))});
}

using Visitors = std::vector<Visitor>;

Edit with_visitors(const Document& document, const std::string& label, Visitors made) {
    if (made == *document.visitors) return nothing_new(label);
    return Edit(label, SetVisitors{std::make_shared<const Visitors>(std::move(made))});
}

struct Corner {
    const char* where;
    double x, y;
};
std::vector<Corner> corners_of(const std::vector<Section>& sections) {
    double left = INFINITY, right = -INFINITY, front = INFINITY, back = -INFINITY;
    for (const Section& s : sections) {
        left = std::min(left, s.corner.x.mm);
        right = std::max(right, s.corner.x.mm + s.width.mm);
        front = std::min(front, s.corner.y.mm);
        back = std::max(back, s.corner.y.mm + s.depth.mm);
    }
    return {{"left front", left, front},
            {"right front", right, front},
            {"right back", right, back},
            {"left back", left, back}};
}

} // namespace

const std::string& title_line(const Settings& settings, TitleLine line) {
    return settings.*title_members[static_cast<int>(line)];
}

Result<Edit> set_title_line(const Document& document, TitleLine line, const std::string& text) {
    const int i = static_cast<int>(line);
    return with_settings(document, fmt::format("Set {} of the sheets", title_line_names[i]),
                         [&](Settings& settings) { settings.*title_members[i] = text; });
}

Result<Edit> set_scene_ratio(const Document& document, SceneRatio which, const Ratio& ratio) {
    const bool figures = which == SceneRatio::figures;
    return with_settings(
        document, figures ? "Set the figures' ratio" : "Set the setting's ratio",
        [&](Settings& made) { (figures ? made.figure_ratio : made.setting_ratio) = ratio; });
}

Result<Edit> set_units(const Document& document, UnitSystem units) {
    return with_settings(document, "Change the units", [&](Settings& made) { made.units = units; });
}

Result<Edit> set_placing_tolerance(const Document& document,
                                   const std::optional<Length>& tolerance) {
    return with_settings(document, "Set the placing tolerance",
                         [&](Settings& made) { made.placing_tolerance = tolerance; });
}

const std::vector<PlanPoint>& points_of(const Document& document, PointList list) {
    return list == PointList::hall ? document.hall->outline : document.path->points;
}

Result<Edit> set_point(const Document& document, PointList list, std::size_t index,
                       const PlanPoint& point) {
    std::vector<PlanPoint> points = points_of(document, list);
    STANDPOINT_TRY_STATUS(check_index(index, points.size(), "point"));
    points[index] = point;
    return with_points(document, list, fmt::format("Move point {}", index + 1), std::move(points));
}

Result<Edit> add_point(const Document& document, PointList list, std::size_t index) {
    constexpr double straight_on_mm = 1000;
    std::vector<PlanPoint> points = points_of(document, list);
    STANDPOINT_TRY_STATUS(check_index(index, points.size(), "point"));
    const PlanPoint& at = points[index];
    PlanPoint made;
    if (list == PointList::path && index + 1 == points.size()) {
        const PlanPoint& before = points[index - 1];
        const double dx = at.x.mm - before.x.mm, dy = at.y.mm - before.y.mm;
        const double scale = straight_on_mm / std::hypot(dx, dy);
        made = {std::round(at.x.mm + dx * scale), std::round(at.y.mm + dy * scale)};
    } else {
        const PlanPoint& next = points[(index + 1) % points.size()];
        made = {(at.x.mm + next.x.mm) / 2, (at.y.mm + next.y.mm) / 2};
    }
    points.insert(points.begin() + static_cast<std::ptrdiff_t>(index) + 1, made);
    return with_points(document, list, "Add a point", std::move(points));
}

Result<Edit> remove_point(const Document& document, PointList list, std::size_t index) {
    std::vector<PlanPoint> points = points_of(document, list);
    STANDPOINT_TRY_STATUS(check_index(index, points.size(), "point"));
    points.erase(points.begin() + static_cast<std::ptrdiff_t>(index));
    return with_points(document, list, fmt::format("Take away point {}", index + 1),
                       std::move(points));
}

Result<Edit> set_ceiling(const Document& document, const Length& height) {
    Hall hall = *document.hall;
    hall.ceiling = height;
    return with_hall(document, "Set the height of the hall", std::move(hall));
}

Result<Edit> set_path_width(const Document& document, const Length& width) {
    Path path = *document.path;
    path.width = width;
    return with_path(document, "Set the width of the path", std::move(path));
}

Result<Edit> set_reference_point(const Document& document, std::size_t index,
                                 const ReferencePoint& point) {
    References made = *document.reference_points;
    STANDPOINT_TRY_STATUS(check_index(index, made.size(), "reference point"));
    made[index] = point;
    return with_references(document, "Change reference point " + point.id, std::move(made));
}

Result<Edit> add_reference_point(const Document& document, const ReferencePoint& point) {
    References made = *document.reference_points;
    made.push_back(point);
    return with_references(document, "Add reference point " + point.id, std::move(made));
}

Result<Edit> remove_reference_point(const Document& document, std::size_t index) {
    References made = *document.reference_points;
    STANDPOINT_TRY_STATUS(check_index(index, made.size(), "reference point"));
    const std::string label = "Take away reference point " + made[index].id;
    made.erase(made.begin() + static_cast<std::ptrdiff_t>(index));
    return with_references(document, label, std::move(made));
}

std::string free_reference_id(const Document& document) {
    for (int n = 1;; ++n) {
        const std::string id = fmt::format("R{}", n);
        const auto& all = *document.reference_points;
        if (std::none_of(all.begin(), all.end(), [&](const auto& r) { return r.id == id; }))
            return id;
    }
}

Result<Edit> reference_points_at_corners(const Document& document) {
    if (document.sections->empty())
        return input_error("", "found no section, expected a base with corners");
    Document now = document;
    for (const Corner& corner : corners_of(*document.sections)) {
        References made = *now.reference_points;
        const bool there = std::any_of(made.begin(), made.end(), [&](const ReferencePoint& r) {
            return r.at.x.mm == corner.x && r.at.y.mm == corner.y && r.at.z.mm == 0;
        });
        if (there) continue;
        const bool datum = corner.x == 0 && corner.y == 0;
        made.push_back({free_reference_id(now),
                        fmt::format("{}{} corner of the base, on the floor", datum ? "datum: " : "",
                                    corner.where),
                        {corner.x, corner.y, 0}});
        now.reference_points = std::make_shared<const References>(std::move(made));
    }
    return with_references(document, "Put reference points at the corners of the base",
                           *now.reference_points);
}

Result<Edit> set_visitor(const Document& document, std::size_t index, Visitor visitor) {
    Visitors made = *document.visitors;
    STANDPOINT_TRY_STATUS(check_index(index, made.size(), "visitor"));
    const Visitor& before = made[index];
    const bool measures = visitor.eye_height == before.eye_height &&
                          visitor.crown == before.crown && visitor.setback == before.setback;
    if (!measures && visitor.source == before.source) visitor.source = own_source;
    const std::string label = "Change visitor " + visitor.name;
    made[index] = std::move(visitor);
    return with_visitors(document, label, std::move(made));
}

Result<Edit> add_visitor(const Document& document, Visitor visitor) {
    Visitors made = *document.visitors;
    std::set<std::string> taken;
    for (const Visitor& other : made)
        taken.insert(other.id);
    visitor.id = unique_id(taken, visitor.id);
    const std::string label = "Add visitor " + visitor.name;
    made.push_back(std::move(visitor));
    return with_visitors(document, label, std::move(made));
}

Result<Edit> remove_visitor(const Document& document, std::size_t index) {
    Visitors made = *document.visitors;
    STANDPOINT_TRY_STATUS(check_index(index, made.size(), "visitor"));
    const std::string label = "Take away visitor " + made[index].name;
    const std::string gone = made[index].id;
    made.erase(made.begin() + static_cast<std::ptrdiff_t>(index));
    Edit edit = with_visitors(document, label, std::move(made));
    for (const auto& piece : *document.pieces) {
        if (!piece->looks_at || piece->looks_at->visitor != gone) continue;
        Piece looks_nowhere = *piece;
        looks_nowhere.looks_at.reset();
        edit.steps.push_back({ReplacePiece{
            piece->id, std::make_shared<const Piece>(std::move(looks_nowhere))}});
    }
    return edit;
}

Result<Edit> use_rules(const Document& document, const std::string& preset, bool use) {
    RuleChoice made = *document.rules;
    const auto found = std::find(made.use.begin(), made.use.end(), preset);
    const std::string label = (use ? "Check against " : "No longer check against ") + preset;
    if (use == (found != made.use.end())) return nothing_new(label);
    if (use)
        made.use.push_back(preset);
    else
        made.use.erase(found);
    return Edit(label, SetRules{std::make_shared<const RuleChoice>(std::move(made))});
}

} // namespace standpoint
