// Building the programs, and the passes that run once a pixel.
#include <cmath>

#include <epoxy/gl.h>

#include "window/gl_shaders.h"
#include "window/scene_drawing_passes.h"

namespace standpoint {

namespace {

// Linear irradiance over pi, so that a white surface turned to the key comes out near white.
constexpr glm::vec3 key_light{0.62f, 0.59f, 0.54f}, sky_light{0.58f, 0.62f, 0.67f},
    ground_light{0.33f, 0.31f, 0.29f};
constexpr float corner_reach_mm = 260, outline_pixels = 2.2f;

GlTexture white_texture() {
    GlTexture texture = make_target(TexelForm::srgb8, {1, 1});
    const std::uint8_t white[4] = {255, 255, 255, 255};
    glTexSubImage2D(GL_TEXTURE_2D, 0, 0, 0, 1, 1, GL_RGBA, GL_UNSIGNED_BYTE, white);
    return texture;
}

std::uint8_t root_byte(float srgb) {
    const float linear = linear_of_screen(glm::vec3(srgb)).x;
    return static_cast<std::uint8_t>(std::lround(std::sqrt(std::max(linear, 0.0f)) * 255));
}

std::uint8_t byte_of(float share) {
    return static_cast<std::uint8_t>(std::lround(std::min(std::max(share, 0.0f), 1.0f) * 255));
}

// Two texels a piece: its tint with the strength, its outline with 1 or 0; 256 pieces a row.
std::vector<std::uint8_t> tint_table(std::span<const PieceTint> tints, int rows) {
    std::vector<std::uint8_t> table(static_cast<std::size_t>(rows) * 512 * 4, 0);
    for (const PieceTint& tint : tints) {
        const std::size_t number = number_of(tint.piece);
        if (number / 256 >= static_cast<std::size_t>(rows)) continue;
        std::uint8_t* texel = table.data() + (number / 256 * 512 + number % 256 * 2) * 4;
        for (int i = 0; i < 3; ++i)
            texel[i] = texel[4 + i] = root_byte(tint.colour[i]);
        texel[3] = byte_of(tint.strength);
        texel[7] = tint.outline ? 255 : 0;
    }
    return table;
}

void set_places(const GlProgram& program, const Scenery& s, const glm::ivec2& size) {
    glUniform2i(program.at("size"), size.x, size.y);
    program.set("lens", s.lens);
    program.set("reach", s.reach);
    program.set("to_shadow", s.to_shadow);
    program.set("soft", s.soft);
    program.set("edge", s.edge);
    program.set("drawing", s.drawing ? 1.0f : 0.0f);
    program.set("floor_id", 1.0f);
    program.set("floor_fade", s.floor_fade);
    program.set("turn", s.turn);
    program.set("corner_reach", corner_reach_mm);
}

} // namespace

void draw_page(unsigned array) {
    glBindVertexArray(array);
    glDrawArrays(GL_TRIANGLES, 0, 3);
}

void begin(const GlFramebuffer& frame, const glm::ivec2& size) {
    glBindFramebuffer(GL_FRAMEBUFFER, frame.name());
    glViewport(0, 0, size.x, size.y);
}

void set_light(const GlProgram& program, const Scenery& s) {
    program.set("key_light", key_light);
    program.set("sky_light", sky_light);
    program.set("ground_light", ground_light);
    program.set("key_direction", s.key_direction);
    program.set("up", s.up);
    program.set("paper", s.paper);
    program.set("horizon", s.horizon);
    program.set("zenith", s.zenith);
}

glm::vec3 linear_of_screen(const glm::vec3& srgb) {
    glm::vec3 out(0.0f);
    for (int i = 0; i < 3; ++i)
        out[i] =
            srgb[i] <= 0.04045f ? srgb[i] / 12.92f : std::pow((srgb[i] + 0.055f) / 1.055f, 2.4f);
    return out;
}

ShadowMap make_shadow_map(int size) {
    ShadowMap map;
    map.size = size;
    map.depths = make_target(TexelForm::depth, {size, size}, true);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_COMPARE_MODE, GL_COMPARE_REF_TO_TEXTURE);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_COMPARE_FUNC, GL_LEQUAL);
    Result<GlFramebuffer> frame = make_framebuffer({}, map.depths.name());
    if (frame.ok()) map.frame = std::move(*frame);
    return map;
}

Result<Passes> Passes::build() {
    Passes p;
    struct Wanted {
        GlProgram* program;
        const char *name, *defines, *vertex, *fragment;
    };
    const Wanted wanted[] = {
        {&p.surface_, "surface", "", surface_vertex, surface_fragment},
        {&p.surface_textured_, "textured surface", "#define TEXTURED", surface_vertex,
         surface_fragment},
        {&p.cap_, "cut", "#define CAP", surface_vertex, surface_fragment},
        {&p.nearest_, "cut page", "#define NEAREST", page_vertex, shadow_fragment},
        {&p.shadow_, "shadow", "", shadow_vertex, shadow_fragment},
        {&p.shadow_textured_, "textured shadow", "#define TEXTURED", shadow_vertex,
         shadow_fragment},
        {&p.glass_, "glass", "#define TEXTURED\n#define GLASS", surface_vertex, glass_fragment},
        {&p.light_fast_, "fast light", "#define FULL 0", page_vertex, light_fragment},
        {&p.light_full_, "light", "#define FULL 1", page_vertex, light_fragment},
        {&p.copy_, "copy", "", page_vertex, copy_fragment},
        {&p.finish_, "finish", "#define TINTS 0", page_vertex, finish_fragment},
        {&p.finish_tints_, "tints", "#define TINTS 1", page_vertex, finish_fragment}};
    for (const Wanted& w : wanted) {
        STANDPOINT_TRY(program, build_program(w.name, w.defines, w.vertex, w.fragment));
        *w.program = std::move(program);
    }
    p.page_ = GlVertexArray::make();
    p.instances_ = GlBuffer::make();
    p.white_ = white_texture();
    p.tints_ = GlTexture::make();
    return p;
}

void Passes::light(const Targets& to, const Scenery& scenery, const ShadowMap& map,
                   const glm::ivec4& area) const {
    begin(to.light, to.size);
    glEnable(GL_SCISSOR_TEST);
    glScissor(area.x, area.y, area.z, area.w);
    glEnable(GL_FRAMEBUFFER_SRGB);
    const GlProgram& program = scenery.full ? light_full_ : light_fast_;
    program.use();
    program.texture("colours", 0, to.drawn.colours.name());
    program.texture("normals", 1, to.drawn.normals.name());
    program.texture("depths", 2, to.depths.name());
    program.texture("shadow_map", 3, map.depths.name());
    set_light(program, scenery);
    set_places(program, scenery, to.size);
    draw_page(page_.name());
    glDisable(GL_FRAMEBUFFER_SRGB);
    glDisable(GL_SCISSOR_TEST);
}

void Passes::average(const Targets& to, int steps_before) const {
    begin(to.average, to.size);
    copy_.use();
    copy_.texture("picture", 0, to.lit.name());
    if (steps_before > 0) {
        glEnable(GL_BLEND);
        glBlendColor(0, 0, 0, 1.0f / static_cast<float>(steps_before + 1));
        glBlendFunc(GL_CONSTANT_ALPHA, GL_ONE_MINUS_CONSTANT_ALPHA);
    }
    draw_page(page_.name());
    glDisable(GL_BLEND);
}

void Passes::show_surfaces(const Targets& to, const glm::ivec4& area) const {
    glBindFramebuffer(GL_READ_FRAMEBUFFER, to.drawn.surfaces.name());
    glActiveTexture(GL_TEXTURE0);
    for (unsigned i = 0; i < 2; ++i) {
        glReadBuffer(GL_COLOR_ATTACHMENT0 + i);
        glBindTexture(GL_TEXTURE_2D, (i == 0 ? to.shown.colours : to.shown.normals).name());
        glCopyTexSubImage2D(GL_TEXTURE_2D, 0, area.x, area.y, area.x, area.y, area.z, area.w);
    }
    glReadBuffer(GL_COLOR_ATTACHMENT0);
}

void Passes::finish(const Targets& to, bool summed) const {
    begin(to.finish, to.size);
    finish_.use();
    finish_.texture("picture", 0, summed ? to.sum.name() : to.lit.name());
    draw_page(page_.name());
}

void Passes::finish_tinted(const Targets& to, bool summed, std::span<const PieceTint> tints,
                           std::size_t pieces, const glm::ivec4& area) {
    const int rows = static_cast<int>(std::min<std::size_t>(pieces + 1, floor_number) / 256) + 1;
    const std::vector<std::uint8_t> table = tint_table(tints, rows);
    glActiveTexture(GL_TEXTURE3);
    glBindTexture(GL_TEXTURE_2D, tints_.name());
    glPixelStorei(GL_UNPACK_ALIGNMENT, 4);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, 512, rows, 0, GL_RGBA, GL_UNSIGNED_BYTE, table.data());
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_NEAREST);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_NEAREST);
    begin(to.finish, to.size);
    glEnable(GL_SCISSOR_TEST);
    glScissor(area.x, area.y, area.z, area.w);
    finish_tints_.use();
    finish_tints_.texture("picture", 0, summed ? to.sum.name() : to.lit.name());
    finish_tints_.texture("colours", 1, to.shown.colours.name());
    finish_tints_.texture("normals", 2, to.shown.normals.name());
    finish_tints_.texture("tints", 3, tints_.name());
    glUniform2i(finish_tints_.at("size"), to.size.x, to.size.y);
    finish_tints_.set("outline", outline_pixels);
    draw_page(page_.name());
    glDisable(GL_SCISSOR_TEST);
}

} // namespace standpoint
