// Sightlines: what share of each target every visitor sees from every station and lane.
#pragma once

#include <string>
#include <vector>

#include "base/parallel.h"
#include "check/results.h"
#include "check/stations.h"
#include "shape/ray_index.h"

namespace standpoint {

// Why a target is not seen at a station, the first that applies; `seen` when it is.
enum class SightReason {
    seen,
    turned_away,    // nothing of the patch turns to the eye
    beyond_facing,  // the eye is outside the facing limit
    hidden_by_self, // the target's own piece alone hides too much
    hidden_by_others,
    too_far, // smallest detail or apparent size under the rule's
};
inline constexpr const char* sight_reason_names[] = {"seen",
                                                     "turned away",
                                                     "beyond the facing limit",
                                                     "hidden by itself",
                                                     "hidden by others",
                                                     "too far for its detail"};

struct Blocker {
    std::uint32_t piece = 0; // index into Staging::pieces
    double gain = 0;         // V gained if it alone were gone
};

// One target, visitor, station and lane. Each sample of the patch (area a, unit normal n, at the
// distance r from the eye along the unit direction d) weighs w = a * max(0, n.d) / r^2.
struct Sight {
    SightReason reason = SightReason::turned_away;
    double alone = 0;              // sum of w not hidden by the patch itself: steradians
    double visible = 0;            // sum of w not hidden by anything: steradians
    double share = 0;              // V = visible / alone; 0 when turned away
    double standard_error = 0;     // of V, from the replicates
    int samples = 0;               // of the patch, all replicates together
    double angle_across = 0;       // apparent size, degrees
    double detail = 0;             // arcmin of the smallest detail; 0: none stated
    bool outside_cone = false;     // outside the comfortable vertical cone
    std::vector<Blocker> blockers; // gains above 0, largest first, ties by piece
};
// Turned away or beyond the facing limit: no rays are traced, so alone to standard_error stay 0
// and there are no blockers. A hide target counts as seen as soon as any of it shows.

struct TargetSights { // one target and visitor
    std::string target, visitor;
    Aim aim = Aim::see;
    std::vector<Sight> sights; // station-major: station * lane_count + lane
    double share_of_path = 0;  // length-weighted share of stations and lanes where it is seen
    std::optional<double> first_seen; // mm along the path, least over the lanes
    double longest_run = 0;           // mm of unbroken path in one lane, first to last seen station
};

struct HideExposure { // a hide target at its worst
    std::string target;
    double greatest_share = 0; // V
    std::uint64_t samples = 0; // sight lines tried
    std::uint64_t open = 0;    // of them not blocked
    std::string visitor;       // of the worst; empty: anyone who leans over the path's edge
    double distance = 0;
    int lane = 0; // -1: leaning over the left edge; lane_count: over the right
    glm::dvec3 eye{0.0};
    double length_exposed = 0; // mm of path from which any of it shows, any lane or visitor
};

struct Sightlines {
    std::vector<Station> stations;
    std::vector<TargetSights> targets; // target-major in document order, then visitor
    std::vector<HideExposure> hidden;
    std::uint64_t rays = 0;
    std::vector<Finding> findings;
};

struct SightOptions {
    int replicates = 8;     // at least 2, for the standard error
    int per_replicate = 64; // to begin with: enough to tell all or nothing from something between
    // What lies between gets at least this many, because the error of so few replicates is itself
    // a guess; then they are doubled until the error is small enough.
    int least_between = 256;
    int most_per_replicate = 2048;
    double largest_error = 0.02; // of V, at 95 %
    unsigned threads = 0;        // 0: all of the machine; never changes the result
};

// A target whose piece is switched off makes a note and no sights. Errors: a patch that names what
// its piece does not have (input), cancelled.
Result<Sightlines> check_sightlines(const Staging& staging, const RayIndex& index,
                                    const std::vector<Rule>& rules, const SightOptions& options,
                                    const Progress& progress);

// With none open in this many independent tries, the share that is open is below this with 95 %
// confidence: the rule of three, 3 / tries.
double at_most_share(std::uint64_t tries);

} // namespace standpoint
