// Who looks: the built-in visitors and the arithmetic of growth charts.
#include "figure/anthropometry.h"

#include <cmath>
#include <string>

#include "base/check.h"

namespace standpoint {

namespace {

// Height that indoor shoes add to stature and eye height, from memory.
constexpr double shoe_mm = 25;
constexpr const char* shoe_source = "25 mm for shoes added: Pheasant and Haslegrave, Bodyspace "
                                    "3rd ed. (2006), ch. 2, from memory";
constexpr const char* ansur_source =
    "ANSUR II, Gordon et al., NATICK/TR-15/007 (2014), barefoot, standing eye derived by person";
constexpr const char* cdc_source = "CDC 2000 growth charts, stature for age, Kuczmarski et al., "
                                   "Vital Health Stat 11(246) (2002), median, mean of boys and "
                                   "girls";
constexpr const char* assumed = "setback: common practice, no source; share: an assumption";

// How far the eye of a standing visitor stays behind the edge of the path: toes, belly, a bag.
constexpr double standing_setback_mm = 150;
// Knees, toes and footrests come before the eyes of a person seated in a wheelchair.
constexpr double seated_setback_mm = 650;

Visitor standing(const char* id, const char* name, double stature_mm, double eye_mm, double share,
                 const std::string& source) {
    Visitor visitor;
    visitor.id = id;
    visitor.name = name;
    visitor.eye_height = std::round(eye_mm + shoe_mm);
    visitor.crown = std::round(stature_mm + shoe_mm);
    visitor.setback = standing_setback_mm;
    visitor.share = share;
    visitor.source = source + "; " + shoe_source + "; " + assumed;
    return visitor;
}

// Medians of boys and of girls, and how far a child's eyes lie under the crown at that age: an
// assumption between a recalled small-child figure and the value measured at 13 years.
Visitor child(const char* id, const char* name, double boys_mm, double girls_mm, double offset_mm,
              double share) {
    const double stature = (boys_mm + girls_mm) / 2;
    const std::string source = std::string(cdc_source) + "; eyes " +
                               std::to_string(static_cast<int>(offset_mm)) +
                               " mm under the crown: an assumption, good to about 15 mm";
    return standing(id, name, stature, stature - offset_mm, share, source);
}

Visitor wheelchair_user() {
    constexpr double low_mm = 43 * mm_per_inch, high_mm = 51 * mm_per_inch;
    constexpr double crown_over_eye_mm = 114; // ANSUR II, men, median
    Visitor visitor;
    visitor.id = "wheelchair";
    visitor.name = "wheelchair user";
    visitor.eye_height = (low_mm + high_mm) / 2;
    visitor.crown = (low_mm + high_mm) / 2 + crown_over_eye_mm;
    visitor.setback = seated_setback_mm;
    visitor.seated = true;
    visitor.share = 0.05;
    visitor.source = std::string("middle of 43 to 51 in: ADA Standards (1991), 28 CFR Part 36 "
                                 "App. A, A4.2.4 and Fig. A3; crown 114 mm over the eye: ") +
                     ansur_source + ", men, median; " + assumed;
    return visitor;
}

} // namespace

std::vector<Visitor> built_in_visitors() {
    const std::string woman = std::string(ansur_source) + ", women, 5th percentile";
    const std::string man = std::string(ansur_source) + ", men, 95th percentile";
    return {child("child-4", "child of 4", 1025.1, 1010.3, 100, 0.10),
            child("child-9", "child of 9", 1337.3, 1331.3, 108, 0.20),
            standing("small-woman", "small woman", 1525, 1421, 0.35, woman),
            standing("tall-man", "tall man", 1870, 1753, 0.30, man), wheelchair_user()};
}

Document starting_document() {
    Document document = empty_document();
    document.visitors = std::make_shared<const std::vector<Visitor>>(built_in_visitors());
    document.rules =
        std::make_shared<const RuleChoice>(RuleChoice{{"ada-2010", "sight-defaults"}, {}});
    return document;
}

double lms_value(double l, double m, double s, double z) {
    STANDPOINT_CHECK(m > 0 && s > 0);
    if (l == 0) return m * std::exp(s * z);
    STANDPOINT_CHECK(1 + l * s * z > 0); // beyond this no stature has the score
    return m * std::pow(1 + l * s * z, 1 / l);
}

double lms_z(double l, double m, double s, double x) {
    STANDPOINT_CHECK(m > 0 && s > 0 && x > 0);
    if (l == 0) return std::log(x / m) / s;
    return (std::pow(x / m, l) - 1) / (l * s);
}

} // namespace standpoint
