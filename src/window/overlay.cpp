// Grid, hall, sections, path, widths, marks and the visitor over a view.
#include "window/overlay.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <glm/trigonometric.hpp>
#include <imgui.h>

#include "desk/measure_tool.h"
#include "window/overlay_eye.h"
#include "window/overlay_marks.h"
#include "window/view_path.h"

namespace standpoint {

namespace {

glm::dvec3 at(const PlanPoint& p, double z) {
    return {p.x.mm, p.y.mm, z};
}

// The two axes a flat view shows, as unit vectors, and how far it reaches.
struct FlatAxes {
    glm::dvec3 across, up, origin;
};

FlatAxes axes_of(const ViewPaint& paint) {
    switch (paint.camera.kind) {
    case ViewKind::front:
        return {{1, 0, 0}, {0, 0, 1}, {0, paint.camera.middle.y, 0}};
    case ViewKind::side:
        return {{0, 1, 0}, {0, 0, 1}, {paint.camera.middle.x, 0, 0}};
    default:
        return {{1, 0, 0}, {0, 1, 0}, {0, 0, 0}};
    }
}

bool is_flat(const ViewPaint& paint) {
    return paint.camera.kind == ViewKind::plan || paint.camera.kind == ViewKind::front ||
           paint.camera.kind == ViewKind::side;
}

void paint_grid(const Shell& shell, const ViewPaint& paint) {
    const double typed = shell.settings.grid_step_mm;
    double step = grid_step_mm(paint.camera.mm_per_pixel, 14);
    if (typed >= step) step = typed;
    const FlatAxes axes = axes_of(paint);
    const double half_w = paint.size.x * paint.camera.mm_per_pixel / 2,
                 half_h = paint.size.y * paint.camera.mm_per_pixel / 2;
    const double u = glm::dot(paint.camera.middle, axes.across),
                 v = glm::dot(paint.camera.middle, axes.up);
    const auto place = [&](double a, double b) {
        return axes.origin + axes.across * a + axes.up * b;
    };
    const auto colour = [&](double n) {
        return std::fmod(std::abs(n), 5) == 0 ? paint.ui->palette->grid_strong
                                              : paint.ui->palette->grid;
    };
    for (double n = std::ceil((u - half_w) / step); n * step <= u + half_w; ++n)
        paint_line(paint, place(n * step, v - half_h), place(n * step, v + half_h), colour(n));
    for (double n = std::ceil((v - half_h) / step); n * step <= v + half_h; ++n)
        paint_line(paint, place(u - half_w, n * step), place(u + half_w, n * step), colour(n));
}

void paint_hall(const Shell& shell, const ViewPaint& paint) {
    const Document& document = shell.desk->history.now();
    std::vector<glm::dvec3> outline;
    for (const PlanPoint& point : document.hall->outline)
        outline.push_back(at(point, 0));
    paint_outline(paint, outline, true, paint.ui->palette->section, 1.5f);
    if (paint.camera.kind == ViewKind::front || paint.camera.kind == ViewKind::side) {
        const FlatAxes axes = axes_of(paint);
        const double reach = 1e5;
        paint_line(paint, axes.origin - axes.across * reach, axes.origin + axes.across * reach,
                   paint.ui->palette->section, 1.5f);
    }
}

void paint_sections(const Shell& shell, const ViewPaint& paint) {
    for (const Section& s : *shell.desk->history.now().sections) {
        const double x0 = s.corner.x.mm, y0 = s.corner.y.mm, z = s.height.mm;
        const glm::dvec3 corners[] = {{x0, y0, z},
                                      {x0 + s.width.mm, y0, z},
                                      {x0 + s.width.mm, y0 + s.depth.mm, z},
                                      {x0, y0 + s.depth.mm, z}};
        paint_outline(paint, corners, true, paint.ui->palette->section, 1.2f);
    }
}

void paint_section_names(const Shell& shell, const ViewPaint& paint) {
    if (paint.camera.kind != ViewKind::plan) return;
    const Colour colour = paint.ui->palette->section;
    const glm::vec2 inside = {0, -paint.ui->em * 0.8f};
    for (const Section& s : *shell.desk->history.now().sections) {
        const std::string& name = s.name.empty() ? s.id : s.name;
        const glm::dvec3 front = {s.corner.x.mm + s.width.mm / 2, s.corner.y.mm, s.height.mm};
        const glm::dvec3 middle = front + glm::dvec3(0, s.depth.mm / 2, 0);
        if (!paint_words(paint, front, name, colour, inside, true))
            paint_words(paint, middle, name, colour, {0, 0}, true);
    }
}

void paint_path(const Shell& shell, const ViewPaint& paint) {
    if (paint.camera.kind == ViewKind::eye || paint.camera.kind == ViewKind::front ||
        paint.camera.kind == ViewKind::side)
        return;
    const Path& path = *shell.desk->history.now().path;
    const Colour colour = paint.ui->palette->path;
    const std::vector<Station> stations = stations_of(path, 250);
    const double half = path.width.mm / 2;
    for (std::size_t i = 0; i + 1 < stations.size(); ++i) {
        const Station &a = stations[i], &b = stations[i + 1];
        const glm::dvec3 corners[] = {
            point_beside(path, a, half, 2), point_beside(path, a, -half, 2),
            point_beside(path, b, -half, 2), point_beside(path, b, half, 2)};
        paint_area(paint, corners, with_alpha(colour, 0.10));
        paint_line(paint, corners[0], corners[3], with_alpha(colour, 0.8), 1.2f);
        paint_line(paint, corners[1], corners[2], with_alpha(colour, 0.8), 1.2f);
    }
    for (std::size_t i = 0; i + 1 < stations.size(); i += 2)
        paint_line(paint, point_beside(path, stations[i], 0, 2),
                   point_beside(path, stations[i + 1], 0, 2), with_alpha(colour, 0.6));
}

void paint_path_ends(const Shell& shell, const ViewPaint& paint) {
    if (paint.camera.kind != ViewKind::plan && paint.camera.kind != ViewKind::round) return;
    const Path& path = *shell.desk->history.now().path;
    const std::vector<Station> stations = stations_of(path, 250);
    if (stations.empty()) return;
    const Colour colour = paint.ui->palette->path;
    const glm::vec2 above = {0, -paint.ui->em * 1.1f}; // of the handle
    paint_words(paint, point_beside(path, stations.front(), 0, 2), "in", colour, above);
    paint_words(paint, point_beside(path, stations.back(), 0, 2), "out", colour, above);
}

void paint_reference_points(const Shell& shell, const ViewPaint& paint) {
    if (paint.camera.kind == ViewKind::eye) return;
    for (const ReferencePoint& point : *shell.desk->history.now().reference_points) {
        const glm::dvec3 p = {point.at.x.mm, point.at.y.mm, point.at.z.mm};
        paint_cross(paint, p, paint.ui->em * 0.45f, paint.ui->palette->section);
        paint_ring(paint, p, paint.ui->em * 0.28f, paint.ui->palette->section, 1.5f);
        if (paint.camera.kind == ViewKind::plan)
            paint_words(paint, p, point.id, paint.ui->palette->section,
                        {paint.ui->em, -paint.ui->em * 0.7f});
    }
}

// Measured widths at each pinch, across the way between the two things that make it.
void paint_widths(const Shell& shell, const ViewPaint& paint) {
    if (paint.camera.kind != ViewKind::plan || !shell.answers.outcome) return;
    const CheckOutcome& outcome = *shell.answers.outcome;
    if (!outcome.results) return;
    const auto& widths = outcome.results->walkway.widths;
    const Palette& colours = *paint.ui->palette;
    const double path_width = shell.desk->history.now().path->width.mm;
    std::vector<double> flagged;
    for (const Finding& finding : outcome.results->walkway.findings) {
        if (!finding.place || !finding.distance || finding.check != "walkway") continue;
        flagged.push_back(*finding.distance);
    }
    for (const WidthAt& width : widths) {
        if (width.width >= path_width - 1) continue;
        const bool bad = std::any_of(flagged.begin(), flagged.end(), [&](double d) {
            return std::abs(d - width.distance) < station_step_mm;
        });
        const glm::dvec3 a(width.left_point, 3), b(width.right_point, 3);
        paint_line(paint, a, b, bad ? colours.fail : with_alpha(colours.path, 0.45), bad ? 2 : 1);
    }
}

void paint_visitor(const Shell& shell, const ViewPaint& paint) {
    if (paint.camera.kind == ViewKind::eye) return;
    const auto eye = scrubbed_eye(shell);
    if (!eye) return;
    const Palette& colours = *paint.ui->palette;
    const glm::dvec3 foot(eye->x, eye->y, 0);
    if (paint.camera.kind != ViewKind::plan) paint_line(paint, foot, *eye, colours.path, 2);
    for (const View& view : shell.views) {
        if (view.camera.kind != ViewKind::eye || !view.placed) continue;
        const glm::dvec3 gaze = view.camera.middle - *eye;
        const double length = glm::length(glm::dvec2(gaze));
        if (length < 1) break;
        const double half = glm::radians(view.camera.field_of_view_deg / 2);
        for (const double side : {-half, half}) {
            const double c = std::cos(side), s = std::sin(side);
            const glm::dvec3 ray(gaze.x * c - gaze.y * s, gaze.x * s + gaze.y * c, 0);
            paint_line(paint, *eye, *eye + ray * (2500 / length), with_alpha(colours.path, 0.8));
        }
        break;
    }
    paint_dot(paint, *eye, paint.ui->em * 0.5f, colours.path);
    paint_ring(paint, *eye, paint.ui->em * 0.5f, colours.panel, 2);
    glm::vec2 dot;
    const float r = paint.ui->em * 0.5f;
    if (place_on_screen(paint, *eye, dot)) take_place(paint, dot - r, dot + r);
}

constexpr std::size_t most_names = 8; // of picked pieces; more would only cover the plan

void paint_picked(const Shell& shell, const ViewPaint& paint) {
    if (paint.camera.kind == ViewKind::eye) return;
    const Palette& colours = *paint.ui->palette;
    const Document& document = shell.desk->history.now();
    for (const std::string& id : shell.desk->selected) {
        const StagedPiece* staged = find_staged(*shell.desk->shown, id);
        const Piece* piece = find_piece(document, id);
        if (!staged || !piece) continue;
        const glm::dvec3 origin = staged->placement.frame.origin;
        paint_cross(paint, origin, paint.ui->em * 0.35f, colours.picked);
        if (paint.camera.kind == ViewKind::plan && shell.desk->selected.size() <= most_names)
            paint_words(paint, {staged->box.centre().x, staged->box.low.y, staged->box.high.z},
                        spoken(piece->name, piece->id), colours.picked, {0, paint.ui->em * 0.9f});
    }
    if (const auto handle = turning_handle(shell, paint.camera, paint.size)) {
        const StagedPiece* staged = find_staged(*shell.desk->shown, shell.desk->selected.back());
        paint_line(paint, staged->placement.frame.origin, *handle, colours.picked, 1.5f);
        paint_dot(paint, *handle, paint.ui->em * 0.42f, colours.picked);
        paint_ring(paint, *handle, paint.ui->em * 0.42f, colours.on_picked, 1.5f);
    }
}

void paint_guides(const Shell& shell, const ViewPaint& paint) {
    for (const SnapGuide& guide : shell.pointer.guides) {
        paint_dashes(paint, guide.from, guide.to, paint.ui->palette->guide, 1.5f);
        if (!guide.text.empty())
            paint_words(paint, (guide.from + guide.to) * 0.5, guide.text, paint.ui->palette->guide);
    }
}

void paint_measuring(const Shell& shell, const ViewPaint& paint) {
    const Measuring& m = shell.measuring;
    if (!m.from) return;
    const Colour colour = paint.ui->palette->guide;
    paint_cross(paint, *m.from, paint.ui->em * 0.5f, colour);
    if (!m.to) return;
    paint_line(paint, *m.from, *m.to, colour, 2);
    paint_cross(paint, *m.to, paint.ui->em * 0.5f, colour);
    const Document& document = shell.desk->history.now();
    const Measured said = measured(*m.from, *m.to, LengthStyle{});
    constexpr double least = 0.5; // mm: less is printed as nothing
    std::string words = length_text(document, said.straight);
    if (std::abs(said.height) >= least && said.in_plan >= least)
        words += fmt::format(", {} in plan, {} {}", length_text(document, said.in_plan),
                             length_text(document, std::abs(said.height)),
                             said.height > 0 ? "up" : "down");
    paint_words(paint, (*m.from + *m.to) * 0.5, words, colour);
}

// A bar of a round length in a lower corner of flat views.
void paint_scale_bar(const ViewPaint& paint) {
    if (!is_flat(paint)) return;
    const float em = paint.ui->em;
    const double most = std::min(em * 8.0, paint.size.x * 0.3) * paint.camera.mm_per_pixel;
    double length = std::pow(10.0, std::floor(std::log10(most)));
    for (const double factor : {5.0, 2.0})
        if (length * factor <= most) {
            length *= factor;
            break;
        }
    const float width = static_cast<float>(length / paint.camera.mm_per_pixel);
    const std::string words =
        length >= 1000 ? fmt::format("{:g} m", length / 1000) : fmt::format("{:g} mm", length);
    const glm::vec2 text = {text_width(words), ImGui::GetTextLineHeight()};
    const float h = em * 0.28f;
    const glm::vec2 whole = {std::max(width, text.x) + em * 0.6f, h + text.y + em * 0.3f};
    // In the right corner, or in the left where marks are in it.
    const glm::vec2 end = paint.low + glm::vec2(paint.size) - em * 0.6f;
    glm::vec2 high = end;
    const glm::vec2 other = {paint.low.x + whole.x + em * 0.6f, end.y};
    if (!is_free(paint, end - whole, end) && is_free(paint, other - whole, other)) high = other;
    const glm::vec2 low = high - whole;
    paint.list->AddRectFilled({low.x, low.y}, {high.x, high.y},
                              packed(with_alpha(paint.ui->palette->paper, 0.85)), 2);
    const unsigned ink = packed(paint.ui->palette->ink);
    const ImVec2 right = {high.x - em * 0.3f, high.y - em * 0.2f};
    paint.list->AddText({right.x - text.x, low.y}, ink, words.c_str());
    paint.list->AddRectFilled({right.x - width, right.y - h}, {right.x - width / 2, right.y}, ink);
    paint.list->AddRect({right.x - width, right.y - h}, right, ink);
    take_place(paint, low, high);
}

} // namespace

double grid_step_mm(double mm_per_pixel, double pixels) {
    const double least = mm_per_pixel * pixels;
    const double decade = std::pow(10.0, std::floor(std::log10(least)));
    for (const double factor : {1.0, 2.0, 5.0})
        if (decade * factor >= least) return decade * factor;
    return decade * 10;
}

Box selection_box(const Shell& shell) {
    Box box;
    if (!shell.desk) return box;
    for (const std::string& id : shell.desk->selected)
        if (const StagedPiece* staged = find_staged(*shell.desk->shown, id))
            box = joined(box, staged->box);
    return box;
}

std::optional<glm::dvec3> scrubbed_eye(const Shell& shell) {
    if (!shell.desk) return std::nullopt;
    const Document& document = shell.desk->history.now();
    if (document.visitors->empty() || path_length(*document.path) <= 0) return std::nullopt;
    const Visitor* visitor = find_visitor(document, shell.scrub.visitor);
    if (!visitor) visitor = &document.visitors->front();
    return eye_at(*document.path, station_at(*document.path, shell.scrub.distance_mm), *visitor,
                  shell.scrub.lane);
}

std::optional<glm::dvec3> turning_handle(const Shell& shell, const ViewCamera& camera,
                                         const glm::ivec2& size) {
    if (camera.kind != ViewKind::plan || shell.desk->selected.size() != 1) return std::nullopt;
    const StagedPiece* staged = find_staged(*shell.desk->shown, shell.desk->selected.front());
    if (!staged || (staged->piece && staged->piece->locked)) return std::nullopt;
    const glm::dvec3 front = front_of(staged->placement.frame.rotation);
    const glm::dvec2 flat(front);
    if (glm::length(flat) < 0.1) return std::nullopt;
    const glm::dvec3 origin = staged->placement.frame.origin;
    const double a_pixel = mm_a_pixel_at(camera, size, origin);
    const double reach = std::max(glm::length(glm::dvec2(staged->box.size())) / 2, 20 * a_pixel);
    return origin + glm::dvec3(glm::normalize(flat) * (reach + 26 * a_pixel), 0);
}

void paint_under(const Shell& shell, const ViewPaint& paint) {
    if (!is_flat(paint)) return;
    paint_grid(shell, paint);
    paint_hall(shell, paint);
    paint_sections(shell, paint);
}

void paint_over(const Shell& shell, const ViewPaint& paint) {
    mark_tip(shell, paint); // the view itself was the last widget
    if (!is_flat(paint)) {
        paint_hall(shell, paint);
        paint_sections(shell, paint);
    }
    // Words take their places in this order: what is being done, what is wrong, what is there.
    paint_path(shell, paint);
    paint_path_handles(shell, paint);
    paint_widths(shell, paint);
    paint_findings(shell, paint);
    paint_visitor(shell, paint);
    paint_scale_bar(paint);
    paint_outline_key(shell, paint);
    paint_guides(shell, paint);
    paint_measuring(shell, paint);
    paint_picked(shell, paint);
    paint_width_words(shell, paint, Grade::fail);
    paint_reference_points(shell, paint);
    paint_path_ends(shell, paint);
    paint_width_words(shell, paint, Grade::warn);
    paint_section_names(shell, paint);
}

} // namespace standpoint
