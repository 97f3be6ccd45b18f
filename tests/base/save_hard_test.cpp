// Saving on a disk that is really full, and in a process that is really killed.
#include <csignal>
#include <sched.h>
#include <sys/mount.h>
#include <sys/resource.h>
#include <sys/stat.h>

#include <doctest/doctest.h>

#include "base/faulty_disk.h"
#include "base/save.h"
#include "support/child.h"
#include "support/temporary_folder.h"

using namespace standpoint;
using support::FaultyDisk;
using support::TemporaryFolder;

namespace {

using Names = std::set<std::string>;

const std::string old_bytes(30000, 'o');
const std::string new_bytes(50000, 'n');

constexpr int not_permitted = 77;

// A namespace of its own, in which mounts end with the process. Without root it needs a user
// namespace, in which the caller keeps its own number.
bool enter_own_mounts() {
    const auto uid = ::geteuid();
    const auto gid = ::getegid();
    if (::unshare(CLONE_NEWNS) != 0) {
        if (::unshare(CLONE_NEWUSER | CLONE_NEWNS) != 0) return false;
        support::write_plain("/proc/self/setgroups", "deny");
        support::write_plain("/proc/self/uid_map",
                             std::to_string(uid) + " " + std::to_string(uid) + " 1");
        support::write_plain("/proc/self/gid_map",
                             std::to_string(gid) + " " + std::to_string(gid) + " 1");
    }
    return ::mount("none", "/", nullptr, MS_REC | MS_PRIVATE, nullptr) == 0;
}

// The body of the child that fills a disk of 64 KiB; 0 when all went as it should.
int save_on_a_small_disk(const TemporaryFolder& folder) {
    try {
        if (!enter_own_mounts()) return not_permitted;
    } catch (const std::runtime_error&) {
        return not_permitted;
    }
    if (::mount("tmpfs", folder.path().c_str(), "tmpfs", MS_NOSUID | MS_NODEV, "size=64k") != 0)
        return not_permitted;
    const std::string path = folder.file("a.json");
    if (!save_file(path, old_bytes).ok()) return 1;
    const Status full = save_file(path, new_bytes); // 30 000 and 50 000 bytes: no room for both
    if (full.ok()) return 2;
    if (full.error().message != "cannot write: No space left on device") return 3;
    if (support::read_plain(path) != old_bytes) return 4;
    if (folder.names() != Names{"a.json"}) return 5;
    const Status set = save_files({{folder.file("b"), old_bytes}, {folder.file("c"), old_bytes}});
    if (set.ok() || folder.names() != Names{"a.json"}) return 6;
    if (!save_file(path, std::string(20000, 's')).ok()) return 7; // what fits still goes through
    return 0;
}

} // namespace

TEST_CASE("a full disk leaves the old file and says that it is full") {
    const TemporaryFolder folder;
    const auto end = support::run_child([&] { return save_on_a_small_disk(folder); });
    CHECK(end.signal == 0);
    if (end.code == not_permitted) {
        MESSAGE("no permission to mount a small disk here; the limit of file size stands in");
        return;
    }
    CHECK(end.code == 0);
}

TEST_CASE("a limit of file size leaves the old file") {
    const TemporaryFolder folder;
    const std::string path = folder.file("a.json");
    REQUIRE(save_file(path, old_bytes).ok());
    const auto save_under_limit = [&](rlim_t limit) {
        return support::run_child([&] {
            ::signal(SIGXFSZ, SIG_IGN);
            const rlimit most{limit, limit};
            if (::setrlimit(RLIMIT_FSIZE, &most) != 0) return 2;
            const Status status = save_file(path, new_bytes);
            if (status.ok()) return 0;
            return status.error().message == "cannot write: File too large" ? 1 : 3;
        });
    };
    CHECK(save_under_limit(new_bytes.size() - 1).code == 1);
    CHECK(support::read_plain(path) == old_bytes);
    CHECK(folder.names() == Names{"a.json"});
    CHECK(save_under_limit(new_bytes.size()).code == 0);
    CHECK(support::read_plain(path) == new_bytes);
}

TEST_CASE("a process killed before any of its calls leaves the old file or the new one") {
    int found_old = 0;
    int found_new = 0;
    bool survived = false;
    for (std::size_t fatal = 0; !survived; ++fatal) {
        REQUIRE(fatal < 100);
        const TemporaryFolder folder;
        const std::string path = folder.file("a.json");
        REQUIRE(save_file(path, old_bytes).ok());
        const auto end = support::run_child([&] {
            FaultyDisk disk;
            disk.largest_write = 4096;
            disk.before = [&](std::size_t index, const std::string&) {
                if (index == fatal) ::raise(SIGKILL);
            };
            return save_file(path, new_bytes, disk).ok() ? 0 : 1;
        });
        survived = end.signal == 0;
        if (survived) CHECK(end.code == 0);
        if (!survived) CHECK(end.signal == SIGKILL);
        const std::string bytes = support::read_plain(path);
        CHECK((bytes == old_bytes || bytes == new_bytes));
        ++(bytes == old_bytes ? found_old : found_new);
        // What the dead process left beside it is not in the way of the next save.
        CHECK(save_file(path, old_bytes).ok());
        CHECK(support::read_plain(path) == old_bytes);
        CHECK(folder.names().size() <= 2);
    }
    CHECK(found_old >= 15); // open, 13 writes and what comes before the rename
    CHECK(found_new >= 3);  // sync and close of the folder, and the survivor
}

TEST_CASE("a process killed at any moment leaves a whole file") {
    for (int saves = 1; saves <= 40; ++saves) {
        const TemporaryFolder folder;
        const std::string path = folder.file("a.json");
        int ends[2];
        REQUIRE(::pipe(ends) == 0);
        const pid_t child = support::start_child([&] {
            while (true) {
                for (const std::string* bytes : {&old_bytes, &new_bytes}) {
                    if (!save_file(path, *bytes).ok()) return 1;
                    if (::write(ends[1], "s", 1) != 1) return 2;
                }
            }
        });
        char told = 0;
        for (int i = 0; i < saves; ++i)
            REQUIRE(::read(ends[0], &told, 1) == 1);
        ::kill(child, SIGKILL); // somewhere in the next save
        CHECK(support::wait_for(child).signal == SIGKILL);
        ::close(ends[0]);
        ::close(ends[1]);
        const std::string bytes = support::read_plain(path);
        CHECK((bytes == old_bytes || bytes == new_bytes));
    }
}
