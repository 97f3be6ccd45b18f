// Small scenes of Low Water, built by hand, for the tests of sightlines.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "check/run.h"
#include "check/sight_trace.h"
#include "scene/document.h"
#include "shape/primitives.h"
#include "shape/ray_index.h"

namespace standpoint::support {

class SightScene {
  public:
    SightScene(); // nothing staged; a path along X at Y = -2000, 3 m long and 1 m wide; one adult

    // Adds a piece of one part at scene `origin`, turned by `facing`, enlarged by `scale`.
    std::uint32_t add(const std::string& id, const Form& form, const glm::dvec3& origin,
                      double facing = 0, double tilt = 0, double scale = 1, float lets_through = 0,
                      PieceKind kind = PieceKind::prop);
    Target& add_target(const std::string& id, const std::string& piece, Aim aim = Aim::see);
    void set_path(std::vector<PlanPoint> points, double width);
    void set_visitors(std::vector<Visitor> visitors);
    void set_rules(RuleChoice rules);
    void remove(const std::string& id);
    void move_all(const Frame& by); // pieces and path; no tilt

    // Built anew each time.
    Staging staging() const;

  private:
    Document document_;
    std::vector<StagedPiece> pieces_;
    std::vector<std::shared_ptr<Target>> targets_;
};

Visitor adult(double eye_height = 1600, double setback = 150);

// What one eye sees of the scene's first target.
struct Look {
    double share = 0, standard_error = 0, alone = 0, facing = 0;
    std::vector<Blocker> gained; // w
};
Look look(const Staging& staging, const glm::dvec3& eye, const SightOptions& options = {});

// The first target made ready with the rules in force.
SightTarget prepared(const Staging& staging, const SightOptions& options = {});

// Always this many samples a replicate, whatever the error.
SightOptions fixed_samples(int per_replicate, unsigned threads = 0);

Sightlines sightlines_of(const Staging& staging, const SightOptions& options = {});
CheckResults results_of(const Staging& staging, const Sightlines& sightlines);

} // namespace standpoint::support
