// How figures read.
#include "check/reads.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <glm/geometric.hpp>
#include <glm/trigonometric.hpp>

#include "base/check.h"
#include "figure/contact.h"
#include "measure/tolerance.h"

namespace standpoint {

namespace {

struct Reader {
    const Staging& staging;
    const Document& document;
    const PlacedFigures& figures;
    const std::vector<Rule>& rules;

    const Piece& piece(std::size_t index) const { return *(*document.pieces)[index]; }
    bool is_checked(std::size_t index) const { return piece(index).off != Off::views_and_checks; }
    std::string name(const std::string& id) const {
        const Piece* found = find_piece(document, id);
        if (found) return spoken(found->name, id);
        const Visitor* visitor = find_visitor(document, id);
        return visitor ? spoken(visitor->name, id) : id;
    }
};

bool within(const Rule& rule, double measured) {
    return passes(rule, measured);
}

// -- touches --

// A place of a height h of the original is built at h times its own ratio; the figure was posed for
// h times the figure's. Only what it sits on, leans on or holds.
double ratio_step_of(const Reader& reader, const Touch& touch, const Piece& figure) {
    if (touch.how == TouchHow::stands_on || !touch.meets.empty()) return 0;
    const Piece& touched = *find_piece(reader.document, touch.piece);
    return touch.at.z.mm * (ratio_of(reader.document, touched) - ratio_of(reader.document, figure));
}

void report_touch(const Reader& reader, const TouchRead& read, std::vector<Finding>& findings) {
    for (const Rule& rule : rules_on(reader.rules, "touch-gap")) {
        if (within(rule, read.off)) continue;
        Finding finding =
            finding_on(rule, Grade::warn, "touch", read.piece, read.off,
                       fmt::format("{} does not reach {}: its {} is {} off",
                                   reader.name(read.piece), reader.name(read.touched), read.contact,
                                   length_text(reader.document, read.off)));
        finding.pieces = {read.piece, read.touched};
        finding.place = read.place;
        findings.push_back(std::move(finding));
    }
}

void report_ratio_step(const Reader& reader, const TouchRead& read, const Touch& touch,
                       std::vector<Finding>& findings) {
    const double step = std::abs(read.ratio_step);
    for (const Rule& rule : rules_on(reader.rules, "ratio-step")) {
        if (within(rule, step)) continue;
        Finding finding = finding_on(
            rule, Grade::note, "ratio-step", read.piece, step,
            fmt::format("{} {} {}, which is built at another ratio: {} {} than the figure was "
                        "posed for",
                        reader.name(read.piece), touch_how_names[static_cast<int>(touch.how)],
                        reader.name(read.touched), length_text(reader.document, step),
                        read.ratio_step > 0 ? "higher" : "lower"));
        finding.pieces = {read.piece, read.touched};
        finding.place = read.place;
        findings.push_back(std::move(finding));
    }
}

void read_touches(const Reader& reader, FigureReads& out) {
    for (const TouchPlace& place : touch_places(reader.document, reader.figures)) {
        if (!reader.is_checked(place.piece)) continue;
        const Piece& figure = reader.piece(place.piece);
        const Touch& touch = figure.touches[place.touch];
        TouchRead read{figure.id,      touch.contact,   touch.piece,
                       place.off_mm(), place.off_deg(), ratio_step_of(reader, touch, figure),
                       place.found};
        report_touch(reader, read, out.findings);
        report_ratio_step(reader, read, touch, out.findings);
        out.touches.push_back(std::move(read));
    }
}

// -- looks --

// What both may be off their places makes of the angle between them, and what the figure may be
// turned by.
double uncertain_deg(const Document& document, double distance) {
    const auto& settings = *document.settings;
    const double off =
        settings.placing_tolerance ? settings.placing_tolerance->mm : placing_tolerance_mm;
    const double turned =
        settings.turning_tolerance ? settings.turning_tolerance->deg : placing_tolerance_deg;
    return turned + glm::degrees(std::atan2(std::sqrt(2.0) * off, distance));
}

bool look_back(const Document& document, const Piece& figure) {
    const Gaze& gaze = *figure.looks_at;
    if (gaze.piece.empty() || gaze.at) return false;
    const Piece& other = *find_piece(document, gaze.piece);
    return other.looks_at && other.looks_at->piece == figure.id && !other.looks_at->at;
}

void report_look(const Reader& reader, const LookRead& read, std::vector<Finding>& findings) {
    for (const Rule& rule : rules_on(reader.rules, "eye-turn")) {
        if (within(rule, read.eye_turn - read.uncertain)) continue;
        Finding finding = finding_on(
            rule, Grade::warn, "gaze", read.piece, read.eye_turn,
            fmt::format(
                "{} cannot look at {}: the head stays {:.0f}\xc2\xb0 short, more than eyes turn",
                reader.name(read.piece), reader.name(read.at), read.eye_turn));
        finding.pieces = {read.piece};
        if (find_piece(reader.document, read.at)) finding.pieces.push_back(read.at);
        finding.place = read.place;
        findings.push_back(std::move(finding));
    }
}

void read_looks(const Reader& reader, FigureReads& out) {
    for (const LookPlace& place : look_places(reader.document, reader.figures)) {
        if (!reader.is_checked(place.piece)) continue;
        const Piece& figure = reader.piece(place.piece);
        const Gaze& gaze = *figure.looks_at;
        LookRead read{figure.id,
                      gaze.piece.empty() ? gaze.visitor : gaze.piece,
                      place.off_deg(),
                      uncertain_deg(reader.document, glm::length(place.wanted - place.eyes)),
                      look_back(reader.document, figure),
                      place.eyes};
        report_look(reader, read, out.findings);
        out.looks.push_back(std::move(read));
    }
}

// -- ranges --

void report_range(const Reader& reader, const RangeRead& read, const PlacedFigure& figure,
                  std::vector<Finding>& findings) {
    const double over = std::max(read.least - read.angle, read.angle - read.most);
    const Joint& joint =
        figure.figure.skeleton->joints[joint_index(*figure.figure.skeleton, read.joint)];
    for (const Rule& rule : rules_on(reader.rules, "beyond-range")) {
        if (within(rule, over)) continue;
        Finding finding = finding_on(
            rule, Grade::warn, "joint-range", read.piece, over,
            fmt::format("{}: the {} is turned to {:.3g}\xc2\xb0 ({}), its range is "
                        "{:.3g}\xc2\xb0 to {:.3g}\xc2\xb0",
                        reader.name(read.piece), joint.trade.empty() ? read.joint : joint.trade,
                        read.angle, read.axis, read.least, read.most));
        finding.pieces = {read.piece};
        finding.place = figure.form.origin;
        findings.push_back(std::move(finding));
    }
}

void read_ranges(const Reader& reader, FigureReads& out) {
    for (const auto& figure : reader.figures) {
        if (!figure || !reader.is_checked(figure->piece)) continue;
        for (const BrokenLimit& broken : broken_limits(figure->figure)) {
            RangeRead read{reader.piece(figure->piece).id,
                           broken.joint,
                           broken.axis,
                           broken.found,
                           broken.least,
                           broken.most};
            report_range(reader, read, *figure, out.findings);
            out.beyond.push_back(std::move(read));
        }
    }
}

} // namespace

FigureReads check_figure_reads(const Staging& staging, const std::vector<Rule>& rules) {
    STANDPOINT_CHECK(staging.figures != nullptr);
    const Reader reader{staging, staging.document, *staging.figures, rules};
    FigureReads out;
    read_touches(reader, out);
    read_looks(reader, out);
    read_ranges(reader, out);
    sort_findings(out.findings);
    return out;
}

} // namespace standpoint
