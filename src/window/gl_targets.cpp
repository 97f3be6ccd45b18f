// Textures and framebuffers of one view.
#include "window/gl_targets.h"

#include <epoxy/gl.h>

namespace standpoint {

Result<Targets> make_targets(const glm::ivec2& size) {
    Targets t;
    t.size = size;
    t.colours = make_target(TexelForm::colour8, size);
    t.normals = make_target(TexelForm::normal16, size);
    t.depths = make_target(TexelForm::depth, size);
    t.lit = make_target(TexelForm::srgb8, size);
    t.sum = make_target(TexelForm::half4, size);
    t.picture = make_target(TexelForm::colour8, size, true);
    if (glGetError() == GL_OUT_OF_MEMORY)
        return io_error("OpenGL", "found no memory for a picture of that size");
    const unsigned colours = t.colours.name(), normals = t.normals.name(), lit = t.lit.name(),
                   sum = t.sum.name(), picture = t.picture.name(), depths = t.depths.name();
    const auto frame = [](std::initializer_list<unsigned> of, unsigned depth) {
        return make_framebuffer({of.begin(), of.size()}, depth);
    };
    STANDPOINT_TRY(surfaces, frame({colours, normals}, depths));
    STANDPOINT_TRY(light, frame({lit}, 0));
    STANDPOINT_TRY(glass, frame({lit, colours, normals}, depths));
    STANDPOINT_TRY(average, frame({sum}, 0));
    STANDPOINT_TRY(finish, frame({picture}, 0));
    t.surfaces = std::move(surfaces);
    t.light = std::move(light);
    t.glass = std::move(glass);
    t.average = std::move(average);
    t.finish = std::move(finish);
    return t;
}

} // namespace standpoint
