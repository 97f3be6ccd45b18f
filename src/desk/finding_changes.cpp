// Matches findings by what stays the same about them, and says what became of each.
#include "desk/finding_changes.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include <fmt/format.h>

#include "desk/sight_limits.h"

namespace standpoint {

namespace {

// What a finding on a target speaks of; the rule is part of the answer to whether it is seen.
std::string sight_topic(const Finding& finding) {
    if (finding.rule.empty()) return "off";
    if (finding.rule.starts_with("cone-half-angle.")) return "cone";
    if (finding.rule.starts_with("hide-share.")) return "hide";
    return finding.grade == Grade::note ? "first" : "seen";
}

} // namespace

std::string finding_key(const Finding& finding) {
    const std::string start = finding.check + "|" + finding.subject + "|";
    if (finding.check == "sightlines") return start + sight_topic(finding);
    std::vector<std::string> pieces = finding.pieces;
    std::sort(pieces.begin(), pieces.end());
    std::string key = start + finding.rule;
    for (const std::string& piece : pieces)
        key += "|" + piece;
    return key;
}

namespace {

// Checks that both levels hold.
bool is_compared(const Finding& finding, bool sights) {
    return sights || finding.check == "walkway" || finding.check == "headroom";
}

double apart(const Finding& a, const Finding& b) {
    if (a.distance && b.distance) return std::abs(*a.distance - *b.distance);
    return a.distance || b.distance ? std::numeric_limits<double>::max() : 0;
}

using Indices = std::vector<std::size_t>;

std::map<std::string, Indices> by_key(const std::vector<Finding>& findings, bool sights) {
    std::map<std::string, Indices> out;
    for (std::size_t i = 0; i < findings.size(); ++i)
        if (is_compared(findings[i], sights)) out[finding_key(findings[i])].push_back(i);
    return out;
}

// Pairs findings of one key, the nearest along the path first.
void pair_up(const std::vector<Finding>& before, const std::vector<Finding>& after, Indices was,
             Indices is, std::map<std::size_t, std::size_t>& before_of) {
    while (!was.empty() && !is.empty()) {
        auto best_was = was.begin(), best_is = is.begin();
        for (auto a = was.begin(); a != was.end(); ++a)
            for (auto b = is.begin(); b != is.end(); ++b)
                if (apart(before[*a], after[*b]) < apart(before[*best_was], after[*best_is])) {
                    best_was = a;
                    best_is = b;
                }
        before_of[*best_is] = *best_was;
        was.erase(best_was);
        is.erase(best_is);
    }
}

std::string measured_text(const Document& document, const Finding& finding, double value) {
    if (finding.unit == "mm") return length_text(document, value);
    if (finding.unit == "share") return share_text(value);
    if (finding.unit == "deg") return fmt::format("{:.1f} degrees", value);
    return fmt::format("{:.2f} {}", value, finding.unit);
}

// A difference up to this may be chance or rounding.
double tolerance_of(const CheckOutcome& before, const CheckOutcome& after, const Finding& finding) {
    if (finding.unit == "mm") return 2 * width_slack_mm;
    if (finding.unit == "share")
        return two_sided_95 *
                   std::hypot(before.largest_standard_error, after.largest_standard_error) +
               1e-9;
    return 0.05; // degrees and arcmin
}

bool more_is_better(const CheckOutcome& outcome, const Finding& finding) {
    for (const Rule& rule : outcome.results->rules)
        if (rule.id == finding.rule) return rule.at_least;
    // A limit of the target's own is no rule in force: what fails tells which way it works.
    return finding.measured && finding.required && *finding.measured < *finding.required;
}

// Another rule than before: that some of it is seen, and too little of the path, is the mildest.
Fate fate_by_rule(const Finding& was, const Finding& is) {
    const bool glimpsed = is.rule.starts_with("unbroken-sight.");
    if (glimpsed == was.rule.starts_with("unbroken-sight.")) return Fate::same;
    return glimpsed ? Fate::better : Fate::worse;
}

Fate fate_of(const CheckOutcome& before, const CheckOutcome& after, const Finding& was,
             const Finding& is) {
    if (was.grade != is.grade) return is.grade > was.grade ? Fate::better : Fate::worse;
    if (is.grade == Grade::note) return Fate::same;
    if (was.rule != is.rule) return fate_by_rule(was, is);
    if (!was.measured || !is.measured) return Fate::same;
    const double change = *is.measured - *was.measured;
    if (std::abs(change) <= tolerance_of(before, after, is)) return Fate::same;
    return (change > 0) == more_is_better(after, is) ? Fate::better : Fate::worse;
}

std::string change_text(const Document& document, Fate fate, const Finding& was,
                        const Finding& is) {
    if (fate == Fate::same) return is.message;
    std::string text = fate == Fate::better ? "Better" : "Worse";
    if (was.grade != is.grade)
        text += fmt::format(", {} → {}", grade_names[static_cast<int>(was.grade)],
                            grade_names[static_cast<int>(is.grade)]);
    if (was.rule == is.rule && was.measured && is.measured) {
        const std::string from = measured_text(document, is, *was.measured);
        const std::string to = measured_text(document, is, *is.measured);
        if (from != to) text += fmt::format(", {} → {}", from, to);
        if (from != to && is.required && *is.required != 0)
            text += " of " + measured_text(document, is, *is.required);
    }
    return text + ": " + is.message;
}

} // namespace

std::vector<FindingChange> compare_findings(const CheckOutcome& before, const CheckOutcome& after) {
    const bool sights = before.has_sights() && after.has_sights();
    const std::vector<Finding>&was = before.results->findings, &is = after.results->findings;
    const auto was_by_key = by_key(was, sights);
    std::map<std::size_t, std::size_t> before_of;
    for (const auto& [key, indices] : by_key(is, sights))
        if (const auto old = was_by_key.find(key); old != was_by_key.end())
            pair_up(was, is, old->second, indices, before_of);
    std::vector<FindingChange> out;
    std::vector<bool> stays(was.size());
    for (std::size_t i = 0; i < is.size(); ++i) {
        if (!is_compared(is[i], sights)) continue;
        const auto old = before_of.find(i);
        if (old == before_of.end()) {
            out.push_back({Fate::fresh, std::nullopt, i, "New: " + is[i].message});
            continue;
        }
        stays[old->second] = true;
        const Finding& old_finding = was[old->second];
        const Fate fate = fate_of(before, after, old_finding, is[i]);
        out.push_back(
            {fate, old->second, i, change_text(after.document, fate, old_finding, is[i])});
    }
    for (std::size_t i = 0; i < was.size(); ++i)
        if (!stays[i] && is_compared(was[i], sights))
            out.push_back({Fate::gone, i, std::nullopt, "Gone: " + was[i].message});
    return out;
}

Trend trend_of_finding(const CheckOutcome& before, const CheckOutcome& after,
                       const FindingChange& change) {
    const auto is_note = [](const CheckOutcome& outcome, std::size_t i) {
        return outcome.results->findings[i].grade == Grade::note;
    };
    switch (change.fate) {
    case Fate::better:
        return Trend::better;
    case Fate::worse:
        return Trend::worse;
    case Fate::gone:
        return is_note(before, *change.before) ? Trend::same : Trend::better;
    case Fate::fresh:
        return is_note(after, *change.after) ? Trend::same : Trend::worse;
    case Fate::same:
        break;
    }
    return Trend::same;
}

} // namespace standpoint
