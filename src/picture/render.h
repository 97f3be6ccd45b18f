// The renderer behind draw_picture, with the light as an argument.
#pragma once

#include "picture/light.h"
#include "picture/picture.h"

namespace standpoint {

// Linear radiance, three doubles a pixel, rows from the top. Errors: cancelled.
struct Radiance {
    int width = 0, height = 0;
    std::vector<glm::dvec3> pixels;
};

// `index` is what eyes see; `casters` is what stands in the way of light.
Result<Radiance> render(const Staging& staging, const RayIndex& index, const RayIndex& casters,
                        const Camera& camera, const Light& light, const PictureOptions& options,
                        const Progress& progress);

} // namespace standpoint
