// The work on pictures: moving ones in one go, still ones in pieces.
#include <algorithm>

#include <epoxy/gl.h>

#include "window/scene_drawing_gl.h"

namespace standpoint {

namespace {

using Clock = std::chrono::steady_clock;

constexpr int most_pixels = 9'000'000;                                    // more are drawn smaller
constexpr double still_stray = 0.4, shadow_stray = 0.7; // pixels
constexpr int shadow_size = 2048;

} // namespace

bool GlDrawing::make_room(Targets& targets, const glm::ivec2& size) {
    glm::ivec2 wanted = size;
    while (static_cast<double>(wanted.x) * wanted.y > most_pixels)
        wanted = glm::max((wanted + 1) / 2, glm::ivec2(1));
    for (int i = 0; i < 4; ++i) {
        if (targets.size == wanted) return true;
        targets = Targets{}; // what is not used any more goes first
        Result<Targets> made = make_targets(wanted);
        if (made.ok()) {
            targets = std::move(*made);
            return true;
        }
        wanted = glm::max((wanted + 1) / 2, glm::ivec2(1));
    }
    return false;
}

// Settings that hold for one staging are kept from picture to picture.
Box GlDrawing::box_for(const DrawRequest& request) {
    if (boxed_ != request.staging) {
        boxed_ = request.staging;
        box_flat_ = shown_box(*boxed_, false);
        box_round_ = shown_box(*boxed_, true);
    }
    return has_perspective(request.camera.kind) ? box_round_ : box_flat_;
}

ViewSetting GlDrawing::setting_for(const DrawRequest& request, const Box& box) {
    ViewSetting setting = setting_of(request, box);
    if (setting.floor.empty()) return setting;
    const bool coloured = floor_.mesh && floor_colour_ == request.colours.floor;
    const std::shared_ptr<const Mesh> mesh = floor_.mesh;
    floor_ = floor_piece(setting.floor, request.colours.floor);
    if (coloured) floor_.mesh = mesh; // the same sheet in another place
    floor_colour_ = request.colours.floor;
    return setting;
}

DrawList GlDrawing::listed(const ViewSetting& setting) {
    return list_pieces(store_, setting.wish, setting.floor.empty() ? nullptr : &floor_);
}

// True when the map is of this staging.
bool GlDrawing::work_on_shadow(const DrawRequest& request) {
    if (shadow_of_ == request.staging) return true;
    ShadowWork& work = shadow_work_;
    if (work.of != request.staging || work.round + 2 < round_) {
        if (work.map.size == 0) work.map = make_shadow_map(shadow_size);
        ListWish wish = shadow_wish(*request.staging, work.map);
        wish.stray_pixels = shadow_stray;
        work.list = list_pieces(store_, wish);
        work.projection = glm::mat4(wish.projection);
        work.item = 0;
        work.of = work.list.lacking ? nullptr : request.staging;
        if (work.list.lacking) return false;
    }
    work.round = round_;
    const std::size_t until = items_until(work.list.items, work.item, effort_.chunk_triangles());
    passes_.upload(work.list);
    facts_.triangles += passes_.shadow(work.map, work.list, work.projection, work.item, until);
    glFinish();
    work.item = until;
    if (work.item < work.list.items.size()) return false;
    std::swap(shadow_, work.map);
    shadow_of_ = work.of;
    work.of = nullptr;
    work.list = {};
    return true;
}

void GlDrawing::begin_step(Slot& slot, const DrawRequest& request) {
    ViewSetting setting = setting_for(request, box_for(request));
    setting.wish.stray_pixels = still_stray * request.size.x / slot.still.size.x;
    slot.work.scenery = of_step(setting.scenery, slot.still.size, slot.steps);
    if (!slot.work.scenery.drawing && request.shadows)
        set_shadow(slot.work.scenery, shadow_, setting.wish.view);
    slot.work.list = listed(setting);
    slot.lacking = slot.work.list.lacking;
    slot.unsure = slot.work.list.unsure;
    slot.work.item = 0;
    slot.work.row = 0;
    slot.work.stage = StepWork::Stage::surfaces;
}

void GlDrawing::work_on_surfaces(const Targets& to, StepWork& work) {
    const Clock::time_point start = Clock::now();
    const std::size_t until = items_until(work.list.items, work.item, effort_.chunk_triangles());
    passes_.upload(work.list);
    const std::size_t drawn = passes_.surfaces(to, work.list, work.scenery, work.item, until);
    glFinish();
    effort_.triangle.learn(seconds_since(start), static_cast<double>(drawn), 2000);
    facts_.triangles += drawn;
    work.item = until;
    if (until == work.list.items.size()) work.stage = StepWork::Stage::light;
}

void GlDrawing::work_on_light(const Targets& to, StepWork& work) {
    const Clock::time_point start = Clock::now();
    const int until = std::min(work.row + effort_.chunk_rows(to.size), to.size.y);
    passes_.light(to, work.scenery, shadow_, {0, work.row, to.size.x, until - work.row});
    glFinish();
    effort_.full_pixel.learn(seconds_since(start),
                             static_cast<double>(until - work.row) * to.size.x, 2000);
    work.row = until;
    if (until == to.size.y) work.stage = StepWork::Stage::glass;
}

// One piece of a step; true when the step is in the picture.
bool GlDrawing::work_on(Slot& slot) {
    StepWork& work = slot.work;
    switch (work.stage) {
    case StepWork::Stage::surfaces:
        work_on_surfaces(slot.still, work);
        return false;
    case StepWork::Stage::light:
        work_on_light(slot.still, work);
        return false;
    case StepWork::Stage::glass:
        passes_.upload(work.list);
        facts_.triangles += passes_.glass(slot.still, work.list, work.scenery);
        work.stage = StepWork::Stage::average;
        break;
    case StepWork::Stage::average:
        passes_.average(slot.still, slot.steps);
        std::swap(slot.still.drawn, slot.still.shown);
        ++slot.steps;
        work = {};
        break;
    case StepWork::Stage::none:
        return false;
    }
    glFinish();
    return work.stage == StepWork::Stage::none;
}

// One piece of a step, and how long whole ones take. True when the step is in the picture.
bool GlDrawing::work_timed(Slot& slot) {
    const Clock::time_point start = Clock::now();
    const double before = slot.work.seconds;
    const bool done = work_on(slot);
    const double seconds = before + seconds_since(start);
    (done ? step_seconds_ : slot.work.seconds) = seconds;
    return done;
}

// True when the picture has become better.
bool GlDrawing::get_better(Slot& slot, const DrawRequest& request) {
    if (!make_room(slot.still, request.size)) return false;
    const bool shadowed = has_perspective(request.camera.kind) && request.shadows;
    bool better = false;
    // What was listed long ago may be gone from the GPU.
    if (slot.work.round + 100 < round_) slot.work = {};
    do {
        slot.work.round = round_;
        if (slot.work.stage != StepWork::Stage::none) {
            better = work_timed(slot) || better;
            continue;
        }
        if (slot.steps >= steps_wanted) break;
        if (!shadowed || work_on_shadow(request)) begin_step(slot, request);
        if (slot.lacking) break;
    } while (has_time());
    return better;
}

} // namespace standpoint
