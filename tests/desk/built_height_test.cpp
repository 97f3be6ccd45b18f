// How high a piece is to be built: a primitive is made another height, all else another ratio.
#include <doctest/doctest.h>

#include "desk/arranged.h"
#include "desk/built_height.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

Piece of_form(const Form& form) {
    Piece piece = box_piece("it", 0, 0, 0, 1, 1, 1);
    piece.ratio = 12;
    piece.parts[0].form = form;
    return piece;
}

Piece built(const Piece& piece, double original_mm, const Length& high) {
    const Document document = with_piece(bare_scene(), piece);
    const auto edit = set_built_height(document, "it", original_mm, high);
    REQUIRE(edit.ok());
    const auto after = apply(document, *edit);
    REQUIRE(after.ok());
    return *find_piece(*after, "it");
}

} // namespace

TEST_CASE("a primitive keeps its ratio and gets another height") {
    const Form forms[] = {BoxForm{50, 40, 30},
                          CylinderForm{20, 30},
                          ConeForm{20, 0, 30},
                          CapsuleForm{20, 30},
                          ExtrusionForm{{{0, 0}, {10, 0}, {0, 10}}, 30},
                          WallForm{100, 5, 30, {}}};
    for (const Form& form : forms) {
        CAPTURE(form.index());
        const Piece before = of_form(form);
        CHECK(made_height(before) == 30);
        const Piece after = built(before, 30, 1200);
        CHECK(made_height(after) == 100); // 1200 mm at 12:1
        CHECK(after.ratio->value == 12);
    }
    const BoxForm box = std::get<BoxForm>(built(of_form(forms[0]), 30, 1200).parts[0].form);
    CHECK(box.width.mm == 50);
    CHECK(box.depth.mm == 40);
}

TEST_CASE("what has no height of its own gets another ratio") {
    const Form forms[] = {SphereForm{30}, StairsForm{100, 28, 10, 3}, ModelForm{"boat.glb", 1000}};
    for (const Form& form : forms) {
        CAPTURE(form.index());
        const Piece before = of_form(form);
        CHECK_FALSE(made_height(before));
        const Piece after = built(before, 30, 1200);
        CHECK(after.ratio->value == doctest::Approx(40));
        CHECK(after.parts == before.parts);
    }
    Piece tilted = of_form(BoxForm{50, 40, 30});
    tilted.parts[0].at.tilt = 5;
    CHECK_FALSE(made_height(tilted));
    Piece two = of_form(BoxForm{50, 40, 30});
    two.parts.push_back(two.parts[0]);
    two.parts[0].name = "a";
    two.parts[1].name = "b";
    CHECK_FALSE(made_height(two));
    CHECK(built(two, 30, 1200).ratio->value == doctest::Approx(40));
}

TEST_CASE("a height of nothing, a locked piece and one that is not there are refused") {
    Piece piece = of_form(BoxForm{50, 40, 30});
    Document document = with_piece(bare_scene(), piece);
    for (const double wrong : {0.0, -5.0}) {
        CHECK_FALSE(set_built_height(document, "it", 30, wrong).ok());
    }
    CHECK(set_built_height(document, "it", 30, 1e-3).ok());
    CHECK_FALSE(set_built_height(document, "that", 30, 1200).ok());
    piece.locked = true;
    document = with_piece(bare_scene(), piece);
    CHECK_FALSE(set_built_height(document, "it", 30, 1200).ok());
}
