// Pictures of something that moves: coarse and in one go. Where the camera stays and a piece moves,
// only the part of the last picture that the piece leaves or comes to is drawn.
#include <algorithm>

#include <epoxy/gl.h>

#include "window/scene_drawing_gl.h"

namespace standpoint {

namespace {

using Clock = std::chrono::steady_clock;

constexpr double moving_stray = 1;   // pixels
constexpr double spare_mm = 2000;    // round a drawing's scene
constexpr double largest_part = 0.6; // of a picture; beyond it all is drawn

bool same_look(const StagedPiece& a, const StagedPiece& b) {
    const bool same_mesh = a.mesh == b.mesh || (a.mesh_hash != 0 && a.mesh_hash == b.mesh_hash);
    return same_mesh && a.staged == b.staged && a.placement.scale == b.placement.scale &&
           a.placement.frame.origin == b.placement.frame.origin &&
           a.placement.frame.rotation == b.placement.frame.rotation;
}

bool same_but_pieces(const DrawRequest& a, const DrawRequest& b) {
    return a.camera == b.camera && a.size == b.size && a.cut_height == b.cut_height &&
           a.colours == b.colours && a.shadows == b.shadows && a.hall_walls == b.hall_walls &&
           a.staging->pieces.size() == b.staging->pieces.size();
}

bool same_scenery(const Scenery& a, const Scenery& b) {
    return a.projection == b.projection && a.lens == b.lens && a.reach == b.reach &&
           (a.drawing || a.floor_fade == b.floor_fade) && a.to_shadow == b.to_shadow &&
           a.soft == b.soft;
}

// Where pieces were and are that are not in both.
std::vector<Box> moved_boxes(const Staging& before, const Staging& now) {
    std::vector<Box> out;
    for (std::size_t i = 0; i < now.pieces.size(); ++i) {
        if (same_look(before.pieces[i], now.pieces[i])) continue;
        for (const Box& box : {before.pieces[i].box, now.pieces[i].box})
            if (!box.empty()) out.push_back(box);
    }
    return out;
}

glm::ivec4 widened(const glm::ivec4& area, int by, const glm::ivec2& size) {
    const glm::ivec2 low = glm::max(glm::ivec2(area.x, area.y) - by, glm::ivec2(0));
    const glm::ivec2 high = glm::min(glm::ivec2(area.x + area.z, area.y + area.w) + by, size);
    return {low.x, low.y, high.x - low.x, high.y - low.y};
}

void keep_within(const glm::ivec4& area) {
    glEnable(GL_SCISSOR_TEST);
    glScissor(area.x, area.y, area.z, area.w);
}

} // namespace

// A piece at the rim of a scene changes its box, and with it all depths: the box of the last
// picture is kept while it holds everything, and in drawings has room to spare.
Box GlDrawing::moving_box(const Slot& slot, const DrawRequest& request) {
    Box box = box_for(request);
    const MovingMade& made = slot.made;
    if (box.empty()) return box;
    const bool kept = made.request && !made.box.empty() && same_but_pieces(*made.request, request);
    const Box both = kept ? joined(made.box, box) : box;
    if (kept && both.low == made.box.low && both.high == made.box.high) return made.box;
    if (has_perspective(request.camera.kind)) return both;
    box.low -= spare_mm;
    box.high += spare_mm;
    return box;
}

// What has to be drawn into the last picture; none: all of it.
std::optional<glm::ivec4> GlDrawing::part_of(const Slot& slot, const DrawRequest& request,
                                             const ViewSetting& setting,
                                             const Scenery& scenery) const {
    const MovingMade& made = slot.made;
    if (!made.request || !same_but_pieces(*made.request, request) || made.details != details_ ||
        made.shadow_of != shadow_of_ || made.view != setting.wish.view ||
        !same_scenery(made.scenery, scenery))
        return std::nullopt;
    const glm::ivec2 size = slot.moving.size;
    const std::vector<Box> boxes = moved_boxes(*made.request->staging, *request.staging);
    if (boxes.empty()) return glm::ivec4(0);
    const glm::ivec4 area = touched_area(request, size, boxes);
    const double share =
        static_cast<double>(area.z) * area.w / (static_cast<double>(size.x) * size.y);
    return share > largest_part ? std::nullopt : std::optional(area);
}

bool GlDrawing::make_moving_room(Slot& slot, const DrawRequest& request) {
    const double scale = effort_.moving_scale(request.size);
    const glm::ivec2 size = glm::max(glm::ivec2(glm::dvec2(request.size) * scale), glm::ivec2(1));
    // A scale that wavers would make textures all the time.
    const glm::ivec2 off = glm::abs(slot.moving.size - size);
    const bool fits = slot.moving.size.x > 0 && off.x * 5 <= size.x && off.y * 5 <= size.y + 5 &&
                      slot.moving.size.x <= request.size.x && slot.moving.size.y <= request.size.y;
    if (fits) return true;
    slot.made = {};
    return make_room(slot.moving, size);
}

// Panes go over what is shown, so that `drawn` stays as it was before them and can be drawn into
// again: the light tells edges by a pixel's neighbours.
std::size_t GlDrawing::pane_over(Slot& slot, const DrawList& list, const Scenery& scenery,
                                 const glm::ivec4& area) {
    passes_.show_surfaces(slot.moving, area);
    std::swap(slot.moving.drawn, slot.moving.shown);
    keep_within(area);
    const std::size_t triangles = passes_.glass(slot.moving, list, scenery);
    glDisable(GL_SCISSOR_TEST);
    std::swap(slot.moving.drawn, slot.moving.shown);
    return triangles;
}

void GlDrawing::draw_moving_whole(Slot& slot, const DrawRequest& request, ViewSetting& setting,
                                  const Scenery& scenery) {
    const Targets& to = slot.moving;
    setting.wish.stray_pixels = moving_stray * request.size.x / to.size.x;
    setting.wish.most_triangles = effort_.moving_triangles();
    const DrawList list = listed(setting);
    passes_.upload(list);
    slot.lacking = list.lacking;
    slot.unsure = list.unsure;
    const Clock::time_point start = Clock::now();
    const std::size_t triangles = passes_.surfaces(to, list, scenery, 0, list.items.size());
    glFinish();
    effort_.triangle.learn(seconds_since(start), static_cast<double>(triangles), 2000);
    const Clock::time_point middle = Clock::now();
    passes_.light(to, scenery, shadow_, {0, 0, to.size.x, to.size.y});
    facts_.triangles += triangles + pane_over(slot, list, scenery, {0, 0, to.size.x, to.size.y});
    glFinish();
    effort_.quick_pixel.learn(seconds_since(middle), static_cast<double>(to.size.x) * to.size.y,
                              2000);
    slot.made = {};
    if (list.lacking) return;
    slot.made = {request, shadow_of_, scenery, {}, setting.wish.view, list.stray_pixels, details_};
}

void GlDrawing::draw_moving_part(Slot& slot, const DrawRequest& request, ViewSetting& setting,
                                 const Scenery& scenery, const glm::ivec4& area) {
    slot.part = area;
    facts_.in_part = true;
    if (area.z > 0 && area.w > 0) {
        const Targets& to = slot.moving;
        const glm::dvec2 size(to.size);
        setting.wish.low = glm::dvec2(area.x, area.y) / size * 2.0 - 1.0;
        setting.wish.high = glm::dvec2(area.x + area.z, area.y + area.w) / size * 2.0 - 1.0;
        setting.wish.stray_pixels = slot.made.stray_pixels;
        const DrawList list = listed(setting);
        passes_.upload(list);
        slot.lacking = list.lacking;
        keep_within(area);
        facts_.triangles += passes_.surfaces(to, list, scenery, 0, list.items.size());
        passes_.light(to, scenery, shadow_, area);
        facts_.triangles += pane_over(slot, list, scenery, area);
    }
    slot.made.request = request;
    if (slot.lacking) slot.made = {};
}

// Coarse meshes and fewer pixels, in one go. The shadow is the last there was: it lags behind a
// piece that moves. False: there is no room.
bool GlDrawing::draw_moving(Slot& slot, const DrawRequest& request) {
    if (!make_moving_room(slot, request)) return false;
    const Box box = moving_box(slot, request);
    ViewSetting setting = setting_for(request, box);
    setting.scenery.full = false;
    Scenery scenery = of_step(setting.scenery, slot.moving.size, 0);
    if (!scenery.drawing && request.shadows && shadow_of_)
        set_shadow(scenery, shadow_, setting.wish.view);
    if (const auto part = part_of(slot, request, setting, scenery))
        draw_moving_part(slot, request, setting, scenery, *part);
    else
        draw_moving_whole(slot, request, setting, scenery);
    slot.made.box = box;
    return true;
}

// The picture as it is shown, with tints; of one drawn in part, that part.
void GlDrawing::finish(Slot& slot, const DrawRequest& request) {
    const Targets& to = slot.picture();
    if (to.size.x == 0) return;
    const bool moving = slot.steps == 0;
    glm::ivec4 area{0, 0, to.size.x, to.size.y};
    if (moving && slot.part && slot.tinted == request.tints) area = *slot.part;
    if (moving) slot.tinted = request.tints;
    const glm::vec2 size(to.size);
    // A texel more, since the picture is shown with soft steps between texels.
    const bool any = area.z > 0 && area.w > 0;
    const glm::vec4 shown(any ? widened(area, 1, to.size) : glm::ivec4(0));
    slot.changed = glm::vec4(glm::vec2(shown.x, shown.y) / size,
                             glm::vec2(shown.x + shown.z, shown.y + shown.w) / size);
    if (!any) return;
    keep_within(area);
    passes_.finish(to, !moving);
    glDisable(GL_SCISSOR_TEST);
    if (request.tints.empty()) return;
    const glm::ivec4 tinted = tinted_area(request, to.size);
    const glm::ivec2 low = glm::max(glm::ivec2(area.x, area.y), glm::ivec2(tinted.x, tinted.y));
    const glm::ivec2 high = glm::min(glm::ivec2(area.x + area.z, area.y + area.w),
                                     glm::ivec2(tinted.x + tinted.z, tinted.y + tinted.w));
    if (low.x >= high.x || low.y >= high.y) return;
    passes_.finish_tinted(to, !moving, request.tints, request.staging->pieces.size(),
                          {low.x, low.y, high.x - low.x, high.y - low.y});
}

} // namespace standpoint
