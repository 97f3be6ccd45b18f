// The sight strip in words, for a tooltip: who sees a target from one station, who does not, why.
#include "desk/strip.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "desk/sight_limits.h"

namespace standpoint {

namespace {

constexpr const char* lane_names[] = {"left", "middle", "right"};

struct Verdict { // sights of one visitor that say the same
    SightReason reason = SightReason::seen;
    std::string blocker; // id of the first; empty: none
    std::vector<int> lanes;
    double least = 1, most = 0; // V
    double detail = 0;
};

std::vector<Verdict> verdicts(const CheckOutcome& outcome, const TargetSights& sights,
                              std::size_t station) {
    std::vector<Verdict> out;
    for (int lane = 0; lane < lane_count; ++lane) {
        const Sight& sight = sights.sights[station * lane_count + static_cast<std::size_t>(lane)];
        std::string blocker;
        if (sight.reason != SightReason::seen && !sight.blockers.empty())
            blocker = outcome.staging->pieces[sight.blockers.front().piece].id;
        Verdict* same = nullptr;
        for (Verdict& other : out)
            if (other.reason == sight.reason && other.blocker == blocker) same = &other;
        if (same == nullptr) same = &out.emplace_back(Verdict{sight.reason, blocker, {}, 1, 0, 0});
        same->lanes.push_back(lane);
        same->least = std::min(same->least, sight.share);
        same->most = std::max(same->most, sight.share);
        same->detail = std::max(same->detail, sight.detail);
    }
    return out;
}

std::string lanes_text(const std::vector<int>& lanes) {
    if (lanes.size() == lane_count) return "from all lanes";
    std::string text = "from the ";
    for (std::size_t i = 0; i < lanes.size(); ++i)
        text += (i == 0 ? "" : " and ") + std::string(lane_names[lanes[i]]);
    return text + (lanes.size() == 1 ? " lane" : " lanes");
}

std::string shares_text(const Verdict& verdict) {
    const std::string least = share_text(verdict.least), most = share_text(verdict.most);
    return least == most ? least : least + " to " + most;
}

bool is_traced(SightReason reason) {
    return reason != SightReason::turned_away && reason != SightReason::beyond_facing;
}

std::string why_text(const Verdict& verdict, Aim aim, double limit) {
    std::string text = sight_reason_names[static_cast<int>(verdict.reason)];
    if (!verdict.blocker.empty()) text += fmt::format(", first by \"{}\"", verdict.blocker);
    if (aim == Aim::see && is_traced(verdict.reason) && verdict.reason != SightReason::too_far)
        text += fmt::format("; {} of it open, needs {}", shares_text(verdict), share_text(limit));
    if (verdict.reason == SightReason::too_far && verdict.detail > 0)
        text += fmt::format("; its smallest detail at {:.2f} arcmin", verdict.detail);
    return text;
}

// A line of the tooltip about one visitor or several of whom the same can be said.
struct Line {
    std::string head, who, rest; // "Seen by", "adult and child", "from all lanes: ..."
};

Line line_of(const Verdict& verdict, const std::string& who, Aim aim, double limit) {
    const bool seen = verdict.reason == SightReason::seen;
    const char* head =
        aim == Aim::hide ? (seen ? "Shows to" : "Hidden from") : (seen ? "Seen by" : "Not by");
    const std::string why = seen ? shares_text(verdict) + " of it" : why_text(verdict, aim, limit);
    return {head, who, lanes_text(verdict.lanes) + ": " + why};
}

void add_line(std::vector<Line>& lines, Line line) {
    for (Line& other : lines)
        if (other.head == line.head && other.rest == line.rest) {
            other.who += ", " + line.who;
            return;
        }
    lines.push_back(std::move(line));
}

} // namespace

namespace {

std::string whole_percent(double share) {
    // What shows at all never reads as nothing.
    return share > 0 && share < 0.005 ? "under 1 %" : fmt::format("{:.0f} %", share * 100);
}

// From which it shows, leaning included; nothing: not looked for, or a row of one visitor.
std::optional<double> exposed_share(const StripRow& row) {
    if (row.aim != Aim::hide || !row.visitor.empty() || !row.exposed_mm || row.cells.empty())
        return std::nullopt;
    const double length = row.cells.back().to - row.cells.front().from;
    if (length <= 0) return std::nullopt;
    return std::min(1.0, *row.exposed_mm / length);
}

} // namespace

std::string share_words(const StripRow& row) {
    if (!row.known) return {};
    if (!row.checked) return "off";
    if (row.aim == Aim::see) return fmt::format("{:.0f} %", row.share_of_path * 100);
    return "shows " + whole_percent(exposed_share(row).value_or(row.share_of_path));
}

std::string strip_row_words(const CheckOutcome& outcome, const StripRow& row) {
    const std::string who = row.visitor.empty() ? row.name : row.name + ", " + row.visitor_name;
    if (!row.known) return who + ": not checked yet";
    if (!row.checked) return who + ": not checked, its piece is switched off";
    if (row.aim == Aim::see)
        return fmt::format("{}: seen from {:.0f} % of the path", who, row.share_of_path * 100);
    const std::string standing = whole_percent(row.share_of_path);
    if (const auto exposed = exposed_share(row))
        return fmt::format("{} should stay hidden. Some of it shows from {} of the path ({}), "
                           "counting visitors who lean over its edges. Of those who stand on the "
                           "path {} see some of it; the cells show these.",
                           who, whole_percent(*exposed),
                           length_text(outcome.document, *row.exposed_mm), standing);
    return fmt::format("{} should stay hidden. {} of those who stand on the path see some of it; "
                       "visitors who lean over its edges are not counted here.",
                       who, standing);
}

std::vector<std::string> cell_words(const CheckOutcome& outcome, const StripRow& row,
                                    std::size_t cell) {
    std::vector<std::string> words;
    const Target* target = find_target(outcome.document, row.target);
    if (!outcome.has_sights() || target == nullptr || cell >= row.cells.size()) return words;
    const double limit = seen_limit(outcome, *target);
    words.push_back(fmt::format("{} at {} along the path", row.name,
                                length_text(outcome.document, row.cells[cell].station)));
    std::vector<Line> lines;
    for (const Visitor& visitor : *outcome.document.visitors) {
        if (!row.visitor.empty() && row.visitor != visitor.id) continue;
        const TargetSights* sights = sights_of(outcome, row.target, visitor.id);
        if (sights == nullptr) continue;
        for (const Verdict& verdict : verdicts(outcome, *sights, cell))
            add_line(lines, line_of(verdict, spoken(visitor.name, visitor.id), target->aim, limit));
    }
    for (const Line& line : lines)
        words.push_back(line.head + " " + line.who + " " + line.rest);
    const double error = two_sided_95 * row.cells[cell].standard_error;
    if (error > 0)
        words.push_back(fmt::format("{}: each share is within about {} points",
                                    outcome.rough() ? "A first, rough answer" : "Sampled",
                                    error < 0.095 ? fmt::format("{:.1f}", error * 100)
                                                  : fmt::format("{:.0f}", error * 100)));
    return words;
}

} // namespace standpoint
