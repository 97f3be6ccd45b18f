// What an edit did: better, worse or the same, by target and by finding, in words.
#include <doctest/doctest.h>

#include <algorithm>

#include "checked_landing.h"
#include "desk/changes.h"
#include "desk/strip.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

const CheckOutcome& landing() {
    static const CheckOutcome outcome = outcome_of(checked_landing());
    return outcome;
}

TargetChange change_of(const Changes& changes, const std::string& target) {
    for (const TargetChange& change : changes.targets)
        if (change.target == target) return change;
    FAIL("no such target");
    return changes.targets.front();
}

int count(const Changes& changes, Fate fate) {
    return static_cast<int>(
        std::count_if(changes.findings.begin(), changes.findings.end(),
                      [&](const FindingChange& change) { return change.fate == fate; }));
}

bool holds(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

Finding width_finding(double width, const std::vector<std::string>& pieces, double distance) {
    Finding finding;
    finding.check = "walkway";
    finding.subject = "path";
    finding.pieces = pieces;
    finding.distance = distance;
    finding.measured = width;
    finding.required = 915;
    finding.unit = "mm";
    finding.rule = "route-width.house";
    finding.message = "narrow";
    return finding;
}

CheckOutcome with_findings(std::vector<Finding> findings) {
    CheckOutcome outcome = landing();
    outcome.results->findings = std::move(findings);
    return outcome;
}

Finding graded(Finding finding, Grade grade) {
    finding.grade = grade;
    return finding;
}

Fate fate_of(const Finding& before, const Finding& after) {
    const Changes changes = compare_checks(with_findings({before}), with_findings({after}));
    REQUIRE(changes.findings.size() == 1);
    return changes.findings[0].fate;
}

} // namespace

TEST_CASE("the same checked again is the same") {
    const Changes changes = compare_checks(landing(), outcome_of(checked_landing()));
    CHECK(changes.compared);
    CHECK(!changes.rough);
    CHECK(changes.better == 0);
    CHECK(changes.worse == 0);
    CHECK(changes.summary == "Nothing better or worse");
    REQUIRE(changes.targets.size() == 2);
    for (const TargetChange& change : changes.targets) {
        CHECK(change.trend == Trend::same);
        CHECK(holds(change.text, "as before"));
    }
    CHECK(count(changes, Fate::same) == static_cast<int>(landing().results->findings.size()));
    CHECK(count(changes, Fate::same) > 2);
    CHECK(holds(changes.width.text, "as before"));
    CHECK(holds(changes.headroom.text, "as before"));
}

TEST_CASE("taking away what hides a sign is better, putting it back is worse") {
    const CheckOutcome open = outcome_of(without_piece(checked_landing(), "fence"));
    const Changes there = compare_checks(landing(), open), back = compare_checks(open, landing());
    const TargetChange &better = change_of(there, "sign-read"),
                       &worse = change_of(back, "sign-read");
    CHECK(better.trend == Trend::better);
    CHECK(worse.trend == Trend::worse);
    CHECK(better.before == worse.after);
    CHECK(better.after == worse.before);
    CHECK(better.tolerance == worse.tolerance);
    CHECK(*better.before == strip_rows(landing()).front().share_of_path);
    CHECK(holds(better.text, "The sign-read: "));
    CHECK(holds(better.text, " → "));
    CHECK(holds(better.text, "of the path"));
    CHECK(there.better >= 1);
    CHECK(there.better == back.worse);
    CHECK(there.worse == back.better);
    CHECK(count(there, Fate::gone) == count(back, Fate::fresh));
    CHECK(count(there, Fate::fresh) == count(back, Fate::gone));
    CHECK(count(there, Fate::better) == count(back, Fate::worse));
}

TEST_CASE("showing what is to be hidden is worse") {
    const CheckOutcome bare = outcome_of(without_piece(checked_landing(), "screen"));
    const Changes changes = compare_checks(landing(), bare);
    const TargetChange& pump = change_of(changes, "pump-hidden");
    CHECK(pump.trend == Trend::worse);
    CHECK(*pump.after > *pump.before);
    CHECK(holds(pump.text, "shows from "));
    CHECK(change_of(compare_checks(bare, landing()), "pump-hidden").trend == Trend::better);
}

TEST_CASE("widths and headroom are compared as well") {
    const CheckOutcome wide = outcome_of(without_piece(checked_landing(), "bollard"));
    const Changes changes = compare_checks(landing(), wide);
    CHECK(changes.width.trend == Trend::better);
    CHECK(*changes.width.before == landing().results->walkway.width);
    CHECK(*changes.width.after == 2000);
    CHECK(holds(changes.width.text, "2000 mm"));
    CHECK(changes.headroom.trend == Trend::same);
    CHECK(compare_checks(wide, landing()).width.trend == Trend::worse);
    CheckOutcome lower = wide;
    lower.results->walkway.headroom[3].height = *changes.headroom.after - 0.02;
    CHECK(compare_checks(wide, lower).headroom.trend == Trend::worse);
    lower.results->walkway.headroom[3].height = *changes.headroom.after + 500; // not the least
    CHECK(compare_checks(wide, lower).headroom.trend == Trend::same);
    CheckOutcome slight = landing();
    slight.results->walkway.width += 0.0099; // within the promise of two measurements
    CHECK(compare_checks(landing(), slight).width.trend == Trend::same);
    slight.results->walkway.width += 0.0002;
    CHECK(compare_checks(landing(), slight).width.trend == Trend::better);
    CheckOutcome no_path = landing();
    no_path.results->walkway = {};
    CHECK(compare_checks(landing(), no_path).width.trend == Trend::same);
    CHECK(!compare_checks(landing(), no_path).width.after);
}

TEST_CASE("a difference within the error of the samples is no change") {
    CheckOutcome moved = landing();
    for (TargetSights& by : moved.results->sightlines.targets)
        for (Sight& sight : by.sights)
            if (sight.reason == SightReason::hidden_by_others) sight.reason = SightReason::seen;
    const TargetChange sure = change_of(compare_checks(landing(), moved), "sign-read");
    CHECK(sure.trend == Trend::better);
    CheckOutcome doubtful = moved;
    for (TargetSights& by : doubtful.results->sightlines.targets)
        for (Sight& sight : by.sights) {
            sight.share = 0.7;
            sight.standard_error = 0.1;
        }
    CHECK(change_of(compare_checks(landing(), doubtful), "sign-read").trend == Trend::same);
}

TEST_CASE("targets that come, go, or are switched off") {
    Document more = with_target(checked_landing(), see_target("fence-read", "fence"));
    const CheckOutcome with = outcome_of(more);
    const TargetChange fresh = change_of(compare_checks(landing(), with), "fence-read");
    CHECK(!fresh.before);
    CHECK(fresh.after);
    CHECK(holds(fresh.text, "new: "));
    const TargetChange gone = change_of(compare_checks(with, landing()), "fence-read");
    CHECK(gone.before);
    CHECK(!gone.after);
    CHECK(holds(gone.text, "no longer a target"));
    Piece fence = *find_piece(more, "fence");
    fence.off = Off::views_and_checks;
    const CheckOutcome off = outcome_of(with_piece(without_piece(more, "fence"), fence));
    CHECK(holds(change_of(compare_checks(with, off), "fence-read").text, "switched off"));
    CHECK(holds(change_of(compare_checks(off, with), "fence-read").text, "checked again"));
}

TEST_CASE("outcomes without results, and levels that lack sights, are not compared beyond that") {
    CheckOutcome failed;
    failed.error = input_error("a", "b");
    for (const Changes& changes :
         {compare_checks(failed, landing()), compare_checks(landing(), failed)}) {
        CHECK(!changes.compared);
        CHECK(changes.targets.empty());
        CHECK(changes.findings.empty());
        CHECK(!changes.summary.empty());
    }
    const std::vector<CheckOutcome> outcomes = outcomes_of(checked_landing());
    REQUIRE(outcomes.size() == 3);
    const Changes first = compare_checks(landing(), outcomes[0]);
    CHECK(first.rough);
    CHECK(first.targets.empty());
    CHECK(count(first, Fate::gone) == 0); // findings of sights are not looked for yet
    CHECK(first.better == 0);
    CHECK(first.worse == 0);
    const Changes second = compare_checks(landing(), outcomes[1]);
    CHECK(second.rough);
    CHECK(second.targets.size() == 2);
}

TEST_CASE("a finding is better when it comes nearer to its limit") {
    const auto at = [](double width) { return width_finding(width, {"crate"}, 1000); };
    CHECK(fate_of(at(800), at(850)) == Fate::better);
    CHECK(fate_of(at(850), at(800)) == Fate::worse);
    CHECK(fate_of(at(800), at(800.0099)) == Fate::same);
    CHECK(fate_of(at(800), at(800.0101)) == Fate::better);
    const Changes changes = compare_checks(with_findings({at(800)}), with_findings({at(850)}));
    CHECK(changes.findings[0].text == "Better, 800 mm → 850 mm of 915 mm: narrow");
    CHECK(changes.better == 1);
    Finding deep = at(30);
    deep.rule = "overlap-depth.house"; // less is better
    Finding deeper = deep;
    deep.required = deeper.required = 5;
    deeper.measured = 40;
    CHECK(fate_of(deep, deeper) == Fate::worse);
    CHECK(fate_of(deeper, deep) == Fate::better);
}

TEST_CASE("a milder grade is better whatever the numbers say") {
    const auto at = [](double width, Grade grade) {
        return graded(width_finding(width, {"crate"}, 1000), grade);
    };
    CHECK(fate_of(at(800, Grade::fail), at(800, Grade::warn)) == Fate::better);
    CHECK(fate_of(at(800, Grade::warn), at(900, Grade::fail)) == Fate::worse);
    CHECK(fate_of(at(800, Grade::note), at(900, Grade::note)) == Fate::same);
    const Changes changes = compare_checks(with_findings({at(800, Grade::fail)}),
                                           with_findings({at(800, Grade::warn)}));
    CHECK(holds(changes.findings[0].text, "fail → warn"));
}

TEST_CASE("findings that go are better and new ones worse, but for notes") {
    const Finding crate = width_finding(800, {"crate"}, 1000);
    const Changes gone = compare_checks(with_findings({crate}), with_findings({}));
    CHECK(gone.better == 1);
    CHECK(gone.findings[0].text == "Gone: narrow");
    const Changes fresh = compare_checks(with_findings({}), with_findings({crate}));
    CHECK(fresh.worse == 1);
    CHECK(fresh.findings[0].text == "New: narrow");
    const Finding note = graded(crate, Grade::note);
    CHECK(compare_checks(with_findings({note}), with_findings({})).better == 0);
    CHECK(compare_checks(with_findings({}), with_findings({note})).worse == 0);
}

TEST_CASE("several pinches at one piece are matched by where they are") {
    const CheckOutcome before =
        with_findings({width_finding(800, {"crate"}, 1000), width_finding(700, {"crate"}, 5000)});
    const CheckOutcome after = with_findings({width_finding(750, {"crate"}, 4900)});
    const Changes changes = compare_checks(before, after);
    REQUIRE(changes.findings.size() == 2);
    CHECK(changes.findings[0].fate == Fate::better);
    CHECK(changes.findings[0].before == 1u);
    CHECK(changes.findings[0].after == 0u);
    CHECK(changes.findings[1].fate == Fate::gone);
    CHECK(changes.findings[1].before == 0u);
}

TEST_CASE("the key of a finding holds while things move, and tells things apart") {
    const Finding a = width_finding(800, {"crate", "hut"}, 1000);
    Finding b = width_finding(700, {"hut", "crate"}, 2000);
    b.message = "narrower";
    b.grade = Grade::warn;
    CHECK(finding_key(a) == finding_key(b));
    Finding c = a;
    c.rule = "route-width.ada-2010";
    CHECK(finding_key(a) != finding_key(c));
    c = a;
    c.pieces = {"crate"};
    CHECK(finding_key(a) != finding_key(c));
    Finding sight = a;
    sight.check = "sightlines";
    sight.subject = "sign-read";
    sight.rule = "seen-share.house";
    Finding other = sight;
    other.pieces = {"boat"}; // another piece to blame
    other.rule = "unbroken-sight.house";
    CHECK(finding_key(sight) == finding_key(other));
    other.rule = "cone-half-angle.house";
    CHECK(finding_key(sight) != finding_key(other));
    other = sight;
    other.grade = Grade::note;
    CHECK(finding_key(sight) != finding_key(other));
}

TEST_CASE("keys tell the findings of a real scene apart, and each finds itself") {
    const auto& findings = landing().results->findings;
    REQUIRE(findings.size() > 2);
    const Changes changes = compare_checks(landing(), landing());
    REQUIRE(changes.findings.size() == findings.size());
    for (std::size_t i = 0; i < findings.size(); ++i) {
        CHECK(changes.findings[i].before == i);
        CHECK(changes.findings[i].after == i);
    }
}

TEST_CASE("a share of a target moves only beyond the error of both answers") {
    Finding seen = width_finding(0.4, {"sign"}, 1000);
    seen.check = "sightlines";
    seen.subject = "sign-read";
    seen.rule = "seen-share.house";
    seen.unit = "share";
    seen.required = 0.7;
    Finding moved = seen;
    moved.measured = 0.45;
    CheckOutcome before = with_findings({seen}), after = with_findings({moved});
    before.largest_standard_error = after.largest_standard_error = 0.015;
    CHECK(compare_checks(before, after).findings[0].fate == Fate::better);
    before.largest_standard_error = after.largest_standard_error = 0.02;
    CHECK(compare_checks(before, after).findings[0].fate == Fate::same);
    moved.rule = "unbroken-sight.house"; // glimpsed now, not merely hidden
    moved.unit = "mm";
    CHECK(compare_checks(before, with_findings({moved})).findings[0].fate == Fate::better);
    CHECK(compare_checks(with_findings({moved}), before).findings[0].fate == Fate::worse);
}
