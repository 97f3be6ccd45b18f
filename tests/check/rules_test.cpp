// Rules: presets against their published rows, defaults, the shop's own, and how sources read.
#include <doctest/doctest.h>

#include <cmath>
#include <map>
#include <set>
#include <string>

#include "check/rules.h"
#include "measure/length.h"
#include "support/reference.h"

using namespace standpoint;

namespace {

// Which published row each rule of a preset holds. Rows are in SI: metres, radians.
struct Origin {
    const char* file;
    const char* row;
};
const std::map<std::string, Origin> origins = {
    {"route-width.ada-2010", {"access_clearance", "ada_route_w"}},
    {"route-width-short.ada-2010", {"access_clearance", "ada_route_w_reduced"}},
    {"route-short-length.ada-2010", {"access_clearance", "ada_route_reduced_len"}},
    {"route-short-apart.ada-2010", {"access_clearance", "ada_route_sep_len"}},
    {"headroom.ada-2010", {"access_clearance", "ada_headroom"}},
    {"route-width.ibc-2021", {"access_clearance", "ibc_corr"}},
    {"headroom.ibc-2021", {"access_clearance", "ibc_headroom"}},
    {"line-of-sight-standing.sight-defaults", {"vision", "pz_los_stand"}},
    {"line-of-sight-seated.sight-defaults", {"vision", "pz_los_sit"}},
};

double si_of(const Rule& rule) {
    if (rule.unit == "mm") return rule.limit / 1000;
    if (rule.unit == "deg") return rule.limit * std::acos(-1.0) / 180;
    if (rule.unit == "arcmin") return rule.limit / 60 * std::acos(-1.0) / 180;
    return rule.limit;
}

RuleChoice own(const std::string& id, const std::string& value) {
    RuleChoice choice;
    choice.own.push_back({id, value, "shop standard"});
    return choice;
}

Error error_of(const RuleChoice& choice) {
    const auto rules = rules_in_force(choice);
    REQUIRE_FALSE(rules.ok());
    return rules.error();
}

} // namespace

TEST_CASE("every rule of a preset is the published row, or says that it is common practice") {
    for (const std::string& id : preset_ids()) {
        for (const Rule& rule : preset(id)) {
            CAPTURE(rule.id);
            CHECK(rule.id == rule.quantity + "." + id);
            if (rule.evidence == Evidence::common_practice) continue;
            if (rule.quantity == "cone-half-angle") continue; // half of a row, below
            REQUIRE(origins.count(rule.id) == 1);
            const Origin& origin = origins.at(rule.id);
            const support::Reference reference(origin.file);
            const support::ReferenceRow& row = reference.row(origin.row);
            CHECK(std::abs(si_of(rule) - row.value_si) < 1e-9);
            // What was recalled is not passed off as read.
            CHECK((rule.evidence == Evidence::memory) == (row.evidence == "memory"));
            CHECK(row.source.find(std::to_string(rule.year)) != std::string::npos);
            CHECK(row.source.find(rule.document) != std::string::npos);
            CHECK(row.source.find(rule.clause) != std::string::npos);
        }
    }
}

TEST_CASE("sight defaults agree with the rows they lean on") {
    const support::Reference vision("vision");
    const std::vector<Rule> rules = preset("sight-defaults");
    CHECK(std::abs(2 * si_of(strictest(rules, "cone-half-angle")) -
                   vision.row("cone_comfort").value_si) < 1e-9);
    CHECK(vision.row("cone_comfort").evidence == "memory");
    CHECK(std::abs(si_of(strictest(rules, "apparent-size")) -
                   vision.row("nureg_char_pref").value_si) < 1e-9);
    // Three times the bare limit of sight.
    CHECK(std::abs(si_of(strictest(rules, "smallest-detail")) -
                   3 * vision.row("acuity_detail").value_si) < 1e-9);
}

TEST_CASE("inches are kept exactly") {
    const std::vector<Rule> ada = preset("ada-2010");
    CHECK(strictest(ada, "route-width").limit == 36 * mm_per_inch);
    CHECK(strictest(ada, "route-width").limit == 914.4);
    CHECK(strictest(ada, "headroom").limit == 80 * mm_per_inch);
}

TEST_CASE("a recalled value is never quoted as a clause") {
    Rule rule;
    rule.document = "Handbook";
    rule.year = 1979;
    rule.clause = "7.2";
    rule.evidence = Evidence::memory;
    CHECK(source_line(rule) == "default, from memory");
    rule.evidence = Evidence::common_practice;
    CHECK(source_line(rule) == "common practice");
    rule.evidence = Evidence::read;
    CHECK(source_line(rule) == "Handbook (1979), 7.2");
    rule.evidence = Evidence::computed;
    CHECK(source_line(rule) == "computed from Handbook (1979), 7.2");
    CHECK(source_line(strictest(preset("ada-2010"), "headroom")) ==
          "2010 ADA Standards for Accessible Design, 307.4");
    for (const std::string& id : preset_ids())
        for (const Rule& r : preset(id))
            if (r.evidence == Evidence::memory) CHECK(r.clause.empty());
}

TEST_CASE("every quantity always has a rule, and each rule speaks of a known quantity") {
    std::vector<RuleChoice> choices(1);
    for (const std::string& id : preset_ids()) {
        RuleChoice choice;
        choice.use = {id};
        choices.push_back(choice);
    }
    choices.push_back(own("route-width", "1200 mm"));
    for (const RuleChoice& choice : choices) {
        const std::vector<Rule> rules = rules_in_force(choice).value();
        for (const Quantity& quantity : quantities())
            CHECK_FALSE(rules_on(rules, quantity.name).empty());
        std::set<std::string> ids;
        for (const Rule& rule : rules) {
            CAPTURE(rule.id);
            const Quantity* quantity = find_quantity(rule.quantity);
            REQUIRE(quantity != nullptr);
            CHECK(rule.unit == quantity->unit);
            CHECK(rule.at_least == quantity->at_least);
            CHECK(ids.insert(rule.id).second);
        }
    }
}

TEST_CASE("a default gives way; a rule read in a document stays beside the shop's own") {
    RuleChoice choice = own("route-width", "1200 mm");
    const auto only_own = rules_on(rules_in_force(choice).value(), "route-width");
    REQUIRE(only_own.size() == 1);
    CHECK(only_own[0].id == "route-width.own");
    CHECK(source_line(only_own[0]) == "the shop's own rule: shop standard");

    choice.use = {"ada-2010"};
    const auto both = rules_on(rules_in_force(choice).value(), "route-width");
    REQUIRE(both.size() == 2);
    CHECK(both[0].id == "route-width.ada-2010");
    CHECK(both[1].id == "route-width.own");

    choice = own("seen-share", "0.5");
    choice.use = {"sight-defaults"};
    const auto seen = rules_on(rules_in_force(choice).value(), "seen-share");
    REQUIRE(seen.size() == 1);
    CHECK(seen[0].limit == 0.5);

    choice = {};
    choice.use = {"ibc-2021", "ada-2010"};
    const auto presets = rules_on(rules_in_force(choice).value(), "headroom");
    REQUIRE(presets.size() == 2);
    CHECK(presets[0].id == "headroom.ibc-2021");
}

TEST_CASE("own rules are read in their units, and refused with their place when wrong") {
    const auto limit = [](const std::string& id, const std::string& value) {
        return strictest(rules_in_force(own(id, value)).value(), id).limit;
    };
    CHECK(limit("route-width", "36 in") == 914.4);
    CHECK(limit("route-width", "1.2 m") == 1200);
    CHECK(limit("seen-share", "70 %") == 0.7);
    CHECK(limit("seen-share", "0") == 0);
    CHECK(limit("seen-share", "1") == 1);
    CHECK(limit("facing-limit-face", "90 deg") == 90);
    CHECK(limit("facing-limit-face", "180") == 180);
    CHECK(limit("smallest-detail", "4 arcmin") == 4);
    CHECK(limit("smallest-detail", "2.5") == 2.5);

    const std::pair<const char*, const char*> wrong[] = {
        {"route-width", "wide"},      {"route-width", "-1 mm"},     {"route-width", "3 arcmin"},
        {"route-width", ""},          {"seen-share", "1.01"},       {"seen-share", "101 %"},
        {"seen-share", "-0.1"},       {"seen-share", "700 mm"},     {"seen-share", "nan"},
        {"facing-limit-face", "181"}, {"facing-limit-face", "1 m"}, {"smallest-detail", "601"},
        {"smallest-detail", "-1"},    {"smallest-detail", "3 mm"},  {"route-with", "1200 mm"},
    };
    for (const auto& [id, value] : wrong) {
        CAPTURE(id);
        CAPTURE(value);
        RuleChoice choice = own("headroom", "2100 mm");
        choice.own.push_back({id, value, ""});
        const Error error = error_of(choice);
        CHECK(error.code == ErrorCode::input);
        CHECK(error.where == "/rules/own/1");
        CHECK(error.message.find("expected") != std::string::npos);
    }
}

TEST_CASE("presets are named once and known") {
    RuleChoice choice;
    choice.use = {"ada-2010", "ada-2011"};
    CHECK(error_of(choice).where == "/rules/use/1");
    CHECK(error_of(choice).message ==
          "found \"ada-2011\", expected one of ada-2010, ibc-2021, sight-defaults");
    choice.use = {"ada-2010", "ada-2010"};
    CHECK(error_of(choice).where == "/rules/use/1");
    choice = own("headroom", "2100 mm");
    choice.own.push_back(choice.own.front());
    CHECK(error_of(choice).where == "/rules/own/1");
}

TEST_CASE("touching a limit passes, and the strictest rule is the hardest to meet") {
    Rule at_least;
    at_least.limit = 900;
    at_least.quantity = "route-width";
    CHECK(passes(at_least, 900));
    CHECK_FALSE(passes(at_least, 899.999));
    Rule at_most = at_least;
    at_most.at_least = false;
    CHECK(passes(at_most, 900));
    CHECK_FALSE(passes(at_most, 900.001));

    Rule wider = at_least, narrower = at_least;
    wider.limit = 1000;
    narrower.limit = 800;
    CHECK(strictest({narrower, wider, at_least}, "route-width").limit == 1000);
    wider.at_least = narrower.at_least = at_least.at_least = false;
    CHECK(strictest({wider, narrower, at_least}, "route-width").limit == 800);
}
