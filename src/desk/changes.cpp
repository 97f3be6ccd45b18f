// Two outcomes of the checks compared: targets, least widths, and the summary of all.
#include "desk/changes.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "desk/finding_changes.h"
#include "desk/strip.h"

namespace standpoint {

namespace {

Trend trend_of(double before, double after, double tolerance, bool more_is_better) {
    if (std::abs(after - before) <= tolerance) return Trend::same;
    return (after > before) == more_is_better ? Trend::better : Trend::worse;
}

// -- targets --

// Whole percent; tenths where two values would read alike; never 0 or 100 for less or more.
std::string percent(double share, bool tenths) {
    if (tenths) return share_text(share);
    const double whole = std::round(share * 100);
    if (share > 0 && whole < 1) return "under 1 %";
    if (share < 1 && whole > 99) return "99 %";
    return fmt::format("{:.0f} %", whole);
}

std::string share_change(const TargetChange& change) {
    const char* shown = change.aim == Aim::hide ? "shows from " : "";
    if (!change.before)
        return fmt::format("new: {}{} of the path", shown, percent(*change.after, false));
    const bool alike = percent(*change.before, false) == percent(*change.after, false);
    if (change.trend == Trend::same)
        return fmt::format("{}{} of the path, as before", shown, percent(*change.after, false));
    return fmt::format("{}{} → {} of the path", shown, percent(*change.before, alike),
                       percent(*change.after, alike));
}

struct Measured { // one row of one side
    std::optional<double> share;
    double tolerance = 0;
};

// Ends of what shows are found this far apart at most (sight_hide.h), two at each stretch.
constexpr double hide_slack_mm = 50;

Measured measured(const CheckOutcome& outcome, const StripRow& row) {
    if (!row.checked || row.cells.empty()) return {};
    if (row.aim == Aim::see) return {row.share_of_path, row.doubtful};
    const double length = path_length(*outcome.document.path);
    if (!row.exposed_mm || length <= 0) return {row.share_of_path, row.doubtful};
    return {*row.exposed_mm / length,
            std::max(outcome.rough() ? station_step_mm : 0.0, hide_slack_mm) / length};
}

const StripRow* row_of(const std::vector<StripRow>& rows, const std::string& target) {
    for (const StripRow& row : rows)
        if (row.target == target) return &row;
    return nullptr;
}

TargetChange target_change(const StripRow& now, const Measured& before, const Measured& after,
                           bool was_there, bool is_there) {
    TargetChange change;
    change.target = now.target;
    change.name = now.name;
    change.aim = now.aim;
    change.before = before.share;
    change.after = after.share;
    change.tolerance = std::max(before.tolerance, after.tolerance) + 1e-9;
    if (before.share && after.share)
        change.trend = trend_of(*before.share, *after.share, change.tolerance, now.aim == Aim::see);
    std::string what;
    if (!is_there)
        what = "no longer a target";
    else if (!after.share)
        what = "not checked, because its piece is switched off";
    else if (!before.share && was_there)
        what = fmt::format("checked again: {} of the path", percent(*after.share, false));
    else
        what = share_change(change);
    change.text = now.name + ": " + what;
    return change;
}

std::vector<TargetChange> target_changes(const CheckOutcome& before, const CheckOutcome& after) {
    const std::vector<StripRow> was = strip_rows(before), is = strip_rows(after);
    std::vector<TargetChange> changes;
    for (const StripRow& row : is) {
        const StripRow* old = row_of(was, row.target);
        // A target that is to be hidden now and was to be seen before is another one.
        const bool same = old != nullptr && old->aim == row.aim;
        changes.push_back(target_change(row, same ? measured(before, *old) : Measured{},
                                        measured(after, row), same, true));
    }
    for (const StripRow& row : was)
        if (row_of(is, row.target) == nullptr)
            changes.push_back(target_change(row, measured(before, row), {}, true, false));
    return changes;
}

// -- widths --

std::optional<double> least_headroom(const Walkway& walkway) {
    std::optional<double> least;
    for (const HeadroomAt& at : walkway.headroom)
        least = std::min(at.height, least.value_or(at.height));
    return least;
}

std::optional<double> least_width(const Walkway& walkway) {
    return walkway.widths.empty() ? std::nullopt : std::optional(walkway.width);
}

LengthChange length_change(const char* name, std::optional<double> before,
                           std::optional<double> after, const Document& document) {
    LengthChange change{before, after, Trend::same, ""};
    const auto said = [&](double mm) { return length_text(document, mm); };
    if (!after) {
        change.text = fmt::format("{}: there is no path to measure", name);
    } else if (!before) {
        change.text = fmt::format("{}: {}", name, said(*after));
    } else {
        change.trend = trend_of(*before, *after, 2 * width_slack_mm, true);
        change.text = change.trend == Trend::same
                          ? fmt::format("{}: {}, as before", name, said(*after))
                          : fmt::format("{}: {} → {}", name, said(*before), said(*after));
    }
    return change;
}

// -- all of it --

void count(Trend trend, Changes& changes) {
    if (trend == Trend::better) ++changes.better;
    if (trend == Trend::worse) ++changes.worse;
}

std::string summary_of(const Changes& changes) {
    if (!changes.compared) return "Nothing to compare with yet";
    std::string text;
    if (changes.better > 0) text += fmt::format("{} better", changes.better);
    if (changes.worse > 0)
        text += fmt::format("{}{} worse", text.empty() ? "" : ", ", changes.worse);
    if (text.empty()) text = "Nothing better or worse";
    return text + (changes.rough ? ", by a first, rough answer" : "");
}

} // namespace

Changes compare_checks(const CheckOutcome& before, const CheckOutcome& after) {
    Changes changes;
    if (before.results && after.results) {
        const Walkway &was = before.results->walkway, &is = after.results->walkway;
        changes.compared = true;
        changes.rough = before.rough() || after.rough();
        if (before.has_sights() && after.has_sights())
            changes.targets = target_changes(before, after);
        changes.findings = compare_findings(before, after);
        changes.width =
            length_change("Narrowest width", least_width(was), least_width(is), after.document);
        changes.headroom = length_change("Least headroom", least_headroom(was), least_headroom(is),
                                         after.document);
        for (const TargetChange& change : changes.targets)
            count(change.trend, changes);
        for (const FindingChange& change : changes.findings)
            count(trend_of_finding(before, after, change), changes);
        count(changes.width.trend, changes);
        count(changes.headroom.trend, changes);
    }
    changes.summary = summary_of(changes);
    return changes;
}

} // namespace standpoint
