// Findings: how they are made, ordered and worded.
#include "check/results.h"

#include <algorithm>
#include <cmath>
#include <tuple>
#include <utility>

#include <fmt/format.h>

#include "measure/length.h"

namespace standpoint {

std::string length_text(const Document& document, double mm) {
    LengthStyle style;
    style.system = document.settings->units;
    style.inch_denominator = document.settings->inch_denominator;
    return print_length(mm, style);
}

std::string share_text(double share) {
    // Rounded down, so that what misses a limit by a hair is not printed as reaching it; the nudge
    // keeps 0.7 from reading 69.9 because 0.7 * 1000 is a hair under 700.
    const double tenths = std::floor(share * 1000 + 1e-6);
    if (share > 0 && tenths < 1) return "under 0.1 %";
    if (std::fmod(tenths, 10) == 0) return fmt::format("{:.0f} %", tenths / 10);
    return fmt::format("{:.1f} %", tenths / 10);
}

std::string spoken(const std::string& name, const std::string& id) {
    return name.empty() ? id : name;
}

Finding finding_on(const Rule& rule, Grade grade, std::string check, std::string subject,
                   double measured, std::string message) {
    Finding finding;
    finding.grade = grade;
    finding.check = std::move(check);
    finding.subject = std::move(subject);
    finding.message = std::move(message);
    finding.measured = measured;
    finding.required = rule.limit;
    finding.unit = rule.unit;
    finding.rule = rule.id;
    finding.source = source_line(rule);
    return finding;
}

void sort_findings(std::vector<Finding>& findings) {
    const auto key = [](const Finding& f) {
        return std::tie(f.grade, f.check, f.subject, f.distance, f.rule, f.pieces, f.message);
    };
    std::stable_sort(findings.begin(), findings.end(),
                     [&](const Finding& a, const Finding& b) { return key(a) < key(b); });
}

} // namespace standpoint
