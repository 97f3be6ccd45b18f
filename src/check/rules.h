// Rules as data: a limit on a quantity with its document, year, clause and caution.
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "scene/document.h"

namespace standpoint {

enum class Evidence { read, computed, common_practice, memory };

struct Rule {
    std::string id;       // "route-width.ada-2010"
    std::string quantity; // "route-width": what a check measures and asks for by this name
    double limit = 0;     // in `unit`
    std::string unit;     // "mm", "deg", "share", "arcmin", "m"
    bool at_least = true; // measured >= limit passes; else measured <= limit passes
    std::string document; // "2010 ADA Standards for Accessible Design"
    int year = 0;         // 0: the shop's own
    std::string clause;
    std::string caution;
    Evidence evidence = Evidence::read; // memory: a default, never quoted as a clause
};

// "2010 ADA Standards for Accessible Design, 403.5.1", "default, from memory", "common practice".
std::string source_line(const Rule& rule);

// Ids a scene may name under rules.use, and what they hold.
std::vector<std::string> preset_ids();
std::vector<Rule> preset(const std::string& id); // programmer error when unknown

// The rules in force: defaults every check needs, the chosen presets, then the shop's own, which
// stand in for the default of the same quantity. Errors (input): unknown preset, quantity or unit;
// where = "/rules/own/0".
Result<std::vector<Rule>> rules_in_force(const RuleChoice& choice);

// All rules on a quantity, in order. Never empty for a quantity a check uses.
std::vector<Rule> rules_on(const std::vector<Rule>& rules, const std::string& quantity);

} // namespace standpoint
