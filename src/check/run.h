// The one place that runs every check.
#pragma once

#include "base/files.h"
#include "check/reads.h"
#include "check/sightlines.h"
#include "check/standing.h"
#include "check/walkway.h"

namespace standpoint {

struct CheckOptions {
    SightOptions sight;
    unsigned threads = 0;
};

struct CheckResults {
    std::vector<Rule> rules; // in force
    Sightlines sightlines;
    Walkway walkway;
    Standing standing;
    FigureReads figures;
    std::vector<Finding> findings; // of all checks, sorted
};

Result<CheckResults> run_checks(const Staging& staging, const CheckOptions& options,
                                const Progress& progress);

// The same with an index that is there already, over all of the staging.
Result<CheckResults> run_checks(const Staging& staging, const RayIndex& index,
                                const CheckOptions& options, const Progress& progress);

// What the checks found put together, for callers that run them one by one.
CheckResults joined_results(std::vector<Rule> rules, Sightlines sightlines, Walkway walkway,
                            Standing standing, FigureReads figures);

// Results as JSON after src/check/results.schema.json: stable order, shortest exact numbers. The
// long rows of numbers by station are rounded to the steps the schema states, which are far finer
// than their own error.
std::string results_json(const Staging& staging, const CheckResults& results);

// Readable lines, the gravest first, with a count and the cautions at the end.
std::string results_text(const Staging& staging, const CheckResults& results);

// The cautions that go wherever a result is shown, one sentence each.
const std::vector<std::string>& cautions();

} // namespace standpoint
