// Which rules are in force for a scene, and how a rule names its source.
#include "check/rules.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <string_view>

#include <fmt/format.h>

#include "base/check.h"
#include "measure/angle.h"
#include "measure/length.h"

namespace standpoint {

namespace {

constexpr double widest_angle_deg = 180;
constexpr double largest_arcmin = 600; // ten degrees: beyond that it is no detail

bool is_default(const Rule& rule) {
    return rule.evidence == Evidence::common_practice || rule.evidence == Evidence::memory;
}

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && text.front() == ' ')
        text.remove_prefix(1);
    while (!text.empty() && text.back() == ' ')
        text.remove_suffix(1);
    return text;
}

// A plain decimal number with nothing after it.
bool parse_number(std::string_view text, double& number) {
    text = trimmed(text);
    const auto [end, code] = std::from_chars(text.data(), text.data() + text.size(), number);
    return code == std::errc() && end == text.data() + text.size() && std::isfinite(number);
}

bool drop_suffix(std::string_view& text, std::string_view suffix) {
    if (!text.ends_with(suffix)) return false;
    text.remove_suffix(suffix.size());
    return true;
}

Error wrong_value(std::string_view text, const char* expected) {
    return input_error("", fmt::format("found \"{}\", expected {}", text, expected));
}

Result<double> parse_share(std::string_view text) {
    std::string_view rest = trimmed(text);
    const bool percent = drop_suffix(rest, "%");
    double number = 0;
    if (!parse_number(rest, number)) return wrong_value(text, "a share such as 0.7 or 70 %");
    if (percent) number /= 100;
    if (number < 0 || number > 1) return wrong_value(text, "a share from 0 to 1");
    return number;
}

Result<double> parse_arcmin(std::string_view text) {
    std::string_view rest = trimmed(text);
    drop_suffix(rest, "arcmin");
    double number = 0;
    if (!parse_number(rest, number)) return wrong_value(text, "an angle such as 3 arcmin");
    if (number < 0 || number > largest_arcmin)
        return wrong_value(text, "an angle from 0 to 600 arcmin");
    return number;
}

Result<double> parse_value(const Quantity& quantity, const std::string& text) {
    const std::string_view unit = quantity.unit;
    if (unit == "share") return parse_share(text);
    if (unit == "arcmin") return parse_arcmin(text);
    if (unit == "deg") {
        STANDPOINT_TRY(deg, parse_angle_deg(text));
        if (deg < 0 || deg > widest_angle_deg)
            return wrong_value(text, "an angle from 0 to 180 degrees");
        return deg;
    }
    STANDPOINT_CHECK(unit == "mm");
    STANDPOINT_TRY(mm, parse_length_mm(text));
    if (mm < 0) return wrong_value(text, "a length of 0 or more");
    return mm;
}

std::string listed(const std::vector<std::string>& names) {
    std::string out;
    for (const std::string& name : names)
        out += (out.empty() ? "" : ", ") + name;
    return out;
}

Status add_presets(const RuleChoice& choice, std::vector<Rule>& rules) {
    const std::vector<std::string> known = preset_ids();
    for (std::size_t i = 0; i < choice.use.size(); ++i) {
        const std::string& id = choice.use[i];
        const std::string where = fmt::format("/rules/use/{}", i);
        if (std::find(known.begin(), known.end(), id) == known.end())
            return input_error(where,
                               fmt::format("found \"{}\", expected one of {}", id, listed(known)));
        if (std::find(choice.use.begin(), choice.use.begin() + static_cast<std::ptrdiff_t>(i),
                      id) != choice.use.begin() + static_cast<std::ptrdiff_t>(i))
            return input_error(where, fmt::format("found \"{}\" twice, expected it once", id));
        for (Rule& rule : preset(id))
            rules.push_back(std::move(rule));
    }
    return Done{};
}

Result<Rule> own_rule(const OwnRule& own) {
    const Quantity* quantity = find_quantity(own.id);
    if (quantity == nullptr) {
        std::vector<std::string> names;
        for (const Quantity& known : quantities())
            names.emplace_back(known.name);
        return input_error("", fmt::format("found the quantity \"{}\", expected one of {}", own.id,
                                           listed(names)));
    }
    STANDPOINT_TRY(limit, parse_value(*quantity, own.value));
    Rule rule;
    rule.id = own.id + ".own";
    rule.quantity = own.id;
    rule.limit = limit;
    rule.unit = quantity->unit;
    rule.at_least = quantity->at_least;
    rule.document = own.source;
    return rule;
}

Status add_own(const RuleChoice& choice, std::vector<Rule>& rules) {
    for (std::size_t i = 0; i < choice.own.size(); ++i) {
        const std::string where = fmt::format("/rules/own/{}", i);
        Result<Rule> rule = own_rule(choice.own[i]);
        if (!rule) return input_error(where, rule.error().message);
        const auto same = [&](const Rule& other) { return other.id == rule->id; };
        if (std::any_of(rules.begin(), rules.end(), same))
            return input_error(where, fmt::format("found a second rule on \"{}\", expected one",
                                                  choice.own[i].id));
        std::erase_if(rules, [&](const Rule& other) {
            return other.quantity == rule->quantity && is_default(other);
        });
        rules.push_back(std::move(*rule));
    }
    return Done{};
}

} // namespace

std::string source_line(const Rule& rule) {
    if (rule.evidence == Evidence::memory) return "default, from memory";
    if (rule.evidence == Evidence::common_practice) return "common practice";
    if (rule.year == 0)
        return rule.document.empty() ? "the shop's own rule"
                                     : "the shop's own rule: " + rule.document;
    const std::string year = std::to_string(rule.year);
    std::string line = rule.document;
    if (line.find(year) == std::string::npos) line += " (" + year + ")";
    if (!rule.clause.empty()) line += ", " + rule.clause;
    return rule.evidence == Evidence::computed ? "computed from " + line : line;
}

bool passes(const Rule& rule, double measured) {
    return rule.at_least ? measured >= rule.limit : measured <= rule.limit;
}

const Quantity* find_quantity(std::string_view name) {
    for (const Quantity& quantity : quantities())
        if (name == quantity.name) return &quantity;
    return nullptr;
}

Result<std::vector<Rule>> rules_in_force(const RuleChoice& choice) {
    std::vector<Rule> chosen;
    STANDPOINT_TRY_STATUS(add_presets(choice, chosen));
    STANDPOINT_TRY_STATUS(add_own(choice, chosen));
    std::vector<Rule> rules;
    for (Rule& rule : default_rules())
        if (rules_on(chosen, rule.quantity).empty()) rules.push_back(std::move(rule));
    for (Rule& rule : chosen)
        rules.push_back(std::move(rule));
    return rules;
}

std::vector<Rule> rules_on(const std::vector<Rule>& rules, const std::string& quantity) {
    std::vector<Rule> out;
    for (const Rule& rule : rules)
        if (rule.quantity == quantity) out.push_back(rule);
    return out;
}

Rule strictest(const std::vector<Rule>& rules, const std::string& quantity) {
    const std::vector<Rule> all = rules_on(rules, quantity);
    STANDPOINT_CHECK(!all.empty());
    const auto harder = [](const Rule& a, const Rule& b) {
        return a.at_least ? a.limit < b.limit : a.limit > b.limit;
    };
    return *std::max_element(all.begin(), all.end(), harder);
}

} // namespace standpoint
