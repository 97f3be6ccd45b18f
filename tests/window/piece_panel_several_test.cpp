// The panel while several pieces are picked, and what carries one or several of them.
#include <cmath>

#include <doctest/doctest.h>

#include "sitting.h"

using namespace standpoint;
using namespace standpoint::support;

TEST_CASE("several pieces: bottoms align, gaps are told before they are made, a group is named") {
    Sitting at({"crate", "barrel", "chest"});
    const auto box = [&](const char* id) {
        return find_staged(*at.hand.shell.desk->shown, id)->box;
    };
    std::size_t before = at.steps();
    at.hand.click("several/align-bottoms");
    at.one_step(before++);
    CHECK(std::abs(box("crate").low.z - box("chest").low.z) < 1e-6);
    CHECK(std::abs(box("barrel").low.z - box("chest").low.z) < 1e-6);
    CHECK(box("barrel").size().z == doctest::Approx(900));
    CHECK(at.hand.has("several/gap-across"));
    CHECK(at.hand.has("several/gap-deep"));
    at.hand.click("several/spread-across");
    at.one_step(before++);
    // From 850 to 3700 with 400 filled: 2450 in two gaps.
    CHECK(box("barrel").low.x - box("crate").high.x == doctest::Approx(1225));
    CHECK(box("chest").low.x - box("barrel").high.x == doctest::Approx(1225));
    at.type("piece/group", "stall");
    at.one_step(before++);
    for (const char* id : {"crate", "barrel", "chest"})
        CHECK(at.piece(id).group == "stall");
    at.refuses("piece/group", std::string(1001, 'x'));
    at.hand.click("several/ungroup");
    at.one_step(before++);
    CHECK(at.piece("crate").group.empty());
}

TEST_CASE("two pieces have no gap to tell") {
    Sitting at({"crate", "barrel"});
    CHECK_FALSE(at.hand.has("several/gap-across"));
    CHECK(at.hand.has("several/spread-across"));
}

TEST_CASE("what carries a piece is found by name in a list, and is one step") {
    Piece named = box_piece("cart-2", 3000, 1500, 0, 800, 500, 700);
    named.name = "Hand cart";
    Sitting at({"crate"}, with_piece(stall(), named));
    std::size_t before = at.steps();
    at.hand.click("piece/support");
    at.hand.frame(2);
    CHECK(at.hand.has("carrier/floor"));
    CHECK(at.hand.has("carrier/on/barrel"));
    CHECK(at.hand.has("carrier/from/barrel"));
    CHECK_FALSE(at.hand.has("carrier/on/crate")); // not itself
    at.hand.type("hand c");
    at.hand.frame(2);
    CHECK_FALSE(at.hand.has("carrier/floor"));
    CHECK_FALSE(at.hand.has("carrier/on/barrel"));
    at.hand.click("carrier/on/cart-2");
    at.one_step(before++);
    CHECK(at.piece("crate").support == Support::stands_on);
    CHECK(at.piece("crate").host == "cart-2");
    const StagedPiece* staged = find_staged(*at.hand.shell.desk->shown, "crate");
    REQUIRE(staged);
    CHECK(staged->box.low.z == doctest::Approx(700)); // settled on its top
    select_only(*at.hand.shell.desk, "cart-2");
    at.hand.frame(2);
    at.hand.click("piece/support");
    at.hand.frame(2);
    CHECK(at.hand.has("carrier/on/barrel"));      // what was typed the last time is gone
    CHECK_FALSE(at.hand.has("carrier/on/crate")); // rides on it
    at.hand.click("carrier/from/barrel");
    at.one_step(before++);
    CHECK(at.piece("cart-2").support == Support::hangs_from);
    CHECK(at.piece("cart-2").host == "barrel");
}

TEST_CASE("several pieces are put on one, and back to the floor, in one step each") {
    Sitting at({"crate", "barrel"});
    std::size_t before = at.steps();
    at.hand.click("piece/support");
    at.hand.frame(2);
    CHECK_FALSE(at.hand.has("carrier/on/barrel"));
    at.hand.click("carrier/on/chest");
    at.one_step(before++);
    for (const char* id : {"crate", "barrel"}) {
        CHECK(at.piece(id).support == Support::stands_on);
        CHECK(at.piece(id).host == "chest");
    }
    at.hand.click("piece/support");
    at.hand.frame(2);
    at.hand.click("carrier/floor");
    at.one_step(before++);
    for (const char* id : {"crate", "barrel"}) {
        CHECK(at.piece(id).support == Support::none);
        CHECK(find_staged(*at.hand.shell.desk->shown, id)->box.low.z == doctest::Approx(0));
    }
}

TEST_CASE("a locked one among several refuses another carrier in words") {
    Piece keg = box_piece("keg", 2800, 2900, 0, 300, 300, 400);
    keg.locked = true;
    const Document document = with_piece(stall(), keg);
    Sitting at({"crate", "keg"}, document);
    const std::size_t before = at.steps();
    at.hand.click("piece/support");
    at.hand.frame(2);
    at.hand.click("carrier/on/chest");
    CHECK(at.hand.shell.message_is_error);
    CHECK(at.steps() == before);
    CHECK(same_content(at.now(), document));
}
