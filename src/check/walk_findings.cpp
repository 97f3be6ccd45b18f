// What a designer is told about narrow places: who forms them, what must move and how far.
#include "check/walk_findings.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <glm/geometric.hpp>

namespace standpoint {

namespace {

constexpr const char* check_name = "walkway";
constexpr const char* subject_name = "path";

struct Talk { // what every sentence needs
    const Staging& staging;
    const std::vector<Rule>& rules;
    const WalkMeasure& measure;
    const std::vector<HeadroomAt>& headroom;
    double tolerance = 0;

    std::string length(double mm) const { return length_text(staging.document, mm); }
};

const StagedPiece* movable(const Talk& talk, std::uint32_t owner) {
    if (owner == edge_owner) return nullptr;
    const StagedPiece& piece = talk.staging.pieces[owner];
    return piece.staged == StagedKind::piece ? &piece : nullptr;
}

std::string name_of(const Talk& talk, std::uint32_t owner) {
    if (owner == edge_owner) return "the edge of the path";
    const StagedPiece& piece = talk.staging.pieces[owner];
    return piece.piece == nullptr ? piece.id : spoken(piece.piece->name, piece.id);
}

// What can be moved is to blame before what stands for good.
void set_pieces(const Talk& talk, const Hold& hold, Finding& finding) {
    for (const bool moves : {true, false})
        for (const std::uint32_t owner : {hold.left, hold.right}) {
            if (owner == edge_owner || (movable(talk, owner) != nullptr) != moves) continue;
            const std::string& id = talk.staging.pieces[owner].id;
            if (finding.pieces.empty() || finding.pieces.front() != id)
                finding.pieces.push_back(id);
        }
}

void set_place(const Hold& hold, Finding& finding) {
    const glm::dvec2 middle = (hold.width.left_point + hold.width.right_point) * 0.5;
    finding.place = glm::dvec3(middle, 0.0);
    finding.distance = hold.width.distance;
}

// How much a piece is to be raised, when it is in the way at this place only by hanging too low.
std::optional<double> too_low(const Talk& talk, std::uint32_t owner, const glm::dvec2& place) {
    if (owner == edge_owner) return std::nullopt;
    const StagedPiece& piece = talk.staging.pieces[owner];
    std::optional<double> lowest;
    for (const HeadroomAt& at : talk.headroom)
        if (at.piece == piece.id) lowest = std::min(at.height, lowest.value_or(at.height));
    if (!lowest) return std::nullopt;
    constexpr double same_place_mm = 1;
    std::vector<PlanSegment> standing;
    add_outline(piece, owner, {walk_over_mm, overhead_from_mm},
                {{place - same_place_mm, place + same_place_mm}}, standing);
    for (const PlanSegment& segment : standing)
        if (glm::distance(nearest_point(segment.a, segment.b, place), place) <= same_place_mm)
            return std::nullopt;
    const double raise = strictest(talk.rules, "headroom").limit - *lowest;
    return raise > 0 ? std::optional(raise) : std::nullopt;
}

std::string raising(const Talk& talk, std::uint32_t owner, double raise) {
    return fmt::format("raise {}, which hangs too low, by {}", name_of(talk, owner),
                       at_least_text(talk.staging.document, raise));
}

std::string advice(const Talk& talk, const Hold& hold, double shortfall) {
    if (const auto raise = too_low(talk, hold.left, hold.width.left_point))
        return raising(talk, hold.left, *raise);
    if (const auto raise = too_low(talk, hold.right, hold.width.right_point))
        return raising(talk, hold.right, *raise);
    const std::string by = at_least_text(talk.staging.document, shortfall);
    const StagedPiece* left = movable(talk, hold.left);
    const StagedPiece* right = movable(talk, hold.right);
    if (left != nullptr && left == right)
        return fmt::format("open {} by {}", name_of(talk, hold.left), by);
    if (left != nullptr && right != nullptr)
        return fmt::format("move {} {} to the left or {} as far to the right, walking",
                           name_of(talk, hold.left), by, name_of(talk, hold.right));
    if (left != nullptr)
        return fmt::format("move {} {} to the left, walking", name_of(talk, hold.left), by);
    if (right != nullptr)
        return fmt::format("move {} {} to the right, walking", name_of(talk, hold.right), by);
    if (hold.left == edge_owner && hold.right == edge_owner)
        return fmt::format("draw the path {} wider", by);
    return fmt::format("lead the path {} farther from what stands there", by);
}

// The rule of the same set on another quantity: route-width.ada-2010 ->
// route-short-length.ada-2010.
const Rule* companion(const Talk& talk, const Rule& rule, const std::string& quantity) {
    const std::string id = quantity + rule.id.substr(std::min(rule.id.find('.'), rule.id.size()));
    for (const Rule& other : talk.rules)
        if (other.id == id) return &other;
    return nullptr;
}

struct Exception { // a short narrow stretch that a rule lets pass
    const Rule *width = nullptr, *length = nullptr, *apart = nullptr;
    bool known() const { return width != nullptr && length != nullptr && apart != nullptr; }
};

Exception exception_of(const Talk& talk, const Rule& rule) {
    return {companion(talk, rule, "route-width-short"), companion(talk, rule, "route-short-length"),
            companion(talk, rule, "route-short-apart")};
}

// Why the exception does not help, or nothing when it does.
std::string against(const Talk& talk, const Exception& exception, const std::vector<Pinch>& pinches,
                    std::size_t i) {
    const Pinch& pinch = pinches[i];
    if (pinch.width < exception.width->limit - width_slack_mm) return "too narrow";
    if (pinch.length() > exception.length->limit + width_slack_mm)
        return fmt::format("{} long", talk.length(pinch.length()));
    const double least = exception.apart->limit - width_slack_mm;
    if (i > 0 && pinch.from - pinches[i - 1].to < least)
        return fmt::format("only {} after the one before",
                           talk.length(pinch.from - pinches[i - 1].to));
    if (i + 1 < pinches.size() && pinches[i + 1].from - pinch.to < least)
        return fmt::format("only {} before the next", talk.length(pinches[i + 1].from - pinch.to));
    return "";
}

std::string narrow_message(const Talk& talk, const Rule& rule, const Hold& hold) {
    const double shortfall = rule.limit - hold.width.width;
    return fmt::format("the way is {} wide between {} and {}, {} less than {}; {}",
                       talk.length(hold.width.width), name_of(talk, hold.left),
                       name_of(talk, hold.right), at_least_text(talk.staging.document, shortfall),
                       talk.length(rule.limit), advice(talk, hold, shortfall));
}

Finding narrow_finding(const Talk& talk, const Rule& rule, const std::vector<Pinch>& pinches,
                       std::size_t i) {
    const Hold hold = hold_at(talk.staging, talk.measure, pinches[i].narrowest);
    std::string message = narrow_message(talk, rule, hold);
    Grade grade = Grade::fail;
    const Exception exception = exception_of(talk, rule);
    if (exception.known()) {
        const std::string why = against(talk, exception, pinches, i);
        if (why.empty()) {
            grade = Grade::warn;
            message = fmt::format(
                "the way is {} wide for {} between {} and {}, under {}: allowed for at most {} by "
                "{}, {} or more from the next such place",
                talk.length(hold.width.width), talk.length(pinches[i].length()),
                name_of(talk, hold.left), name_of(talk, hold.right), talk.length(rule.limit),
                talk.length(exception.length->limit), source_line(*exception.width),
                talk.length(exception.apart->limit));
        } else if (why != "too narrow") {
            message += fmt::format(" (down to {} is allowed for a short way, but this is {})",
                                   talk.length(exception.width->limit), why);
        }
    }
    Finding finding =
        finding_on(rule, grade, check_name, subject_name, hold.width.width, std::move(message));
    set_pieces(talk, hold, finding);
    set_place(hold, finding);
    return finding;
}

// Passes, but a piece that lands a little off its place makes it fail.
void find_slight_margins(const Talk& talk, const Rule& rule, std::vector<Finding>& findings) {
    const double reach = 2 * talk.tolerance;
    for (const Pinch& pinch : pinches_below(talk.staging, talk.measure, rule.limit + reach)) {
        const double margin = std::max(pinch.width - rule.limit, 0.0);
        if (pinch.width < rule.limit - width_slack_mm) continue;
        const Hold hold = hold_at(talk.staging, talk.measure, pinch.narrowest);
        const bool left = movable(talk, hold.left) != nullptr;
        const bool right = movable(talk, hold.right) != nullptr && hold.left != hold.right;
        if (!left && !right) continue;
        const double dies = left && right ? margin / 2 : margin;
        Finding finding = finding_on(
            rule, Grade::warn, check_name, subject_name, pinch.width,
            fmt::format("the way is {} wide between {} and {}, which passes {} but dies when {} "
                        "{:.1f} mm off",
                        talk.length(pinch.width), name_of(talk, hold.left),
                        name_of(talk, hold.right), talk.length(rule.limit),
                        left && right ? "each stands" : "it stands", dies));
        set_pieces(talk, hold, finding);
        set_place(hold, finding);
        findings.push_back(std::move(finding));
    }
}

Finding closed_finding(const Talk& talk, const Rule& rule, const Closing& closing) {
    std::string names;
    for (std::size_t i = 0; i < closing.pieces.size(); ++i)
        names += (i == 0                           ? ""
                  : i + 1 == closing.pieces.size() ? " and "
                                                   : ", ") +
                 name_of(talk, closing.pieces[i]);
    const bool several = closing.pieces.size() > 1;
    std::string message = closing.pieces.empty()
                              ? std::string("the way is closed")
                              : fmt::format("{} {} the way from edge to edge", names,
                                            several ? "together close" : "closes");
    for (std::size_t i = 0; i < closing.pieces.size(); ++i)
        if (const auto raise = too_low(talk, closing.pieces[i], closing.contacts[i]))
            message += "; " + raising(talk, closing.pieces[i], *raise);
    if (!closing.pieces.empty())
        message += fmt::format("; beyond, the way is measured without {}", several ? "them" : "it");
    Finding finding =
        finding_on(rule, Grade::fail, check_name, subject_name, 0, std::move(message));
    for (const std::uint32_t piece : closing.pieces)
        finding.pieces.push_back(talk.staging.pieces[piece].id);
    finding.distance = closing.distance();
    finding.place = glm::dvec3(point_at(talk.measure.path, closing.distance()), 0.0);
    return finding;
}

} // namespace

double placing_tolerance(const Staging& staging, const std::vector<Rule>& rules) {
    const auto& own = staging.document.settings->placing_tolerance;
    return own ? own->mm : strictest(rules, "placing-tolerance").limit;
}

std::string at_least_text(const Document& document, double mm) {
    const Settings& settings = *document.settings;
    const double step =
        settings.units == UnitSystem::metric ? 1 : mm_per_inch / settings.inch_denominator;
    return length_text(document, std::ceil(mm / step - 1e-6) * step);
}

void find_narrow_places(const Staging& staging, const std::vector<Rule>& rules,
                        const WalkMeasure& measure, const std::vector<HeadroomAt>& headroom,
                        std::vector<Finding>& findings) {
    const Talk talk{staging, rules, measure, headroom, placing_tolerance(staging, rules)};
    for (const Closing& closing : measure.closings)
        findings.push_back(closed_finding(talk, strictest(rules, "route-width"), closing));
    for (const Rule& rule : rules_on(rules, "route-width")) {
        const std::vector<Pinch> pinches = pinches_below(staging, measure, rule.limit);
        for (std::size_t i = 0; i < pinches.size(); ++i)
            findings.push_back(narrow_finding(talk, rule, pinches, i));
        find_slight_margins(talk, rule, findings);
    }
}

} // namespace standpoint
