// What a camera means to the passes: matrices in float, light in the view's axes, the floor.
#pragma once

#include "window/scene_drawing_passes.h"

namespace standpoint {

// Everything of a request that its passes share, without the shift and turn of a step.
struct ViewSetting {
    Scenery scenery;
    ListWish wish; // `stray_pixels` for a picture of the request's size
    Box floor;     // empty: none is drawn
};

ViewSetting setting_of(const DrawRequest& request, const Box& scene);

// All pieces; the hall only in views with perspective.
Box shown_box(const Staging& staging, bool perspective);
bool has_perspective(ViewKind kind);

// The same with a step's share of a pixel moved and its patterns turned; step 0 is not moved.
Scenery of_step(const Scenery& scenery, const glm::ivec2& size, int step);

// The square of floor under a box, as a piece of its own.
StagedPiece floor_piece(const Box& floor, const glm::vec3& srgb);

// Sets the map's matrices so that it holds all pieces but the hall's walls; what there is to draw.
ListWish shadow_wish(const Staging& staging, ShadowMap& map);
void set_shadow(Scenery& scenery, const ShadowMap& map, const glm::dmat4& view);

// Pixels from below that tinted pieces can touch: low corner and size; no size when none.
glm::ivec4 tinted_area(const DrawRequest& request, const glm::ivec2& size);
// The same of boxes: with their edges and outlines.
glm::ivec4 touched_area(const DrawRequest& request, const glm::ivec2& size,
                        std::span<const Box> boxes);

} // namespace standpoint
