// The textures that a picture of one view is drawn into.
#pragma once

#include "window/gl_objects.h"

namespace standpoint {

struct SurfaceTargets { // of the surface nearest to the eye
    GlTexture colours, normals;
    GlFramebuffer surfaces, glass; // glass: with `lit` of its Targets
};

struct Targets {
    glm::ivec2 size{0, 0};
    SurfaceTargets drawn; // being drawn
    SurfaceTargets shown; // of what `picture` shows: tints are laid over it at any time
    GlTexture depths;
    GlTexture lit;     // one step, linear light stored as sRGB
    GlTexture sum;     // the average of the steps, linear
    GlTexture picture; // what is shown: sRGB, straight alpha
    GlFramebuffer light, average, finish;
};

Result<Targets> make_targets(const glm::ivec2& size);

} // namespace standpoint
