// Textures and framebuffers of one view.
#include "window/gl_targets.h"

#include <epoxy/gl.h>

namespace standpoint {

namespace {

Result<GlFramebuffer> frame(std::initializer_list<unsigned> of, unsigned depth) {
    return make_framebuffer({of.begin(), of.size()}, depth);
}

Result<SurfaceTargets> make_surfaces(const glm::ivec2& size, unsigned lit, unsigned depths) {
    SurfaceTargets t;
    t.colours = make_target(TexelForm::colour8, size);
    t.normals = make_target(TexelForm::normal16, size);
    STANDPOINT_TRY(surfaces, frame({t.colours.name(), t.normals.name()}, depths));
    STANDPOINT_TRY(glass, frame({lit, t.colours.name(), t.normals.name()}, depths));
    t.surfaces = std::move(surfaces);
    t.glass = std::move(glass);
    return t;
}

} // namespace

Result<Targets> make_targets(const glm::ivec2& size) {
    Targets t;
    t.size = size;
    t.depths = make_target(TexelForm::depth, size);
    t.lit = make_target(TexelForm::srgb8, size);
    t.sum = make_target(TexelForm::half4, size);
    t.picture = make_target(TexelForm::colour8, size, true);
    STANDPOINT_TRY(drawn, make_surfaces(size, t.lit.name(), t.depths.name()));
    STANDPOINT_TRY(shown, make_surfaces(size, t.lit.name(), t.depths.name()));
    STANDPOINT_TRY(light, frame({t.lit.name()}, 0));
    STANDPOINT_TRY(average, frame({t.sum.name()}, 0));
    STANDPOINT_TRY(finish, frame({t.picture.name()}, 0));
    if (glGetError() == GL_OUT_OF_MEMORY)
        return io_error("OpenGL", "found no memory for a picture of that size");
    t.drawn = std::move(drawn);
    t.shown = std::move(shown);
    t.light = std::move(light);
    t.average = std::move(average);
    t.finish = std::move(finish);
    return t;
}

} // namespace standpoint
