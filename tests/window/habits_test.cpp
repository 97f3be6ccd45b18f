// The habits of every day: files, unsaved work, recovery, sheets, search, measuring, dropped files.
#include <cmath>
#include <filesystem>

#include <doctest/doctest.h>
#include <imgui.h>

#include "sitting.h"
#include "window/overlay.h"
#include "window/panels.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

void move_something(Sitting& at) {
    select_only(*at.hand.shell.desk, "crate");
    at.hand.frame();
    at.hand.key("Right");
    REQUIRE(is_unsaved(*at.hand.shell.desk));
}

std::string stall_file(const Sitting& at) {
    return at.folder.path() + "/stall.scene.json";
}

Document on_disk(const std::string& file) {
    const Result<Document> document = read_document(read_plain(file), file);
    REQUIRE(document.ok());
    return *document;
}

} // namespace

TEST_CASE("a scene that was never saved is offered a file named by its title") {
    for (const bool titled : {false, true}) {
        Hand hand;
        open_new(hand.shell);
        REQUIRE(hand.shell.desk);
        hand.frame(2);
        if (titled) {
            Settings settings = *hand.shell.desk->history.now().settings;
            settings.title = "Tea for two";
            REQUIRE(
                do_edit(hand.shell, Edit("Set the title",
                                         SetSettings{std::make_shared<const Settings>(settings)})));
        }
        hand.key("Ctrl+S");
        hand.frame(2);
        CHECK(hand.shell.dialog == Dialog::save_as);
        CHECK(hand.shell.browser.typed == (titled ? "tea-for-two.scene.json" : "new.scene.json"));
    }
}

TEST_CASE(
    "a scene is saved under another name, and what is there is only written over when asked") {
    Sitting at({});
    move_something(at);
    at.hand.key("Ctrl+Shift+S");
    at.type("files/typed", "other");
    const std::string other = at.folder.path() + "/other.scene.json";
    REQUIRE(std::filesystem::exists(other));
    CHECK(at.hand.shell.desk->file == other);
    CHECK(at.hand.shell.dialog == Dialog::none);
    CHECK(same_content(on_disk(other), at.now()));
    CHECK(same_content(on_disk(stall_file(at)), stall()));
    // The name is taken now.
    move_something(at);
    const std::string before = read_plain(stall_file(at));
    at.hand.key("Ctrl+Shift+S");
    at.type("files/typed", "stall.scene.json");
    REQUIRE(at.hand.has("files/overwrite"));
    CHECK(read_plain(stall_file(at)) == before);
    at.hand.click("files/keep");
    CHECK_FALSE(at.hand.has("files/overwrite"));
    at.hand.click("files/choose");
    at.hand.click("files/overwrite");
    CHECK(same_content(on_disk(stall_file(at)), at.now()));
    CHECK_FALSE(is_unsaved(*at.hand.shell.desk));
}

TEST_CASE("a scene is opened from the list or by its name, and what is none is refused in words") {
    Sitting at({});
    write_plain(at.folder.path() + "/broken.json", "{ \"standpoint\": 1, ");
    std::filesystem::create_directory(at.folder.path() + "/more");
    write_plain(at.folder.path() + "/more/second.scene.json", write_document(bare_scene()));
    at.hand.key("Ctrl+O");
    REQUIRE(at.hand.has("files/stall.scene.json"));
    at.type("files/typed", "broken.json");
    CHECK(at.hand.shell.message_is_error);
    CHECK(at.hand.shell.message.find("broken.json") != std::string::npos);
    CHECK(at.hand.shell.desk->file == stall_file(at)); // stays open
    at.hand.key("Ctrl+O");
    at.type("files/typed", "more");
    at.hand.frame();
    REQUIRE(at.hand.has("files/second.scene.json"));
    at.hand.click("files/up");
    CHECK(at.hand.has("files/stall.scene.json"));
    at.type("files/typed", "more/second.scene.json");
    CHECK(at.hand.shell.desk->file == at.folder.path() + "/more/second.scene.json");
    CHECK(at.now().pieces->empty());
    REQUIRE(at.hand.shell.settings.recent.size() == 2);
    CHECK(at.hand.shell.settings.recent.front().path == at.hand.shell.desk->file);
}

TEST_CASE("unsaved work is asked about before it would be lost, and each answer is done") {
    for (const char* answer : {"unsaved/save", "unsaved/discard", "unsaved/cancel"}) {
        CAPTURE(answer);
        Sitting at({});
        move_something(at);
        const Document worked = at.now();
        at.hand.key("Ctrl+Q");
        CHECK_FALSE(at.hand.shell.quit);
        at.hand.click(answer);
        const bool stays = std::string(answer) == "unsaved/cancel";
        CHECK(at.hand.shell.quit == !stays);
        CHECK(at.hand.shell.after == After::nothing);
        CHECK(is_unsaved(*at.hand.shell.desk) == (std::string(answer) != "unsaved/save"));
        CHECK(same_content(at.now(), worked));
        const bool saved = std::string(answer) == "unsaved/save";
        CHECK(same_content(on_disk(stall_file(at)), saved ? worked : stall()));
    }
    Sitting at({});
    at.hand.key("Ctrl+Q"); // nothing to ask about
    CHECK(at.hand.shell.quit);
}

TEST_CASE("what a crash left is offered, gone on with, thrown away or kept for later") {
    const TemporaryFolder state;
    const auto leave = [&](const Document& document) {
        Result<RecoverySession> crashed = RecoverySession::open(state.path());
        REQUIRE(crashed.ok());
        REQUIRE(crashed->write(document, "", 7, "2026-11-26 10:00").ok());
    };
    leave(stall());
    leave(bare_scene());
    Hand hand;
    Result<RecoverySession> session = RecoverySession::open(state.path());
    REQUIRE(session.ok());
    hand.shell.recovery = std::move(*session);
    hand.shell.left_behind = *recoveries(state.path());
    REQUIRE(hand.shell.left_behind.size() == 2);
    const bool stall_first = recover(hand.shell.left_behind[0].file)->document.pieces->size() == 4;
    hand.frame(3);
    REQUIRE(hand.has("recover/take0"));
    hand.click(stall_first ? "recover/discard1" : "recover/discard0");
    CHECK(hand.shell.left_behind.size() == 1);
    CHECK(recoveries(state.path())->size() == 1);
    hand.click("recover/later");
    CHECK(hand.shell.dialog == Dialog::none);
    CHECK(recoveries(state.path())->size() == 1);
    hand.shell.offered_recovery = false;
    hand.frame(3);
    hand.click("recover/take0");
    REQUIRE(hand.shell.desk);
    CHECK(same_content(hand.shell.desk->history.now(), stall()));
    CHECK(is_unsaved(*hand.shell.desk));
    CHECK(recoveries(state.path())->empty()); // it is this session's own now
}

TEST_CASE("work is written aside soon after the last edit, and gone after it is saved") {
    const TemporaryFolder state;
    Sitting at({"crate"});
    Shell& shell = at.hand.shell;
    Result<RecoverySession> session = RecoverySession::open(state.path());
    REQUIRE(session.ok());
    const std::string file = session->file();
    shell.recovery = std::move(*session);
    at.hand.key("Right");
    at.hand.frame(2);
    CHECK_FALSE(std::filesystem::exists(file));
    shell.clock += 2;
    at.hand.frame(2);
    shell.recovery->settle();
    REQUIRE(std::filesystem::exists(file));
    CHECK(same_content(recover(file)->document, at.now()));
    at.hand.key("Right");
    shell.clock += 2;
    at.hand.frame(); // being written
    at.hand.key("Ctrl+S");
    CHECK_FALSE(std::filesystem::exists(file));
    at.hand.frame(3);
    CHECK_FALSE(std::filesystem::exists(file));
}

TEST_CASE("the title says once that nothing of the scene is in a file") {
    Hand hand;
    hand.frame(2);
    hand.click("first/new");
    hand.frame(2);
    REQUIRE(hand.shell.desk);
    const std::string title = title_of(hand.shell);
    CHECK(title.find("not saved yet") != std::string::npos);
    CHECK(title.find("unsaved") == std::string::npos);
    Sitting at({"crate"});
    CHECK(title_of(at.hand.shell).find("unsaved") == std::string::npos);
    at.hand.key("Right");
    CHECK(title_of(at.hand.shell).find("stall.scene.json  \xe2\x80\xa2 unsaved") !=
          std::string::npos);
}

TEST_CASE("a search finds by id and by name, and a press picks what was found") {
    Sitting at({});
    at.hand.key("Ctrl+F");
    at.hand.frame(2);
    at.type("list/search", "tea");
    REQUIRE(at.hand.has("found/seller"));
    CHECK_FALSE(at.hand.has("found/crate"));
    at.hand.click("found/seller");
    CHECK(at.hand.shell.desk->selected == std::vector<std::string>{"seller"});
    at.type("list/search", "barrel");
    at.hand.click("found/barrel");
    CHECK(at.hand.shell.desk->selected == std::vector<std::string>{"barrel"});
    CHECK_FALSE(at.hand.has("found-nothing"));
    at.type("list/search", "no such thing");
    CHECK(at.hand.has("found-nothing"));
    at.type("list/search", "");
    CHECK_FALSE(at.hand.has("found-nothing"));
    CHECK(at.hand.has("list/crate"));
}

TEST_CASE("a distance is measured from corner to corner, and Escape lays the tool down") {
    Sitting at({});
    at.hand.key("M");
    // The crate is 500 wide about x 600: its front corners are at 350 and 850, y 2350.
    at.hand.click(at.hand.on_screen(0, {352, 2352, 400}));
    at.hand.click(at.hand.on_screen(0, {848, 2352, 400}));
    REQUIRE(at.hand.shell.measuring.from);
    REQUIRE(at.hand.shell.measuring.to);
    CHECK(glm::length(*at.hand.shell.measuring.from - glm::dvec3(350, 2350, 400)) < 1e-6);
    CHECK(glm::length(*at.hand.shell.measuring.to - glm::dvec3(850, 2350, 400)) < 1e-6);
    at.hand.key("Escape");
    CHECK_FALSE(at.hand.shell.measuring.from);
    CHECK(at.steps() == 0);
}

TEST_CASE("the plan is cut at a height that is typed, and whole again") {
    Sitting at({});
    at.hand.key("H");
    at.hand.frame(2);
    REQUIRE(at.hand.shell.views[0].cut_height);
    at.type("view0/cut", "45 cm");
    CHECK(*at.hand.shell.views[0].cut_height == 450);
    at.type("view0/cut", "high");
    CHECK(*at.hand.shell.views[0].cut_height == 450);
    at.hand.key("H");
    CHECK_FALSE(at.hand.shell.views[0].cut_height);
}

TEST_CASE("a row of copies is one step") {
    Sitting at({"crate"});
    at.hand.key("Ctrl+R");
    at.type("repeat/count", "4");
    at.type("repeat/spacing", "1.5 m");
    at.hand.click("repeat/deep");
    CHECK(at.hand.shell.dialog == Dialog::none);
    REQUIRE(at.now().pieces->size() == 7);
    CHECK(at.now().pieces->back()->at.y.mm == 2600 + 3 * 1500);
    CHECK(at.steps() == 1);
}

TEST_CASE("sheets are made behind the window and can be opened from it") {
    Sitting at({});
    at.hand.key("Ctrl+P");
    at.type("sheets/folder", at.folder.path() + "/out");
    at.hand.click("sheets/make");
    REQUIRE(at.hand.shell.job);
    while (at.hand.shell.job)
        at.hand.frame();
    CHECK_FALSE(at.hand.shell.message_is_error);
    REQUIRE(at.hand.shell.made_files.size() == 2);
    for (const std::string& file : at.hand.shell.made_files)
        CHECK(std::filesystem::file_size(file) > 100);
    CHECK(at.hand.shell.dialog == Dialog::sheets); // comes up by itself
    at.hand.frame(2);
    at.hand.click("sheets/open" + at.hand.shell.made_files.front());
    CHECK(at.hand.shell.open_outside == at.hand.shell.made_files.front());
    // A folder that cannot be is said, and nothing is made.
    at.type("sheets/folder", at.folder.path() + "/none/below");
    at.hand.click("sheets/make");
    while (at.hand.shell.job)
        at.hand.frame();
    CHECK(at.hand.shell.message_is_error);
    CHECK_FALSE(std::filesystem::exists(at.folder.path() + "/none"));
}

TEST_CASE("a model let go over a view stands on what lies there; a scene is opened") {
    Sitting at({});
    const std::string basket =
        std::string(STANDPOINT_SOURCE_DIR) + "/assets-demo/models/basket.glb";
    const glm::dvec2 onto(at.hand.on_screen(0, {2100, 2900, 1000}));
    drop_file(at.hand.shell, basket, onto);
    CAPTURE(at.hand.shell.message);
    REQUIRE(at.now().pieces->size() == 5);
    CHECK(at.now().pieces->back()->support == Support::stands_on);
    CHECK(at.now().pieces->back()->host == "barrel");
    CHECK(at.steps() == 1);
    CHECK(std::filesystem::exists(at.folder.path() + "/models/basket.glb"));
    // Let go over no view it lies in the middle of the staging.
    drop_file(at.hand.shell, basket, glm::dvec2(5, 5));
    CHECK(at.now().pieces->size() == 6);
    drop_file(at.hand.shell, at.folder.path() + "/nothing.glb");
    CHECK(at.hand.shell.message_is_error);
    CHECK(at.now().pieces->size() == 6);
    write_plain(at.folder.path() + "/second.scene.json", write_document(bare_scene()));
    drop_file(at.hand.shell, at.folder.path() + "/second.scene.json");
    at.hand.frame(2);
    at.hand.click("unsaved/discard");
    CHECK(at.hand.shell.desk->file == at.folder.path() + "/second.scene.json");
}

TEST_CASE("settings are set in their dialog and act at once") {
    Sitting at({});
    at.hand.key("Ctrl+,");
    at.hand.click("settings/dark");
    CHECK(at.hand.shell.settings.dark);
    CHECK(at.hand.shell.font_changed);
    at.type("settings/grid", "5 cm");
    CHECK(at.hand.shell.settings.grid_step_mm == 50);
    const bool before = at.hand.shell.settings.snap_kinds[0];
    at.hand.click("settings/snap0");
    CHECK(at.hand.shell.settings.snap_kinds[0] == !before);
    at.hand.click("settings/close");
    CHECK(at.hand.shell.dialog == Dialog::none);
    select_only(*at.hand.shell.desk, "crate");
    at.hand.frame();
    const double x = at.piece("crate").at.x.mm;
    at.hand.key("Right");
    CHECK(at.piece("crate").at.x.mm == x + 50);
}

TEST_CASE("the visitor walks, changes lane and hands over to another") {
    Sitting at({});
    const double start = at.hand.shell.scrub.distance_mm;
    at.hand.key("]");
    CHECK(at.hand.shell.scrub.distance_mm == start + 250);
    at.hand.key("[");
    at.hand.key("[");
    CHECK(at.hand.shell.scrub.distance_mm == start - 250);
    for (int i = 0; i < 100; ++i)
        at.hand.key("[");
    CHECK(at.hand.shell.scrub.distance_mm == 0); // no farther than the way in
    const int lane = at.hand.shell.scrub.lane;
    at.hand.key("L");
    CHECK(at.hand.shell.scrub.lane != lane);
    CHECK(at.hand.shell.scrub.visitor == "standing");
    at.hand.key("V");
    CHECK(at.hand.shell.scrub.visitor == "standing"); // the only one
    CHECK(at.steps() == 0);
}

TEST_CASE("the path is dragged by its points while nothing is picked, as one step") {
    Sitting at({});
    const std::vector<PlanPoint> before = at.now().path->points;
    const glm::vec2 from = at.hand.on_screen(0, {5000, -1500, 0});
    const glm::vec2 to = at.hand.on_screen(0, {5640, -2330, 0});
    at.hand.drag(from, from + glm::vec2(2, 1)); // a slip of the hand
    CHECK(at.steps() == 0);
    at.hand.drag(from, to);
    CHECK(at.steps() == 1);
    CHECK(at.now().path->points[0] == before[0]);
    CHECK(at.now().path->points[1] == plan(5600, -2300)); // on the grid of 100 mm
    at.hand.key("Ctrl+Z");
    CHECK(at.now().path->points == before);
    // Escape gives it up.
    at.hand.move_to(from);
    at.hand.press();
    at.hand.move_to(to);
    CHECK(at.now().path->points != before);
    at.hand.key("Escape");
    at.hand.let_go();
    CHECK(at.now().path->points == before);
    CHECK_FALSE(at.hand.shell.desk->history.can_undo());
    // With something picked there are no handles.
    select_only(*at.hand.shell.desk, "crate");
    at.hand.frame();
    at.hand.drag(from, to);
    CHECK(at.now().path->points == before);
}

TEST_CASE("a press on the turning dot picks what lies under it, a drag turns") {
    Sitting at({"crate"});
    const auto dot = [&] {
        const View& view = at.hand.shell.views[0];
        const glm::ivec2 size(view.high - view.low);
        return view.low + glm::vec2(*pixel_of(view.camera, size,
                                              *turning_handle(at.hand.shell, view.camera, size)));
    };
    // The barrel goes where the dot of the crate is.
    const View& view = at.hand.shell.views[0];
    const glm::dvec3 place =
        *turning_handle(at.hand.shell, view.camera, glm::ivec2(view.high - view.low));
    REQUIRE(
        do_edit(at.hand.shell, Edit("there", MovePiece{"barrel", {place.x, place.y, 0, 0, 0, 0}})));
    at.hand.frame(2);
    const std::size_t before = at.steps();
    at.hand.drag(dot(), dot() + glm::vec2(60, 10));
    CHECK(at.steps() == before + 1);
    CHECK(at.piece("crate").at.facing.deg != 0);
    at.hand.key("Ctrl+Z");
    at.hand.click(dot());
    CHECK(at.hand.shell.desk->selected == std::vector<std::string>{"barrel"});
}

TEST_CASE("two thousand pieces are opened, picked, dragged, taken back and saved") {
    Document document = bare_scene();
    std::vector<std::shared_ptr<const Piece>> pieces;
    for (int i = 0; i < 2000; ++i) {
        const double x = 150 * (i % 50) - 3000, y = 150 * (i / 50) - 1000;
        pieces.push_back(std::make_shared<const Piece>(
            box_piece("box-" + std::to_string(i), x, y, 200, 100, 100, 50 + i % 7 * 10)));
    }
    document.pieces =
        std::make_shared<const std::vector<std::shared_ptr<const Piece>>>(std::move(pieces));
    Sitting at({}, document);
    at.hand.shell.settings.snap_on = false;
    const glm::dvec3 top{150 * 20 - 3000, 150 * 20 - 1000, 200 + 50 + 1020 % 7 * 10};
    const glm::vec2 from = at.hand.on_screen(0, top);
    at.hand.click(from);
    REQUIRE(at.hand.shell.desk->selected == std::vector<std::string>{"box-1020"});
    at.hand.drag(from, from + glm::vec2(40, 20));
    CHECK(at.steps() == 1);
    CHECK(at.piece("box-1020").at.x.mm != top.x);
    at.hand.key("Ctrl+A");
    CHECK(at.hand.shell.desk->selected.size() == 2000);
    at.hand.key("Right");
    CHECK(at.steps() == 2);
    CHECK(at.piece("box-0").at.x.mm == -2900);
    at.hand.key("Ctrl+Z");
    at.hand.key("Ctrl+Z");
    CHECK(same_content(at.now(), document));
    at.hand.key("Ctrl+Y");
    at.hand.key("Ctrl+S");
    CHECK(same_content(on_disk(at.hand.shell.desk->file), at.now()));
}
