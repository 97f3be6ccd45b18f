// The checks step by step, each step's outcome handed over as soon as it is known.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <string>

#include "base/files.h"
#include "desk/check_outcome.h"

namespace standpoint {

// Few samples, for a first answer. On the demo V is 0.03 off the full answer (root mean square of
// what is partly seen), a verdict differs in 1 of 120 sights, and a share of the path by up to 6 %.
SightOptions rough_sight_options();

struct CheckRun {
    Document document;
    std::string scene_file;
    std::uint64_t revision = 0;
    std::shared_ptr<const Staging>
        earlier;          // of the same scene file, whose meshes are shared; or null
    unsigned threads = 0; // 0: all of the machine
    SightOptions rough = rough_sight_options();
    SightOptions full;
};

// Stages the document and checks it: hands over the walkway, a rough answer and the full one, or
// the first error and nothing more. Once it is cancelled nothing more is handed over. Returns the staging, for the next run; null when there is none.
std::shared_ptr<const Staging> run_check_steps(const CheckRun& run, const FileAccess& files,
                                               const Progress& progress,
                                               const std::function<void(CheckOutcome)>& hand_over);

// A part of a longer job: shares 0..1 become `from`..`to`.
Progress part_of(const Progress& whole, double from, double to);

} // namespace standpoint
