// Views and their pictures: what has to be drawn again, how well, and in how many steps.
#include "window/scene_drawing.h"

#include <algorithm>
#include <array>
#include <chrono>

#include <epoxy/gl.h>

#include "window/scene_drawing_camera.h"

namespace standpoint {

namespace {

using Clock = std::chrono::steady_clock;

constexpr int steps_wanted = 8;
constexpr double quick_seconds = 0.012;  // what a frame may spend on making pictures better
constexpr double wanted_seconds = 0.014; // of a moving picture
constexpr double rest_seconds = 0.12;    // after the last movement, before full quality
constexpr int most_pixels = 9'000'000;   // more are drawn smaller
constexpr double still_stray = 0.4;      // pixels
constexpr int shadow_size = 2048, moving_shadow_size = 1024;

double seconds_since(Clock::time_point start) {
    return std::chrono::duration<double>(Clock::now() - start).count();
}

// All that a picture depends on but tints and motion.
bool same_picture(const DrawRequest& a, const DrawRequest& b) {
    return a.staging == b.staging && a.camera == b.camera && a.size == b.size &&
           a.cut_height == b.cut_height && a.colours == b.colours && a.shadows == b.shadows &&
           a.hall_walls == b.hall_walls;
}

struct Slot {
    std::optional<DrawRequest> shown;
    Targets still, moving;
    int steps = 0; // of the still picture; 0: the moving one is shown
    bool finished = false;
    std::uint64_t details = 0; // of meshes, when it was drawn
    std::uint64_t round = 0;   // it was last asked for in
    Clock::time_point changed{};
};

// How much a moving picture may cost, learnt from what the last ones did.
struct Effort {
    double scale = 0.7;      // of width and height
    double stray = 1.0;      // pixels
    double step_seconds = 1; // of a step of a still picture
    double shadow_seconds = 1;

    void learn(double seconds) {
        if (seconds > wanted_seconds * 1.1) {
            stray = std::min(stray * 1.25, 4.0);
            scale = std::max(scale * 0.93, 0.4);
        } else if (seconds < wanted_seconds * 0.6) {
            scale = std::min(scale * 1.04, 1.0);
            if (scale > 0.8) stray = std::max(stray * 0.9, 0.7);
        }
    }
};

class GlDrawing : public SceneDrawing {
  public:
    explicit GlDrawing(Passes passes) : passes_(std::move(passes)) {}

    unsigned picture(int number, const DrawRequest& request) override;
    bool unfinished() const override;
    Facts facts() const override { return facts_; }

  private:
    bool is_quick(const Slot& slot, const DrawRequest& request) const;
    void serve(Slot& slot, const DrawRequest& request);
    void draw_moving(Slot& slot, const DrawRequest& request);
    void draw_steps(Slot& slot, const DrawRequest& request);
    void draw_step(Targets& to, const ViewSetting& setting, const DrawRequest& request, int step);
    void finish(Slot& slot, const DrawRequest& request);
    bool make_room(Targets& targets, const glm::ivec2& size);
    void draw_shadow(const DrawRequest& request, bool coarse);
    ViewSetting setting_for(const DrawRequest& request);
    DrawList listed(const ViewSetting& setting, const DrawRequest& request);

    Passes passes_;
    MeshStore store_;
    std::array<Slot, 16> slots_;
    ShadowMap shadow_;
    std::shared_ptr<const Staging> shadow_of_, boxed_;
    bool shadow_coarse_ = false;
    Box box_flat_, box_round_;
    StagedPiece floor_;
    glm::vec3 floor_colour_{-1.0f};
    Effort effort_;
    Facts facts_;
    std::uint64_t round_ = 1, details_ = 0;
    double spent_ = 0; // in this round, on making pictures better
    Clock::time_point moved_{};
};

bool GlDrawing::unfinished() const {
    return std::any_of(slots_.begin(), slots_.end(), [this](const Slot& slot) {
        return slot.shown && !slot.finished && slot.round + 1 >= round_;
    });
}

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
ViewSetting GlDrawing::setting_for(const DrawRequest& request) {
    if (boxed_ != request.staging) {
        boxed_ = request.staging;
        box_flat_ = shown_box(*boxed_, false);
        box_round_ = shown_box(*boxed_, true);
        floor_colour_ = glm::vec3(-1.0f);
    }
    const bool perspective = has_perspective(request.camera.kind);
    ViewSetting setting = setting_of(request, perspective ? box_round_ : box_flat_);
    if (!setting.floor.empty() && floor_colour_ != request.colours.floor) {
        floor_ = floor_piece(setting.floor, request.colours.floor);
        floor_colour_ = request.colours.floor;
    }
    return setting;
}

DrawList GlDrawing::listed(const ViewSetting& setting, const DrawRequest& request) {
    DrawList list = list_pieces(store_, setting.wish);
    if (!setting.floor.empty()) add_floor(store_, floor_, setting.wish, list);
    (void)request;
    return list;
}

void GlDrawing::draw_shadow(const DrawRequest& request, bool coarse) {
    if (shadow_of_ == request.staging && (coarse || !shadow_coarse_)) return;
    const int size = coarse ? moving_shadow_size : shadow_size;
    if (shadow_.size != size) shadow_ = make_shadow_map(size);
    const Clock::time_point start = Clock::now();
    ListWish wish = shadow_wish(*request.staging, shadow_);
    wish.stray_pixels = coarse ? 2.0 : 0.7;
    const DrawList list = list_pieces(store_, wish);
    passes_.upload(list);
    facts_.triangles += passes_.shadow(shadow_, list, glm::mat4(wish.projection));
    shadow_of_ = request.staging;
    shadow_coarse_ = coarse;
    glFinish();
    effort_.shadow_seconds = seconds_since(start);
}

void GlDrawing::draw_moving(Slot& slot, const DrawRequest& request) {
    const glm::ivec2 size =
        glm::max(glm::ivec2(glm::dvec2(request.size) * effort_.scale), glm::ivec2(1));
    // A scale that wavers would make textures all the time.
    const glm::ivec2 near = slot.moving.size - size;
    const bool fits = slot.moving.size.x > 0 && std::abs(near.x) * 16 < size.x &&
                      std::abs(near.y) * 16 < size.y + 16 && slot.moving.size.x <= request.size.x &&
                      slot.moving.size.y <= request.size.y;
    if (!fits && !make_room(slot.moving, size)) return;
    ViewSetting setting = setting_for(request);
    setting.scenery.full = false;
    setting.wish.stray_pixels =
        effort_.stray * static_cast<double>(request.size.x) / slot.moving.size.x;
    slot.steps = 0;
    draw_step(slot.moving, setting, request, 0);
}

void GlDrawing::draw_step(Targets& to, const ViewSetting& setting, const DrawRequest& request,
                          int step) {
    Scenery scenery = of_step(setting.scenery, to.size, step);
    if (!scenery.drawing && request.shadows) {
        draw_shadow(request, !scenery.full);
        set_shadow(scenery, shadow_, setting.wish.view);
    }
    const DrawList list = listed(setting, request);
    passes_.upload(list);
    facts_.triangles += passes_.surfaces(to, list, scenery);
    passes_.light(to, scenery, shadow_);
    facts_.triangles += passes_.glass(to, list, scenery);
}

void GlDrawing::draw_steps(Slot& slot, const DrawRequest& request) {
    if (!make_room(slot.still, request.size)) return;
    ViewSetting setting = setting_for(request);
    setting.wish.stray_pixels = still_stray * request.size.x / slot.still.size.x;
    const Clock::time_point start = Clock::now();
    do {
        const Clock::time_point step_start = Clock::now();
        draw_step(slot.still, setting, request, slot.steps);
        passes_.average(slot.still, slot.steps);
        ++slot.steps;
        glFinish();
        effort_.step_seconds = seconds_since(step_start);
    } while (slot.steps < steps_wanted &&
             seconds_since(start) + effort_.step_seconds < quick_seconds);
}

void GlDrawing::finish(Slot& slot, const DrawRequest& request) {
    const Targets& to = slot.steps > 0 ? slot.still : slot.moving;
    if (to.size.x == 0) return;
    passes_.finish(to, slot.steps > 0);
    if (request.tints.empty()) return;
    const glm::ivec4 area = tinted_area(request, to.size);
    if (area.z > 0 && area.w > 0)
        passes_.finish_tinted(to, slot.steps > 0, request.tints, request.staging->pieces.size(),
                              area);
}

// The camera of a slot that moved a moment ago is likely to move on.
bool GlDrawing::is_quick(const Slot& slot, const DrawRequest& request) const {
    if (effort_.step_seconds < quick_seconds) return false;
    if (request.moving) return true;
    return slot.shown && slot.shown->staging == request.staging &&
           slot.shown->size == request.size && !(slot.shown->camera == request.camera) &&
           seconds_since(slot.changed) < rest_seconds * 2;
}

void GlDrawing::serve(Slot& slot, const DrawRequest& request) {
    const bool same = slot.shown && same_picture(*slot.shown, request) &&
                      (!request.cut_height || slot.details == details_);
    const bool still_shown = slot.steps > 0;
    if (!same) {
        const bool quick = is_quick(slot, request);
        slot.steps = 0;
        slot.details = details_;
        quick ? draw_moving(slot, request) : draw_steps(slot, request);
        slot.changed = Clock::now();
        facts_.redrawn = true;
        if (quick) moved_ = slot.changed;
    } else if (!request.moving && slot.steps < steps_wanted && spent_ == 0 &&
               (still_shown || seconds_since(slot.changed) > rest_seconds) &&
               seconds_since(moved_) > rest_seconds) {
        draw_steps(slot, request);
        facts_.redrawn = true;
    }
    if (!facts_.redrawn && slot.shown && slot.shown->tints != request.tints) facts_.redrawn = true;
    slot.shown = request;
    if (facts_.redrawn) finish(slot, request);
    slot.finished = slot.steps >= steps_wanted && !(request.cut_height && store_.working());
}

unsigned GlDrawing::picture(int number, const DrawRequest& request) {
    STANDPOINT_CHECK(number >= 0 && number < static_cast<int>(slots_.size()));
    STANDPOINT_CHECK(request.staging != nullptr);
    STANDPOINT_CHECK(request.size.x >= 1 && request.size.y >= 1);
    Slot& slot = slots_[static_cast<std::size_t>(number)];
    if (slot.round == round_) { // asked for again: a new round
        ++round_;
        spent_ = 0;
    }
    slot.round = round_;
    facts_ = {};
    const Clock::time_point start = Clock::now();
    int frame = 0;
    glGetIntegerv(GL_DRAW_FRAMEBUFFER_BINDING, &frame);
    if (store_.take_details()) ++details_;
    store_.forget_unused();
    const bool better = slot.shown && same_picture(*slot.shown, request);
    serve(slot, request);
    if (facts_.redrawn) {
        glFinish();
        facts_.seconds = seconds_since(start);
        if (slot.steps == 0) effort_.learn(facts_.seconds);
        if (better) spent_ += facts_.seconds;
        glBindVertexArray(0);
        glUseProgram(0);
        glActiveTexture(GL_TEXTURE0);
        glBindFramebuffer(GL_FRAMEBUFFER, static_cast<unsigned>(frame));
    }
    const Targets& shown = slot.steps > 0 ? slot.still : slot.moving;
    facts_.finished = slot.finished;
    facts_.steps = slot.steps;
    facts_.size = shown.size;
    return shown.picture.name();
}

} // namespace

Result<std::unique_ptr<SceneDrawing>> SceneDrawing::create() {
    if (epoxy_gl_version() < 33)
        return io_error("OpenGL", "found a version below 3.3, expected 3.3 or later");
    STANDPOINT_TRY(passes, Passes::build());
    return std::unique_ptr<SceneDrawing>(std::make_unique<GlDrawing>(std::move(passes)));
}

} // namespace standpoint
