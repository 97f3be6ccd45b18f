// What a run of the checks in the background hands over: for which document, and how good it is.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>

#include "check/run.h"

namespace standpoint {

// How far the checks have come; each level holds all of those before it.
enum class CheckLevel {
    walkway, // widths and headroom; no sights, nothing of how pieces stand
    rough,   // how pieces stand as well, and sights from few samples
    full,    // as the command line gives it
};

struct CheckOutcome {
    std::uint64_t revision = 0; // as the caller named the document
    Document document;
    CheckLevel level = CheckLevel::full;
    std::shared_ptr<const Staging> staging; // null when it could not be made solid
    std::optional<CheckResults> results;    // nothing when there is an error
    std::optional<Error> error;             // input or io; never "cancelled"
    double largest_standard_error = 0;      // of V, over all sights
    double seconds = 0;                     // from the start of the run until this was known

    bool rough() const { return level != CheckLevel::full; }
    bool has_sights() const { return results.has_value() && level != CheckLevel::walkway; }
};

} // namespace standpoint
