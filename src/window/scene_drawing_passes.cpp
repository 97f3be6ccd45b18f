// The passes over pieces: surfaces, what a cut fills, shadow, see-through things.
#include "window/scene_drawing_passes.h"

#include <cstddef>

#include <epoxy/gl.h>

namespace standpoint {

namespace {

void point_at_instances(unsigned buffer, std::uint32_t first) {
    glBindBuffer(GL_ARRAY_BUFFER, buffer);
    const std::size_t start = first * sizeof(Instance);
    for (unsigned row = 0; row < 3; ++row)
        glVertexAttribPointer(4 + row, 4, GL_FLOAT, GL_FALSE, sizeof(Instance),
                              reinterpret_cast<const void*>(start + row * 16));
    glVertexAttribPointer(7, 1, GL_FLOAT, GL_FALSE, sizeof(Instance),
                          reinterpret_cast<const void*>(start + offsetof(Instance, id)));
}

void draw_span(const IndexSpan& span, std::uint32_t count) {
    glDrawElementsInstanced(GL_TRIANGLES, static_cast<int>(span.count), GL_UNSIGNED_INT,
                            reinterpret_cast<const void*>(span.first * sizeof(std::uint32_t)),
                            static_cast<int>(count));
}

struct Pair { // programs of plain and of textured ranges
    const GlProgram* plain = nullptr;
    const GlProgram* textured = nullptr;
};

std::size_t draw_items(std::span<const DrawItem> items, const Pair& programs,
                       const glm::mat4& projection, unsigned instances) {
    std::size_t triangles = 0;
    const DrawItem* last = nullptr;
    for (const DrawItem& item : items) {
        const GlProgram& program = item.textured ? *programs.textured : *programs.plain;
        if (!last || last->textured != item.textured) {
            program.use();
            program.set("projection", projection);
        }
        if (!last || last->level != item.level || last->first != item.first) {
            glBindVertexArray(item.mesh->array.name());
            glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, item.level->indices.name());
            point_at_instances(instances, item.first);
            item.backs_hidden ? glEnable(GL_CULL_FACE) : glDisable(GL_CULL_FACE);
        }
        if (item.textured) {
            program.texture("image", 0, item.mesh->textures[item.look]);
            program.set("cutoff", item.mesh->looks[item.look].cutoff);
        }
        draw_span(item.span, item.count);
        triangles += item.triangles();
        last = &item;
    }
    glDisable(GL_CULL_FACE);
    return triangles;
}

std::span<const DrawItem> some_of(const DrawList& list, std::size_t from, std::size_t until) {
    return std::span<const DrawItem>(list.items).subspan(from, until - from);
}

std::size_t draw_solids(const std::vector<Batch>& cut, unsigned instances) {
    std::size_t triangles = 0;
    for (const Batch& batch : cut) {
        const GpuLevel& solids = batch.mesh->solids;
        glBindVertexArray(batch.mesh->array.name());
        glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, solids.indices.name());
        point_at_instances(instances, batch.first);
        draw_span({0, static_cast<std::uint32_t>(solids.triangles * 3)}, batch.count);
        triangles += solids.triangles * batch.count;
    }
    return triangles;
}

// Where the cut passes through a solid more backs than fronts lie below it. There the nearest back
// is drawn, hatched, and lifted to the cut itself, so that nothing below it shows.
std::size_t draw_caps(const DrawList& list, const GlProgram& cap, const GlProgram& nearest,
                      const glm::mat4& projection, unsigned instances, unsigned page) {
    if (list.cut.empty()) return 0;
    cap.use();
    cap.set("projection", projection);
    glEnable(GL_STENCIL_TEST);
    glColorMask(GL_FALSE, GL_FALSE, GL_FALSE, GL_FALSE);
    glDisable(GL_DEPTH_TEST);
    glStencilFunc(GL_ALWAYS, 0, 0xff);
    glStencilOpSeparate(GL_BACK, GL_KEEP, GL_KEEP, GL_INCR_WRAP);
    glStencilOpSeparate(GL_FRONT, GL_KEEP, GL_KEEP, GL_DECR_WRAP);
    std::size_t triangles = draw_solids(list.cut, instances);
    glColorMask(GL_TRUE, GL_TRUE, GL_TRUE, GL_TRUE);
    glEnable(GL_DEPTH_TEST);
    glStencilFunc(GL_NOTEQUAL, 0, 0xff);
    glStencilOp(GL_KEEP, GL_KEEP, GL_KEEP);
    glEnable(GL_CULL_FACE);
    glCullFace(GL_FRONT);
    triangles += draw_solids(list.cut, instances);
    glCullFace(GL_BACK);
    glDisable(GL_CULL_FACE);
    nearest.use();
    glColorMask(GL_FALSE, GL_FALSE, GL_FALSE, GL_FALSE);
    glDepthFunc(GL_ALWAYS);
    draw_page(page);
    glColorMask(GL_TRUE, GL_TRUE, GL_TRUE, GL_TRUE);
    glDepthFunc(GL_LESS);
    glDisable(GL_STENCIL_TEST);
    return triangles;
}

} // namespace

void Passes::upload(const DrawList& list) {
    glBindBuffer(GL_ARRAY_BUFFER, instances_.name());
    glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(list.instances.size() * sizeof(Instance)),
                 list.instances.data(), GL_STREAM_DRAW);
}

std::size_t Passes::surfaces(const Targets& to, const DrawList& list, const Scenery& scenery,
                             std::size_t from, std::size_t until) const {
    begin(to.drawn.surfaces, to.size);
    if (from == 0) {
        glClearColor(0, 0, 0, 0);
        glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT | GL_STENCIL_BUFFER_BIT);
    }
    glEnable(GL_DEPTH_TEST);
    glDepthFunc(GL_LESS);
    std::size_t triangles = 0;
    if (from == 0)
        triangles +=
            draw_caps(list, cap_, nearest_, scenery.projection, instances_.name(), page_.name());
    triangles += draw_items(some_of(list, from, until), {&surface_, &surface_textured_},
                            scenery.projection, instances_.name());
    glDisable(GL_DEPTH_TEST);
    return triangles;
}

std::size_t Passes::shadow(const ShadowMap& to, const DrawList& list, const glm::mat4& projection,
                           std::size_t from, std::size_t until) const {
    begin(to.frame, {to.size, to.size});
    if (from == 0) glClear(GL_DEPTH_BUFFER_BIT);
    glEnable(GL_DEPTH_TEST);
    glDepthFunc(GL_LESS);
    glEnable(GL_POLYGON_OFFSET_FILL);
    glPolygonOffset(1.5f, 2.0f);
    const std::size_t triangles = draw_items(
        some_of(list, from, until), {&shadow_, &shadow_textured_}, projection, instances_.name());
    glDisable(GL_POLYGON_OFFSET_FILL);
    glDisable(GL_DEPTH_TEST);
    return triangles;
}

std::size_t Passes::glass(const Targets& to, const DrawList& list, const Scenery& scenery) const {
    if (list.glass.empty()) return 0;
    begin(to.drawn.glass, to.size);
    glEnable(GL_FRAMEBUFFER_SRGB);
    glEnable(GL_DEPTH_TEST);
    glDepthFunc(GL_LEQUAL);
    glDepthMask(GL_FALSE);
    glEnablei(GL_BLEND, 0);
    glBlendFuncSeparate(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
    glass_.use();
    glass_.set("projection", scenery.projection);
    glass_.set("flatness", scenery.drawing ? 1.0f : 0.0f);
    set_light(glass_, scenery);
    std::size_t triangles = 0;
    for (const GlassDraw& draw : list.glass) {
        const GpuLevel& level = *draw.level;
        glBindVertexArray(draw.mesh->array.name());
        glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, level.indices.name());
        point_at_instances(instances_.name(), draw.instance);
        const unsigned texture = draw.mesh->textures[draw.look];
        glass_.texture("image", 0, texture != 0 ? texture : white_.name());
        glass_.set("cutoff", draw.mesh->looks[draw.look].cutoff);
        glass_.set("lets_through", draw.mesh->looks[draw.look].lets_through);
        draw.mesh->closed ? glEnable(GL_CULL_FACE) : glDisable(GL_CULL_FACE);
        draw_span(level.spans[draw.look], 1);
        triangles += level.spans[draw.look].count / 3;
    }
    glDisable(GL_CULL_FACE);
    glDisablei(GL_BLEND, 0);
    glDepthMask(GL_TRUE);
    glDisable(GL_DEPTH_TEST);
    glDisable(GL_FRAMEBUFFER_SRGB);
    return triangles;
}

} // namespace standpoint
