// Edits and history: undo, redo and replay give the same bytes; what is untouched is shared.
#include <doctest/doctest.h>

#include <set>

#include "random_scenes.h"
#include "scene/edit_json.h"
#include "scene/history.h"
#include "scene/json.h"
#include "scene/memory.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

Document small_scene() {
    Document document = bare_scene();
    for (const char* id : {"hut", "jetty", "boat"})
        document = with_piece(document, box_piece(id, 0, 0, 0, 100, 100, 100));
    Target target;
    target.id = "hatch";
    target.piece = "hut";
    return with_target(document, target);
}

Document done(const Document& document, const EditKind& edit) {
    const auto after = apply(document, Edit("test", edit));
    REQUIRE_MESSAGE(after.ok(), one_line(after.error()));
    return *after;
}

std::string refused(const Document& document, const EditKind& edit) {
    const auto after = apply(document, Edit("test", edit));
    REQUIRE(!after.ok());
    return one_line(after.error());
}

Edit move_to(const std::string& id, double x) {
    return Edit("move the " + id, MovePiece{id, Pose6{x, 0, 0, 0, 0, 0}});
}

} // namespace

TEST_CASE("an edit shares every piece it does not touch") {
    const Document before = small_scene();
    const Document after = done(before, MovePiece{"jetty", {5, 6, 7, 90, 0, 0}});
    REQUIRE(after.pieces->size() == 3);
    CHECK((*after.pieces)[0] == (*before.pieces)[0]);
    CHECK((*after.pieces)[1] != (*before.pieces)[1]);
    CHECK((*after.pieces)[2] == (*before.pieces)[2]);
    CHECK(after.targets == before.targets);
    CHECK(after.hall == before.hall);
    CHECK((*after.pieces)[1]->at == Pose6{5, 6, 7, 90, 0, 0});
    CHECK((*before.pieces)[1]->at.x.mm == 0); // the document before is as it was
    const Document target_gone = done(before, RemoveTarget{"hatch"});
    CHECK(target_gone.pieces == before.pieces);
}

TEST_CASE("each kind of edit does what it says") {
    const Document before = small_scene();
    const auto piece = std::make_shared<const Piece>(box_piece("stall", 1, 2, 3, 4, 5, 6));
    CHECK((*done(before, PutPiece{0, piece}).pieces)[0] == piece);
    CHECK((*done(before, PutPiece{3, piece}).pieces)[3] == piece);
    const auto renamed = std::make_shared<const Piece>(box_piece("dinghy", 1, 2, 3, 4, 5, 6));
    CHECK((*done(before, ReplacePiece{"boat", renamed}).pieces)[2] == renamed);
    CHECK(find_piece(done(before, RemovePiece{"boat"}), "boat") == nullptr);
    const Document attached =
        done(before, AttachPiece{"boat", Support::hangs_from, "hut", {1, 2, 3, 0, 0, 0}});
    CHECK(find_piece(attached, "boat")->support == Support::hangs_from);
    CHECK(find_piece(attached, "boat")->host == "hut");
    CHECK(find_piece(done(attached, AttachPiece{"boat", Support::none, "", {}}), "boat")->host ==
          "");
    CHECK(find_piece(done(before, SwitchPiece{"hut", Off::views}), "hut")->off == Off::views);
    Target target;
    target.id = "bow";
    target.piece = "boat";
    const auto shared = std::make_shared<const Target>(target);
    CHECK((*done(before, PutTarget{1, shared}).targets)[1] == shared);
    CHECK((*done(before, ReplaceTarget{"hatch", shared}).targets)[0] == shared);
    CHECK(done(before, RemoveTarget{"hatch"}).targets->empty());
    const auto settings = std::make_shared<const Settings>();
    CHECK(done(before, SetSettings{settings}).settings == settings);
    const auto visitors = std::make_shared<const std::vector<Visitor>>();
    CHECK(done(before, SetVisitors{visitors}).visitors == visitors);
}

TEST_CASE("edits that do not fit are refused, and a compound is all or nothing") {
    const Document before = small_scene();
    const auto piece = std::make_shared<const Piece>(box_piece("stall", 1, 2, 3, 4, 5, 6));
    CHECK(refused(before, PutPiece{4, piece}) == "found the index 4, expected 0 to 3");
    CHECK(refused(before, PutPiece{-1, piece}) == "found the index -1, expected 0 to 3");
    CHECK(refused(before, RemovePiece{"kiosk"}) == "found \"kiosk\", expected the id of a piece");
    CHECK(refused(before, RemovePiece{"hut"}).starts_with("/targets/0/piece: found \"hut\""));
    CHECK(refused(before, AttachPiece{"hut", Support::stands_on, "hut", {}}).find("itself") !=
          std::string::npos);
    CHECK(refused(before, MovePiece{"hut", {1e8, 0, 0, 0, 0, 0}}).starts_with("/pieces/0/at/x: "));
    // Removing the target first makes the removal of its piece fit.
    const Edit both("clear", {{RemovePiece{"hut"}}, {RemoveTarget{"hatch"}}});
    const auto cleared = apply(before, both);
    REQUIRE(cleared.ok());
    CHECK(cleared->pieces->size() == 2);
    // The same id again within one compound counts from what the steps before left.
    const Edit twice("twice", {{RemovePiece{"boat"}}, {MovePiece{"boat", {}}}});
    CHECK(!apply(before, twice).ok());
}

TEST_CASE("a thousand random edits: undo, redo and replay give the same bytes") {
    for (std::uint64_t seed = 1; seed <= 3; ++seed) {
        SceneMaker maker(seed);
        const Document start = maker.document(10);
        History history(start);
        std::vector<std::string> saves = {write_document(start)};
        std::vector<std::string> log;
        int refusals = 0;
        while (log.size() < 1000) {
            const Edit edit = maker.edit(history.now());
            if (!history.perform(edit).ok()) {
                ++refusals;
                REQUIRE(write_document(history.now()) == saves.back());
                continue;
            }
            saves.push_back(write_document(history.now()));
            log.push_back(write_edit(edit));
        }
        CHECK(refusals > 0);
        REQUIRE(history.steps() == 1000);
        const Document last = history.now();
        for (std::size_t step = 1000; step > 0; --step) {
            REQUIRE(history.undo());
            REQUIRE(write_document(history.now()) == saves[step - 1]);
        }
        CHECK(!history.undo());
        for (std::size_t step = 1; step <= 1000; ++step) {
            REQUIRE(history.redo());
            REQUIRE(write_document(history.now()) == saves[step]);
        }
        CHECK(!history.redo());
        CHECK(history.now().pieces == last.pieces); // the very snapshot

        Document replayed = start;
        for (std::size_t step = 0; step < log.size(); ++step) {
            REQUIRE(log[step].find('\n') == std::string::npos);
            const auto edit = read_edit(log[step], "log");
            REQUIRE_MESSAGE(edit.ok(), one_line(edit.error()));
            REQUIRE(write_edit(*edit) == log[step]);
            const auto after = apply(replayed, *edit);
            REQUIRE_MESSAGE(after.ok(), one_line(after.error()));
            replayed = *after;
            REQUIRE(write_document(replayed) == saves[step + 1]);
        }
        CHECK(same_content(replayed, last));
    }
}

TEST_CASE("an edit in the log that is broken is refused with its place") {
    const auto error = [](const std::string& line) {
        const auto edit = read_edit(line, "log");
        REQUIRE(!edit.ok());
        return one_line(edit.error());
    };
    CHECK(error("{ \"steps\": [{ \"move_peice\": {} }] }") ==
          "log:1:15 (/steps/0/move_peice): found the unknown key \"move_peice\", expected "
          "\"move_piece\"");
    CHECK(error("{ \"steps\": [{}] }").starts_with("log:1:13 (/steps/0): found no kind of edit"));
    CHECK(error("{ \"steps\": [{ \"remove_piece\": { \"id\": 3 } }] }")
              .starts_with("log:1:39 (/steps/0/remove_piece/id): found 3, expected a text"));
    CHECK(error("{}") == "log:1:1: found no \"steps\", expected it in this object");
}

TEST_CASE("an edit after undo forgets what was undone") {
    History history(small_scene());
    CHECK(!history.can_undo());
    CHECK(history.undo_label().empty());
    REQUIRE(history.perform(move_to("hut", 1)).ok());
    REQUIRE(history.perform(move_to("boat", 2)).ok());
    CHECK(history.undo_label() == "move the boat");
    REQUIRE(history.undo());
    CHECK(history.redo_label() == "move the boat");
    CHECK(history.undo_label() == "move the hut");
    REQUIRE(history.perform(move_to("jetty", 3)).ok());
    CHECK(!history.can_redo());
    CHECK(history.steps() == 2);
    CHECK(find_piece(history.now(), "boat")->at.x.mm == 0);
}

TEST_CASE("a refused edit keeps what can be redone") {
    History history(small_scene());
    REQUIRE(history.perform(move_to("hut", 1)).ok());
    REQUIRE(history.undo());
    CHECK(!history.perform(Edit("remove", RemovePiece{"kiosk"})).ok());
    CHECK(history.can_redo());
}

TEST_CASE("a drag is one step, each update from where it began") {
    History history(small_scene());
    history.begin_drag("drag the hut");
    for (int x = 1; x <= 50; ++x)
        REQUIRE(history.update_drag(move_to("hut", x)).ok());
    CHECK(find_piece(history.now(), "hut")->at.x.mm == 50);
    CHECK(!history.undo()); // not in the middle of it
    REQUIRE(history.update_drag(move_to("boat", 9)).ok());
    CHECK(find_piece(history.now(), "hut")->at.x.mm == 0);
    CHECK(!history.update_drag(move_to("boat", 1e9)).ok());
    CHECK(find_piece(history.now(), "boat")->at.x.mm == 9); // the last good one
    history.commit_drag();
    CHECK(history.steps() == 1);
    CHECK(history.undo_label() == "drag the hut");
    REQUIRE(history.undo());
    CHECK(find_piece(history.now(), "boat")->at.x.mm == 0);

    history.begin_drag("drag again");
    REQUIRE(history.update_drag(move_to("hut", 5)).ok());
    history.cancel_drag();
    CHECK(find_piece(history.now(), "hut")->at.x.mm == 0);
    CHECK(history.can_redo()); // cancelling forgot nothing
    history.begin_drag("click");
    history.commit_drag(); // nothing changed: no step
    CHECK(history.can_redo());
    CHECK(history.steps() == 1);
}

TEST_CASE("a history is a value") {
    History first(small_scene());
    REQUIRE(first.perform(move_to("hut", 1)).ok());
    History second = first;
    REQUIRE(second.undo());
    CHECK(find_piece(first.now(), "hut")->at.x.mm == 1);
    CHECK(find_piece(second.now(), "hut")->at.x.mm == 0);
    CHECK(first.bytes() == second.bytes());
}

TEST_CASE("the budget drops the oldest steps, and the bytes are those of distinct blocks") {
    constexpr std::size_t budget = 40000;
    History history(small_scene(), budget);
    std::vector<Document> kept = {history.now()};
    for (int step = 1; step <= 300; ++step) {
        REQUIRE(history.perform(move_to(step % 2 == 0 ? "hut" : "boat", step)).ok());
        kept.push_back(history.now());
        REQUIRE(history.bytes() <= budget);
        // The same sum by walking what is still there, without any bookkeeping.
        std::set<const void*> seen;
        std::size_t bytes = 0;
        for (std::size_t i = kept.size() - history.steps() - 1; i < kept.size(); ++i)
            each_block(kept[i], [&](const Block& block) {
                if (seen.insert(block.address).second) bytes += block.bytes();
            });
        REQUIRE(history.bytes() >= bytes);
        REQUIRE(history.bytes() <= bytes + 400 * (history.steps() + 1)); // the row of entries
    }
    CHECK(history.steps() < 300);
    CHECK(history.steps() > 5);
    const std::size_t steps = history.steps();
    for (std::size_t i = 0; i < steps; ++i)
        REQUIRE(history.undo());
    CHECK(!history.can_undo());
    CHECK(find_piece(history.now(), "hut")->at.x.mm + find_piece(history.now(), "boat")->at.x.mm >
          300 - static_cast<double>(steps)); // the oldest that is left
}

TEST_CASE("a document beyond the budget is kept alone") {
    History history(small_scene(), 1);
    REQUIRE(history.perform(move_to("hut", 7)).ok());
    CHECK(history.steps() == 0);
    CHECK(find_piece(history.now(), "hut")->at.x.mm == 7);
}

TEST_CASE("bytes grow with what a piece holds, and a longer text counts in full") {
    const auto bytes_with = [](const std::string& note, int parts) {
        Piece piece = box_piece("hut", 0, 0, 0, 1, 1, 1);
        piece.note = note;
        while (static_cast<int>(piece.parts.size()) < parts)
            piece.parts.push_back(piece.parts.front());
        piece.parts.shrink_to_fit();
        piece.note.shrink_to_fit();
        return History(with_piece(bare_scene(), piece)).bytes();
    };
    const std::size_t bare = bytes_with("", 1);
    CHECK(bytes_with(std::string(5000, 'n'), 1) >= bare + 5000);
    CHECK(bytes_with(std::string(5000, 'n'), 1) <= bare + 5100);
    CHECK(bytes_with("", 11) >= bare + 10 * sizeof(Part));
}

TEST_CASE("a snapshot of 2000 pieces is a copy of ten pointers") {
    Document document = bare_scene();
    std::vector<std::shared_ptr<const Piece>> pieces;
    for (int i = 0; i < 2000; ++i)
        pieces.push_back(std::make_shared<const Piece>(
            box_piece("piece-" + std::to_string(i), i, 0, 0, 10, 10, 10)));
    document.pieces =
        std::make_shared<const std::vector<std::shared_ptr<const Piece>>>(std::move(pieces));
    const long owners = document.pieces->front().use_count();
    const Document snapshot = document;
    CHECK(snapshot.pieces == document.pieces);
    CHECK(snapshot.pieces->front().use_count() == owners); // not one piece was touched
    const Document moved = done(document, MovePiece{"piece-1000", {}});
    int shared = 0;
    for (std::size_t i = 0; i < 2000; ++i)
        shared += (*moved.pieces)[i] == (*document.pieces)[i];
    CHECK(shared == 1999);
}
