// Reading files, and names that try to leave their folder.
#include "base/files.h"

#include <array>
#include <filesystem>

#include <doctest/doctest.h>
#include <sys/stat.h>
#include <unistd.h>

#include "support/child.h"
#include "support/random.h"
#include "support/temporary_folder.h"

using namespace standpoint;

namespace {

// The refusal's line, or what was returned instead.
std::string refusal(const std::string& path, std::size_t limit = 1 << 20) {
    const auto result = DiskFiles(limit).read(path);
    if (result.ok()) return "no refusal";
    CHECK(result.error().code == ErrorCode::io);
    CHECK(result.error().where == path);
    return result.error().message;
}

} // namespace

TEST_CASE("a file is read whole, whatever its bytes") {
    const support::TemporaryFolder folder;
    support::Random random(2);
    for (const std::size_t size : {0u, 1u, 4095u, 4096u, 1048576u, 1048577u, 3000000u}) {
        std::string bytes(size, '\0');
        for (char& c : bytes)
            c = static_cast<char>(random.next() & 0xff);
        support::write_plain(folder.file("data"), bytes);
        const auto read = DiskFiles().read(folder.file("data"));
        REQUIRE(read.ok());
        CHECK(*read == bytes);
    }
}

TEST_CASE("a file that does not tell its size is read whole") {
    const auto read = DiskFiles().read("/proc/self/limits"); // reports 0 bytes
    REQUIRE(read.ok());
    CHECK(read->size() > 100);
}

TEST_CASE("the limit of size holds on both sides") {
    const support::TemporaryFolder folder;
    support::write_plain(folder.file("data"), std::string(1000, 'x'));
    CHECK(DiskFiles(1000).read(folder.file("data")).ok());
    CHECK(refusal(folder.file("data"), 999) == "found 1000 bytes, expected at most 999");
    const std::size_t untold = support::read_plain("/proc/self/limits").size();
    CHECK(DiskFiles(untold).read("/proc/self/limits").ok());
    CHECK(refusal("/proc/self/limits", untold - 1).starts_with("found a file of more than "));
}

TEST_CASE("what is no plain file is refused at once") {
    const support::TemporaryFolder folder;
    CHECK(refusal(folder.path()) == "found a folder, expected a file");
    REQUIRE(::mkfifo(folder.file("pipe").c_str(), 0600) == 0);
    CHECK(refusal(folder.file("pipe")) == "found a pipe, device or socket, expected a plain file");
    CHECK(refusal("/dev/null") == "found a pipe, device or socket, expected a plain file");
    CHECK(refusal(folder.file("missing")) == "cannot open: No such file or directory");
    CHECK(refusal("").starts_with("found an empty name"));
    CHECK(refusal(folder.file(std::string("a\0b", 3))).starts_with("found an empty name or a NUL"));
}

TEST_CASE("a file that may not be read is refused") {
    const support::TemporaryFolder folder;
    support::write_plain(folder.file("data"), "private");
    REQUIRE(::chmod(folder.file("data").c_str(), 0) == 0);
    REQUIRE(::chmod(folder.path().c_str(), 0755) == 0);
    const auto end = support::run_child([&] {
        constexpr uid_t nobody = 65534; // root may read everything, so the child stops being root
        if (::geteuid() == 0 && ::setuid(nobody) != 0) return 2;
        const auto read = DiskFiles().read(folder.file("data"));
        return !read.ok() && read.error().message == "cannot open: Permission denied" ? 0 : 1;
    });
    CHECK(end.signal == 0);
    CHECK(end.code == 0);
}

TEST_CASE("files in memory are found by their exact name") {
    MemoryFiles memory;
    memory.files["a/b.json"] = "{}";
    CHECK(*memory.read("a/b.json") == "{}");
    const auto missing = memory.read("b.json");
    REQUIRE_FALSE(missing.ok());
    CHECK(missing.error().where == "b.json");
    CHECK(missing.error().code == ErrorCode::io);
}

TEST_CASE("a name is resolved beside the file that holds it") {
    CHECK(*path_beside("scenes/a.json", "m/x.glb") == "scenes/m/x.glb");
    CHECK(*path_beside("a.json", "x.glb") == "x.glb");
    CHECK(*path_beside("/a.json", "x.glb") == "/x.glb");
    CHECK(*path_beside("s/a.json", "./m//x.glb") == "s/m/x.glb");
    CHECK(*path_beside("s/a.json", "m/../x.glb") == "s/x.glb");
    CHECK(*path_beside("s/a.json", "low%20water%2eglb") == "s/low water.glb");
    CHECK(*path_beside("s/a.json", "fähre.glb") == "s/fähre.glb");
    CHECK(*path_beside("s/a.json", "..x") == "s/..x");
    CHECK(*path_beside("s/a.json", "...") == "s/...");
    CHECK(*path_beside("../s/a.json", "x") == "../s/x"); // the user's own path is not judged
    // Decoded once: what is left is the odd name of a file in this folder.
    CHECK(*path_beside("s/a.json", "%252e%252e%252fx") == "s/%2e%2e%2fx");
    CHECK(*path_beside("s/a.json", "3:4.png") == "s/3:4.png"); // a scheme starts with a letter
    CHECK(*path_beside("s/a.json", "m/a:b.png") == "s/m/a:b.png");
}

TEST_CASE("a hostile name is refused and quoted") {
    const std::string nul("x\0.glb", 6);
    const std::string hostile[] = {"",          ".",         "..",          "/",
                                   "m/",        "m/.",       "m/..",        "/etc/passwd",
                                   "../x",      "m/../../x", "%2e%2e/x",    "%2E%2E%2Fx",
                                   ".%2e/x",    "..%2fx",    "m/..%2f../x", "%2fetc",
                                   "//host/x",  "..\\x",     "m\\x",        "%5c%5chost",
                                   "C:x",       "C:\\x",     "c:/x",        "http://host/x",
                                   "HTTP:x",    "file:///x", "data:,x",     "http%3a//host/x",
                                   "a+b-c.d:x", nul,         "x%00.glb",    "%",
                                   "x%2",       "x%zz",      "x%g0",        "m/../..",
                                   "./../x"};
    for (const std::string& name : hostile) {
        CAPTURE(name);
        const auto result = path_beside("scenes/a.json", name);
        REQUIRE_FALSE(result.ok());
        CHECK(result.error().code == ErrorCode::input);
        CHECK(result.error().where == "scenes/a.json");
        CHECK(result.error().message.starts_with("found " + in_quotes(name) + ", expected "));
    }
}

TEST_CASE("no name made of hostile pieces leaves the folder") {
    constexpr std::array pieces = {"..", ".", "/",     "%2e", "%2f", "%5c",
                                   "\\", "m", "x.glb", ":",   "%"};
    support::Random random(3);
    int accepted = 0;
    for (int round = 0; round < 20000; ++round) {
        std::string name;
        const auto count = random.integer(1, 8);
        for (int i = 0; i < count; ++i)
            name += pieces[static_cast<std::size_t>(random.integer(0, pieces.size() - 1))];
        const auto result = path_beside("/halls/scenes/a.json", name);
        if (!result.ok()) continue;
        ++accepted;
        const std::filesystem::path path(*result);
        CAPTURE(name);
        CHECK(path.lexically_normal().string() == *result); // no dot segments are left
        CHECK(result->starts_with("/halls/scenes/"));
        CHECK(result->size() > std::string("/halls/scenes/").size());
    }
    CHECK(accepted > 1000);
}
