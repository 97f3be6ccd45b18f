// Drawing over a view through the toolkit's draw list.
#include "window/view_paint.h"

#include <cmath>

#include <imgui.h>

namespace standpoint {

namespace {

ImVec2 vec(const glm::vec2& v) {
    return {v.x, v.y};
}

// Both ends in window pixels; false when one lies behind the eye.
bool both(const ViewPaint& paint, const glm::dvec3& a, const glm::dvec3& b, glm::vec2& from,
          glm::vec2& to) {
    return place_on_screen(paint, a, from) && place_on_screen(paint, b, to);
}

} // namespace

bool place_on_screen(const ViewPaint& paint, const glm::dvec3& point, glm::vec2& out) {
    const auto pixel = pixel_of(paint.camera, paint.size, point);
    if (!pixel || std::abs(pixel->x) > 1e5 || std::abs(pixel->y) > 1e5) return false;
    out = paint.low + glm::vec2(*pixel);
    return true;
}

void paint_line(const ViewPaint& paint, const glm::dvec3& a, const glm::dvec3& b,
                const Colour& colour, float thickness) {
    glm::vec2 from, to;
    if (both(paint, a, b, from, to))
        paint.list->AddLine(vec(from), vec(to), packed(colour), thickness);
}

void paint_dashes(const ViewPaint& paint, const glm::dvec3& a, const glm::dvec3& b,
                  const Colour& colour, float thickness) {
    glm::vec2 from, to;
    if (!both(paint, a, b, from, to)) return;
    const float length = glm::length(to - from), dash = paint.ui->em * 0.5f;
    if (length < 1 || length > 20000) return;
    const glm::vec2 along = (to - from) / length;
    for (float s = 0; s < length; s += dash * 1.7f)
        paint.list->AddLine(vec(from + along * s), vec(from + along * std::min(length, s + dash)),
                            packed(colour), thickness);
}

void paint_outline(const ViewPaint& paint, std::span<const glm::dvec3> points, bool closed,
                   const Colour& colour, float thickness) {
    for (std::size_t i = 0; i + 1 < points.size(); ++i)
        paint_line(paint, points[i], points[i + 1], colour, thickness);
    if (closed && points.size() > 2)
        paint_line(paint, points.back(), points.front(), colour, thickness);
}

void paint_area(const ViewPaint& paint, std::span<const glm::dvec3> convex, const Colour& colour) {
    std::vector<ImVec2> corners;
    for (const glm::dvec3& point : convex) {
        glm::vec2 at;
        if (!place_on_screen(paint, point, at)) return;
        corners.push_back(vec(at));
    }
    paint.list->AddConvexPolyFilled(corners.data(), static_cast<int>(corners.size()),
                                    packed(colour));
}

void paint_dot(const ViewPaint& paint, const glm::dvec3& at, float radius, const Colour& colour) {
    glm::vec2 p;
    if (place_on_screen(paint, at, p)) paint.list->AddCircleFilled(vec(p), radius, packed(colour));
}

void paint_ring(const ViewPaint& paint, const glm::dvec3& at, float radius, const Colour& colour,
                float thickness) {
    glm::vec2 p;
    if (place_on_screen(paint, at, p))
        paint.list->AddCircle(vec(p), radius, packed(colour), 0, thickness);
}

void paint_cross(const ViewPaint& paint, const glm::dvec3& at, float radius, const Colour& colour) {
    glm::vec2 p;
    if (!place_on_screen(paint, at, p)) return;
    paint.list->AddLine({p.x - radius, p.y}, {p.x + radius, p.y}, packed(colour), 1.5f);
    paint.list->AddLine({p.x, p.y - radius}, {p.x, p.y + radius}, packed(colour), 1.5f);
}

void take_place(const ViewPaint& paint, const glm::vec2& low, const glm::vec2& high) {
    if (paint.taken) paint.taken->places.push_back({low, high});
}

bool is_free(const ViewPaint& paint, const glm::vec2& low, const glm::vec2& high) {
    const glm::vec2 end = paint.low + glm::vec2(paint.size);
    if (low.x < paint.low.x || low.y < paint.low.y || high.x > end.x || high.y > end.y)
        return false;
    if (!paint.taken) return true;
    for (const TaggedRect& other : paint.taken->places)
        if (low.x < other.high.x && other.low.x < high.x && low.y < other.high.y &&
            other.low.y < high.y)
            return false;
    return true;
}

namespace {

// Moved so that words of that size lie on nothing else, in view; false: there is no such place.
bool find_room(const ViewPaint& paint, const glm::vec2& at, const glm::vec2& size,
               const glm::vec2& wanted, glm::vec2& moved) {
    const float aside = size.x / 2 + paint.ui->em * 0.7f, over = size.y / 2 + paint.ui->em * 0.5f;
    for (const glm::vec2& by :
         {wanted, -wanted, glm::vec2(aside, 0), glm::vec2(-aside, 0), glm::vec2(0, -over),
          glm::vec2(0, over), glm::vec2(aside, -over), glm::vec2(-aside, -over),
          glm::vec2(aside, over), glm::vec2(-aside, over)}) {
        const glm::vec2 low = at + by - size / 2.0f;
        if (!is_free(paint, low, low + size)) continue;
        moved = by;
        return true;
    }
    return false;
}

} // namespace

bool paint_words(const ViewPaint& paint, const glm::dvec3& at, const std::string& words,
                 const Colour& colour, const glm::vec2& wanted, bool only_there) {
    glm::vec2 p, moved = wanted;
    if (!place_on_screen(paint, at, p)) return false;
    const ImVec2 size = ImGui::CalcTextSize(words.c_str());
    const float pad = paint.ui->em * 0.2f;
    const glm::vec2 whole = {size.x + 2 * pad, size.y};
    const glm::vec2 there = p + wanted - whole / 2.0f;
    if (paint.taken && only_there && !is_free(paint, there, there + whole)) return false;
    if (paint.taken && !only_there && !find_room(paint, p, whole, wanted, moved)) return false;
    const ImVec2 low = {std::floor(p.x + moved.x - size.x / 2),
                        std::floor(p.y + moved.y - size.y / 2)};
    take_place(paint, {low.x - pad, low.y}, {low.x + size.x + pad, low.y + size.y});
    paint.list->AddRectFilled({low.x - pad, low.y}, {low.x + size.x + pad, low.y + size.y},
                              packed(with_alpha(paint.ui->palette->paper, 0.85)), 2);
    paint.list->AddText(low, packed(colour), words.c_str());
    return true;
}

void paint_flag(const ViewPaint& paint, const glm::vec2& p, char kind, float r) {
    const Palette& colours = *paint.ui->palette;
    if (kind == 'f') {
        paint.list->AddCircleFilled(vec(p), r, packed(colours.fail));
        const float k = r * 0.45f;
        const unsigned white = packed(colours.panel);
        paint.list->AddLine({p.x - k, p.y - k}, {p.x + k, p.y + k}, white, 2);
        paint.list->AddLine({p.x - k, p.y + k}, {p.x + k, p.y - k}, white, 2);
    } else if (kind == 'w') {
        paint.list->AddTriangleFilled({p.x, p.y - r}, {p.x + r, p.y + r * 0.8f},
                                      {p.x - r, p.y + r * 0.8f}, packed(colours.warn));
        paint.list->AddTriangle({p.x, p.y - r}, {p.x + r, p.y + r * 0.8f},
                                {p.x - r, p.y + r * 0.8f}, packed(colours.panel), 1);
    } else {
        paint.list->AddCircle(vec(p), r * 0.8f, packed(colours.good), 0, 2);
    }
}

} // namespace standpoint
