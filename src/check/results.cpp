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
    const double percent = share * 100;
    if (percent > 0 && percent < 0.1) return "under 0.1 %";
    if (percent < 9.95) return fmt::format("{:.1f} %", percent);
    // What is not whole is not called whole.
    return fmt::format("{:.0f} %", percent < 100 ? std::min(percent, 99.0) : percent);
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
