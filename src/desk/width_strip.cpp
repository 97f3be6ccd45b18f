// The width strip: how wide and how high the way is along the path, and what pinches it.
#include "desk/strip.h"

#include <algorithm>

#include <fmt/format.h>

namespace standpoint {

namespace {

std::string thing_name(const Document& document, const std::string& id) {
    if (id == "edge") return "the edge of the path";
    const Piece* piece = find_piece(document, id);
    return piece == nullptr ? id : spoken(piece->name, piece->id);
}

std::string names_of(const Document& document, const std::vector<std::string>& ids) {
    std::string text;
    for (std::size_t i = 0; i < ids.size(); ++i)
        text += (i == 0 ? "" : i + 1 == ids.size() ? " and " : ", ") + thing_name(document, ids[i]);
    return text;
}

std::vector<WidthPinch> pinches_of(const CheckOutcome& outcome) {
    std::vector<WidthPinch> pinches;
    const std::vector<Finding>& findings = outcome.results->findings;
    for (std::size_t i = 0; i < findings.size(); ++i) {
        const Finding& finding = findings[i];
        if (finding.check != "walkway" || !finding.measured || !finding.distance) continue;
        WidthPinch pinch{i, *finding.distance, *finding.measured, finding.grade, ""};
        pinch.text = length_text(outcome.document, pinch.width);
        if (finding.required)
            pinch.text += " of " + length_text(outcome.document, *finding.required);
        if (!finding.pieces.empty())
            pinch.text += " at " + names_of(outcome.document, finding.pieces);
        pinches.push_back(std::move(pinch));
    }
    std::stable_sort(pinches.begin(), pinches.end(), [](const WidthPinch& a, const WidthPinch& b) {
        return a.distance < b.distance;
    });
    return pinches;
}

} // namespace

WidthStrip width_strip(const CheckOutcome& outcome) {
    WidthStrip strip;
    if (!outcome.results) return strip;
    const Walkway& walkway = outcome.results->walkway;
    const Rule width = strictest(outcome.results->rules, "route-width");
    strip.path_width = outcome.document.path->width.mm;
    strip.limit = width.limit;
    strip.limit_source = source_line(width);
    strip.headroom_limit = strictest(outcome.results->rules, "headroom").limit;
    strip.narrowest = walkway.narrowest;
    for (std::size_t i = 0; i < walkway.widths.size(); ++i) {
        WidthCell cell;
        cell.at = walkway.widths[i];
        const double here = cell.at.distance;
        cell.from = i == 0 ? here : (walkway.widths[i - 1].distance + here) / 2;
        cell.to =
            i + 1 == walkway.widths.size() ? here : (here + walkway.widths[i + 1].distance) / 2;
        cell.headroom = walkway.headroom[i].height;
        cell.narrow = cell.at.width < strip.limit - width_slack_mm;
        cell.low = cell.headroom < strip.headroom_limit - width_slack_mm;
        strip.cells.push_back(std::move(cell));
    }
    strip.pinches = pinches_of(outcome);
    return strip;
}

std::vector<std::string> width_words(const CheckOutcome& outcome, const WidthStrip& strip,
                                     std::size_t cell) {
    std::vector<std::string> lines;
    if (!outcome.results || cell >= strip.cells.size()) return lines;
    const Document& document = outcome.document;
    const WidthCell& here = strip.cells[cell];
    const std::string left = thing_name(document, here.at.left);
    const std::string right = thing_name(document, here.at.right);
    const std::string between = left == right ? "" : ", between " + left + " and " + right;
    lines.push_back(fmt::format("At {} the way is {} wide{}",
                                length_text(document, here.at.distance),
                                length_text(document, here.at.width), between));
    lines.push_back(fmt::format("{} {} by {}",
                                here.narrow ? "Too narrow: asked for is" : "Asked for is",
                                length_text(document, strip.limit), strip.limit_source));
    lines.push_back(fmt::format(
        "{} {}, asked for is {}", here.low ? "Too low: headroom is" : "Headroom is",
        length_text(document, here.headroom), length_text(document, strip.headroom_limit)));
    return lines;
}

} // namespace standpoint
