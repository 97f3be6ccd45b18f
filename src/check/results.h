// What the checks found: numbers first, findings by comparing them with a named rule.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include <glm/vec3.hpp>

#include "check/rules.h"

namespace standpoint {

enum class Grade { fail, warn, note };
inline constexpr const char* grade_names[] = {"fail", "warn", "note"};

struct Finding {
    Grade grade = Grade::fail;
    std::string check;   // "sightlines", "walkway", "headroom", "overlap", "floating", ...
    std::string subject; // target, piece or path it speaks of (id)
    std::string message; // one plain sentence with the numbers
    std::vector<std::string> pieces; // ids, the one to blame first
    std::optional<glm::dvec3> place; // scene mm
    std::optional<double> distance;  // mm along the path
    std::optional<double> measured, required;
    std::string unit;
    std::string rule;   // Rule::id
    std::string source; // source_line(rule)
};

// A length as the people of this scene write it: 1250 mm, or 4' 1 1/4".
std::string length_text(const Document& document, double mm);
// "31 %", "69.9 %": rounded down to a tenth, and never "0 %" for something.
std::string share_text(double share);
// A name to say: its name, or its id when it has none.
std::string spoken(const std::string& name, const std::string& id);

// The finding that `measured` makes against `rule`: rule, source, limit and unit filled in.
Finding finding_on(const Rule& rule, Grade grade, std::string check, std::string subject,
                   double measured, std::string message);

// Gravest first; then by check, subject, distance. A total order, so output is stable.
void sort_findings(std::vector<Finding>& findings);

} // namespace standpoint
