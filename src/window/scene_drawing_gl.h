// Views and their pictures, and the work of drawing them a piece at a time.
#pragma once

#include <array>
#include <chrono>

#include "window/scene_drawing_effort.h"
#include "window/scene_drawing_slot.h"

namespace standpoint {

inline constexpr int steps_wanted = 8;
// A still picture that takes no longer needs no moving one before it.
inline constexpr double quick_step_seconds = 0.006;

inline double seconds_since(std::chrono::steady_clock::time_point start) {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

class GlDrawing : public SceneDrawing {
  public:
    explicit GlDrawing(Passes passes) : passes_(std::move(passes)) {}
    void warm_up(); // draws a trifle of everything once, so that the driver has compiled it

    unsigned picture(int number, const DrawRequest& request) override;
    bool unfinished() const override;
    std::uint64_t edition(unsigned texture) const override;
    bool is_solid(unsigned texture) const override;
    glm::vec4 changed_since(unsigned texture, std::uint64_t edition) const override;
    Facts facts() const override { return facts_; }

  private:
    using Clock = std::chrono::steady_clock;

    void begin_round();
    void look_at(const std::shared_ptr<const Staging>& staging);
    bool has_turn(const Slot& slot, const DrawRequest& request) const;
    bool may_get_better(const Slot& slot, const DrawRequest& request) const;
    bool is_seen(const Slot& slot) const { return slot.round != 0 && slot.round + 1 >= round_; }
    void serve(Slot& slot, const DrawRequest& request);
    bool draw_anew(Slot& slot, const DrawRequest& request);
    bool draw_moving(Slot& slot, const DrawRequest& request);
    std::size_t pane_over(Slot& slot, const DrawList& list, const Scenery& scenery,
                          const glm::ivec4& area);
    bool make_moving_room(Slot& slot, const DrawRequest& request);
    void draw_moving_whole(Slot& slot, const DrawRequest& request, ViewSetting& setting,
                           const Scenery& scenery);
    void draw_moving_part(Slot& slot, const DrawRequest& request, ViewSetting& setting,
                          const Scenery& scenery, const glm::ivec4& area);
    std::optional<glm::ivec4> part_of(const Slot& slot, const DrawRequest& request,
                                      const ViewSetting& setting, const Scenery& scenery) const;
    bool get_better(Slot& slot, const DrawRequest& request);
    void begin_step(Slot& slot, const DrawRequest& request);
    bool work_on(Slot& slot);
    bool work_timed(Slot& slot);
    void work_on_surfaces(const Targets& to, StepWork& work);
    void work_on_light(const Targets& to, StepWork& work);
    bool work_on_shadow(const DrawRequest& request);
    void finish(Slot& slot, const DrawRequest& request);
    bool make_room(Targets& targets, const glm::ivec2& size);
    Box box_for(const DrawRequest& request);
    ViewSetting setting_for(const DrawRequest& request, const Box& box);
    Box moving_box(const Slot& slot, const DrawRequest& request);
    DrawList listed(const ViewSetting& setting);
    bool has_time() const;

    Passes passes_;
    GpuMeshStore store_;
    std::array<Slot, 16> slots_;
    std::array<std::uint64_t, 16> editions_{};
    ShadowMap shadow_;
    std::shared_ptr<const Staging> shadow_of_, boxed_, looked_at_;
    ShadowWork shadow_work_;
    Box box_flat_, box_round_;
    StagedPiece floor_;
    glm::vec3 floor_colour_{-1.0f};
    Effort effort_;
    double step_seconds_ = 1; // of the last whole step
    Facts facts_;
    std::uint64_t round_ = 1, details_ = 0;
    double spent_ = 0;                 // in this round
    bool leads_ = false, led_ = false; // a view leads; it was drawn in this round
    bool late_served_ = false;         // in this round
    Clock::time_point moved_{}, called_{};
};

} // namespace standpoint
