// Check results as JSON after src/check/results.schema.json.
#include <cmath>
#include <string>
#include <vector>

#include "check/json_lines.h"
#include "check/run.h"

namespace standpoint {

namespace {

using Texts = std::vector<std::string>;

// Steps of the long rows of numbers by station; the schema states them.
constexpr double share_step = 1e-4, solid_angle_step = 1e-7, angle_step = 1e-3;
// Of a sight that fails, this many blockers are listed, and none that costs less than this share.
constexpr std::size_t listed_blockers = 3;
constexpr double listed_gain = 0.005;

std::string rounded(double number, double step) {
    // Dividing by the whole number 1/step gives the double nearest to the decimal.
    const double per_one = std::round(1 / step);
    return json_number(std::round(number * per_one) / per_one);
}

std::string count(std::uint64_t number) {
    return std::to_string(number);
}

std::string or_null(const std::optional<double>& number) {
    return number ? json_number(*number) : "null";
}

std::string texts(const Texts& values) {
    Texts out;
    for (const std::string& value : values)
        out.push_back(json_text(value));
    return json_row(out);
}

std::string finding_json(const Finding& f) {
    JsonFields fields = {{"grade", json_text(grade_names[static_cast<int>(f.grade)])},
                         {"check", json_text(f.check)},
                         {"subject", json_text(f.subject)},
                         {"message", json_text(f.message)},
                         {"pieces", texts(f.pieces)}};
    if (f.place) fields.emplace_back("place", json_point(*f.place));
    if (f.distance) fields.emplace_back("distance", json_number(*f.distance));
    if (f.measured) fields.emplace_back("measured", json_number(*f.measured));
    if (f.required) fields.emplace_back("required", json_number(*f.required));
    if (!f.unit.empty()) fields.emplace_back("unit", json_text(f.unit));
    if (!f.rule.empty()) fields.emplace_back("rule", json_text(f.rule));
    if (!f.source.empty()) fields.emplace_back("source", json_text(f.source));
    return json_object(fields);
}

std::string findings_json(const std::vector<Finding>& findings, int indent) {
    Texts lines;
    for (const Finding& finding : findings)
        lines.push_back(finding_json(finding));
    return json_list(lines, indent);
}

std::string counts_json(const std::vector<Finding>& findings) {
    std::uint64_t of[3] = {0, 0, 0};
    for (const Finding& finding : findings)
        ++of[static_cast<int>(finding.grade)];
    return json_object({{"fail", count(of[0])}, {"warn", count(of[1])}, {"note", count(of[2])}});
}

std::string rules_json(const std::vector<Rule>& rules, int indent) {
    Texts lines;
    for (const Rule& rule : rules) {
        lines.push_back(json_object(
            {{"id", json_text(rule.id)},
             {"quantity", json_text(rule.quantity)},
             {"limit", json_number(rule.limit)},
             {"unit", json_text(rule.unit)},
             {"passes", json_text(rule.at_least ? "at least" : "at most")},
             {"source", json_text(source_line(rule))},
             {"caution", json_text(rule.caution)},
             {"evidence", json_text(evidence_names[static_cast<int>(rule.evidence)])}}));
    }
    return json_list(lines, indent);
}

std::string stations_json(const std::vector<Station>& stations, int indent) {
    Texts lines;
    for (const Station& s : stations)
        lines.push_back(json_object({{"distance", json_number(s.distance)},
                                     {"at", json_point(s.place)},
                                     {"length", json_number(s.length)},
                                     {"corner", json_flag(s.corner)}}));
    return json_list(lines, indent);
}

template <class Value> std::string lane_row(const TargetSights& t, int lane, const Value& value) {
    Texts row;
    for (std::size_t i = static_cast<std::size_t>(lane); i < t.sights.size(); i += lane_count)
        row.push_back(value(t.sights[i]));
    return json_row(row);
}

std::string lane_json(const TargetSights& t, int lane, int indent) {
    const auto row = [&](const auto& value) { return lane_row(t, lane, value); };
    return json_block(
        {{"lane", std::to_string(lane)},
         {"reason", row([](const Sight& s) { return std::to_string(static_cast<int>(s.reason)); })},
         {"share", row([](const Sight& s) { return rounded(s.share, share_step); })},
         {"standard_error",
          row([](const Sight& s) { return rounded(s.standard_error, share_step); })},
         {"samples", row([](const Sight& s) { return std::to_string(s.samples); })},
         {"alone", row([](const Sight& s) { return rounded(s.alone, solid_angle_step); })},
         {"visible", row([](const Sight& s) { return rounded(s.visible, solid_angle_step); })},
         {"angle_across", row([](const Sight& s) { return rounded(s.angle_across, angle_step); })},
         {"detail", row([](const Sight& s) { return rounded(s.detail, angle_step); })},
         {"outside_cone", row([](const Sight& s) { return s.outside_cone ? "1" : "0"; })}},
        indent);
}

std::string blockers_json(const Staging& staging, const TargetSights& t, int indent) {
    Texts lines;
    for (std::size_t i = 0; i < t.sights.size(); ++i) {
        const Sight& sight = t.sights[i];
        if (sight.reason == SightReason::seen) continue;
        for (std::size_t b = 0; b < std::min(listed_blockers, sight.blockers.size()); ++b) {
            const Blocker& blocker = sight.blockers[b];
            if (blocker.gain < listed_gain) break;
            lines.push_back(json_row(
                {std::to_string(i / lane_count), std::to_string(i % lane_count),
                 json_text(staging.pieces[blocker.piece].id), rounded(blocker.gain, share_step)}));
        }
    }
    return json_list(lines, indent);
}

std::string target_json(const Staging& staging, const TargetSights& t, int indent) {
    Texts lanes;
    for (int lane = 0; lane < lane_count; ++lane)
        lanes.push_back(lane_json(t, lane, indent + 4));
    return json_block({{"target", json_text(t.target)},
                       {"visitor", json_text(t.visitor)},
                       {"aim", json_text(t.aim == Aim::see ? "see" : "hide")},
                       {"share_of_path", json_number(t.share_of_path)},
                       {"first_seen", or_null(t.first_seen)},
                       {"longest_run", json_number(t.longest_run)},
                       {"lanes", json_list(lanes, indent + 2)},
                       {"blockers", blockers_json(staging, t, indent + 2)}},
                      indent);
}

std::string hidden_json(const std::vector<HideExposure>& hidden, int indent) {
    Texts lines;
    for (const HideExposure& h : hidden) {
        JsonFields fields = {{"target", json_text(h.target)},
                             {"greatest_share", json_number(h.greatest_share)},
                             {"samples", count(h.samples)},
                             {"open", count(h.open)},
                             {"length_exposed", json_number(h.length_exposed)}};
        if (h.open == 0) {
            fields.emplace_back("at_most_share", json_number(at_most_share(h.samples)));
        } else {
            fields.emplace_back("visitor", json_text(h.visitor));
            fields.emplace_back("distance", json_number(h.distance));
            fields.emplace_back("lane", std::to_string(h.lane));
            fields.emplace_back("eye", json_point(h.eye));
        }
        lines.push_back(json_object(fields));
    }
    return json_list(lines, indent);
}

std::string sightlines_json(const Staging& staging, const Sightlines& s, int indent) {
    Texts reasons, targets;
    for (const char* name : sight_reason_names)
        reasons.emplace_back(name);
    for (const TargetSights& t : s.targets)
        targets.push_back(target_json(staging, t, indent + 4));
    return json_block({{"rays", count(s.rays)},
                       {"reasons", texts(reasons)},
                       {"stations", stations_json(s.stations, indent + 2)},
                       {"targets", json_list(targets, indent + 2)},
                       {"hidden", hidden_json(s.hidden, indent + 2)}},
                      indent);
}

std::string width_json(const WidthAt& w) {
    return json_object({{"distance", json_number(w.distance)},
                        {"width", json_number(w.width)},
                        {"left", json_text(w.left)},
                        {"right", json_text(w.right)},
                        {"left_point", json_point(w.left_point)},
                        {"right_point", json_point(w.right_point)}});
}

std::string walkway_json(const Walkway& walkway, int indent) {
    Texts widths, headroom;
    for (const WidthAt& w : walkway.widths)
        widths.push_back(width_json(w));
    for (const HeadroomAt& h : walkway.headroom)
        headroom.push_back(json_object({{"distance", json_number(h.distance)},
                                        {"height", json_number(h.height)},
                                        {"piece", json_text(h.piece)},
                                        {"place", json_point(h.place)}}));
    return json_block({{"width", json_number(walkway.width)},
                       {"narrowest", walkway.narrowest ? width_json(*walkway.narrowest) : "null"},
                       {"widths", json_list(widths, indent + 2)},
                       {"headroom", json_list(headroom, indent + 2)}},
                      indent);
}

std::string reaches_json(const std::vector<Reach>& reaches, bool join, int indent) {
    Texts lines;
    for (const Reach& r : reaches) {
        JsonFields fields = {{"piece", json_text(r.piece)}, {"amount", json_number(r.amount)}};
        if (join) fields.emplace_back("sections", texts({r.section_a, r.section_b}));
        fields.emplace_back("place", json_point(r.place));
        lines.push_back(json_object(fields));
    }
    return json_list(lines, indent);
}

std::string standing_json(const Standing& standing, int indent) {
    Texts overlaps, gaps;
    for (const Overlap& o : standing.overlaps)
        overlaps.push_back(json_object({{"a", json_text(o.a)},
                                        {"b", json_text(o.b)},
                                        {"depth", json_number(o.depth)},
                                        {"inside", json_flag(o.inside)},
                                        {"place", json_point(o.place)}}));
    for (const Gap& g : standing.gaps)
        gaps.push_back(json_object({{"piece", json_text(g.piece)},
                                    {"carrier", json_text(g.carrier)},
                                    {"gap", json_number(g.gap)},
                                    {"place", json_point(g.place)}}));
    return json_block({{"overlaps", json_list(overlaps, indent + 2)},
                       {"gaps", json_list(gaps, indent + 2)},
                       {"outside_base", reaches_json(standing.outside_base, false, indent + 2)},
                       {"across_join", reaches_json(standing.across_join, true, indent + 2)}},
                      indent);
}

std::string figures_json(const FigureReads& figures, int indent) {
    Texts touches, looks, beyond;
    for (const TouchRead& t : figures.touches)
        touches.push_back(json_object({{"piece", json_text(t.piece)},
                                       {"contact", json_text(t.contact)},
                                       {"touched", json_text(t.touched)},
                                       {"off", json_number(t.off)},
                                       {"turned", json_number(t.turned)},
                                       {"ratio_step", json_number(t.ratio_step)},
                                       {"place", json_point(t.place)}}));
    for (const LookRead& l : figures.looks)
        looks.push_back(json_object({{"piece", json_text(l.piece)},
                                     {"at", json_text(l.at)},
                                     {"eye_turn", json_number(l.eye_turn)},
                                     {"uncertain", json_number(l.uncertain)},
                                     {"meets_eyes", json_flag(l.meets_eyes)},
                                     {"place", json_point(l.place)}}));
    for (const RangeRead& r : figures.beyond)
        beyond.push_back(json_object({{"piece", json_text(r.piece)},
                                      {"joint", json_text(r.joint)},
                                      {"axis", json_text(r.axis)},
                                      {"angle", json_number(r.angle)},
                                      {"least", json_number(r.least)},
                                      {"most", json_number(r.most)}}));
    return json_block({{"touches", json_list(touches, indent + 2)},
                       {"looks", json_list(looks, indent + 2)},
                       {"beyond_range", json_list(beyond, indent + 2)}},
                      indent);
}

std::string cautions_json(int indent) {
    Texts lines;
    for (const std::string& caution : cautions())
        lines.push_back(json_text(caution));
    return json_list(lines, indent);
}

} // namespace

std::string results_json(const Staging& staging, const CheckResults& results) {
    return json_block({{"standpoint_results", "1"},
                       {"title", json_text(staging.document.settings->title)},
                       {"cautions", cautions_json(2)},
                       {"counts", counts_json(results.findings)},
                       {"findings", findings_json(results.findings, 2)},
                       {"rules", rules_json(results.rules, 2)},
                       {"sightlines", sightlines_json(staging, results.sightlines, 2)},
                       {"walkway", walkway_json(results.walkway, 2)},
                       {"standing", standing_json(results.standing, 2)},
                       {"figures", figures_json(results.figures, 2)}},
                      0) +
           "\n";
}

} // namespace standpoint
