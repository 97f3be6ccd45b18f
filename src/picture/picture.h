// What a visitor sees, shaded from the ray index: no GL, no display, the same bytes every time.
#pragma once

#include "base/parallel.h"
#include "base/sink.h"
#include "shape/mesh.h"
#include "shape/ray_index.h"

namespace standpoint {

struct Camera {
    glm::dvec3 eye{0.0};    // scene mm
    glm::dvec3 look_at{0.0};
    double field_of_view_deg = 70; // across the picture's width
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

Status write_png(const Image& image, Sink& sink);

} // namespace standpoint
