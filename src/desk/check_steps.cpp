// The checks step by step: walkway, then how pieces stand and a rough look, then the full look.
#include "desk/check_steps.h"

#include <algorithm>
#include <chrono>
#include <utility>

namespace standpoint {

namespace {

// Shares of the whole at which the steps end, as measured on the demo.
constexpr double staged_share = 0.03, walked_share = 0.06, stood_share = 0.10, looked_share = 0.16;

using Clock = std::chrono::steady_clock;

class Steps {
  public:
    Steps(const CheckRun& run, const FileAccess& files, const Progress& progress,
          const std::function<void(CheckOutcome)>& hand_over)
        : run_(run), files_(files), progress_(progress), hand_over_(hand_over),
          began_(Clock::now()) {}

    // Errors come back to the caller, who hands them over.
    Status go() {
        STANDPOINT_TRY_STATUS(make_solid());
        STANDPOINT_TRY_STATUS(walk());
        STANDPOINT_TRY(standing, check_standing(*staging_, rules_, run_.threads,
                                                part_of(progress_, walked_share, stood_share)));
        STANDPOINT_TRY_STATUS(look(CheckLevel::rough, run_.rough, standing,
                                   part_of(progress_, stood_share, looked_share)));
        return look(CheckLevel::full, run_.full, standing, part_of(progress_, looked_share, 1));
    }

    void fail(Error error) {
        if (error.code == ErrorCode::cancelled) return;
        // Errors of a check name a place in the document; the file goes in front.
        if (staging_ != nullptr && !run_.scene_file.empty())
            error.where =
                error.where.empty() ? run_.scene_file : run_.scene_file + " (" + error.where + ")";
        CheckOutcome outcome = outcome_of(CheckLevel::full);
        outcome.error = std::move(error);
        hand_over_(std::move(outcome));
    }

    const std::shared_ptr<const Staging>& staging() const { return staging_; }

  private:
    Status make_solid() {
        if (progress_.report) progress_.report(0, "making solids");
        const Staging none;
        STANDPOINT_TRY(staging, restage(run_.earlier ? *run_.earlier : none, run_.document,
                                        run_.scene_file, files_, StagedFor::checks));
        if (progress_.stop()) return Error{ErrorCode::cancelled, "stopped", ""};
        staging_ = std::make_shared<const Staging>(std::move(staging));
        index_ = make_ray_index(*staging_);
        if (progress_.report) progress_.report(staged_share, "walkway");
        return Done{};
    }

    Status walk() {
        STANDPOINT_TRY(rules, rules_in_force(*run_.document.rules));
        rules_ = std::move(rules);
        STANDPOINT_TRY(walkway, check_walkway(*staging_, rules_, run_.threads,
                                              part_of(progress_, staged_share, walked_share)));
        walkway_ = std::move(walkway);
        return deliver(CheckLevel::walkway, {}, {});
    }

    Status look(CheckLevel level, SightOptions options, const Standing& standing,
                const Progress& progress) {
        options.threads = run_.threads;
        STANDPOINT_TRY(sights, check_sightlines(*staging_, *index_, rules_, options, progress));
        return deliver(level, std::move(sights), standing);
    }

    CheckOutcome outcome_of(CheckLevel level) const {
        CheckOutcome outcome;
        outcome.revision = run_.revision;
        outcome.document = run_.document;
        outcome.level = level;
        outcome.staging = staging_;
        outcome.seconds = std::chrono::duration<double>(Clock::now() - began_).count();
        return outcome;
    }

    Status deliver(CheckLevel level, Sightlines sights, Standing standing) {
        if (progress_.stop()) return Error{ErrorCode::cancelled, "stopped", ""};
        CheckOutcome outcome = outcome_of(level);
        for (const TargetSights& target : sights.targets)
            for (const Sight& sight : target.sights)
                outcome.largest_standard_error =
                    std::max(outcome.largest_standard_error, sight.standard_error);
        FigureReads figures =
            level == CheckLevel::walkway ? FigureReads{} : check_figure_reads(*staging_, rules_);
        outcome.results = joined_results(rules_, std::move(sights), walkway_, std::move(standing),
                                         std::move(figures));
        hand_over_(std::move(outcome));
        return Done{};
    }

    const CheckRun& run_;
    const FileAccess& files_;
    const Progress& progress_;
    const std::function<void(CheckOutcome)>& hand_over_;
    Clock::time_point began_;
    std::shared_ptr<const Staging> staging_;
    std::unique_ptr<const RayIndex> index_; // over *staging_
    std::vector<Rule> rules_;
    Walkway walkway_;
};

} // namespace

SightOptions rough_sight_options() {
    SightOptions options;
    options.replicates = 2; // the fewest: of so few samples, long even runs tell most
    options.per_replicate = 32;
    options.least_between = 32;
    options.most_per_replicate = 32;
    return options;
}

Progress part_of(const Progress& whole, double from, double to) {
    Progress part;
    part.cancelled = whole.cancelled;
    if (whole.report)
        part.report = [report = whole.report, from, to](double share, std::string_view what) {
            report(from + (to - from) * std::clamp(share, 0.0, 1.0), what);
        };
    return part;
}

std::shared_ptr<const Staging> run_check_steps(const CheckRun& run, const FileAccess& files,
                                               const Progress& progress,
                                               const std::function<void(CheckOutcome)>& hand_over) {
    Steps steps(run, files, progress, hand_over);
    const Status done = steps.go();
    if (!done.ok()) steps.fail(done.error());
    return steps.staging();
}

} // namespace standpoint
