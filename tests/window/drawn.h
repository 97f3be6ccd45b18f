// Stagings made of boxes, drawn without a display and read back.
#pragma once

#include <functional>

#include "offscreen.h"
#include "window/scene_drawing.h"

namespace standpoint {

// A box with its foot's middle at `foot`, closed and wound outwards; colour linear.
StagedPiece drawn_box(const glm::dvec3& foot, const glm::dvec3& size, const glm::vec3& colour,
                      float lets_through = 0);
// A ball of 2 * rings * rings triangles.
StagedPiece drawn_ball(const glm::dvec3& middle, double radius, int rings);
std::shared_ptr<const Staging> staging_of(std::vector<StagedPiece> pieces);

// Asks until the picture gets no better; fails the test when it never ends or the GL has an error.
Pixels settled(SceneDrawing& drawing, int slot, const DrawRequest& request);
// As it is after one call.
Pixels at_once(SceneDrawing& drawing, int slot, const DrawRequest& request);

DrawRequest plan_of(std::shared_ptr<const Staging> staging, const glm::ivec2& size,
                    double mm_per_pixel);

// Mean of the differences of all channels, 0..255; pictures of different sizes are compared where
// their pixels lie.
double mean_difference(const Pixels& a, const Pixels& b);

} // namespace standpoint
