// Results: order of findings, wording of numbers, JSON after the schema, readable lines.
#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <string>

#include <sys/wait.h>

#include "check/json_lines.h"
#include "sight_scene.h"
#include "support/random.h"
#include "support/temporary_folder.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

Staging quay() {
    SightScene scene;
    scene.add("buoy", SphereForm{300}, {0, 400, 1300});
    scene.add("counter", BoxForm{1200, 200, 1250}, {-700, -1000, 0});
    scene.add("pump", BoxForm{300, 300, 900}, {600, 900, 0});
    scene.add_target("buoy", "buoy").name = "the \"red\" buoy\n";
    scene.add_target("pump", "pump", Aim::hide);
    return scene.staging();
}

// Every kind of row filled in, so that the schema is tried on all of them.
CheckResults full_results(const Staging& staging) {
    CheckResults out = results_of(staging, sightlines_of(staging, fixed_samples(16)));
    const WidthAt width{250, 812.8, "edge", "counter", {-1, 0}, {0.5, 1e-7}};
    out.walkway.widths = {width};
    out.walkway.width = width.width;
    out.walkway.narrowest = width;
    out.walkway.headroom = {{0, 2032, "", {0, 0, 2032}}};
    out.standing.overlaps = {{"buoy", "counter", 12.5, false, {0, 0, 0}}};
    out.standing.gaps = {{"buoy", "floor", -0.0, {0, 400, 1300}}};
    out.standing.outside_base = {{"pump", 3.5, "section-a", "", {1, 2, 3}}};
    out.standing.across_join = {{"pump", 3.5, "section-a", "section-b", {1, 2, 3}}};
    return out;
}

// How many of the results files an independent validator refuses.
int refused(const std::vector<std::string>& files) {
    const TemporaryFolder folder;
    const std::string top = STANDPOINT_SOURCE_DIR;
    std::string command = "python3 -B '" + top + "/tests/check/validate_results.py' '" + top +
                          "/src/check/results.schema.json'";
    for (std::size_t i = 0; i < files.size(); ++i) {
        const std::string name = folder.file(std::to_string(i) + ".json");
        write_plain(name, files[i]);
        command += " '" + name + "'";
    }
    const int status = std::system((command + " > '" + folder.file("said") + "' 2>&1").c_str());
    REQUIRE(WIFEXITED(status));
    const std::string said = read_plain(folder.file("said"));
    const int code = WEXITSTATUS(status);
    // Python's own failure is code 1 as well: then it says so.
    CHECK_MESSAGE(said.find("Traceback") == std::string::npos, said);
    return code;
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

} // namespace

TEST_CASE("results are valid by the published schema, which refuses what is not") {
    const Staging staging = quay();
    const std::string json = results_json(staging, full_results(staging));
    const CheckResults empty{rules_in_force({}).value(), {}, {}, {}, {}, {}};
    CHECK(refused({json, results_json(staging, empty)}) == 0);
    CHECK(refused({replaced(json, "\"rays\"", "\"beams\""),
                   replaced(json, "\"share_of_path\": ", "\"share_of_path\": 1"),
                   replaced(json, "\"counts\": {", "\"extra\": 1, \"counts\": {"),
                   replaced(json, "\"share\": [", "\"share\": [0, "),
                   json.substr(0, json.size() / 2)}) == 5);
}

TEST_CASE("JSON text is escaped and numbers read back exactly") {
    CHECK(json_text("a \"b\" \\ \n\t\x01 é") == "\"a \\\"b\\\" \\\\ \\n\\t\\u0001 é\"");
    CHECK(json_number(-0.0) == "0");
    Random random(3);
    for (int i = 0; i < 1000; ++i) {
        const double number = random.uniform(-1, 1) * std::pow(10, random.uniform(-9, 9));
        CHECK(std::stod(json_number(number)) == number);
    }
    CHECK(json_object({{"a", "1"}, {"b", "[2, 3]"}}) == "{\"a\": 1, \"b\": [2, 3]}");
    CHECK(json_list({}, 2) == "[]");
    CHECK(json_list({"1", "2"}, 2) == "[\n    1,\n    2\n  ]");
}

TEST_CASE("findings come the gravest first, in one order whatever order they were made in") {
    std::vector<Finding> findings;
    for (const Grade grade : {Grade::note, Grade::fail, Grade::warn})
        for (const char* check : {"walkway", "overlap"})
            for (const char* subject : {"b", "a"})
                for (const double distance : {500.0, 250.0}) {
                    Finding finding;
                    finding.grade = grade;
                    finding.check = check;
                    finding.subject = subject;
                    finding.distance = distance;
                    findings.push_back(finding);
                }
    sort_findings(findings);
    CHECK(findings.front().grade == Grade::fail);
    CHECK(findings.front().check == "overlap");
    CHECK(findings.front().subject == "a");
    CHECK(*findings.front().distance == 250);
    CHECK(findings.back().grade == Grade::note);
    CHECK(findings.back().check == "walkway");
    CHECK(findings.back().subject == "b");
    Random random(11);
    std::vector<Finding> shuffled = findings;
    for (std::size_t i = shuffled.size(); i > 1; --i)
        std::swap(shuffled[i - 1],
                  shuffled[static_cast<std::size_t>(random.integer(0, static_cast<int>(i) - 1))]);
    sort_findings(shuffled);
    for (std::size_t i = 0; i < findings.size(); ++i) {
        CHECK(shuffled[i].grade == findings[i].grade);
        CHECK(shuffled[i].check == findings[i].check);
        CHECK(shuffled[i].subject == findings[i].subject);
        CHECK(shuffled[i].distance == findings[i].distance);
    }
}

TEST_CASE("shares are rounded down, so that what misses a limit does not print as reaching it") {
    CHECK(share_text(0) == "0 %");
    CHECK(share_text(1) == "100 %");
    CHECK(share_text(0.7) == "70 %");
    CHECK(share_text(0.69999) == "69.9 %");
    CHECK(share_text(0.999999) == "99.9 %");
    CHECK(share_text(0.314) == "31.4 %");
    CHECK(share_text(0.00001) == "under 0.1 %");
    for (int tenths = 0; tenths <= 1000; ++tenths) // every tenth is itself
        CHECK(std::abs(std::stod(share_text(tenths / 1000.0)) - tenths / 10.0) < 1e-9);
}

TEST_CASE("readable lines: counts first, the gravest first, cautions last") {
    const Staging staging = quay();
    CheckResults results = full_results(staging);
    const std::string text = results_text(staging, results);
    const std::size_t fails = text.find("\nFails\n"), notes = text.find("\nNotes\n");
    REQUIRE(fails != std::string::npos);
    REQUIRE(notes != std::string::npos);
    CHECK(fails < notes);
    CHECK(text.find("1 fail,") < fails);
    std::size_t at = text.find("\nCautions\n");
    REQUIRE(at != std::string::npos);
    CHECK(at > notes);
    for (const std::string& caution : cautions()) {
        at = text.find("  " + caution + "\n", at);
        CHECK(at != std::string::npos);
    }
    for (const Finding& finding : results.findings) {
        CHECK(text.find(finding.message) != std::string::npos);
        CHECK(text.find("[" + finding.rule + "]") != std::string::npos);
    }
}

TEST_CASE("the cautions speak of every authority they defer to") {
    std::string all;
    for (const std::string& caution : cautions())
        all += caution + " ";
    for (const char* word : {"approve nothing", "building, fire and accessibility authority",
                             "licensed engineer", "licensed electrician", "employer's own rules"})
        CHECK(all.find(word) != std::string::npos);
}
