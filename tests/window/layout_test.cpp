// Nothing runs out of its panel or lies on its neighbour, at any size of screen and text.
#include <algorithm>
#include <functional>

#include <doctest/doctest.h>
#include <imgui.h>

#include "sitting.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

struct Screen {
    int width, height;
    float scale;
};
// 2 on 1280 x 720 is 40 letters' heights by 22: the hard case.
constexpr Screen screens[] = {{1280, 720, 1},  {1280, 720, 1.5f},  {1280, 720, 2},
                              {1920, 1080, 1}, {1920, 1080, 1.5f}, {1920, 1080, 2},
                              {2560, 1440, 1}, {2560, 1440, 1.5f}, {2560, 1440, 2}};

constexpr float hair = 0.75f; // of a pixel: places are whole pixels, widths are not

Document landing() {
    Document document = stall();
    Piece named = box_piece("named", 300, 300, 150, 100, 100, 100);
    named.name = "A piece " + std::string(200, 'n');
    document = with_piece(document, named);
    auto settings = *document.settings;
    settings.title = "A landing with quite a long title for a bar with menus in it";
    document.settings = std::make_shared<const Settings>(settings);
    for (const char* piece : {"crate", "barrel", "chest"}) {
        Target target;
        target.id = std::string("sight-of-") + piece;
        target.name = std::string("the lid of the very long ") + piece;
        target.piece = piece;
        target.aim = piece[0] == 'c' ? Aim::see : Aim::hide;
        document = with_target(document, target);
    }
    auto points = *document.reference_points;
    points.push_back({"R1", "the corner of the column", {100, 100, 0}});
    document.reference_points = std::make_shared<const std::vector<ReferencePoint>>(points);
    return document;
}

struct Room { // a scene open on a screen
    TemporaryFolder folder;
    Hand hand;
    Screen screen;

    explicit Room(const Screen& on, const Document& document = landing())
        : hand(on.width, on.height, on.scale), screen(on) {
        const std::string file = folder.path() + "/a-rather-long-file-name.scene.json";
        std::ofstream(file) << write_document(document);
        open_file(hand.shell, file);
        REQUIRE(hand.shell.desk);
        hand.frame(4);
    }
    TaggedRect at(const std::string& name) const {
        CAPTURE(name);
        const auto found = hand.tags.find(name);
        REQUIRE(found != hand.tags.end());
        return found->second;
    }
};

void on_each(const std::function<void(const Screen&)>& look) {
    for (const Screen& screen : screens) {
        CAPTURE(screen.width);
        CAPTURE(screen.scale);
        look(screen);
    }
}

bool begins(const std::string& name, std::initializer_list<const char*> prefixes) {
    return std::any_of(prefixes.begin(), prefixes.end(),
                       [&](const char* prefix) { return name.starts_with(prefix); });
}

using Widgets = std::vector<std::pair<std::string, TaggedRect>>;

Widgets widgets(const Hand& hand, std::initializer_list<const char*> prefixes) {
    Widgets found;
    for (const auto& [name, rect] : hand.tags)
        if (begins(name, prefixes)) found.emplace_back(name, rect);
    return found;
}

bool lies_across(const TaggedRect& rect, const TaggedRect& panel) {
    return rect.low.x >= panel.low.x - hair && rect.high.x <= panel.high.x + hair;
}

bool lies_within(const TaggedRect& rect, const TaggedRect& panel) {
    return lies_across(rect, panel) && rect.low.y >= panel.low.y - hair &&
           rect.high.y <= panel.high.y + hair;
}

bool overlap(const TaggedRect& a, const TaggedRect& b) {
    return a.low.x < b.high.x - hair && b.low.x < a.high.x - hair && a.low.y < b.high.y - hair &&
           b.low.y < a.high.y - hair;
}

// Panels scroll up and down, never to the side.
void check_across(const Widgets& all, const TaggedRect& panel) {
    for (const auto& [name, rect] : all) {
        CAPTURE(name);
        CHECK(lies_across(rect, panel));
        CHECK(rect.high.x > rect.low.x + 4);
    }
}

void check_within(const Widgets& all, const TaggedRect& panel) {
    for (const auto& [name, rect] : all) {
        CAPTURE(name);
        CHECK(lies_within(rect, panel));
    }
}

void check_apart(const Widgets& all) {
    for (std::size_t i = 0; i < all.size(); ++i)
        for (std::size_t k = i + 1; k < all.size(); ++k) {
            CAPTURE(all[i].first);
            CAPTURE(all[k].first);
            CHECK_FALSE(overlap(all[i].second, all[k].second));
        }
}

TaggedRect whole(const Screen& screen) {
    return {{0, 0}, {static_cast<float>(screen.width), static_cast<float>(screen.height)}};
}

} // namespace

TEST_CASE("bars lie on the screen, and nothing in them on its neighbour") {
    on_each([](const Screen& screen) {
        Room room(screen);
        for (const bool picked : {false, true}) {
            if (picked) select_only(*room.hand.shell.desk, "named");
            say_done(room.hand.shell, "A message " + std::string(300, 'm'));
            room.hand.frame(2);
            const Widgets top = widgets(room.hand, {"tool/", "menu/", "bar/"});
            CHECK(top.size() >= 12);
            check_within(top, whole(screen));
            check_apart(top);
            const Widgets status = widgets(room.hand, {"status/"});
            CHECK(status.size() == 2);
            check_within(status, whole(screen));
            check_apart(status);
            CHECK(room.at("status/message").low.y >= room.at("panel/left").high.y - hair);
        }
    });
}

TEST_CASE("every tool is in the bar or behind its last button, where it acts") {
    int behind = 0;
    on_each([&](const Screen& screen) {
        Room room(screen);
        const Widgets shown = widgets(room.hand, {"tool/"});
        if (!room.hand.has("tool/more")) {
            CHECK(shown.size() == 14);
            return;
        }
        room.hand.click("tool/more");
        room.hand.frame(3);
        const Widgets more = widgets(room.hand, {"more/"});
        CHECK(shown.size() - 1 + more.size() == 14);
        check_within(more, whole(screen));
        behind += static_cast<int>(more.size());
        room.hand.click("more/sheets");
        CHECK(room.hand.shell.dialog == Dialog::sheets);
        CHECK_FALSE(room.hand.has("more/sheets")); // the menu is closed again
    });
    CHECK(behind > 0);
}

TEST_CASE("what lies over a view stays in it, and the views keep two fifths of the width") {
    int buttons = 0, choices = 0;
    on_each([&](const Screen& screen) {
        Room room(screen);
        Shell& shell = room.hand.shell;
        for (const int count : {1, 2, 4})
            for (const bool cut : {false, true}) {
                CAPTURE(count);
                CAPTURE(cut);
                shell.settings.view_count = count;
                if (cut) shell.views[0].cut_height = 1234.5;
                room.hand.frame(2);
                for (int i = 0; i < count; ++i) {
                    const std::string view = "view" + std::to_string(i);
                    const Widgets over = widgets(room.hand, {(view + "/").c_str()});
                    CHECK_FALSE(over.empty());
                    check_within(over, room.at(view));
                    check_apart(over);
                }
                CHECK(room.hand.has("view0/cut") == cut);
                buttons += room.hand.has("view0/kind0");
                choices += room.hand.has("view0/kinds");
                shell.views[0].cut_height.reset();
            }
        const TaggedRect views = room.at("panel/views");
        CHECK(views.high.x - views.low.x >= 0.4f * static_cast<float>(screen.width));
        // However far the splitters are dragged.
        shell.settings.left_width = shell.settings.right_width = 200;
        room.hand.frame(2);
        const TaggedRect least = room.at("panel/views");
        CHECK(least.high.x - least.low.x >= 0.4f * static_cast<float>(screen.width));
    });
    CHECK(buttons > 0);
    CHECK(choices > 0);
}

TEST_CASE("a view's kind is chosen from a drop-down where buttons have no room") {
    Room room({1280, 720, 2});
    room.hand.click("view0/kinds");
    room.hand.frame(2);
    room.hand.click("view0/kind2");
    CHECK(room.hand.shell.views[0].camera.kind == ViewKind::side);
    CHECK(room.hand.shell.active_view == 0);
}

TEST_CASE("the strip lies in its panel with its rows below its controls") {
    on_each([](const Screen& screen) {
        Room room(screen);
        room.hand.frame();
        const TaggedRect before = room.at("panel/strip"), row = room.at("strip/row2");
        room.hand.shell.check = std::make_unique<BackgroundCheck>();
        room.hand.frame(40);
        room.hand.settle_checks();
        CHECK(room.at("panel/strip").low == before.low); // the views stay when answers come
        CHECK(room.at("strip/row2").low.y == row.low.y);
        for (const bool stale : {false, true}) {
            if (stale) ++room.hand.shell.desk->revision;
            room.hand.frame();
            const Widgets strip = widgets(room.hand, {"strip/"});
            CHECK(room.hand.has("strip/row2"));
            CHECK(room.hand.has("strip/where"));
            check_across(strip, room.at("panel/strip"));
            check_apart(strip);
        }
    });
}

TEST_CASE("a strip without targets says how to make one") {
    Room room({1280, 720, 2}, bare_scene());
    CHECK(room.hand.has("strip/empty"));
    check_across(widgets(room.hand, {"strip/"}), room.at("panel/strip"));
    CHECK_FALSE(Room({1280, 720, 2}, landing()).hand.has("strip/empty"));
}

TEST_CASE("every dialog fits the screen, with its last buttons in sight") {
    const struct {
        Dialog dialog;
        const char* prefix;
        const char* button; // that must be in sight without scrolling
    } dialogs[] = {{Dialog::open, "files/", "files/choose"},
                   {Dialog::save_as, "files/", "files/cancel"},
                   {Dialog::bring_in, "files/", "files/choose"},
                   {Dialog::sheets, "sheets/", "sheets/folder"},
                   {Dialog::ask_unsaved, "unsaved/", "unsaved/cancel"},
                   {Dialog::recover, "recover/", "recover/take0"},
                   {Dialog::keys, "keys/", "keys/close"},
                   {Dialog::settings, "settings/", "settings/close"},
                   {Dialog::repeat, "repeat/", "repeat/cancel"},
                   {Dialog::ratio, "ratio/", "ratio/cancel"}};
    on_each([&](const Screen& screen) {
        Room room(screen);
        Shell& shell = room.hand.shell;
        select_only(*shell.desk, "crate");
        shell.made_files = {"/" + std::string(200, 'f') + "/sheets.pdf"};
        shell.left_behind.resize(4);
        for (Recovery& left : shell.left_behind)
            left.original = "/" + std::string(200, 'r') + ".scene.json";
        shell.offered_recovery = true;
        for (const auto& dialog : dialogs) {
            CAPTURE(dialog.prefix);
            shell.dialog = dialog.dialog;
            shell.dialog_opens = true;
            room.hand.frame(6);
            const TaggedRect page = room.at("panel/dialog");
            CHECK(lies_within(page, whole(screen)));
            const Widgets inside = widgets(room.hand, {dialog.prefix});
            CHECK_FALSE(inside.empty());
            check_across(inside, page);
            CHECK(lies_within(room.at(dialog.button), page));
            // In a list of its own a row lies on the list.
            Widgets apart;
            std::copy_if(inside.begin(), inside.end(), std::back_inserter(apart),
                         [](const auto& widget) {
                             return !begins(widget.first, {"keys/", "files/a-", "files/rows"});
                         });
            check_apart(apart);
            room.hand.key("Escape");
            room.hand.frame(2);
            CHECK(shell.dialog == Dialog::none);
        }
    });
}

TEST_CASE("what is longer than a dialog's room scrolls within it") {
    Room room({1280, 720, 2});
    room.hand.shell.left_behind.resize(12);
    room.hand.shell.offered_recovery = true;
    room.hand.shell.dialog = Dialog::recover;
    room.hand.shell.dialog_opens = true;
    room.hand.frame(6);
    const TaggedRect page = room.at("panel/dialog");
    CHECK(lies_within(page, whole(room.screen)));
    CHECK_FALSE(lies_within(room.at("recover/later"), page));
    room.hand.move_to(page.middle());
    for (int i = 0; i < 60; ++i)
        room.hand.wheel(-1);
    CHECK(lies_within(room.at("recover/later"), page));
}

TEST_CASE("the panels about the scene and its targets keep to their width with every fold open") {
    on_each([](const Screen& screen) {
        for (const bool picked : {false, true}) {
            Room room(screen);
            if (picked) select_only(*room.hand.shell.desk, "crate");
            room.hand.frame(2);
            for (int round = 0; round < 2; ++round) { // folds within folds
                for (const auto& [name, rect] : widgets(room.hand, {"fold/"}))
                    room.hand.shell.panels.folds[name] = true;
                room.hand.frame(2);
            }
            const Widgets rows =
                widgets(room.hand, {"fold/", "scene/", "section/", "sections/", "path/", "hall/",
                                    "visitor/", "visitors/", "reference/", "references/", "rules/",
                                    "piece/", "form/", "target/", "targets/", "look/"});
            CHECK(rows.size() > 20);
            check_across(rows, room.at("panel/piece"));
            check_apart(rows);
        }
    });
}

TEST_CASE("the first page keeps to its width whatever was opened lately") {
    on_each([](const Screen& screen) {
        Hand hand(screen.width, screen.height, screen.scale);
        hand.shell.demo_file = "/demo.scene.json";
        for (int i = 0; i < 12; ++i)
            remember_scene(hand.shell.settings, "/" + std::string(150, 'd') + "/" +
                                                    std::string(90, 'n') + std::to_string(i));
        hand.frame(4);
        const TaggedRect page = hand.tags["panel/first"];
        CHECK(lies_within(page, whole(screen)));
        const Widgets inside = widgets(hand, {"first/"});
        CHECK(inside.size() == 15);
        for (const auto& [name, rect] : inside)
            CHECK(lies_across(rect, page));
        check_apart(inside);
    });
}

TEST_CASE("nothing picked leaves the findings most of the height, something picked its numbers") {
    on_each([](const Screen& screen) {
        Room room(screen);
        const auto share = [&] {
            const TaggedRect piece = room.at("panel/piece"), findings = room.at("panel/findings");
            CHECK_FALSE(overlap(piece, findings));
            return (findings.high.y - findings.low.y) / (findings.high.y - piece.low.y);
        };
        CHECK(share() > 0.6f);
        select_only(*room.hand.shell.desk, "crate");
        room.hand.frame(2);
        CHECK(share() < 0.4f);
        CHECK(share() > 0.3f);
        select_only(*room.hand.shell.desk, "");
        room.hand.frame(2);
        const glm::vec2 bar = room.hand.middle("splitter/piece");
        room.hand.drag(bar, bar + glm::vec2(0, 40));
        CHECK(room.hand.shell.settings.scene_height > 0);
        CHECK(room.hand.shell.settings.piece_height == 0); // each has its own
    });
}

TEST_CASE("a name of the strip has five letters' heights even where its share has no room") {
    on_each([](const Screen& screen) {
        Room room(screen);
        room.hand.shell.check = std::make_unique<BackgroundCheck>();
        room.hand.frame(40);
        room.hand.settle_checks();
        for (const auto& [name, rect] : widgets(room.hand, {"strip/name"})) {
            CAPTURE(name);
            CHECK(rect.high.x - rect.low.x >= 5 * 16 * screen.scale);
        }
    });
}

TEST_CASE("the bar between the piece and the findings is dragged, and is kept") {
    Room room({1280, 720, 1});
    select_only(*room.hand.shell.desk, "crate");
    room.hand.frame(2);
    room.hand.drag(room.hand.middle("splitter/piece"), {1200, 300});
    const float before = room.at("panel/piece").high.y;
    const glm::vec2 bar = room.hand.middle("splitter/piece");
    room.hand.drag(bar, bar + glm::vec2(0, 120));
    CHECK(room.at("panel/piece").high.y == doctest::Approx(before + 120).epsilon(0.02));
    CHECK(room.at("panel/findings").low.y >= room.at("panel/piece").high.y);
    CHECK(room.hand.shell.settings.piece_height > 0);
    room.hand.drag(room.hand.middle("splitter/piece"), {bar.x, 2000});
    CHECK(lies_within(room.at("panel/findings"), whole(room.screen)));
    const TaggedRect findings = room.at("panel/findings");
    CHECK(findings.high.y - findings.low.y > 60);
}
