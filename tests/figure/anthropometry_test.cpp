// The built-in visitors and the LMS method against tests/reference/eye_heights.csv.
#include <doctest/doctest.h>

#include <cmath>

#include "figure/anthropometry.h"
#include "support/reference.h"

using namespace standpoint;
using support::Reference;

namespace {

double mm(const Reference& rows, const std::string& id) {
    return rows.row(id).value_si * 1000;
}

Visitor built_in(const std::string& id) {
    for (const Visitor& visitor : built_in_visitors())
        if (visitor.id == id) return visitor;
    FAIL("no visitor ", id);
    return {};
}

void check_near(double value, double expected, double tolerance) {
    CHECK_MESSAGE(std::abs(value - expected) <= tolerance, value << " against " << expected);
}

// Rounded to whole millimetres, so half of one is what may differ.
constexpr double rounding_mm = 0.5 + 1e-9;

struct Lms {
    double l, m, s;
};

Lms lms(const Reference& rows, const std::string& child) {
    return {rows.row("cdc_" + child + "_L").value, rows.row("cdc_" + child + "_M").value,
            rows.row("cdc_" + child + "_S").value};
}

// Standard normal quantile of 0.95: the reference's README.
constexpr double z95 = 1.644854;

} // namespace

TEST_CASE("standing adults: ANSUR II percentiles and an allowance for shoes") {
    const Reference rows("eye_heights");
    const double shoe = mm(rows, "shoe_add_men"); // of 25 mm, casual shoes of women as well
    const Visitor woman = built_in("small-woman");
    check_near(woman.eye_height.mm, mm(rows, "ansur2_F_eye_std_p5") + shoe, rounding_mm);
    check_near(woman.crown.mm, mm(rows, "ansur2_F_stature_p5") + shoe, rounding_mm);
    const Visitor man = built_in("tall-man");
    check_near(man.eye_height.mm, mm(rows, "ansur2_M_eye_std_p95") + shoe, rounding_mm);
    check_near(man.crown.mm, mm(rows, "ansur2_M_stature_p95") + shoe, rounding_mm);
}

TEST_CASE("children: CDC medians, mean of boys and girls, less the assumed offset") {
    const Reference rows("eye_heights");
    const double shoe = mm(rows, "shoe_add_men");
    const auto stature = [&](const std::string& age) {
        return (mm(rows, "cdc_B_" + age + "_p50") + mm(rows, "cdc_G_" + age + "_p50")) / 2;
    };
    // At four the offset lies a third of the way from three to six years.
    const double three = mm(rows, "child_vtx_eye_03y"), six = mm(rows, "child_vtx_eye_06y");
    const Visitor four = built_in("child-4");
    check_near(four.crown.mm, stature("04y") + shoe, rounding_mm);
    check_near(four.eye_height.mm, stature("04y") - (three + (six - three) / 3) + shoe,
               rounding_mm);
    const Visitor nine = built_in("child-9");
    check_near(nine.crown.mm, stature("09y") + shoe, rounding_mm);
    check_near(nine.eye_height.mm, stature("09y") - mm(rows, "child_vtx_eye_09y") + shoe,
               rounding_mm);
    // The reference's own derived rows, each rounded to a millimetre.
    const double derived = (mm(rows, "child_eye_B_09y_p50") + mm(rows, "child_eye_G_09y_p50")) / 2;
    check_near(nine.eye_height.mm, derived + shoe, 1);
}

TEST_CASE("wheelchair user: the middle of the 1991 range") {
    const Reference rows("eye_heights");
    const Visitor user = built_in("wheelchair");
    const double middle = (mm(rows, "adaag_wc_eye_min") + mm(rows, "adaag_wc_eye_max")) / 2;
    check_near(user.eye_height.mm, middle, 1e-9);
    check_near(user.crown.mm, middle + mm(rows, "ansur2_M_vtx_eye_p50"), 1e-9);
    CHECK(user.seated);
    CHECK(user.setback.mm == 650); // common practice, no source
}

TEST_CASE("every visitor has a source, a setback and a share, and the shares are everybody") {
    double shares = 0;
    for (const Visitor& visitor : built_in_visitors()) {
        CHECK(visitor.source.size() > 20);
        CHECK(visitor.source.find("assumption") != std::string::npos); // the share
        const bool shoes = visitor.source.find("shoes added") != std::string::npos;
        CHECK(shoes == !visitor.seated);
        CHECK(visitor.setback.mm >= 150); // common practice, no source
        CHECK(visitor.crown.mm > visitor.eye_height.mm);
        shares += visitor.share.value;
    }
    check_near(shares, 1, 1e-12);
    CHECK(built_in_visitors().size() == 5);
}

TEST_CASE("LMS: the worked checks of the reference") {
    const Reference rows("eye_heights");
    const Lms boys = lms(rows, "B_06y"), girls = lms(rows, "G_04y"), ten = lms(rows, "B_10y");
    check_near(lms_value(boys.l, boys.m, boys.s, z95), rows.row("chk_lms_B6_z1645").value, 0.005);
    check_near(lms_value(girls.l, girls.m, girls.s, -z95), rows.row("chk_lms_G4_zm1645").value,
               0.005);
    check_near(lms_z(ten.l, ten.m, ten.s, 140.0), rows.row("chk_lms_inv_B10_140").value, 0.00005);
}

TEST_CASE("LMS: stored percentiles come from their own L, M and S, and back") {
    const Reference rows("eye_heights");
    for (const char* child : {"B_04y", "B_06y", "B_08y", "B_10y", "B_12y", "G_04y", "G_06y",
                              "G_08y", "G_10y", "G_12y"}) {
        const Lms k = lms(rows, child);
        const auto centimetres = [&](const char* percentile) {
            return rows.row(std::string("cdc_") + child + percentile).value;
        };
        check_near(lms_value(k.l, k.m, k.s, -z95), centimetres("_p05"), 0.0051);
        check_near(lms_value(k.l, k.m, k.s, 0), centimetres("_p50"), 0.0051);
        check_near(lms_value(k.l, k.m, k.s, z95), centimetres("_p95"), 0.0051);
        for (double z = -3; z <= 3; z += 0.25)
            check_near(lms_z(k.l, k.m, k.s, lms_value(k.l, k.m, k.s, z)), z, 1e-9);
    }
}

TEST_CASE("LMS: L of 0 is the limit of small L") {
    for (double z = -2; z <= 2; z += 0.5) {
        check_near(lms_value(0, 115, 0.045, z), lms_value(1e-7, 115, 0.045, z), 1e-5);
        check_near(lms_z(0, 115, 0.045, 100 + 10 * z), lms_z(1e-7, 115, 0.045, 100 + 10 * z), 1e-5);
    }
}

TEST_CASE("the starting document is valid and has visitors and rules") {
    const Document document = starting_document();
    CHECK(validate(document).ok());
    CHECK(*document.visitors == built_in_visitors());
    CHECK(document.rules->use == std::vector<std::string>{"ada-2010", "sight-defaults"});
}
