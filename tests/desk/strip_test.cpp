// The sight strip: cells agree with a slow count over the sights, words say who, where and why.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "checked_landing.h"
#include "desk/strip.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

const CheckOutcome& landing() {
    static const CheckOutcome outcome = outcome_of(checked_landing());
    return outcome;
}

const StripRow& row_of(const std::vector<StripRow>& rows, const std::string& target,
                       const std::string& visitor = "") {
    for (const StripRow& row : rows)
        if (row.target == target && row.visitor == visitor) return row;
    FAIL("no such row");
    return rows.front();
}

bool says(const std::vector<std::string>& lines, const std::string& part) {
    return std::any_of(lines.begin(), lines.end(), [&](const std::string& line) {
        return line.find(part) != std::string::npos;
    });
}

const std::vector<TargetSights>& sights(const CheckOutcome& outcome) {
    return outcome.results->sightlines.targets;
}

// The slow count: goes over all sights again for each cell.
double counted(const CheckOutcome& outcome, const std::string& target, std::size_t station) {
    double seen = 0, all = 0;
    for (const TargetSights& by : sights(outcome)) {
        if (by.target != target) continue;
        const double weight = find_visitor(outcome.document, by.visitor)->share.value;
        for (std::size_t i = 0; i < by.sights.size(); ++i) {
            if (i / 3 != station) continue;
            all += weight;
            if (by.sights[i].reason == SightReason::seen) seen += weight;
        }
    }
    return seen / all;
}

} // namespace

TEST_CASE("a row a target in document order, unfolded into a row a visitor") {
    const std::vector<StripRow> folded = strip_rows(landing());
    REQUIRE(folded.size() == 2);
    CHECK(folded[0].target == "sign-read");
    CHECK(folded[0].name == "The sign-read");
    CHECK(folded[0].aim == Aim::see);
    CHECK(folded[1].target == "pump-hidden");
    CHECK(folded[1].aim == Aim::hide);
    const std::vector<StripRow> unfolded = strip_rows(landing(), {"sign-read", "unknown"});
    REQUIRE(unfolded.size() == 4);
    CHECK(unfolded[1].visitor == "adult");
    CHECK(unfolded[2].visitor == "child");
    CHECK(unfolded[3].target == "pump-hidden");
}

TEST_CASE("cells agree with a slow count over the sights") {
    bool some = false, none = false, part = false;
    for (const StripRow& row : strip_rows(landing())) {
        const auto& stations = landing().results->sightlines.stations;
        REQUIRE(row.cells.size() == stations.size());
        double path = 0, all = 0;
        for (std::size_t i = 0; i < row.cells.size(); ++i) {
            const double expected = counted(landing(), row.target, i);
            CHECK(row.cells[i].value == doctest::Approx(expected).epsilon(1e-12));
            CHECK((row.cells[i].reason == SightReason::seen) == (row.cells[i].value == 1));
            path += expected * stations[i].length;
            all += stations[i].length;
            some = some || expected == 1;
            none = none || expected == 0;
            part = part || (expected > 0 && expected < 1);
        }
        CHECK(row.share_of_path == doctest::Approx(path / all).epsilon(1e-12));
    }
    CHECK(some); // the scene shows all kinds of cells
    CHECK(none);
    CHECK(part);
}

TEST_CASE("unfolded rows weighted by the audience give the folded one") {
    const std::vector<StripRow> rows = strip_rows(landing(), {"sign-read"});
    const StripRow &folded = row_of(rows, "sign-read"), &adult = row_of(rows, "sign-read", "adult"),
                   &child = row_of(rows, "sign-read", "child");
    for (std::size_t i = 0; i < folded.cells.size(); ++i)
        CHECK(folded.cells[i].value ==
              doctest::Approx(0.75 * adult.cells[i].value + 0.25 * child.cells[i].value));
    CHECK(adult.share_of_path != child.share_of_path);
    for (const TargetSights& by : sights(landing()))
        if (by.target == "sign-read")
            CHECK(row_of(rows, "sign-read", by.visitor).share_of_path ==
                  doctest::Approx(by.share_of_path));
}

TEST_CASE("visitors without a stated share count alike") {
    Document document = checked_landing();
    document = with_visitors(
        document, {visitor_of_height("adult", 1600, 0), visitor_of_height("child", 1000, 0)});
    const CheckOutcome outcome = outcome_of(document);
    const std::vector<StripRow> rows = strip_rows(outcome, {"sign-read"});
    for (std::size_t i = 0; i < rows[0].cells.size(); ++i)
        CHECK(rows[0].cells[i].value ==
              doctest::Approx((rows[1].cells[i].value + rows[2].cells[i].value) / 2));
}

TEST_CASE("cells meet and cover the path, and a distance finds its cell") {
    const StripRow row = strip_rows(landing()).front();
    CHECK(row.cells.front().from == 0);
    CHECK(row.cells.back().to == doctest::Approx(path_length(*landing().document.path)));
    for (std::size_t i = 0; i < row.cells.size(); ++i) {
        const StripCell& cell = row.cells[i];
        if (i > 0) CHECK(cell.from == row.cells[i - 1].to);
        CHECK(cell_at(row, cell.station) == i);
        if (i > 0) CHECK(cell_at(row, cell.from) == i); // a border belongs to the later cell
        CHECK(cell_at(row, (cell.from + cell.to) / 2) == i);
    }
    CHECK(cell_at(row, -1e6) == 0);
    CHECK(cell_at(row, 1e6) == row.cells.size() - 1);
    CHECK(!cell_at(StripRow{}, 0));
}

TEST_CASE("to be seen and to be hidden are good the opposite way") {
    StripRow row;
    StripCell cell;
    cell.value = 0.25;
    CHECK(goodness(row, cell) == 0.25);
    row.aim = Aim::hide;
    CHECK(goodness(row, cell) == 0.75);
}

TEST_CASE("the reason is the one given most often by those who do not see it") {
    const StripRow row = strip_rows(landing()).front();
    const std::map<std::string, double> weights{{"adult", 0.75}, {"child", 0.25}};
    for (std::size_t station = 0; station < row.cells.size(); ++station) {
        std::map<SightReason, double> reasons;
        for (const TargetSights& by : sights(landing()))
            for (std::size_t lane = 0; lane < 3; ++lane)
                if (by.target == "sign-read")
                    reasons[by.sights[station * 3 + lane].reason] += weights.at(by.visitor);
        reasons.erase(SightReason::seen);
        if (reasons.empty()) continue;
        for (const auto& [reason, weight] : reasons)
            CHECK(weight <= reasons[row.cells[station].reason] + 1e-12);
    }
}

TEST_CASE("doubt is where the verdict hangs on the samples") {
    for (const StripRow& row : strip_rows(landing()))
        for (const StripCell& cell : row.cells) {
            CHECK(cell.doubtful >= 0);
            CHECK(cell.doubtful <= 1);
            if (cell.standard_error == 0) CHECK(cell.doubtful == 0);
        }
    CheckOutcome made = landing(); // one sight at its limit of 0.7, give or take
    for (const auto& [share, error, doubtful] : {std::tuple{0.7, 0.0, false},
                                                 {0.71, 0.0052, true},
                                                 {0.71, 0.005, false},
                                                 {0.69, 0.0052, true},
                                                 {0.69, 0.005, false}}) {
        for (TargetSights& by : made.results->sightlines.targets)
            for (Sight& sight : by.sights) {
                sight.share = share;
                sight.standard_error = error;
            }
        CHECK(strip_rows(made).front().doubtful == (doubtful ? 1 : 0));
    }
}

TEST_CASE("a target whose piece is off has a row without cells") {
    Document document = checked_landing();
    Piece sign = *find_piece(document, "sign");
    sign.off = Off::views_and_checks;
    document = with_piece(without_piece(document, "sign"), sign);
    const CheckOutcome outcome = outcome_of(document);
    const std::vector<StripRow> rows = strip_rows(outcome, {"sign-read"});
    REQUIRE(rows.size() == 2);
    CHECK(!rows[0].checked);
    CHECK(rows[0].cells.empty());
    CHECK(rows[1].checked);
}

TEST_CASE("without sights there are no rows") {
    const std::vector<CheckOutcome> outcomes = outcomes_of(checked_landing());
    REQUIRE(outcomes.front().level == CheckLevel::walkway);
    CHECK(strip_rows(outcomes.front()).empty());
    CHECK(!width_strip(outcomes.front()).cells.empty());
    CheckOutcome failed;
    failed.error = input_error("a", "b");
    CHECK(strip_rows(failed).empty());
    CHECK(width_strip(failed).cells.empty());
    CHECK(blockers_at(failed, "sign-read", "", 0, 1).empty());
}

TEST_CASE("a tooltip names every visitor, the lanes, the reason and the first blocker") {
    const std::vector<StripRow> rows = strip_rows(landing(), {"sign-read"});
    const StripRow& folded = rows.front();
    bool hidden = false, seen = false;
    for (std::size_t cell = 0; cell < folded.cells.size(); ++cell) {
        const auto lines = cell_words(landing(), folded, cell);
        REQUIRE(lines.size() >= 2);
        CHECK(says({lines.front()}, "along the path"));
        CHECK(says(lines, "adult"));
        CHECK(says(lines, "child"));
        CHECK(says(lines, "Seen by") == (folded.cells[cell].value > 0));
        CHECK(says(lines, "Not by") == (folded.cells[cell].value < 1));
        for (const TargetSights& by : sights(landing())) {
            const Sight& middle = by.sights[cell * 3 + 1];
            if (by.target != "sign-read" || middle.reason != SightReason::hidden_by_others)
                continue;
            hidden = true;
            const std::string& id = landing().staging->pieces[middle.blockers.front().piece].id;
            CHECK(says(lines, "hidden by others, first by \"" + id + "\""));
        }
        seen = seen || folded.cells[cell].value == 1;
    }
    CHECK(hidden);
    CHECK(seen);
    CHECK(!says(cell_words(landing(), rows[1], 0), "child")); // the adult's own row
    CHECK(cell_words(landing(), folded, folded.cells.size()).empty());
}

TEST_CASE("visitors of whom the same can be said share a line") {
    CheckOutcome made = landing();
    for (TargetSights& by : made.results->sightlines.targets)
        for (Sight& sight : by.sights) {
            sight = {};
            sight.reason = SightReason::beyond_facing;
        }
    const auto lines = cell_words(made, strip_rows(made).front(), 0);
    REQUIRE(lines.size() == 2);
    CHECK(lines[1] == "Not by adult, child from all lanes: beyond the facing limit");
}

TEST_CASE("what is to be hidden is spoken of the other way round") {
    const StripRow row = strip_rows(landing())[1];
    REQUIRE(row.exposed_mm);
    bool shows = false;
    for (std::size_t cell = 0; cell < row.cells.size(); ++cell) {
        const auto lines = cell_words(landing(), row, cell);
        CHECK(says(lines, "Shows to") == (row.cells[cell].value > 0));
        CHECK(says(lines, "Hidden from") == (row.cells[cell].value < 1));
        CHECK(!says(lines, "Seen by"));
        shows = shows || row.cells[cell].value > 0;
    }
    CHECK(shows == (*row.exposed_mm > 0));
}

TEST_CASE("the share of what is to be hidden counts those who lean, as its finding does") {
    StripRow row = strip_rows(landing())[1];
    REQUIRE(row.exposed_mm);
    const double length = path_length(*landing().document.path);
    row.exposed_mm = 0.25 * length;
    row.share_of_path = 0.1; // of those who stand
    CHECK(share_words(row) == "shows 25 %");
    const std::string words = strip_row_words(landing(), row);
    CHECK(words.find("25 %") != std::string::npos);
    CHECK(words.find("lean") != std::string::npos);
    CHECK(words.find("10 %") != std::string::npos);
    row.exposed_mm = 0.001 * length;
    CHECK(share_words(row) == "shows under 1 %"); // never as if nothing showed
    row.exposed_mm = 0.0;
    CHECK(share_words(row) == "shows 0 %");
    row.exposed_mm.reset(); // not looked for yet
    CHECK(share_words(row) == "shows 10 %");
    CHECK(strip_row_words(landing(), row).find("not counted") != std::string::npos);
    row.exposed_mm = 0.25 * length;
    row.visitor = "adult"; // nobody in particular leans
    CHECK(share_words(row) == "shows 10 %");
    StripRow seen = strip_rows(landing())[0];
    seen.share_of_path = 0.414;
    CHECK(share_words(seen) == "41 %");
    seen.checked = false;
    CHECK(share_words(seen) == "off");
}

TEST_CASE("before a check each target has its row, without an answer") {
    const std::vector<StripRow> waiting = waiting_rows(landing().document);
    const std::vector<StripRow> known = strip_rows(landing());
    REQUIRE(waiting.size() == known.size());
    for (std::size_t i = 0; i < known.size(); ++i) {
        CHECK(waiting[i].target == known[i].target);
        CHECK(waiting[i].name == known[i].name);
        CHECK(waiting[i].aim == known[i].aim);
        CHECK(waiting[i].cells.empty());
        CHECK(share_words(waiting[i]).empty());
        CHECK(known[i].known);
    }
}

TEST_CASE("blockers at a place are those of the sight there, the dearest first") {
    const auto& stations = landing().results->sightlines.stations;
    bool some = false;
    for (const TargetSights& by : sights(landing())) {
        if (by.target != "sign-read") continue;
        for (std::size_t i = 0; i < by.sights.size(); ++i) {
            const double near = stations[i / 3].distance + 20;
            const auto ids =
                blockers_at(landing(), "sign-read", by.visitor, near, static_cast<int>(i % 3));
            REQUIRE(ids.size() == by.sights[i].blockers.size());
            for (std::size_t k = 0; k < ids.size(); ++k)
                CHECK(ids[k] == landing().staging->pieces[by.sights[i].blockers[k].piece].id);
            some = some || !ids.empty();
        }
    }
    CHECK(some);
    CHECK(blockers_at(landing(), "sign", "", 0, 1) ==
          blockers_at(landing(), "sign-read", "adult", 0, 1));
    for (const int lane : {-1, 3})
        CHECK(blockers_at(landing(), "sign-read", "", 0, lane).empty());
    CHECK(blockers_at(landing(), "nobody", "", 0, 1).empty());
    CHECK(blockers_at(landing(), "sign-read", "nobody", 0, 1).empty());
}

TEST_CASE("the width strip gives the widths of the walkway, what is narrow and why") {
    const WidthStrip strip = width_strip(landing());
    const Walkway& walkway = landing().results->walkway;
    REQUIRE(strip.cells.size() == walkway.widths.size());
    CHECK(strip.path_width == 2000);
    CHECK(strip.limit == strictest(landing().results->rules, "route-width").limit);
    bool narrow = false, wide = false;
    for (std::size_t i = 0; i < strip.cells.size(); ++i) {
        CHECK(strip.cells[i].at.width == walkway.widths[i].width);
        CHECK(strip.cells[i].headroom == walkway.headroom[i].height);
        CHECK(!strip.cells[i].low);
        if (i > 0) CHECK(strip.cells[i].from == strip.cells[i - 1].to);
        const auto lines = width_words(landing(), strip, i);
        REQUIRE(lines.size() == 3);
        CHECK(says(lines, "Too narrow") == strip.cells[i].narrow);
        narrow = narrow || says(lines, "bollard");
        wide = wide || strip.cells[i].at.width == 2000;
    }
    CHECK(narrow);
    CHECK(wide);
    CHECK(width_words(landing(), strip, strip.cells.size()).empty());
}

TEST_CASE("pinches are the walkway's findings, in their order along the path") {
    Document document = checked_landing();
    document = with_piece(document, box_piece("crate", 500, -1500, 0, 300, 900, 500));
    const CheckOutcome outcome = outcome_of(document);
    const WidthStrip strip = width_strip(outcome);
    REQUIRE(strip.pinches.size() >= 1);
    for (std::size_t i = 0; i < strip.pinches.size(); ++i) {
        const WidthPinch& pinch = strip.pinches[i];
        const Finding& finding = outcome.results->findings[pinch.finding];
        CHECK(finding.check == "walkway");
        CHECK(pinch.width == *finding.measured);
        CHECK(!pinch.text.empty());
        if (i > 0) CHECK(pinch.distance >= strip.pinches[i - 1].distance);
    }
    CHECK(says({strip.pinches.front().text}, "crate"));
}

TEST_CASE("a width at its limit is wide enough, a hair less is not") {
    CheckOutcome made = landing();
    const double limit = strictest(made.results->rules, "route-width").limit;
    made.results->walkway.widths[0].width = limit;
    made.results->walkway.widths[1].width = limit - 0.006;
    made.results->walkway.headroom[0].height = 0;
    const WidthStrip strip = width_strip(made);
    CHECK(!strip.cells[0].narrow);
    CHECK(strip.cells[1].narrow);
    CHECK(strip.cells[0].low);
    CHECK(says(width_words(made, strip, 0), "Too low"));
}
