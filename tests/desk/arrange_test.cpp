// Align, spread, copies, rows, groups, deleting.
#include <doctest/doctest.h>

#include "desk/arrange.h"
#include "desk/arranged.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

Box box_now(const Document& document, const std::string& id) {
    const Staging staging = staged_boxes(document);
    return find_staged(staging, id)->box;
}

double side(const Box& box, Align how) {
    switch (how) {
    case Align::left:
        return box.low.x;
    case Align::right:
        return box.high.x;
    case Align::front:
        return box.low.y;
    case Align::back:
        return box.high.y;
    case Align::centre_x:
        return box.centre().x;
    case Align::centre_y:
        return box.centre().y;
    case Align::top:
        return box.high.z;
    default:
        return box.low.z;
    }
}

// Boxes that carry nothing, some on the section, some on a turned table.
Document loose_boxes(Random& random, int count) {
    Piece table = box_piece("table", 800, 700, 0, 500, 500, 400);
    table.at.facing = 31;
    table.at.tilt = 12;
    Document document = with_piece(bare_scene(), table);
    for (int i = 0; i < count; ++i) {
        Piece piece = box_piece("box-" + std::to_string(i), random.uniform(-900, 900),
                                random.uniform(-900, 900), random.uniform(0, 90),
                                random.uniform(20, 90), random.uniform(20, 90), 50);
        piece.at.facing = random.uniform(0, 360);
        const auto how = random.integer(0, 2);
        piece.support = static_cast<Support>(how);
        if (how > 0) piece.host = how == 1 ? "section-a" : "table";
        document = with_piece(document, piece);
    }
    return document;
}

Ids boxes(int count) {
    Ids ids;
    for (int i = 0; i < count; ++i)
        ids.push_back("box-" + std::to_string(i));
    return ids;
}

} // namespace

TEST_CASE("aligned pieces share the side of the leading one, which stays") {
    Random random(21);
    for (int how = 0; how < 8; ++how) {
        const Document before = loose_boxes(random, 5);
        const Align align_how = static_cast<Align>(how);
        const Document after =
            done(before, align(before, staged_boxes(before), boxes(5), align_how));
        const double wanted = side(box_now(before, "box-4"), align_how);
        CHECK(apart(frame_of(before, "box-4"), frame_of(after, "box-4")) == 0);
        for (const std::string& id : boxes(5))
            CHECK(std::abs(side(box_now(after, id), align_how) - wanted) < 1e-6);
        const auto again = align(after, staged_boxes(after), boxes(5), align_how);
        CHECK(apart(frame_of(done(after, again), "box-0"), frame_of(after, "box-0")) < 1e-6);
    }
}

TEST_CASE("aligning asks for two pieces, and does not pull the carrier of the leading one") {
    Random random(22);
    const Document before = loose_boxes(random, 3);
    const Staging staging = staged_boxes(before);
    CHECK_FALSE(align(before, staging, {"box-0"}, Align::left).ok());
    CHECK_FALSE(align(before, staging, {"box-0", "nobody"}, Align::left).ok());
    Document carried = with_piece(bare_scene(), box_piece("host", 0, 0, 0, 100, 100, 100));
    Piece cup = box_piece("cup", 10, 0, 100, 10, 10, 10);
    cup.support = Support::stands_on;
    cup.host = "host";
    carried = with_piece(carried, cup);
    CHECK_FALSE(align(carried, staged_boxes(carried), {"host", "cup"}, Align::left).ok());
    CHECK(align(carried, staged_boxes(carried), {"cup", "host"}, Align::left).ok());
}

TEST_CASE("spreading makes gaps or centres equal and leaves the outermost two") {
    Random random(23);
    for (int axis = 0; axis < 3; ++axis) {
        for (const SpreadBy by : {SpreadBy::gaps, SpreadBy::centres}) {
            const Document before = loose_boxes(random, 6);
            const Document after =
                done(before, spread(before, staged_boxes(before), boxes(6), axis, by));
            std::vector<Box> was, row;
            for (const std::string& id : boxes(6)) {
                was.push_back(box_now(before, id));
                row.push_back(box_now(after, id));
            }
            const auto centre = [&](const Box& a, const Box& b) {
                return a.centre()[axis] < b.centre()[axis];
            };
            const auto low = [&](const Box& a, const Box& b) { return a.low[axis] < b.low[axis]; };
            if (by == SpreadBy::gaps) {
                std::sort(row.begin(), row.end(), low);
                std::sort(was.begin(), was.end(), low);
            } else {
                std::sort(row.begin(), row.end(), centre);
                std::sort(was.begin(), was.end(), centre);
            }
            CHECK(std::abs(row[0].low[axis] - was[0].low[axis]) < 1e-9);
            CHECK(std::abs(row[5].high[axis] - was[5].high[axis]) < 1e-9);
            const auto step = [&](std::size_t i) {
                return by == SpreadBy::gaps ? row[i + 1].low[axis] - row[i].high[axis]
                                            : row[i + 1].centre()[axis] - row[i].centre()[axis];
            };
            for (std::size_t i = 1; i < 5; ++i)
                CHECK(std::abs(step(i) - step(0)) < 1e-9);
        }
    }
    const Document two = loose_boxes(random, 2);
    CHECK_FALSE(spread(two, staged_boxes(two), boxes(2), 0, SpreadBy::gaps).ok());
}

TEST_CASE("the gap that spreading would make is told before, and made") {
    Document before = bare_scene();
    const double x[] = {0, 1000, 2600, 5000}, width[] = {400, 600, 200, 1000};
    for (int i = 0; i < 4; ++i)
        before = with_piece(before,
                            box_piece("box-" + std::to_string(i), x[i], 0, 0, width[i], 300, 300));
    const Staging staging = staged_boxes(before);
    // From 200 to 4500 with 600 and 200 filled: 3500 in three gaps.
    const auto gap = gap_when_spread(before, staging, boxes(4), 0);
    REQUIRE(gap.ok());
    CHECK(*gap == doctest::Approx(3500.0 / 3).epsilon(1e-12));
    const Document after = done(before, spread(before, staging, boxes(4), 0, SpreadBy::gaps));
    const Staging spread_out = staged_boxes(after);
    for (int i = 0; i < 3; ++i)
        CHECK(std::abs(find_staged(spread_out, "box-" + std::to_string(i + 1))->box.low.x -
                       find_staged(spread_out, "box-" + std::to_string(i))->box.high.x - *gap) <
              1e-9);
    CHECK(*gap_when_spread(before, staging, boxes(4), 1) < 0); // all at the same depth
    CHECK_FALSE(gap_when_spread(before, staging, boxes(2), 0).ok());
}

TEST_CASE("copies have ids of their own, stand by as much as asked and keep their own company") {
    Random random(24);
    for (int round = 0; round < 40; ++round) {
        Document before = random_boxes(random, 9, true);
        const Ids ids = random_ids(random, before, 5);
        if (ids.size() > 1) before = done(before, group(before, ids));
        before = done(before, lock(before, {ids.front()}, true));
        const glm::dvec3 by{random.uniform(-500, 500), random.uniform(-500, 500), 40};
        const Result<Copied> copied = copy(before, ids, by);
        REQUIRE(copied.ok());
        const Document after = done(before, copied->edit);
        REQUIRE(copied->ids.size() == ids.size());
        CHECK(after.pieces->size() == before.pieces->size() + ids.size());
        std::size_t next = 0;
        for (const auto& piece : *before.pieces) {
            CHECK_FALSE(holds(copied->ids, piece->id));
            if (!holds(ids, piece->id)) continue;
            const Piece& twin = *find_piece(after, copied->ids[next++]);
            Frame wanted = frame_of(before, piece->id);
            wanted.origin += by;
            CHECK(apart(wanted, frame_of(after, twin.id)) < 1e-6);
            CHECK_FALSE(twin.locked);
            CHECK(twin.parts == piece->parts);
            CHECK(twin.group.empty() == piece->group.empty());
            if (!piece->group.empty()) CHECK(twin.group != piece->group);
        }
    }
}

TEST_CASE("copies are named on in numbers that no other piece has") {
    const auto named = [](const char* id, const char* name) {
        Piece piece = box_piece(id, 0, 0, 0, 10, 10, 10);
        piece.name = name;
        return piece;
    };
    Document document = with_piece(bare_scene(), named("a", "Post"));
    document = with_piece(document, named("b", "Post 3"));
    document = with_piece(document, named("c", ""));
    document = with_piece(document, named("d", "Pier 7"));
    const auto row = repeat_along(document, {"a", "c", "d"}, {{{0, 0}, {900, 0}}, 4, 0, false});
    REQUIRE(row.ok());
    const Document after = done(document, row->edit);
    Ids names;
    for (const std::string& id : row->ids)
        names.push_back(find_piece(after, id)->name);
    CHECK(names == Ids{"Post 2", "", "Pier 8", "Post 4", "", "Pier 9", "Post 5", "", "Pier 10"});
    const Document pasted = done(document, paste(document, {named("a", "Post")}, {})->edit);
    CHECK(pasted.pieces->back()->name == "Post 2");
    // A name as long as may be is kept as it is.
    const std::string longest(1000, 'x');
    document = with_piece(bare_scene(), named("a", longest.c_str()));
    CHECK(done(document, copy(document, {"a"}, {})->edit).pieces->back()->name == longest);
}

TEST_CASE("a copy that comes over another section belongs to that, where it is") {
    Document document = bare_scene();
    auto sections = *document.sections; // 3000 by 1800 from 0, 0, deck at 150
    sections.push_back({"section-b", "B", {3000, 0}, 3000, 1800, 250});
    document.sections = std::make_shared<const std::vector<Section>>(sections);
    Piece post = box_piece("post", 500, 900, 0, 100, 100, 900);
    post.support = Support::section;
    post.host = "section-a";
    document = with_piece(document, post);
    // At 500, 1500, ... 7500: over A, over A, on the join it stays, over B, over B, beside the
    // base.
    const auto row = repeat_along(document, {"post"}, {{{500, 900}, {7500, 900}}, 0, 1250, false});
    REQUIRE(row.ok());
    const Document after = done(document, row->edit);
    const char* wanted[] = {"section-a", "section-a", "section-b", "section-b", "section-a"};
    for (std::size_t i = 0; i < row->ids.size(); ++i) {
        const Piece& made = *find_piece(after, row->ids[i]);
        CHECK(made.support == Support::section);
        CHECK(made.host == wanted[i]);
        CHECK(glm::distance(frame_of(after, made.id).origin,
                            {500 + 1250.0 * static_cast<double>(i + 1), 900, 150}) < 1e-6);
    }
}

TEST_CASE("what was copied is pasted under ids of its own, into its own scene and into another") {
    Piece table = box_piece("table", 500, 2500, 0, 800, 500, 700);
    table.group = "tea";
    table.locked = true;
    Piece cup = box_piece("cup", 100, 50, 700, 60, 60, 80);
    cup.group = "tea";
    cup.support = Support::stands_on;
    cup.host = "table";
    Piece sign = box_piece("sign", 300, 300, 0, 400, 20, 300);
    sign.support = Support::section;
    sign.host = "section-a";
    Document document = with_piece(with_piece(with_piece(bare_scene(), table), cup), sign);
    const Result<Copied> pasted = paste(document, {table, cup, sign}, {200, -100, 50});
    REQUIRE(pasted.ok());
    const Document after = done(document, pasted->edit);
    REQUIRE(pasted->ids == Ids{"table-2", "cup-2", "sign-2"});
    CHECK(find_piece(after, "table-2")->at.x.mm == 700);
    CHECK(find_piece(after, "table-2")->at.z.mm == 50);
    CHECK_FALSE(find_piece(after, "table-2")->locked);
    CHECK(find_piece(after, "cup-2")->host == "table-2");
    CHECK(find_piece(after, "cup-2")->at == cup.at); // it moved with the table
    CHECK(find_piece(after, "sign-2")->host == "section-a");
    CHECK(find_piece(after, "cup-2")->group == find_piece(after, "table-2")->group);
    CHECK(find_piece(after, "cup-2")->group != "tea");
    // Where the table is not, the cup alone stands free.
    const Result<Copied> alone = paste(bare_scene(), {cup}, {0, 0, 0});
    REQUIRE(alone.ok());
    const Document other = done(bare_scene(), alone->edit);
    CHECK(find_piece(other, "cup")->support == Support::none);
    // A section of that name in the other scene is as good, a piece of it is not.
    sign.host = "section-z";
    CHECK(find_piece(done(bare_scene(), paste(bare_scene(), {sign}, {0, 0, 0})->edit), "sign")
              ->support == Support::none);
    CHECK_FALSE(paste(document, {}, {0, 0, 0}).ok());
}

TEST_CASE("a row ends at the end of its line, or fits as many as the spacing allows") {
    const Document before = with_piece(bare_scene(), box_piece("a", 5, 5, 0, 10, 10, 10));
    const auto row = repeat_along(before, {"a"}, {{{0, 0}, {1000, 0}}, 5, 0, false});
    REQUIRE(row.ok());
    const Document after = done(before, row->edit);
    REQUIRE(row->ids.size() == 4);
    for (std::size_t i = 0; i < 4; ++i)
        CHECK(std::abs(frame_of(after, row->ids[i]).origin.x -
                       (5 + 250 * static_cast<double>(i + 1))) < 1e-9);
    const auto spaced = [&](double spacing) {
        return repeat_along(before, {"a"}, {{{0, 0}, {1000, 0}}, 0, spacing, false});
    };
    CHECK(spaced(250)->ids.size() == 4);
    CHECK(spaced(250.1)->ids.size() == 3);
    CHECK(spaced(1000)->ids.size() == 1);
    CHECK_FALSE(spaced(1000.1).ok());
    CHECK(spaced(1)->ids.size() == 1000);
    CHECK_FALSE(spaced(0.99).ok());
    CHECK_FALSE(repeat_along(before, {"a"}, {{{0, 0}, {0, 0}}, 5, 0, false}).ok());
    CHECK_FALSE(repeat_along(before, {"a"}, {{{0, 0}, {9, 0}}, 1, 0, false}).ok());
}

TEST_CASE("a row round a corner turns with it when asked") {
    const Document before = with_piece(bare_scene(), box_piece("a", 0, 50, 0, 10, 10, 10));
    for (const bool turn : {false, true}) {
        // To the right, then away from the visitor: an anticlockwise quarter.
        const auto row =
            repeat_along(before, {"a"}, {{{0, 0}, {400, 0}, {400, 400}}, 0, 400, turn});
        REQUIRE(row.ok());
        const Document after = done(before, row->edit);
        const Frame last = frame_of(after, row->ids.back());
        const Frame wanted = turn ? Frame{rotation_of(-90, 0, 0), {350, 400, 0}}
                                  : Frame{glm::dmat3(1.0), {400, 450, 0}};
        CHECK(apart(last, wanted) < 1e-6);
    }
}

TEST_CASE("groups, locks and switches") {
    Random random(25);
    const Document before = random_boxes(random, 5, true);
    const Document once = done(before, group(before, {"box-0", "box-1"}));
    const Document twice = done(once, group(once, {"box-2", "box-3"}));
    CHECK(find_piece(twice, "box-0")->group == find_piece(twice, "box-1")->group);
    CHECK(find_piece(twice, "box-0")->group != find_piece(twice, "box-2")->group);
    CHECK(find_piece(twice, "box-4")->group.empty());
    CHECK_FALSE(group(before, {"box-0", "box-0"}).ok());
    const Document apart_again = done(twice, ungroup(twice, {"box-0", "box-1", "box-2", "box-3"}));
    CHECK(same_content(apart_again, before));
    const Document locked = done(before, lock(before, {"box-1"}, true));
    CHECK(find_piece(locked, "box-1")->locked);
    CHECK(same_content(done(locked, lock(locked, {"box-1"}, false)), before));
    const Document off = done(before, switch_off(before, {"box-1"}, Off::views_and_checks));
    CHECK(find_piece(off, "box-1")->off == Off::views_and_checks);
    CHECK(same_content(done(off, switch_off(off, {"box-1"}, Off::no)), before));
}

TEST_CASE("what is deleted takes its targets along and leaves what it carried where it was") {
    Random random(26);
    for (int round = 0; round < 40; ++round) {
        Document before = random_boxes(random, 9, true);
        for (int i = 0; i < 3; ++i) {
            Target target;
            target.id = "sight-" + std::to_string(i);
            target.piece = "box-" + std::to_string(i);
            before = with_target(before, target);
        }
        const Ids ids = random_ids(random, before, 4);
        const Document after = done(before, remove_pieces(before, ids));
        CHECK(after.pieces->size() == before.pieces->size() - ids.size());
        for (const auto& piece : *before.pieces) {
            if (holds(ids, piece->id))
                CHECK(find_piece(after, piece->id) == nullptr);
            else
                CHECK(apart(frame_of(before, piece->id), frame_of(after, piece->id)) < 1e-6);
        }
        for (int i = 0; i < 3; ++i)
            CHECK((find_target(after, "sight-" + std::to_string(i)) == nullptr) ==
                  holds(ids, "box-" + std::to_string(i)));
    }
    const Document one = with_piece(bare_scene(), box_piece("a", 0, 0, 0, 10, 10, 10));
    CHECK_FALSE(remove_pieces(done(one, lock(one, {"a"}, true)), {"a"}).ok());
    CHECK(remove_pieces(one, {"a"})->label == "Delete a");
}
