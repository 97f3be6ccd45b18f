// What an edit did: two outcomes of the checks compared, in words, each better or worse or the
// same.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "desk/check_outcome.h"

namespace standpoint {

enum class Trend { better, worse, same };

struct TargetChange { // targets of either, in the new document's order, then those that are gone
    std::string target, name;
    Aim aim = Aim::see;
    // Share of the path it is seen from, visitors folded in as in the strip; nothing: not there, or
    // not checked. Of a target to hide: from which any of it shows.
    std::optional<double> before, after;
    double tolerance = 0; // a difference up to this may be chance
    Trend trend = Trend::same;
    std::string text; // "Tea seller's face: 41 % → 78 % of the path"
};

enum class Fate { gone, fresh, better, worse, same };

struct FindingChange {
    Fate fate = Fate::same;
    std::optional<std::size_t> before, after; // indices into CheckResults::findings
    std::string text;                         // in words what became of it
};

struct LengthChange {                    // mm, the least along the path
    std::optional<double> before, after; // nothing: no path, no way
    Trend trend = Trend::same;
    std::string text; // "Narrowest width: 815 mm → 914 mm"
};

struct Changes {
    std::vector<TargetChange> targets;   // empty unless both outcomes have sights
    std::vector<FindingChange> findings; // those there now in their order, then the gone
    LengthChange width, headroom;
    int better = 0, worse = 0; // of targets, findings, width and headroom
    bool rough = false;        // one of the two was
    bool compared = false;     // false: there was nothing to compare
    std::string summary;       // "2 better, 1 worse"; "Nothing changed"
};

// Outcomes without results compare to nothing. Findings of checks that one of the two levels leaves
// out are not compared.
Changes compare_checks(const CheckOutcome& before, const CheckOutcome& after);

// What stays the same about a finding while pieces are moved: its check, subject and rule, and the
// pieces it names (not for sightlines, where the piece to blame is part of the answer). Several
// pinches may have one key.
std::string finding_key(const Finding& finding);

} // namespace standpoint
