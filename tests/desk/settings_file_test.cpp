// What the window remembers: round trips, tolerance, and nothing lost in silence.
#include <doctest/doctest.h>

#include <filesystem>

#include <sys/stat.h>

#include "base/faulty_disk.h"
#include "desk/settings_file.h"
#include "desk/snap.h"
#include "support/random.h"
#include "support/temporary_folder.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

WindowSettings random_settings(Random& random) {
    WindowSettings s;
    for (std::int64_t n = random.integer(0, 15); n > 0; --n) {
        std::string path = "/";
        for (std::int64_t k = random.integer(1, 9); k > 0; --k)
            path += static_cast<char>(random.integer(1, 255));
        remember_scene(s, path);
    }
    const auto flip = [&] { return random.integer(0, 1) == 1; };
    s.dark = flip();
    s.text_scale = random.uniform(0.5, 4);
    s.view_count = 1 << random.integer(0, 2);
    for (ViewKind& kind : s.view_kinds)
        kind = static_cast<ViewKind>(random.integer(0, view_kind_count - 1));
    s.left_width = random.uniform(0, 200);
    s.right_width = random.uniform(0, 200);
    s.strip_height = random.uniform(0, 200);
    s.piece_height = random.uniform(0, 200);
    s.scene_height = random.uniform(0, 200);
    s.grid_step_mm = random.uniform(1, 10000);
    s.snap_on = flip();
    for (bool& kind : s.snap_kinds)
        kind = flip();
    s.units = static_cast<ShownUnits>(random.integer(0, 2));
    s.first_run_done = flip();
    return s;
}

SettingsRead read_text(const std::string& text) {
    Result<SettingsRead> read = settings_of(text, "settings.json");
    REQUIRE(read.ok());
    return *read;
}

} // namespace

TEST_CASE("settings go into text and back") {
    Random random(21);
    for (int i = 0; i < 200; ++i) {
        const WindowSettings in = random_settings(random);
        const SettingsRead out = read_text(settings_text(in));
        CHECK(out.message.empty());
        CHECK(same_settings(in, out.settings));
        CHECK(out.settings.recent == in.recent);
        CHECK(out.settings.text_scale == in.text_scale);
        CHECK(out.settings.grid_step_mm == in.grid_step_mm);
        CHECK(out.settings.view_kinds == in.view_kinds);
        CHECK(out.settings.snap_kinds == in.snap_kinds);
        CHECK(out.settings.view_count == in.view_count);
        CHECK(out.settings.units == in.units);
        CHECK(out.settings.dark == in.dark);
        CHECK(out.settings.snap_on == in.snap_on);
        CHECK(out.settings.first_run_done == in.first_run_done);
        CHECK(out.settings.left_width == in.left_width);
        CHECK(out.settings.right_width == in.right_width);
        CHECK(out.settings.strip_height == in.strip_height);
        CHECK(out.settings.piece_height == in.piece_height);
        CHECK(out.settings.scene_height == in.scene_height);
    }
}

TEST_CASE("there is a switch for every kind of snapping") {
    CHECK(WindowSettings{}.snap_kinds.size() == std::size(snap_kind_names));
}

TEST_CASE("the most recent scene is first, each is there once, the thirteenth goes") {
    WindowSettings settings;
    for (int i = 0; i < 13; ++i) {
        CHECK(settings.recent.size() == static_cast<std::size_t>(std::min(i, 12)));
        remember_scene(settings, "/scenes/" + std::to_string(i));
    }
    REQUIRE(settings.recent.size() == most_recent_scenes);
    CHECK(settings.recent.front().path == "/scenes/12");
    CHECK(settings.recent.back().path == "/scenes/1");
    remember_scene(settings, "/scenes/5");
    CHECK(settings.recent.size() == most_recent_scenes);
    CHECK(settings.recent.front().path == "/scenes/5");
    forget_scene(settings, "/scenes/5");
    CHECK(settings.recent.size() == most_recent_scenes - 1);
}

TEST_CASE("scenes that are missing are kept and marked") {
    const TemporaryFolder folder;
    WindowSettings settings;
    write_plain(folder.file("here.json"), "{}");
    remember_scene(settings, folder.file("here.json"));
    remember_scene(settings, folder.file("gone.json"));
    remember_scene(settings, folder.path());
    look_for_scenes(settings);
    REQUIRE(settings.recent.size() == 3);
    CHECK(settings.recent[0].missing); // a folder is no scene
    CHECK(settings.recent[1].missing);
    CHECK(!settings.recent[2].missing);
    write_plain(folder.file("gone.json"), "{}");
    look_for_scenes(settings);
    CHECK(!settings.recent[1].missing);
}

TEST_CASE("keys of another version are kept as they are") {
    const SettingsRead read =
        read_text("{\"dark\": true, \"tide-table\": {\"high\": [1, 2.50, null] }, \"z\": \"ä\"}");
    CHECK(read.message.empty());
    CHECK(read.settings.dark);
    const std::string text = settings_text(read.settings);
    CHECK(text.find("\"tide-table\": { \"high\": [1, 2.50, null] }") != std::string::npos);
    CHECK(text.find("\"z\": \"ä\"") != std::string::npos);
    CHECK(same_settings(read_text(text).settings, read.settings));
}

TEST_CASE("a value that cannot be used is named, and the others hold") {
    struct Case {
        const char* key;
        const char* value;
        bool good;
    };
    const Case cases[] = {
        {"text-scale", "0.5", true},
        {"text-scale", "0.49", false},
        {"text-scale", "4", true},
        {"text-scale", "4.01", false},
        {"text-scale", "\"2\"", false},
        {"text-scale", "-1e300", false},
        {"views", "1", true},
        {"views", "2", true},
        {"views", "3", false},
        {"views", "4", true},
        {"views", "0", false},
        {"grid-step-mm", "1", true},
        {"grid-step-mm", "0.99", false},
        {"grid-step-mm", "10000", true},
        {"grid-step-mm", "10001", false},
        {"left-width", "0", true},
        {"left-width", "-1", false},
        {"left-width", "200", true},
        {"left-width", "200.1", false},
        {"units", "\"metric\"", true},
        {"units", "\"cubits\"", false},
        {"units", "1", false},
        {"dark", "1", false},
        {"snap-kinds", "[true]", false},
        {"view-kinds", "[\"Plan\"]", false},
        {"view-kinds", "[\"Plan\", \"Eye\", \"Front\", \"Below\"]", false},
        {"recent", "\"/a\"", false},
        {"recent", "[\"/a\", 3]", false},
        {"recent", "[\"\"]", false},
        {"recent", "[\"/a%00\"]", false},
    };
    for (const Case& c : cases) {
        const std::string text =
            std::string("{\"first-run-done\": true, \"") + c.key + "\": " + c.value + "}";
        CAPTURE(text);
        const SettingsRead read = read_text(text);
        CHECK(read.settings.first_run_done);
        CHECK(read.message.empty() == c.good);
        if (!c.good) CHECK(read.message.find(c.key) != std::string::npos);
        if (!c.good && std::string(c.key) != "recent") {
            WindowSettings untouched;
            untouched.first_run_done = true;
            CHECK(same_settings(read.settings, untouched));
        }
    }
}

TEST_CASE("a list of recent scenes that is too long or says one twice is put right") {
    std::string text = "{\"recent\": [\"/a\", \"/a\"";
    for (int i = 0; i < 20; ++i)
        text += ", \"/" + std::to_string(i) + "\"";
    const SettingsRead read = read_text(text + "]}");
    CHECK(read.message.empty());
    REQUIRE(read.settings.recent.size() == most_recent_scenes);
    CHECK(read.settings.recent[0].path == "/a");
    CHECK(read.settings.recent[1].path == "/0");
}

TEST_CASE("no file is no trouble; a broken one is moved aside and told of") {
    const TemporaryFolder folder;
    const std::string file = folder.file("settings.json");
    const SettingsRead first = read_settings(file);
    CHECK(first.message.empty());
    CHECK(same_settings(first.settings, {}));
    for (const std::string broken :
         {"{\"dark\": tru", "[1]", "", "\xFF\xFE", "{\"a\":1,\"a\":2}"}) {
        write_plain(file, broken);
        const std::size_t before = folder.names().size();
        const SettingsRead read = read_settings(file);
        CHECK(same_settings(read.settings, {}));
        CHECK(read.message.find(".broken") != std::string::npos);
        CHECK(!std::filesystem::exists(file));
        CHECK(folder.names().size() == before); // moved, over nothing
    }
    CHECK(read_plain(folder.file("settings.json.broken")) == "{\"dark\": tru");
    CHECK(read_plain(folder.file("settings.json.broken-5")) == "{\"a\":1,\"a\":2}");
}

TEST_CASE("something that is no file is told of and left where it is") {
    const TemporaryFolder folder;
    std::filesystem::create_directory(folder.file("settings.json"));
    const SettingsRead read = read_settings(folder.file("settings.json"));
    CHECK(!read.message.empty());
    CHECK(std::filesystem::is_directory(folder.file("settings.json")));
    CHECK(read_settings("").message.empty());
}

TEST_CASE("settings are written into a folder that is made for them") {
    const TemporaryFolder folder;
    const std::string file = folder.file("config/standpoint/settings.json");
    WindowSettings settings;
    settings.dark = true;
    REQUIRE(write_settings(file, settings).ok());
    CHECK(read_settings(file).settings.dark);
    struct stat status {};
    REQUIRE(::stat(folder.file("config/standpoint").c_str(), &status) == 0);
    CHECK((status.st_mode & 0777) == 0700);
    CHECK(!write_settings("", settings).ok());
}

TEST_CASE("whatever call fails, the old settings or the new ones are there") {
    WindowSettings before, after;
    before.text_scale = 1.5;
    after.text_scale = 2;
    std::size_t calls = 0;
    {
        const TemporaryFolder folder;
        REQUIRE(write_settings(folder.file("settings.json"), before).ok());
        FaultyDisk whole;
        REQUIRE(write_settings(folder.file("settings.json"), after, whole).ok());
        calls = whole.made.size();
    }
    for (std::size_t stop = 0; stop < calls; ++stop) {
        const TemporaryFolder folder;
        const std::string file = folder.file("settings.json");
        REQUIRE(write_settings(file, before).ok());
        FaultyDisk disk;
        disk.fault = [stop](std::size_t index, const std::string&) {
            return index == stop ? EIO : 0;
        };
        const bool wrote = write_settings(file, after, disk).ok();
        const SettingsRead read = read_settings(file);
        CHECK(read.message.empty());
        CHECK((read.settings.text_scale == 2 || (!wrote && read.settings.text_scale == 1.5)));
    }
    CHECK(calls > 5);
}
