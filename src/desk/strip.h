// The sight strip: what is seen of each target against the distance along the path, and how wide
// the way is there. Numbers and words only.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "desk/check_outcome.h"

namespace standpoint {

struct StripCell {           // one station
    double from = 0, to = 0; // mm along the path, half-way to the neighbours; cells meet
    double station = 0;      // where the eyes are, mm along the path
    // Share of the eyes that see the target (the findings' "on average" counts visitors alike):
    // visitors by their share of the audience (alike when none is stated), lanes alike. Of a target
    // to hide: from which any of it shows.
    double value = 0;
    // Given most often by those that do not see it, the first of SightReason among equals; `seen`
    // when all do.
    SightReason reason = SightReason::seen;
    double standard_error = 0; // of V, the greatest of the sights folded in
    double doubtful = 0; // share of the eyes whose V is within 1.96 standard errors of its limit
};

struct StripRow {
    std::string target, name, piece;
    Aim aim = Aim::see;
    std::string visitor, visitor_name; // empty: all visitors folded in
    bool known = true;                 // false: no check has told of it yet, no cells
    bool checked = true;               // false: its piece is switched off, no cells
    std::vector<StripCell> cells;      // one a station, in order
    double share_of_path = 0;          // mean of the values by length
    double doubtful = 0; // mean of the cells' by length: how far share_of_path may be off
    std::optional<double> exposed_mm; // hide targets once looked for in full, leaning included
};

// "41 %": of the path, seen from it; "shows 7 %": of the path, from which any of what should be
// hidden shows. That counts visitors who lean over the edges, as the finding does, once they were
// looked for; `strip_row_words` says which it is. "off": not checked;
// empty: not known yet.
std::string share_words(const StripRow& row);
// The same at length, for a tooltip.
std::string strip_row_words(const CheckOutcome& outcome, const StripRow& row);

// How good a value is for its aim: 1 all well, 0 all wrong.
double goodness(const StripRow& row, const StripCell& cell);

// Targets in document order; after one named in `unfolded` (target ids) a row a visitor. Empty when
// the outcome has no sights.
std::vector<StripRow> strip_rows(const CheckOutcome& outcome,
                                 const std::vector<std::string>& unfolded = {});

// The same rows before a check has told anything of them: no cells, nobody unfolded.
std::vector<StripRow> waiting_rows(const Document& document);

// Index of the cell that holds a distance; the ends hold what lies beyond. Nothing: no cells.
std::optional<std::size_t> cell_at(const StripRow& row, double distance);

// For a tooltip, one line each: where, who sees it, who does not and why, the first blocker's id;
// visitors of whom the same can be said share a line.
std::vector<std::string> cell_words(const CheckOutcome& outcome, const StripRow& row,
                                    std::size_t cell);

// Ids of the staged pieces that hide `look_at` (a target, else the first target of that piece) from
// one eye, the one that costs most first. `visitor` empty: the scene's first. Empty when nothing is
// known of it.
std::vector<std::string> blockers_at(const CheckOutcome& outcome, const std::string& look_at,
                                     const std::string& visitor, double distance, int lane);

struct WidthCell {
    double from = 0, to = 0; // mm along the path; cells meet
    WidthAt at;
    double headroom = 0; // mm
    bool narrow = false; // under the limit
    bool low = false;    // headroom under its limit
};

struct WidthPinch {          // a finding of the walkway
    std::size_t finding = 0; // index into CheckResults::findings
    double distance = 0;
    double width = 0;
    Grade grade = Grade::fail;
    std::string text; // "815 mm of 914 mm between Crate and Lamp post"
};

struct WidthStrip {
    std::vector<WidthCell> cells;
    double path_width = 0;     // mm: nothing is wider
    double limit = 0;          // the strictest rule on the width, mm
    std::string limit_source;  // its source
    double headroom_limit = 0; // mm
    std::optional<WidthAt> narrowest;
    std::vector<WidthPinch> pinches; // along the path
};

WidthStrip width_strip(const CheckOutcome& outcome); // empty when there are no results

// "At 3250 mm the way is 1250 mm wide, between Hut and the edge of the path", and the limits.
std::vector<std::string> width_words(const CheckOutcome& outcome, const WidthStrip& strip,
                                     std::size_t cell);

} // namespace standpoint
