// Lines, areas and words drawn over a view at scene places.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "desk/view_camera.h"
#include "window/ui.h"

struct ImDrawList;

namespace standpoint {

// Places of a view that are spoken for, so that words do not lie on one another.
struct Taken {
    std::vector<TaggedRect> places;
};

struct ViewPaint {
    const Ui* ui = nullptr; // none of the pointers is null
    ImDrawList* list = nullptr;
    ViewCamera camera;
    glm::ivec2 size{1, 1};
    glm::vec2 low{0.0f};    // of the view in the window
    Taken* taken = nullptr; // null: words lie where they are put
};

// All do nothing where a point lies behind the eye. Thickness in pixels.
void paint_line(const ViewPaint& paint, const glm::dvec3& a, const glm::dvec3& b,
                const Colour& colour, float thickness = 1);
void paint_dashes(const ViewPaint& paint, const glm::dvec3& a, const glm::dvec3& b,
                  const Colour& colour, float thickness = 1);
void paint_outline(const ViewPaint& paint, std::span<const glm::dvec3> points, bool closed,
                   const Colour& colour, float thickness = 1);
void paint_area(const ViewPaint& paint, std::span<const glm::dvec3> convex, const Colour& colour);
void paint_dot(const ViewPaint& paint, const glm::dvec3& at, float radius, const Colour& colour);
void paint_ring(const ViewPaint& paint, const glm::dvec3& at, float radius, const Colour& colour,
                float thickness = 1);
void paint_cross(const ViewPaint& paint, const glm::dvec3& at, float radius, const Colour& colour);
// Words on a quiet ground, their middle at the place moved by some pixels; where that is taken, at
// another side of the place unless `only_there`, and where all are taken nowhere: false.
bool paint_words(const ViewPaint& paint, const glm::dvec3& at, const std::string& words,
                 const Colour& colour, const glm::vec2& moved = {0, 0}, bool only_there = false);
// An upright marker whose shape says the same as its colour: 'f' cross, 'w' triangle, 'g' tick.
void paint_flag(const ViewPaint& paint, const glm::vec2& at, char kind, float radius);
// In view, and nothing lies there yet.
bool is_free(const ViewPaint& paint, const glm::vec2& low, const glm::vec2& high);
// Keeps words away from there.
void take_place(const ViewPaint& paint, const glm::vec2& low, const glm::vec2& high);

// In window pixels; false behind the eye.
bool place_on_screen(const ViewPaint& paint, const glm::dvec3& point, glm::vec2& out);

} // namespace standpoint
