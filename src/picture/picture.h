// What a visitor sees, shaded from the ray index: no GL, no display, the same bytes every time.
#pragma once

#include <optional>

#include <glm/vec2.hpp>

#include "base/parallel.h"
#include "base/sink.h"
#include "measure/box.h"
#include "shape/mesh.h"
#include "shape/ray_index.h"

namespace standpoint {

struct Camera {
    glm::dvec3 eye{0.0}; // scene mm
    glm::dvec3 look_at{0.0};
    double field_of_view_deg = 70; // across the picture's width, 1 to 170
};

struct PictureOptions {
    int width = 1600, height = 900; // 16 to 8192 each
    int samples = 9;                // a pixel, 1 to 64
    int light_samples = 4;          // a sample, 1 to 64
    unsigned threads = 0;           // never changes the picture
};

// 8-bit sRGB, opaque. Errors: cancelled.
Result<Image> draw_picture(const Staging& staging, const RayIndex& index, const Camera& camera,
                           const PictureOptions& options, const Progress& progress);

// The camera that looks at the middle of a box and takes all of it in with a little room around
// it, as far as a field of view between 20 and 110 degrees allows.
Camera framing(const glm::dvec3& eye, const Box& box, double width_over_height = 16.0 / 9.0);

// Where a point falls in the picture, pixels from its top left corner; nothing when it is not in
// front of the eye.
std::optional<glm::dvec2> project(const Camera& camera, int width, int height,
                                  const glm::dvec3& point);

// An opaque image as 8-bit RGB; carries no time. Errors: the sink's.
Status write_png(const Image& image, Sink& sink);

} // namespace standpoint
