// Which pictures have to be drawn again, in what order, and how well.
#include "window/scene_drawing.h"

#include <algorithm>

#include <epoxy/gl.h>

#include "window/scene_drawing_gl.h"

namespace standpoint {

namespace {

constexpr double round_seconds = 0.009; // what a frame may spend on all pictures
constexpr double rest_seconds = 0.12;   // after the last movement, before full quality
constexpr double first_upload_seconds = 0.12, upload_seconds = 0.004; // of meshes, a frame
constexpr int longest_behind = 3;                                     // frames

// All that a picture depends on but tints and motion.
bool same_picture(const DrawRequest& a, const DrawRequest& b) {
    return a.staging == b.staging && a.camera == b.camera && a.size == b.size &&
           a.cut_height == b.cut_height && a.colours == b.colours && a.shadows == b.shadows &&
           a.hall_walls == b.hall_walls;
}

} // namespace

bool GlDrawing::unfinished() const {
    return std::any_of(slots_.begin(), slots_.end(),
                       [this](const Slot& slot) { return is_seen(slot) && !slot.finished; });
}

std::uint64_t GlDrawing::edition(unsigned texture) const {
    for (std::size_t i = 0; i < slots_.size(); ++i)
        if (texture != 0 && slots_[i].picture().picture.name() == texture) return editions_[i];
    return 0;
}

bool GlDrawing::is_solid(unsigned texture) const {
    return std::any_of(slots_.begin(), slots_.end(), [&](const Slot& slot) {
        return texture != 0 && slot.shown && slot.picture().picture.name() == texture &&
               has_perspective(slot.shown->camera.kind);
    });
}

glm::vec4 GlDrawing::changed_since(unsigned texture, std::uint64_t edition) const {
    for (std::size_t i = 0; i < slots_.size(); ++i) {
        if (texture == 0 || slots_[i].picture().picture.name() != texture) continue;
        if (edition == editions_[i]) return glm::vec4(0.0f);
        if (edition + 1 == editions_[i] && slots_[i].texture_before == texture)
            return slots_[i].changed;
    }
    return {0, 0, 1, 1};
}

bool GlDrawing::has_time() const {
    return spent_ + seconds_since(called_) < round_seconds;
}

// The view that is worked in is drawn in every frame; of the others those for which there is time,
// and in each frame one that has waited too long.
bool GlDrawing::has_turn(const Slot& slot, const DrawRequest& request) const {
    if (request.leading) return true;
    const std::uint64_t since = slot.behind ? slot.behind_since : round_;
    const auto waits_longer = [&](const Slot& other) {
        return &other != &slot && is_seen(other) && other.behind && other.behind_since < since;
    };
    if (std::any_of(slots_.begin(), slots_.end(), waits_longer)) return false;
    if (since + longest_behind <= round_ && !late_served_) return true;
    if (spent_ == 0 && !leads_) return true;
    const double kept_free = leads_ && !led_ ? round_seconds / 2 : 0;
    return spent_ + kept_free + effort_.moving_seconds(request.size) < round_seconds;
}

// A still picture of the request's, if that is as quick; else one of something that moves.
bool GlDrawing::draw_anew(Slot& slot, const DrawRequest& request) {
    slot.steps = 0;
    slot.work = {};
    slot.lacking = false;
    slot.details = details_;
    slot.changed_at = Clock::now();
    if (step_seconds_ < quick_step_seconds && get_better(slot, request)) return true;
    moved_ = slot.changed_at;
    slot.steps = 0;
    slot.work = {};
    return draw_moving(slot, request);
}

// Not while things move or meshes arrive; views take turns.
bool GlDrawing::may_get_better(const Slot& slot, const DrawRequest& request) const {
    if (request.moving || slot.lacking || slot.steps >= steps_wanted) return false;
    // What fills a cut, or whether a pane is closed, is still to come.
    if ((request.cut_height || slot.unsure) && store_.working()) return false;
    if (seconds_since(moved_) < rest_seconds && step_seconds_ >= quick_step_seconds) return false;
    return std::none_of(slots_.begin(), slots_.end(), [&](const Slot& other) {
        return &other != &slot && is_seen(other) && !other.finished && other.steps < slot.steps;
    });
}

void GlDrawing::begin_round() {
    leads_ = led_;
    led_ = late_served_ = false;
    ++round_;
    spent_ = 0;
    store_.start_frame(upload_seconds);
}

// A scene that was opened has many meshes to bring; an edit has few.
void GlDrawing::look_at(const std::shared_ptr<const Staging>& staging) {
    if (looked_at_ == staging) return;
    looked_at_ = staging;
    std::size_t known = 0;
    for (const StagedPiece& piece : staging->pieces)
        known += store_.knows(piece) ? 1 : 0;
    if (known * 2 > staging->pieces.size()) return;
    store_.start_frame(first_upload_seconds);
    shadow_of_ = nullptr; // of quite another scene
}

void GlDrawing::serve(Slot& slot, const DrawRequest& request) {
    const bool same = slot.shown && same_picture(*slot.shown, request) && !slot.lacking &&
                      ((!request.cut_height && !slot.unsure) || slot.details == details_);
    bool redrawn = false;
    if (!same) {
        if (!has_turn(slot, request)) {
            if (!slot.behind) slot.behind_since = round_;
            slot.behind = true;
            return;
        }
        late_served_ = late_served_ || !request.leading;
        slot.behind = false;
        redrawn = draw_anew(slot, request);
    } else if (has_time() && may_get_better(slot, request)) {
        redrawn = get_better(slot, request);
    }
    redrawn = redrawn || (slot.shown && slot.shown->tints != request.tints);
    slot.shown = request;
    if (redrawn) finish(slot, request);
    facts_.redrawn = redrawn;
}

unsigned GlDrawing::picture(int number, const DrawRequest& request) {
    STANDPOINT_CHECK(number >= 0 && number < static_cast<int>(slots_.size()));
    STANDPOINT_CHECK(request.staging != nullptr);
    STANDPOINT_CHECK(request.size.x >= 1 && request.size.y >= 1);
    const auto index = static_cast<std::size_t>(number);
    Slot& slot = slots_[index];
    called_ = Clock::now();
    if (slot.round == round_) begin_round(); // asked for again
    if (!is_seen(slot)) slot.work = {};      // what it lists may be gone
    slot.round = round_;
    led_ = led_ || request.leading;
    facts_ = {};
    slot.part = std::nullopt;
    const unsigned before = slot.picture().picture.name();
    int frame = 0;
    glGetIntegerv(GL_DRAW_FRAMEBUFFER_BINDING, &frame);
    if (store_.take_details()) ++details_;
    store_.forget_unused();
    look_at(request.staging);
    serve(slot, request);
    if (facts_.redrawn) {
        glFinish();
        ++editions_[index];
        slot.texture_before = before;
    }
    glBindVertexArray(0);
    glUseProgram(0);
    glActiveTexture(GL_TEXTURE0);
    glBindFramebuffer(GL_FRAMEBUFFER, static_cast<unsigned>(frame));
    slot.finished = slot.steps >= steps_wanted && !slot.behind && !slot.lacking &&
                    !((request.cut_height || slot.unsure) && store_.working());
    facts_.finished = slot.finished;
    facts_.steps = slot.steps;
    facts_.size = slot.picture().size;
    facts_.uploads = store_.uploads();
    facts_.seconds = seconds_since(called_);
    spent_ += facts_.seconds;
    return slot.shown ? slot.picture().picture.name() : 0;
}

Result<std::unique_ptr<SceneDrawing>> SceneDrawing::create() {
    if (epoxy_gl_version() < 33)
        return io_error("OpenGL", "found a version below 3.3, expected 3.3 or later");
    STANDPOINT_TRY(passes, Passes::build());
    auto drawing = std::make_unique<GlDrawing>(std::move(passes));
    drawing->warm_up();
    return std::unique_ptr<SceneDrawing>(std::move(drawing));
}

} // namespace standpoint
