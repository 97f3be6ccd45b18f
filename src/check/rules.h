// Rules as data: a limit on a quantity with its document, year, clause and caution.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "scene/document.h"

namespace standpoint {

enum class Evidence { read, computed, common_practice, memory };
inline constexpr const char* evidence_names[] = {"read", "computed", "common practice", "memory"};

struct Rule {
    std::string id;       // "route-width.ada-2010"
    std::string quantity; // "route-width": what a check measures and asks for by this name
    double limit = 0;     // in `unit`
    std::string unit;     // "mm", "deg", "share", "arcmin"
    bool at_least = true; // measured >= limit passes; else measured <= limit passes
    std::string document; // "2010 ADA Standards for Accessible Design"
    int year = 0;         // 0: the shop's own
    std::string clause;
    std::string caution;
    Evidence evidence = Evidence::read; // memory: a default, never quoted as a clause
};

// "2010 ADA Standards for Accessible Design, 403.5.1", "default, from memory", "common practice".
std::string source_line(const Rule& rule);

// True when `measured` passes; touching the limit passes.
bool passes(const Rule& rule, double measured);

// What a rule may speak of. An own rule on a length of 36 in is {"route-width", "36 in"}.
struct Quantity {
    const char* name;
    const char* unit;
    bool at_least; // which way a limit on it works
    const char* meaning;
};
const std::vector<Quantity>& quantities();
const Quantity* find_quantity(std::string_view name); // null: none

// Ids a scene may name under rules.use, and what they hold.
std::vector<std::string> preset_ids();
std::vector<Rule> preset(const std::string& id); // programmer error when unknown

// One rule for every quantity, in the order of quantities(): in force where nothing else is.
std::vector<Rule> default_rules();

// The rules in force: defaults every check needs, the chosen presets, then the shop's own, which
// stand in for the default of the same quantity. A default (common practice, memory) gives way to
// a chosen preset and to the shop's own; a rule read in a document stays beside the shop's own,
// and then both are checked. Errors (input): unknown preset, quantity or unit, or one given twice;
// where = "/rules/use/0" or "/rules/own/0".
Result<std::vector<Rule>> rules_in_force(const RuleChoice& choice);

// All rules on a quantity, in order. Never empty for a quantity a check uses.
std::vector<Rule> rules_on(const std::vector<Rule>& rules, const std::string& quantity);

// The hardest to meet of the rules on a quantity; the first of equals.
Rule strictest(const std::vector<Rule>& rules, const std::string& quantity);

} // namespace standpoint
