// The file dialog: what it lists, where typing leads, and what it asks before writing over.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>

#include <sys/stat.h>
#include <unistd.h>

#include "desk/file_dialog.h"
#include "desk/natural_order.h"
#include "support/random.h"
#include "support/temporary_folder.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

std::vector<std::string> names(const FileDialog& dialog) {
    std::vector<std::string> out;
    for (const FileRow& row : dialog.rows)
        out.push_back(row.name);
    return out;
}

using Names = std::vector<std::string>;

struct Landing : TemporaryFolder { // a folder with scenes and things that are none
    Landing() {
        for (const char* name : {"pier 10.json", "pier 9.json", "Quay.JSON", "boat.glb",
                                 ".hidden.json", "models/hut.json", "Models 2/x.glb"}) {
            std::filesystem::create_directories(std::filesystem::path(file(name)).parent_path());
            write_plain(file(name), "{}");
        }
        std::filesystem::create_directory(file("empty"));
        REQUIRE(::mkfifo(file("pipe.json").c_str(), 0600) == 0);
        std::filesystem::create_symlink("nowhere.json", file("dead.json"));
        std::filesystem::create_symlink("pier 9.json", file("linked.json"));
    }
    FileDialog dialog() const {
        FileDialog dialog;
        dialog.home = file("models");
        go_to_folder(dialog, path());
        return dialog;
    }
};

Choice chosen(FileDialog dialog, const std::string& typed) {
    dialog.typed = typed;
    const Choice choice = choose(dialog);
    if (choice.kind == ChoiceKind::nothing) CHECK(!dialog.message.empty());
    return choice;
}

} // namespace

TEST_CASE("folders first, numbers by value, only the wanted endings") {
    const Landing landing;
    FileDialog dialog = landing.dialog();
    CHECK(dialog.message.empty());
    CHECK(names(dialog) == Names{"empty", "models", "Models 2", "linked.json", "pier 9.json",
                                 "pier 10.json", "Quay.JSON"});
    CHECK(dialog.rows[1].folder);
    CHECK(!dialog.rows[4].folder);
    CHECK(dialog.rows[4].bytes == 2);
    dialog.hidden = true;
    dialog.endings = {".glb", ".json"};
    list_again(dialog);
    CHECK(names(dialog) == Names{"empty", "models", "Models 2", ".hidden.json", "boat.glb",
                                 "linked.json", "pier 9.json", "pier 10.json", "Quay.JSON"});
    dialog.endings.clear();
    list_again(dialog);
    CHECK(dialog.rows.size() == 9);
}

TEST_CASE("up, home, down and the root") {
    const Landing landing;
    FileDialog dialog = landing.dialog();
    go_to_folder(dialog, "models");
    CHECK(dialog.folder == landing.file("models"));
    CHECK(names(dialog) == Names{"hut.json"});
    go_up(dialog);
    CHECK(dialog.folder == landing.path());
    go_to_folder(dialog, "./models/../Models 2//");
    CHECK(dialog.folder == landing.file("Models 2"));
    go_home(dialog);
    CHECK(dialog.folder == landing.file("models"));
    go_to_folder(dialog, "/");
    CHECK(dialog.folder == "/");
    go_up(dialog);
    CHECK(dialog.folder == "/");
    CHECK(!dialog.rows.empty());
    FileDialog homeless;
    go_to_folder(homeless, landing.path());
    go_home(homeless);
    CHECK(homeless.folder == landing.path());
}

TEST_CASE("a folder that cannot be listed is said in words, and one can go up again") {
    const Landing landing;
    FileDialog dialog = landing.dialog();
    go_to_folder(dialog, "none");
    CHECK(dialog.message.find("none") != std::string::npos);
    CHECK(dialog.rows.empty());
    go_up(dialog);
    CHECK(dialog.message.empty());
    CHECK(!dialog.rows.empty());
    go_to_folder(dialog, "boat.glb");
    CHECK(!dialog.message.empty());
    if (::geteuid() != 0) { // nothing is closed to root
        ::chmod(landing.file("empty").c_str(), 0);
        go_to_folder(dialog, landing.file("empty"));
        CHECK(!dialog.message.empty());
        ::chmod(landing.file("empty").c_str(), 0700);
    }
}

TEST_CASE("what is typed means a path here, at home or anywhere") {
    const Landing landing;
    FileDialog dialog = landing.dialog();
    const std::pair<std::string, std::string> cases[] = {
        {"a.json", landing.file("a.json")}, {"models/../b", landing.file("b")},
        {"~", landing.file("models")},      {"~/hut.json", landing.file("models/hut.json")},
        {"~other", landing.file("~other")}, {"/x//y/./z/", "/x/y/z"},
        {"../../../../../../../..", "/"},   {"", landing.path()}};
    for (const auto& [typed, path] : cases) {
        dialog.typed = typed;
        CHECK(typed_path(dialog) == path);
    }
    dialog.home.clear();
    dialog.typed = "~/x";
    CHECK(typed_path(dialog) == landing.file("~/x"));
}

TEST_CASE("Tab completes as far as all agree") {
    const Landing landing;
    FileDialog dialog = landing.dialog();
    const auto complete = [&](const std::string& typed) {
        dialog.typed = typed;
        return complete_typed(dialog);
    };
    CHECK(complete("pi").typed == "pier ");
    CHECK(complete("pi").offers == Names{"pier 9.json", "pier 10.json"});
    CHECK(complete("pier 1").typed == "pier 10.json");
    CHECK(complete("mod").typed == "models/");
    CHECK(complete("models/").typed == "models/hut.json");
    CHECK(complete("~").typed == "~/");
    CHECK(complete("~/h").typed == "~/hut.json");
    CHECK(complete("qu").typed == "Quay.JSON"); // nothing else begins like it
    CHECK(complete("boat").offers.empty());     // not an ending that is wanted
    CHECK(complete("boat").typed == "boat");
    CHECK(complete(".hid").typed == ".hidden.json");
    CHECK(complete("none/x").typed == "none/x");
    CHECK(complete("MOD").offers == Names{"models/", "Models 2/"});
    CHECK(complete("MOD").typed == "MOD"); // they agree on less than that
    CHECK(complete(landing.path() + "/em").typed == landing.path() + "/empty/");
    CHECK(complete("").offers.size() == dialog.rows.size());
}

TEST_CASE("completion never stops within a character") {
    const TemporaryFolder folder;
    write_plain(folder.file("\xC3\xA4.json"), ""); // ä and ö share their first byte
    write_plain(folder.file("\xC3\xB6.json"), "");
    FileDialog dialog;
    go_to_folder(dialog, folder.path());
    CHECK(complete_typed(dialog).typed.empty());
    CHECK(complete_typed(dialog).offers.size() == 2);
}

TEST_CASE("opening takes files that are there, goes into folders, and says no to the rest") {
    const Landing landing;
    const FileDialog dialog = landing.dialog();
    CHECK(chosen(dialog, "pier 9.json").kind == ChoiceKind::open);
    CHECK(chosen(dialog, "pier 9.json").path == landing.file("pier 9.json"));
    CHECK(chosen(dialog, "boat.glb").kind == ChoiceKind::open); // typed out in full
    CHECK(chosen(dialog, "models").kind == ChoiceKind::went);
    CHECK(chosen(dialog, "models/").kind == ChoiceKind::went);
    CHECK(chosen(dialog, "models/hut.json").kind == ChoiceKind::open);
    for (const char* typed : {"", "none.json", "pipe.json", "dead.json", "none/", "pier 9.json/"})
        CHECK(chosen(dialog, typed).kind == ChoiceKind::nothing);
    CHECK(chosen(dialog, std::string("a\0b", 3)).kind == ChoiceKind::nothing);
    FileDialog going = dialog;
    going.typed = "models";
    choose(going);
    CHECK(going.folder == landing.file("models"));
    CHECK(going.typed.empty());
}

TEST_CASE("saving puts the ending on, asks about what is there, and never makes folders") {
    const Landing landing;
    FileDialog dialog = landing.dialog();
    dialog.saving = true;
    CHECK(chosen(dialog, "new").kind == ChoiceKind::save);
    CHECK(chosen(dialog, "new").path == landing.file("new.json"));
    CHECK(chosen(dialog, "new.JSON").path == landing.file("new.JSON"));
    CHECK(chosen(dialog, "pier 9").kind == ChoiceKind::ask_overwrite);
    CHECK(chosen(dialog, "pier 9").path == landing.file("pier 9.json"));
    CHECK(chosen(dialog, "pier 9.json").kind == ChoiceKind::ask_overwrite);
    CHECK(chosen(dialog, "boat.glb").kind == ChoiceKind::ask_overwrite);
    CHECK(chosen(dialog, "dead.json").kind == ChoiceKind::ask_overwrite); // a link is something
    CHECK(chosen(dialog, "none/new").kind == ChoiceKind::nothing);
    CHECK(chosen(dialog, "new/").kind == ChoiceKind::nothing);
    CHECK(chosen(dialog, "models").kind == ChoiceKind::went);
    CHECK(!std::filesystem::exists(landing.file("none")));
    dialog.endings = {".scene.json", ".json"};
    CHECK(chosen(dialog, "new").path == landing.file("new.scene.json"));
    CHECK(chosen(dialog, "new.scene").path == landing.file("new.scene.json"));
    CHECK(chosen(dialog, "new.json").path == landing.file("new.json"));
    CHECK(chosen(dialog, "new.scene.json").path == landing.file("new.scene.json"));
    CHECK(chosen(dialog, "pier v1.2").path == landing.file("pier v1.2.scene.json"));
    dialog.endings.clear();
    CHECK(chosen(dialog, "new").path == landing.file("new"));
}

TEST_CASE("rows are gone into, opened, or asked about") {
    const Landing landing;
    FileDialog dialog = landing.dialog();
    CHECK(choose_row(dialog, {"pier 9.json", false, 2}).kind == ChoiceKind::open);
    CHECK(dialog.typed == "pier 9.json");
    dialog.saving = true;
    CHECK(choose_row(dialog, {"pier 9.json", false, 2}).kind == ChoiceKind::ask_overwrite);
    CHECK(choose_row(dialog, {"models", true, 0}).kind == ChoiceKind::went);
    CHECK(dialog.folder == landing.file("models"));
    CHECK(choose_row(dialog, {"gone.json", false, 0}).kind == ChoiceKind::save);
}

TEST_CASE("names that look like home or are no text are files like others") {
    const TemporaryFolder folder;
    write_plain(folder.file("~"), "");
    write_plain(folder.file("\xFF\xFE.json"), "");
    FileDialog dialog;
    dialog.home = "/";
    dialog.endings.clear();
    go_to_folder(dialog, folder.path());
    REQUIRE(dialog.rows.size() == 2);
    for (const FileRow& row : dialog.rows)
        CHECK(choose_row(dialog, row).kind == ChoiceKind::open);
}

TEST_CASE("natural order is total: it sorts any names one way") {
    const Names sorted{"a", "A", "a1", "a01", "a2", "a10", "ab", "B", "pier 9", "pier 10", "ä"};
    for (std::size_t i = 0; i < sorted.size(); ++i)
        for (std::size_t j = 0; j < sorted.size(); ++j)
            if (sorted[i] != "a" && sorted[j] != "a") // both cases of a letter: bytes decide
                CHECK((natural_less(sorted[i], sorted[j]) || natural_less(sorted[j], sorted[i])) ==
                      (i != j));
    CHECK(natural_less("pier 9", "pier 10"));
    CHECK(natural_less("A", "a"));
    CHECK(natural_less("a2", "B1"));
    CHECK(natural_less("9", "a"));
    CHECK(natural_less("1", "00000000000000000000000000000002"));
    CHECK(!natural_less("99999999999999999999999999999999", "3"));
    Random random(4);
    const std::string letters = "aAbB019 .";
    const auto drawn = [&] {
        std::string text;
        for (std::int64_t n = random.integer(0, 5); n > 0; --n)
            text += letters[static_cast<std::size_t>(random.integer(0, 8))];
        return text;
    };
    for (int i = 0; i < 5000; ++i) {
        const std::string a = drawn(), b = drawn(), c = drawn();
        CHECK((natural_less(a, b) + natural_less(b, a)) == (a == b ? 0 : 1));
        if (natural_less(a, b) && natural_less(b, c)) CHECK(natural_less(a, c));
    }
}
