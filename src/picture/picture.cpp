// Draws what a visitor sees in the hall's light and develops it to bytes.
#include "picture/picture.h"

#include "picture/render.h"
#include "picture/tone.h"

namespace standpoint {
namespace {

// The hall's own walls keep no light from the display: the light comes through its roof.
std::unique_ptr<RayIndex> light_casters(const Staging& staging) {
    IndexChoice choice;
    for (std::uint32_t i = 0; i < staging.pieces.size(); ++i)
        if (staging.pieces[i].staged != StagedKind::hall) choice.only.push_back(i);
    if (choice.only.empty()) return nullptr;
    return make_ray_index(staging, choice);
}

} // namespace

Result<Image> draw_picture(const Staging& staging, const RayIndex& index, const Camera& camera,
                           const PictureOptions& options, const Progress& progress) {
    const Light light = hall_light(staging);
    const std::unique_ptr<RayIndex> casters = light_casters(staging);
    STANDPOINT_TRY(radiance, render(staging, index, casters ? *casters : index, camera, light,
                                    options, progress));
    Image image;
    image.width = radiance.width;
    image.height = radiance.height;
    image.rgba.reserve(4 * radiance.pixels.size());
    for (const glm::dvec3& pixel : radiance.pixels) {
        const Rgb8 c = developed(pixel, light.exposure);
        image.rgba.insert(image.rgba.end(), {c.r, c.g, c.b, std::uint8_t{255}});
    }
    return image;
}

} // namespace standpoint
