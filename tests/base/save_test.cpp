// Saving whole or not at all: every call failing in turn, full disks, links and permissions.
#include "base/save.h"

#include <algorithm>
#include <system_error>

#include <doctest/doctest.h>
#include <fcntl.h>
#include <sys/stat.h>

#include "base/faulty_disk.h"
#include "support/child.h"
#include "support/temporary_folder.h"

using namespace standpoint;
using support::FaultyDisk;
using support::TemporaryFolder;

namespace {

using Names = std::set<std::string>;

const std::string old_bytes = "the old scene\n";
const std::string new_bytes = "the new scene, a good deal longer than the old one\n";

std::string reason(int code) {
    return std::error_code(code, std::generic_category()).message();
}

struct stat status_of(const std::string& path) {
    struct stat status {};
    REQUIRE(::stat(path.c_str(), &status) == 0);
    return status;
}

mode_t mode_of(const std::string& path) {
    return status_of(path).st_mode & 07777;
}

// The calls of a save that goes well, in chunks of 20 bytes.
std::vector<std::string> calls_of_a_good_save(bool over_old) {
    const TemporaryFolder folder;
    if (over_old) support::write_plain(folder.file("a.json"), old_bytes);
    FaultyDisk disk;
    disk.largest_write = 20;
    REQUIRE(save_file(folder.file("a.json"), new_bytes, disk).ok());
    CHECK(support::read_plain(folder.file("a.json")) == new_bytes);
    CHECK(folder.names() == Names{"a.json"});
    return disk.made;
}

// What must hold when one call of a save has failed with `code`.
void check_failure(const TemporaryFolder& folder, const Status& status, const std::string& call,
                   int code, bool over_old) {
    const std::string path = folder.file("a.json");
    if (call == "close folder") { // nothing hangs on it any more
        CHECK(status.ok());
        CHECK(support::read_plain(path) == new_bytes);
        return;
    }
    REQUIRE_FALSE(status.ok());
    CHECK(status.error().code == ErrorCode::io);
    CHECK(status.error().where == path);
    CHECK(status.error().message.ends_with(": " + reason(code)));
    if (call == "sync folder") { // the rename is done: the message says so
        CHECK(status.error().message.starts_with("saved, but"));
        CHECK(support::read_plain(path) == new_bytes);
    } else if (over_old) {
        CHECK(support::read_plain(path) == old_bytes);
    }
    const bool there = over_old || call == "sync folder";
    CHECK(folder.names() == (there ? Names{"a.json"} : Names{}));
}

} // namespace

TEST_CASE("a save makes its calls in the order that is safe") {
    const std::vector<std::string> expected = {"open folder", "open",        "write",       "write",
                                               "write",       "chmod",       "sync",        "close",
                                               "rename",      "sync folder", "close folder"};
    CHECK(calls_of_a_good_save(true) == expected);
    auto without_chmod = expected;
    without_chmod.erase(std::find(without_chmod.begin(), without_chmod.end(), "chmod"));
    CHECK(calls_of_a_good_save(false) == without_chmod);
}

TEST_CASE("when any one call fails, the old file stays and the reason is told") {
    for (const bool over_old : {true, false}) {
        const auto calls = calls_of_a_good_save(over_old);
        for (std::size_t failing = 0; failing < calls.size(); ++failing) {
            for (const int code : {ENOSPC, EIO, EDQUOT, EACCES}) {
                CAPTURE(calls[failing]);
                CAPTURE(failing);
                CAPTURE(code);
                const TemporaryFolder folder;
                if (over_old) support::write_plain(folder.file("a.json"), old_bytes);
                FaultyDisk disk;
                disk.largest_write = 20;
                disk.fault = [&](std::size_t index, const std::string&) {
                    return index == failing ? code : 0;
                };
                const Status status = save_file(folder.file("a.json"), new_bytes, disk);
                check_failure(folder, status, calls[failing], code, over_old);
                disk.fault = nullptr; // the disk is well again: the next save goes through
                CHECK(save_file(folder.file("a.json"), new_bytes, disk).ok());
                CHECK(support::read_plain(folder.file("a.json")) == new_bytes);
                CHECK(folder.names() == Names{"a.json"});
            }
        }
    }
}

TEST_CASE("a disk that fills at any byte leaves the old file") {
    for (std::size_t room = 0; room < new_bytes.size(); ++room) {
        const TemporaryFolder folder;
        support::write_plain(folder.file("a.json"), old_bytes);
        FaultyDisk disk;
        disk.largest_write = 1;
        std::size_t written = 0;
        disk.fault = [&](std::size_t, const std::string& name) {
            return name == "write" && written++ == room ? ENOSPC : 0;
        };
        const Status status = save_file(folder.file("a.json"), new_bytes, disk);
        REQUIRE_FALSE(status.ok());
        CHECK(status.error().message == "cannot write: No space left on device");
        CHECK(support::read_plain(folder.file("a.json")) == old_bytes);
        CHECK(folder.names() == Names{"a.json"});
    }
}

TEST_CASE("interrupted calls and short writes are taken up again") {
    const TemporaryFolder folder;
    FaultyDisk disk;
    disk.largest_write = 3;
    std::string interrupted;
    disk.fault = [&](std::size_t, const std::string& name) {
        const bool resumes = name != "rename" && name != "chmod";
        const bool now = resumes && interrupted != name; // each first time
        interrupted = now ? name : "";
        return now ? EINTR : 0;
    };
    CHECK(save_file(folder.file("a.json"), new_bytes, disk).ok());
    CHECK(support::read_plain(folder.file("a.json")) == new_bytes);
    CHECK(folder.names() == Names{"a.json"});
    CHECK(std::count(disk.made.begin(), disk.made.end(), "open") == 2);
    CHECK(std::count(disk.made.begin(), disk.made.end(), "sync") == 2);
}

TEST_CASE("a disk that takes no byte and gives no reason counts as full") {
    const TemporaryFolder folder;
    FaultyDisk disk;
    disk.largest_write = 0;
    const Status status = save_file(folder.file("a.json"), new_bytes, disk);
    REQUIRE_FALSE(status.ok());
    CHECK(status.error().message == "cannot write: No space left on device");
    CHECK(folder.names().empty());
}

TEST_CASE("the first reason is told even when cleaning up fails as well") {
    const TemporaryFolder folder;
    support::write_plain(folder.file("a.json"), old_bytes);
    FaultyDisk disk;
    disk.fault = [](std::size_t, const std::string& name) {
        return name == "sync" ? EIO : name == "unlink" || name == "close" ? EROFS : 0;
    };
    const Status status = save_file(folder.file("a.json"), new_bytes, disk);
    REQUIRE_FALSE(status.ok());
    CHECK(status.error().message == "cannot sync: " + reason(EIO));
    CHECK(support::read_plain(folder.file("a.json")) == old_bytes);
}

TEST_CASE("a name in use is left alone and another one tried") {
    const TemporaryFolder folder;
    FaultyDisk disk;
    CHECK(save_file(folder.file("a.json"), old_bytes, disk).ok());
    CHECK((disk.making_flags & O_EXCL) != 0); // else somebody's file or link would be written to
    CHECK((disk.making_flags & O_NOFOLLOW) != 0);
    disk.made.clear();
    int taken = 3;
    disk.fault = [&](std::size_t, const std::string& name) {
        return name == "open" && taken-- > 0 ? EEXIST : 0;
    };
    CHECK(save_file(folder.file("a.json"), new_bytes, disk).ok());
    CHECK(std::count(disk.made.begin(), disk.made.end(), "open") == 4);
    disk.fault = [](std::size_t, const std::string& name) { return name == "open" ? EEXIST : 0; };
    CHECK_FALSE(save_file(folder.file("a.json"), "x", disk).ok());
    CHECK(support::read_plain(folder.file("a.json")) == new_bytes);
}

TEST_CASE("a file system without a sync of folders is put up with") {
    const TemporaryFolder folder;
    FaultyDisk disk;
    disk.fault = [](std::size_t, const std::string& name) {
        return name == "sync folder" ? EINVAL : 0;
    };
    CHECK(save_file(folder.file("a.json"), new_bytes, disk).ok());
}

TEST_CASE("any bytes are saved as they are, and empty files too") {
    const TemporaryFolder folder;
    std::string bytes;
    for (int i = 0; i < 100000; ++i)
        bytes += static_cast<char>(i * 7);
    CHECK(save_file(folder.file("a"), bytes).ok());
    CHECK(support::read_plain(folder.file("a")) == bytes);
    CHECK(save_file(folder.file("a"), "").ok());
    CHECK(support::read_plain(folder.file("a")).empty());
    CHECK(save_file(folder.file(std::string(255, 'n')), "long").ok()); // the longest name there is
    CHECK_FALSE(save_file(folder.file(std::string(256, 'n')), "long").ok());
}

TEST_CASE("a plain file name is saved in the current folder") {
    const TemporaryFolder folder;
    const auto end = support::run_child([&] {
        if (::chdir(folder.path().c_str()) != 0) return 2;
        return save_file("a.json", new_bytes).ok() ? 0 : 1;
    });
    CHECK(end.code == 0);
    CHECK(support::read_plain(folder.file("a.json")) == new_bytes);
    CHECK(folder.names() == Names{"a.json"});
}

TEST_CASE("permissions are kept, and a new file follows the mask") {
    const TemporaryFolder folder;
    const std::string path = folder.file("a.json");
    const mode_t mask = ::umask(027);
    CHECK(save_file(path, old_bytes).ok());
    CHECK(mode_of(path) == 0640);
    for (const mode_t mode : {0600u, 0644u, 0664u, 0755u, 0666u}) {
        REQUIRE(::chmod(path.c_str(), mode) == 0);
        CHECK(save_file(path, new_bytes).ok());
        CHECK(mode_of(path) == mode);
    }
    ::umask(mask);
}

TEST_CASE("the owner is kept when the machine allows it") {
    if (::geteuid() != 0) return; // only root may give files away
    const TemporaryFolder folder;
    const std::string path = folder.file("a.json");
    support::write_plain(path, old_bytes);
    REQUIRE(::chown(path.c_str(), 12345, 23456) == 0);
    CHECK(save_file(path, new_bytes).ok());
    CHECK(status_of(path).st_uid == 12345);
    CHECK(status_of(path).st_gid == 23456);
}

TEST_CASE("a file that is write-protected, or in such a folder, is refused") {
    const TemporaryFolder folder;
    const std::string path = folder.file("a.json");
    support::write_plain(path, old_bytes);
    // Root may write everything, so the child stops being root; it needs a folder of its own.
    constexpr uid_t nobody = 65534;
    const auto refused_in_child = [&] {
        return support::run_child([&] {
            if (::geteuid() == 0 && ::setuid(nobody) != 0) return 2;
            const Status status = save_file(path, new_bytes);
            if (status.ok()) return 1;
            return status.error().message.ends_with(reason(EACCES)) ? 0 : 3;
        });
    };
    const bool root = ::geteuid() == 0;
    if (root) REQUIRE(::chown(folder.path().c_str(), nobody, nobody) == 0);
    if (root) REQUIRE(::chown(path.c_str(), nobody, nobody) == 0);
    CHECK(refused_in_child().code == 1); // may be written: no refusal
    support::write_plain(path, old_bytes);
    REQUIRE(::chmod(path.c_str(), 0444) == 0);
    CHECK(refused_in_child().code == 0);
    REQUIRE(::chmod(path.c_str(), 0644) == 0);
    REQUIRE(::chmod(folder.path().c_str(), 0555) == 0);
    CHECK(refused_in_child().code == 0);
    CHECK(support::read_plain(path) == old_bytes);
    CHECK(folder.names() == Names{"a.json"});
    REQUIRE(::chmod(folder.path().c_str(), 0755) == 0);
}

TEST_CASE("a symbolic link is followed and stays a link") {
    const TemporaryFolder folder;
    std::filesystem::create_directory(folder.file("real"));
    support::write_plain(folder.file("real/a.json"), old_bytes);
    std::filesystem::create_symlink("real/a.json", folder.file("one"));
    std::filesystem::create_symlink(folder.file("one"), folder.file("two"));
    CHECK(save_file(folder.file("two"), new_bytes).ok());
    CHECK(support::read_plain(folder.file("real/a.json")) == new_bytes);
    CHECK(std::filesystem::is_symlink(folder.file("one")));
    CHECK(std::filesystem::is_symlink(folder.file("two")));
    std::filesystem::create_symlink("real/b.json", folder.file("three")); // not there yet
    CHECK(save_file(folder.file("three"), new_bytes).ok());
    CHECK(support::read_plain(folder.file("real/b.json")) == new_bytes);
    CHECK(std::filesystem::is_symlink(folder.file("three")));
    std::filesystem::create_symlink("loop", folder.file("loop"));
    const Status loop = save_file(folder.file("loop"), new_bytes);
    REQUIRE_FALSE(loop.ok());
    CHECK(loop.error().message == "cannot save: " + reason(ELOOP));
}

TEST_CASE("what cannot be a file is refused") {
    const TemporaryFolder folder;
    const auto message = [](const std::string& path) {
        const Status status = save_file(path, new_bytes);
        return status.ok() ? "no refusal" : status.error().message;
    };
    CHECK(message(folder.path()) == "cannot save: found a folder");
    CHECK(message(folder.file("a/")) == "cannot save: found a folder's name");
    CHECK(message("") == "cannot save: found an empty name or a NUL in it");
    CHECK(message(folder.file(std::string("a\0b", 3))) ==
          "cannot save: found an empty name or a NUL in it");
    CHECK(message("/dev/null") == "cannot save: found a pipe, device or socket");
    CHECK(message(folder.file("missing/a.json")) == "cannot open its folder: " + reason(ENOENT));
    support::write_plain(folder.file("plain"), "x");
    CHECK(message(folder.file("plain/a.json")) == "cannot save: " + reason(ENOTDIR));
    CHECK(folder.names() == Names{"plain"});
}

TEST_CASE("a set is written before any of it is put in place") {
    const TemporaryFolder folder;
    const Names names = {"a", "b", "c"};
    for (const auto& name : names)
        support::write_plain(folder.file(name), old_bytes);
    const std::vector<NamedBytes> set = {{folder.file("a"), new_bytes + "a"},
                                         {folder.file("b"), new_bytes + "b"},
                                         {folder.file("c"), new_bytes + "c"}};
    int writes = 0;
    FaultyDisk disk;
    disk.fault = [&](std::size_t, const std::string& name) {
        return name == "write" && ++writes == 3 ? ENOSPC : 0;
    };
    const Status full = save_files(set, disk);
    REQUIRE_FALSE(full.ok());
    CHECK(full.error().where == folder.file("c"));
    for (const auto& name : names)
        CHECK(support::read_plain(folder.file(name)) == old_bytes);
    CHECK(folder.names() == names);

    CHECK(save_files(set).ok());
    for (const auto& name : names)
        CHECK(support::read_plain(folder.file(name)) == new_bytes + name);
    CHECK(folder.names() == names);
    CHECK(save_files({}).ok());
}

TEST_CASE("a set that stops between two renames says how far it came") {
    const TemporaryFolder folder;
    int renames = 0;
    FaultyDisk disk;
    disk.fault = [&](std::size_t, const std::string& name) {
        return name == "rename" && ++renames == 2 ? EIO : 0;
    };
    const Status status = save_files(
        {{folder.file("a"), "1"}, {folder.file("b"), "2"}, {folder.file("c"), "3"}}, disk);
    REQUIRE_FALSE(status.ok());
    CHECK(status.error().message.find("1 of 3 files of the set are new already") !=
          std::string::npos);
    CHECK(folder.names() == Names{"a"});
}

TEST_CASE("a set does not name one file twice") {
    const TemporaryFolder folder;
    std::filesystem::create_symlink("a", folder.file("link"));
    CHECK_FALSE(save_files({{folder.file("a"), "1"}, {folder.file("a"), "2"}}).ok());
    CHECK_FALSE(save_files({{folder.file("a"), "1"}, {folder.file("link"), "2"}}).ok());
    CHECK(folder.names() == Names{"link"});
}
