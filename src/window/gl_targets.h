// The textures that a picture of one view is drawn into.
#pragma once

#include "window/gl_objects.h"

namespace standpoint {

struct Targets {
    glm::ivec2 size{0, 0};
    GlTexture colours, normals, depths; // of the surface nearest to the eye
    GlTexture lit;                      // one step, linear light stored as sRGB
    GlTexture sum;                      // the average of the steps, linear
    GlTexture picture;                  // what is shown: sRGB, straight alpha
    GlFramebuffer surfaces, light, glass, average, finish;
};

Result<Targets> make_targets(const glm::ivec2& size);

} // namespace standpoint
