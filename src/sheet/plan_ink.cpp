// Draws the things of a plan.
#include "sheet/plan_ink.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include "check/stations.h"
#include "measure/frame.h"
#include "sheet/cells.h"

namespace standpoint {
namespace {

double grid_step(const Settings& settings) {
    return settings.units == UnitSystem::metric ? 500 : 2 * mm_per_foot;
}

glm::dvec2 plan(const PlanPoint& point) {
    return {point.x.mm, point.y.mm};
}

std::vector<glm::dvec2> on_page(const PlanView& view, const std::vector<glm::dvec2>& points) {
    std::vector<glm::dvec2> out;
    for (const glm::dvec2& point : points)
        out.push_back(view.to_page(point));
    return out;
}

struct GridLines {
    std::vector<double> x, y; // scene mm
};

GridLines grid_lines(const PlanView& view, double step) {
    const double half_width = view.window.width / 2 * view.choice.scale.reduction;
    const double half_depth = view.window.height / 2 * view.choice.scale.reduction;
    GridLines lines;
    for (double i = std::ceil((view.middle.x - half_width) / step);
         i * step <= view.middle.x + half_width; ++i)
        lines.x.push_back(i * step);
    for (double i = std::ceil((view.middle.y - half_depth) / step);
         i * step <= view.middle.y + half_depth; ++i)
        lines.y.push_back(i * step);
    return lines;
}

void draw_grid(Ink& ink, const PlanView& view, const Settings& settings) {
    const GridLines lines = grid_lines(view, grid_step(settings));
    const Rect& w = view.window;
    // A hair of light grey: drawn as thin boxes, since strokes are black.
    for (const double x : lines.x)
        ink.fill_rect({view.to_page({x, 0}).x - 0.05, w.y, 0.1, w.height}, x == 0 ? 0.4 : 0.82);
    for (const double y : lines.y)
        ink.fill_rect({w.x, view.to_page({0, y}).y - 0.05, w.width, 0.1}, y == 0 ? 0.4 : 0.82);
}

// The direction of the hall's wall nearest to a point.
glm::dvec2 wall_direction(const Hall& hall, const glm::dvec2& point) {
    glm::dvec2 direction(1, 0);
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < hall.outline.size(); ++i) {
        const glm::dvec2 a = plan(hall.outline[i]);
        const glm::dvec2 ab = plan(hall.outline[(i + 1) % hall.outline.size()]) - a;
        const double length = glm::length(ab);
        if (!(length > 0)) continue;
        const double t = std::clamp(glm::dot(point - a, ab) / (length * length), 0.0, 1.0);
        const double off = glm::length(point - (a + ab * t));
        if (off < least) {
            least = off;
            direction = ab / length;
        }
    }
    return direction;
}

void draw_hall(Ink& ink, const PlanView& view, const Hall& hall) {
    std::vector<Ring> outline(1);
    for (const PlanPoint& point : hall.outline)
        outline.front().points.push_back(view.to_page(plan(point)));
    ink.polyline(outline.front().points, true, line_border);
    for (const Door& door : hall.doors) { // an opening between two jambs
        const glm::dvec2 along = wall_direction(hall, plan(door.centre)) * (door.width.mm / 2);
        const glm::dvec2 a = view.to_page(plan(door.centre) - along);
        const glm::dvec2 b = view.to_page(plan(door.centre) + along);
        const glm::dvec2 across = glm::normalize(glm::dvec2(-(b - a).y, (b - a).x)) * 1.2;
        ink.shape({{{a - across, b - across, b + across, a + across}}}, 1, 0);
        ink.line(a - across, a + across, line_wide);
        ink.line(b - across, b + across, line_wide);
    }
}

void draw_columns(Ink& ink, const PlanView& view, const Staging& staging) {
    for (const StagedPiece& piece : staging.pieces) {
        if (piece.staged != StagedKind::column) continue;
        std::vector<Ring> rings;
        for (const auto& ring : plan_shape(piece).rings)
            rings.push_back({on_page(view, ring)});
        ink.shape(rings, 0.45, line_wide);
    }
}

void draw_path(Ink& ink, const PlanView& view, const Path& path) {
    for (const std::vector<glm::dvec2>& edge : path_edges(path))
        ink.polyline(on_page(view, edge), false, line_narrow, Stroke::dashed);
    for (const Station& station : stations_of(path)) { // a mark each metre
        if (std::fmod(station.distance + 1e-6, 1000) > 1e-3 || station.corner) continue;
        const glm::dvec2 across(-station.direction.y, station.direction.x);
        ink.line(view.to_page(station.place - across * 60.0),
                 view.to_page(station.place + across * 60.0), line_thin);
    }
}

void draw_sections(Ink& ink, const PlanView& view, const std::vector<Section>& sections) {
    for (const Section& section : sections) {
        const glm::dvec2 low = plan(section.corner);
        const glm::dvec2 high = low + glm::dvec2(section.width.mm, section.depth.mm);
        ink.shape({{on_page(view, {low, {high.x, low.y}, high, {low.x, high.y}})}}, 0.96,
                  line_wide);
    }
}

// Takes the edges of sections and ground away under a join line, whose dashes would be lost on
// them.
void clear_join(Ink& ink, const PlanView& view, const JoinLine& join) {
    const glm::dvec2 a = view.to_page(plan(join.from)), b = view.to_page(plan(join.to));
    if (!(glm::length(b - a) > 0)) return;
    const glm::dvec2 along = glm::normalize(b - a) * line_wide;
    const glm::dvec2 across(-along.y, along.x);
    ink.shape({{{a + along + across, b - along + across, b - along - across, a + along - across}}},
              0.96, 0);
}

double grey_of(PieceKind kind) {
    switch (kind) {
    case PieceKind::ground:
        return 0.95;
    case PieceKind::setting:
        return 0.80;
    case PieceKind::figure:
        return 0.62;
    case PieceKind::barrier:
        return 0.40;
    case PieceKind::prop:
        return 0.88;
    case PieceKind::lamp:
    case PieceKind::effect:
        return 1.0;
    }
    return 1.0;
}

void draw_facing(Ink& ink, const PlanView& view, const StagedPiece& piece, const PlanShape& shape) {
    const glm::dvec3 front = front_of(piece.placement.frame.rotation);
    const glm::dvec2 direction(front.x, front.y);
    // A piece that faces straight up or down has no facing to draw.
    if (glm::length(direction) < 1e-6) return;
    const glm::dvec2 unit = glm::normalize(direction);
    const glm::dvec2 centre(piece.box.centre().x, piece.box.centre().y);
    const glm::dvec2 from = view.to_page(centre + unit * last_crossing(shape, centre, unit));
    const glm::dvec2 along(unit.x, -unit.y);
    const glm::dvec2 across(-along.y, along.x);
    const glm::dvec2 tip = from + along * 3.2;
    ink.line(from, tip, line_narrow);
    ink.shape({{{tip, tip - along * 1.5 + across * 0.6, tip - along * 1.5 - across * 0.6}}}, 0,
              line_thin);
}

bool shows_facing(const Piece& piece) {
    return piece.kind == PieceKind::figure || piece.kind == PieceKind::prop ||
           piece.kind == PieceKind::setting || piece.kind == PieceKind::lamp;
}

void draw_text_clear(Ink& ink, const PlanView& view, glm::dvec2 at, const std::string& text,
                     const TextStyle& style) {
    if (!inside({at.x, at.y, 0, 0}, view.window)) return; // what it names is not on this plan
    Rect rect = ink.measure(text, style);
    // Kept inside the window, so that nothing is cut off at its edge.
    const double half = style.align == Align::centre ? rect.width / 2 : 0;
    at.x = std::clamp(at.x, view.window.x + half + 0.5,
                      view.window.x + view.window.width - rect.width + half - 0.5);
    at.y = std::clamp(at.y, view.window.y + 0.5,
                      view.window.y + view.window.height - rect.height - 0.5);
    rect.x = at.x - half;
    rect.y = at.y;
    for (const InkRecord& record : ink.records()) // never over what is there
        if (record.page == ink.records().back().page && overlap(record.rect, rect, 0.3)) {
            rect.y = at.y = record.rect.y + record.rect.height + 0.4;
        }
    ink.fill_rect({rect.x - 0.3, rect.y, rect.width + 0.6, rect.height}, 1);
    ink.text(at, text, style);
}

} // namespace

std::vector<std::vector<glm::dvec2>> path_edges(const Path& path) {
    Visitor at_the_edge;
    std::vector<std::vector<glm::dvec2>> edges(2);
    const std::vector<Station> stations = stations_of(path);
    for (const Station& station : stations) {
        const bool end = &station == &stations.front() || &station == &stations.back();
        if (!station.corner && !end) continue;
        for (const int side : {0, 1}) {
            const glm::dvec3 eye = eye_at(path, station, at_the_edge, side == 0 ? 0 : 2);
            edges[static_cast<std::size_t>(side)].push_back({eye.x, eye.y});
        }
    }
    return edges;
}

void draw_ground(Ink& ink, const PlanView& view, const Staging& staging) {
    draw_grid(ink, view, *staging.document.settings);
    draw_hall(ink, view, *staging.document.hall);
    draw_sections(ink, view, *staging.document.sections);
    draw_columns(ink, view, staging);
}

bool drawn_above(const StagedPiece& upper, const StagedPiece& lower, bool later) {
    if (upper.box.high.z != lower.box.high.z) return upper.box.high.z > lower.box.high.z;
    return later;
}

void draw_pieces(Ink& ink, const PlanView& view, const PlanPieces& drawn) {
    const std::vector<const StagedPiece*>& pieces = drawn.pieces;
    std::vector<std::size_t> order(pieces.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return drawn_above(*pieces[b], *pieces[a], false);
    });
    for (const std::size_t i : order) {
        std::vector<Ring> rings;
        for (const auto& ring : drawn.shapes[i].rings)
            rings.push_back({on_page(view, ring)});
        ink.shape(rings, grey_of(pieces[i]->piece->kind), line_narrow);
    }
    for (std::size_t i = 0; i < pieces.size(); ++i)
        if (view.numbers(drawn.on_base[i]) && shows_facing(*pieces[i]->piece))
            draw_facing(ink, view, *pieces[i], drawn.shapes[i]);
}

void draw_overlay(Ink& ink, const PlanView& view, const Staging& staging) {
    draw_path(ink, view, *staging.document.path);
    for (const JoinLine& join : *staging.document.join_lines)
        clear_join(ink, view, join);
    for (const JoinLine& join : *staging.document.join_lines)
        ink.line(view.to_page(plan(join.from)), view.to_page(plan(join.to)), line_wide,
                 Stroke::long_dash_dot);
    for (const ReferencePoint& point : *staging.document.reference_points)
        draw_reference_mark(ink, view.to_page({point.at.x.mm, point.at.y.mm}));
    const glm::dvec2 datum = view.to_page({0, 0});
    for (const glm::dvec2 axis : {glm::dvec2(1, 0), glm::dvec2(0, -1)}) {
        const glm::dvec2 tip = datum + axis * 9.0, across(-axis.y, axis.x);
        ink.line(datum, tip, line_wide);
        ink.shape({{{tip + axis * 2.0, tip + across * 0.8, tip - across * 0.8}}}, 0, line_thin);
    }
    ink.circle(datum, 1.3, 1, line_wide);
}

void draw_grid_labels(Ink& ink, const PlanView& view, const Settings& settings) {
    ink.rect(view.window, line_narrow);
    const double step = grid_step(settings);
    const GridLines lines = grid_lines(view, step);
    const LengthStyle style = sheet_style(settings);
    const double apart = view.on_paper(step);
    const int every = apart < 7 ? 4 : apart < 16 ? 2 : 1;
    const auto shown = [&](double v) { return std::llround(v / step) % every == 0; };
    double last = -1e9;
    for (const double x : lines.x) {
        const double page = view.to_page({x, 0}).x;
        if (!shown(x) || page - last < 12 || page > view.window.x + view.window.width - 5) continue;
        last = page;
        ink.text({page, view.window.y + view.window.height + 1}, print_length(x, style),
                 {8, false, 0, Align::centre});
    }
    for (const double y : lines.y) {
        const double page = view.to_page({0, y}).y;
        if (!shown(y) || page > view.window.y + view.window.height - 2 || page < view.window.y + 2)
            continue;
        ink.text({view.window.x - 1, page - 1.8}, print_length(y, style),
                 {8, false, 0, Align::right});
    }
}

void draw_names(Ink& ink, const PlanView& view, const Staging& staging) {
    const Document& document = staging.document;
    draw_text_clear(ink, view, view.to_page({0, 0}) + glm::dvec2(1.8, 1.6), "datum", {8, true});
    for (const ReferencePoint& point : *document.reference_points)
        draw_text_clear(ink, view,
                        view.to_page({point.at.x.mm, point.at.y.mm}) + glm::dvec2(1.8, -4.6),
                        point.id, {8, true});
    for (const Section& section : *document.sections) {
        const glm::dvec2 corner(section.corner.x.mm, section.corner.y.mm + section.depth.mm);
        draw_text_clear(ink, view, view.to_page(corner) + glm::dvec2(1, 1),
                        "section " + (section.name.empty() ? section.id : section.name), {8});
    }
    for (const Door& door : document.hall->doors)
        draw_text_clear(ink, view, view.to_page(plan(door.centre)) + glm::dvec2(3, -5), "door",
                        {8, false, 0.2});
    const LengthStyle style = sheet_style(*document.settings);
    for (const Station& station : stations_of(*document.path)) {
        if (station.corner || std::fmod(station.distance + 1e-6, 2000) > 1e-3) continue;
        draw_text_clear(ink, view, view.to_page(station.place) + glm::dvec2(0, 1.3),
                        fmt::format("path {}", print_length(station.distance, style)),
                        {8, false, 0.2, Align::centre});
    }
}

void draw_base_note(Ink& ink, const PlanView& view, const Staging& staging, int sheet) {
    Box base;
    for (const StagedPiece& piece : staging.pieces)
        if (piece.staged == StagedKind::section) base = joined(base, piece.box);
    const std::string note = fmt::format("numbers on the {}, sheet {}",
                                         plan_names[static_cast<int>(PlanPart::base)], sheet);
    draw_text_clear(ink, view, view.to_page({base.centre().x, base.centre().y}) - glm::dvec2(0, 6),
                    note, {9, true, 0, Align::centre});
}

void draw_reference_mark(Ink& ink, glm::dvec2 centre) {
    ink.circle(centre, 1.2, 1, line_narrow);
    ink.line(centre - glm::dvec2(2, 0), centre + glm::dvec2(2, 0), line_narrow);
    ink.line(centre - glm::dvec2(0, 2), centre + glm::dvec2(0, 2), line_narrow);
}

} // namespace standpoint
