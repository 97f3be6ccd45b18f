// The quantities rules speak of, the house's defaults, and the presets a scene may choose.
#include "check/rules.h"

#include "base/check.h"
#include "figure/contact.h"
#include "measure/length.h"
#include "measure/tolerance.h"

namespace standpoint {

namespace {

// US codes print a rounded metric value beside the inch; the inch is what is kept, exactly.
constexpr double inches(double in) {
    return in * mm_per_inch;
}

// A label's character is best 20 arcmin high (US NRC NUREG-0700 Rev. 3, 11.4.1.5-1). A target
// that is smaller across than one good letter reads as a speck, whatever it shows.
constexpr double one_letter_deg = 20.0 / 60.0;

Rule on(const char* quantity, const char* set, double limit) {
    const Quantity* known = find_quantity(quantity);
    STANDPOINT_CHECK(known != nullptr);
    Rule rule;
    rule.id = std::string(quantity) + "." + set;
    rule.quantity = quantity;
    rule.limit = limit;
    rule.unit = known->unit;
    rule.at_least = known->at_least;
    return rule;
}

Rule practice(const char* quantity, const char* set, double limit, const char* caution = "") {
    Rule rule = on(quantity, set, limit);
    rule.caution = caution;
    rule.evidence = Evidence::common_practice;
    return rule;
}

Rule recalled(const char* quantity, const char* set, double limit, const char* document, int year,
              const char* caution) {
    Rule rule = on(quantity, set, limit);
    rule.document = document;
    rule.year = year;
    rule.caution = caution;
    rule.evidence = Evidence::memory;
    return rule;
}

Rule read_in(const char* quantity, const char* set, double limit, const char* document, int year,
             const char* clause, const char* caution) {
    Rule rule = on(quantity, set, limit);
    rule.document = document;
    rule.year = year;
    rule.clause = clause;
    rule.caution = caution;
    return rule;
}

std::vector<Rule> sight_rules(const char* set) {
    constexpr const char* cone_document = "MIL-STD-1472, vertical visual field";
    constexpr const char* line_document = "Human Dimension and Interior Space";
    constexpr const char* cone_caution =
        "a convention: measured lines of sight differ by 10 degrees and more between people";
    return {
        practice("seen-share", set, 0.7),
        practice("facing-limit-face", set, 100, "a face is still read a little past its profile"),
        practice("facing-limit-page", set, 60),
        practice("smallest-detail", set, 3,
                 "1 arcmin is the bare limit of normal sight in good light (ISO 8596)"),
        practice("apparent-size", set, one_letter_deg,
                 "the height of one well readable letter of a label, 20 arcmin"),
        practice("unbroken-sight", set, 1500),
        recalled("cone-half-angle", set, 15, cone_document, 2012, cone_caution),
        recalled("line-of-sight-standing", set, 10, line_document, 1979, cone_caution),
        recalled("line-of-sight-seated", set, 15, line_document, 1979, cone_caution),
        practice("hide-share", set, 0),
        practice("lean", set, 300, "how far past the edge of the path an eye leans"),
        practice("lowest-eye", set, 600, "a small child, or a taller one who stoops"),
        practice("highest-eye", set, 2300, "a child on shoulders"),
    };
}

std::vector<Rule> ada_2010() {
    constexpr const char* set = "ada-2010";
    constexpr const char* document = "2010 ADA Standards for Accessible Design";
    return {
        read_in("route-width", set, inches(36), document, 2010, "403.5.1", "printed as 915 mm"),
        read_in("route-width-short", set, inches(32), document, 2010, "403.5.1 Exception",
                "printed as 815 mm"),
        read_in("route-short-length", set, inches(24), document, 2010, "403.5.1 Exception",
                "printed as 610 mm"),
        read_in("route-short-apart", set, inches(48), document, 2010, "403.5.1 Exception",
                "printed as 1220 mm"),
        read_in("headroom", set, inches(80), document, 2010, "307.4", "printed as 2030 mm"),
    };
}

std::vector<Rule> ibc_2021() {
    constexpr const char* set = "ibc-2021";
    constexpr const char* document = "International Building Code";
    return {
        // The occupant load is not known here, so the wider of the table's two widths stands.
        read_in("route-width", set, inches(44), document, 2021, "Table 1020.3",
                "of corridors; 36 in where fewer than 50 people use it; whether a visitor path "
                "counts as a corridor, and which edition holds, is for the authority to say"),
        read_in("headroom", set, inches(80), document, 2021, "1003.3.1",
                "some places ask for more, New York City for 84 in"),
    };
}

} // namespace

const std::vector<Quantity>& quantities() {
    static const std::vector<Quantity> list = {
        {"route-width", "mm", true, "clear width of the visitor path"},
        {"route-width-short", "mm", true, "clear width where the path is narrow for a short way"},
        {"route-short-length", "mm", false, "length of such a narrow stretch"},
        {"route-short-apart", "mm", true, "full width between two narrow stretches"},
        {"headroom", "mm", true, "clear height over the visitor path"},
        {"placing-tolerance", "mm", false, "how far from its place a piece lands"},
        {"overlap-depth", "mm", false, "how deep two pieces press into each other"},
        {"floating-gap", "mm", false, "gap between a piece and what carries it"},
        {"outside-base", "mm", false, "how far a piece reaches over the edge of the base"},
        {"touch-gap", "mm", false, "how far a hand or seat is from what it touches"},
        {"eye-turn", "deg", false, "how far the eyes turn in the head to what is looked at"},
        {"beyond-range", "deg", false, "how far a joint is turned past its range"},
        {"ratio-step", "mm", false,
         "how far a seat or grip is off for a figure built at another ratio"},
        {"seen-share", "share", true, "visible share of a target"},
        {"facing-limit-face", "deg", false, "angle between a face and the eye"},
        {"facing-limit-page", "deg", false, "angle between a page, sign or front and the eye"},
        {"smallest-detail", "arcmin", true, "angle of the smallest detail that must be seen"},
        {"apparent-size", "deg", true, "angle across a target"},
        {"unbroken-sight", "mm", true, "length of path over which a sight holds"},
        {"cone-half-angle", "deg", false, "angle from the line of sight, up or down"},
        {"line-of-sight-standing", "deg", false, "how far below level a standing person looks"},
        {"line-of-sight-seated", "deg", false, "how far below level a seated person looks"},
        {"hide-share", "share", false, "visible share of what must stay hidden"},
        {"lean", "mm", false, "how far past the edge of the path an eye may be"},
        {"lowest-eye", "mm", true, "lowest eye that must not see what is hidden"},
        {"highest-eye", "mm", false, "highest eye that must not see what is hidden"},
    };
    return list;
}

std::vector<std::string> preset_ids() {
    return {"ada-2010", "ibc-2021", "sight-defaults"};
}

std::vector<Rule> preset(const std::string& id) {
    if (id == "ada-2010") return ada_2010();
    if (id == "ibc-2021") return ibc_2021();
    STANDPOINT_CHECK(id == "sight-defaults");
    return sight_rules("sight-defaults");
}

std::vector<Rule> default_rules() {
    constexpr const char* set = "default";
    std::vector<Rule> rules = {
        practice("route-width", set, inches(36)),
        practice("route-width-short", set, inches(32)),
        practice("route-short-length", set, inches(24)),
        practice("route-short-apart", set, inches(48)),
        practice("headroom", set, inches(80)),
        practice("placing-tolerance", set, placing_tolerance_mm),
        practice("overlap-depth", set, overlap_depth_mm),
        practice("floating-gap", set, floating_gap_mm),
        practice("outside-base", set, outside_base_mm),
        practice("touch-gap", set, touch_gap_mm),
        read_in("eye-turn", set, eyes_turn_deg, "US NRC NUREG-0700 Rev. 3", 2020, "11.3.1.2-2",
                "of the eyes alone, either side; up and down they turn about as far"),
        practice("beyond-range", set, 0, "ranges as the skeleton gives them, with their source"),
        practice("ratio-step", set, placing_tolerance_mm),
    };
    for (Rule& rule : sight_rules(set))
        rules.push_back(std::move(rule));
    return rules;
}

} // namespace standpoint
