// Autosave and recovery: when it writes, what a crash leaves, and who may take it.
#include <doctest/doctest.h>

#include <csignal>
#include <filesystem>
#include <map>

#include <sys/stat.h>
#include <unistd.h>

#include "base/faulty_disk.h"
#include "desk/autosave.h"
#include "desk/state_folders.h"
#include "scene/json.h"
#include "scene/random_scenes.h"
#include "support/child.h"
#include "support/random.h"
#include "support/scenes.h"
#include "support/temporary_folder.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

Document landing() {
    return with_piece(bare_scene(), box_piece("crate", 0, 0, 0, 300, 300, 300));
}

RecoverySession session_in(const std::string& folder) {
    Result<RecoverySession> session = RecoverySession::open(folder);
    REQUIRE(session.ok());
    return std::move(session).value();
}

std::vector<Recovery> left_in(const std::string& folder) {
    Result<std::vector<Recovery>> found = recoveries(folder);
    REQUIRE(found.ok());
    return *found;
}

// A session that writes once and is then killed, as a power cut or a bug would.
void crash_in(const std::string& folder, const Document& document, const std::string& original,
              const std::string& saved_at) {
    const ChildEnd end = run_child([&] {
        Result<RecoverySession> session = RecoverySession::open(folder);
        if (!session.ok() || !session->write(document, original, 7, saved_at).ok()) return 1;
        ::kill(::getpid(), SIGKILL);
        return 2;
    });
    REQUIRE(end.signal == SIGKILL);
}

int mode_of(const std::string& path) {
    struct stat status {};
    REQUIRE(::stat(path.c_str(), &status) == 0);
    return static_cast<int>(status.st_mode & 0777);
}

} // namespace

TEST_CASE("autosave waits until there was no edit for so long") {
    const AutosavePace pace{2, 100};
    AutosaveWatch watch;
    CHECK(!autosave_due(watch, pace, 1, true, false, 10));
    CHECK(!autosave_due(watch, pace, 1, true, false, 11)); // the same revision is no edit
    CHECK(!autosave_due(watch, pace, 2, true, false, 11.5));
    CHECK(!autosave_due(watch, pace, 2, true, false, 13.499));
    CHECK(autosave_due(watch, pace, 2, true, false, 13.5));
    CHECK(autosave_due(watch, pace, 2, true, false, 14)); // until it is done
    autosave_done(watch, 2);
    CHECK(!autosave_due(watch, pace, 2, true, false, 1000)); // nothing new to write
    CHECK(!autosave_due(watch, pace, 3, true, false, 1001));
    CHECK(autosave_due(watch, pace, 3, true, false, 1003));
}

TEST_CASE("autosave does not wait for edits that go on to end") {
    const AutosavePace pace{2, 5};
    AutosaveWatch watch;
    std::uint64_t revision = 1;
    for (double clock = 100; clock < 105; clock += 0.5)
        CHECK(!autosave_due(watch, pace, revision++, true, false, clock));
    CHECK(autosave_due(watch, pace, revision, true, false, 105));
    autosave_done(watch, revision);
    CHECK(!autosave_due(watch, pace, ++revision, true, false, 105.5)); // five more from here
    CHECK(!autosave_due(watch, pace, ++revision, true, false, 107));
    CHECK(!autosave_due(watch, pace, ++revision, true, false, 108.9));
    CHECK(!autosave_due(watch, pace, ++revision, true, false, 110.4));
    CHECK(autosave_due(watch, pace, ++revision, true, false, 110.5));
}

TEST_CASE("as it comes, at most a few seconds of work are not yet written") {
    const AutosavePace pace;
    CHECK(pace.idle + 0.5 <= 2); // the window looks twice a second or more often
    CHECK(pace.most <= 5);
}

TEST_CASE("a drag is one edit and nothing is written during it") {
    const AutosavePace pace{2, 5};
    AutosaveWatch watch;
    for (std::uint64_t revision = 1; revision < 50; ++revision)
        CHECK(!autosave_due(watch, pace, revision, true, true, static_cast<double>(revision)));
    CHECK(!autosave_due(watch, pace, 50, true, false, 50));
    CHECK(!autosave_due(watch, pace, 51, true, true, 53)); // the next has begun
    CHECK(!autosave_due(watch, pace, 51, true, false, 53.5));
    CHECK(watch.edits == 2);
    CHECK(autosave_due(watch, pace, 51, true, false, 55.5));
}

TEST_CASE("nothing is due when all is saved, and a save begins the count anew") {
    const AutosavePace pace{2, 5};
    AutosaveWatch watch;
    CHECK(!autosave_due(watch, pace, 1, true, false, 0));
    CHECK(!autosave_due(watch, pace, 1, false, false, 1000));
    CHECK(!autosave_due(watch, pace, 2, true, false, 1001));
    CHECK(!autosave_due(watch, pace, 2, true, false, 1002.9));
    CHECK(autosave_due(watch, pace, 2, true, false, 1003));
}

TEST_CASE("writing behind gives the same file, and whatever follows waits for it") {
    const TemporaryFolder folder;
    RecoverySession session = session_in(folder.path());
    REQUIRE(session.write_behind(landing(), "/a", 3, "first"));
    session.settle();
    const Result<Recovered> kept = recover(session.file());
    REQUIRE(kept.ok());
    CHECK(same_content(kept->document, landing()));
    CHECK(kept->original == "/a");
    CHECK(kept->revision == 3);
    CHECK(!session.take_problem());
    for (std::uint64_t i = 0; i < 20; ++i) { // a save right after it leaves nothing behind
        REQUIRE(session.write_behind(landing(), "/a", i, "again"));
        session.discard();
        CHECK(!std::filesystem::exists(session.file()));
    }
    REQUIRE(session.write_behind(landing(), "/a", 1, "older"));
    REQUIRE(session.write(bare_scene(), "/a", 2, "newer").ok());
    CHECK(recover(session.file())->revision == 2);
    REQUIRE(session.write_behind(landing(), "/a", 4, "last"));
    session.leave();
    CHECK(folder.names().empty());
}

TEST_CASE("that writing behind failed is told once") {
    const TemporaryFolder folder;
    RecoverySession session = session_in(folder.path());
    std::filesystem::create_directory(session.file()); // in the way of writing
    REQUIRE(session.write_behind(landing(), "", 1, "a"));
    session.settle();
    const auto problem = session.take_problem();
    REQUIRE(problem);
    CHECK(problem->code == ErrorCode::io);
    CHECK(!session.take_problem());
    std::filesystem::remove(session.file());
    REQUIRE(session.write_behind(landing(), "", 2, "b"));
    session.settle();
    CHECK(!session.take_problem());
    CHECK(recover(session.file()).ok());
}

TEST_CASE("random scenes and paths come back from a recovery file as they went in") {
    Random random(11);
    for (int i = 0; i < 40; ++i) {
        Recovered in;
        in.document = SceneMaker(random.next()).document(static_cast<int>(random.integer(0, 12)));
        for (std::int64_t n = random.integer(0, 20); n > 0; --n)
            in.original += static_cast<char>(random.integer(1, 255));
        in.revision = random.next() >> 12;
        in.saved_at = "2026-11-25 10:00";
        const Result<Recovered> out = read_recovery(recovery_bytes(in), "a.recovery");
        REQUIRE_MESSAGE(out.ok(), (out.ok() ? "" : one_line(out.error())));
        CHECK(same_content(out->document, in.document));
        CHECK(out->original == in.original);
        CHECK(out->revision == in.revision);
        CHECK(out->saved_at == in.saved_at);
    }
}

TEST_CASE("a recovery file that is cut short or changed anywhere is refused") {
    const std::string whole = recovery_bytes({landing(), "/scenes/a.scene.json", 3, "today"});
    REQUIRE(read_recovery(whole, "a").ok());
    for (std::size_t length = 0; length < whole.size(); length += 7)
        CHECK(!read_recovery(whole.substr(0, length), "a").ok());
    CHECK(!read_recovery(whole + " ", "a").ok());
    const std::size_t line = whole.find('\n');
    Random random(5);
    for (int i = 0; i < 200; ++i) {
        std::string changed = whole;
        const auto at = static_cast<std::size_t>(random.integer(
            static_cast<std::int64_t>(line), static_cast<std::int64_t>(whole.size()) - 1));
        changed[at] = static_cast<char>(changed[at] ^ (1 << random.integer(0, 6)));
        CHECK(!read_recovery(changed, "a").ok());
    }
    for (int i = 0; i < 200; ++i) { // in the first line: refused or harmless, never a crash
        std::string changed = whole;
        changed[static_cast<std::size_t>(random.integer(0, static_cast<std::int64_t>(line)))] =
            static_cast<char>(random.integer(0, 255));
        const Result<Recovered> read = read_recovery(changed, "a");
        if (read.ok()) CHECK(same_content(read->document, landing()));
    }
}

TEST_CASE("what a killed session wrote is found and taken over") {
    const TemporaryFolder folder;
    crash_in(folder.path(), landing(), "/scenes/low-water.scene.json", "2026-11-25 10:00");
    const std::vector<Recovery> left = left_in(folder.path());
    REQUIRE(left.size() == 1);
    CHECK(left[0].readable());
    CHECK(left[0].original == "/scenes/low-water.scene.json");
    CHECK(left[0].saved_at == "2026-11-25 10:00");
    CHECK(left[0].revision == 7);
    RecoverySession session = session_in(folder.path());
    const Result<Recovered> taken = session.take_over(left[0]);
    REQUIRE(taken.ok());
    CHECK(same_content(taken->document, landing()));
    CHECK(left_in(folder.path()).empty()); // it is this session's own now
    CHECK(!std::filesystem::exists(left[0].file));
    const Result<Recovered> kept = recover(session.file());
    REQUIRE(kept.ok());
    CHECK(same_content(kept->document, landing()));
    session.leave();
    CHECK(folder.names().empty());
}

TEST_CASE("two windows do not claim each other's files") {
    const TemporaryFolder folder;
    RecoverySession first = session_in(folder.path()), second = session_in(folder.path());
    REQUIRE(first.file() != second.file());
    REQUIRE(first.write(landing(), "", 1, "a").ok());
    CHECK(left_in(folder.path()).empty());
    Recovery of_first;
    of_first.file = first.file();
    CHECK(!second.take_over(of_first).ok());
    CHECK(!discard_recovery(of_first).ok());
    CHECK(recover(first.file()).ok());
    crash_in(folder.path(), bare_scene(), "", "b");
    const std::vector<Recovery> left = left_in(folder.path());
    REQUIRE(left.size() == 1);
    REQUIRE(second.take_over(left[0]).ok());
    CHECK(!first.take_over(left[0]).ok()); // too late
    const Result<Recovered> own = recover(first.file());
    REQUIRE(own.ok());
    CHECK(same_content(own->document, landing()));
    CHECK(!first.take_over({first.file(), "", "", "", 0, ""}).ok());
}

TEST_CASE("a session that lives in another process is left alone") {
    const TemporaryFolder folder;
    int ready[2], go[2];
    REQUIRE(::pipe(ready) == 0);
    REQUIRE(::pipe(go) == 0);
    const pid_t child = start_child([&] {
        Result<RecoverySession> session = RecoverySession::open(folder.path());
        const bool wrote = session.ok() && session->write(landing(), "", 1, "a").ok();
        char byte = 'x';
        if (::write(ready[1], &byte, 1) != 1 || ::read(go[0], &byte, 1) != 1) return 1;
        return wrote ? 0 : 2;
    });
    char byte = 'x';
    REQUIRE(::read(ready[0], &byte, 1) == 1);
    CHECK(folder.names().size() == 2);
    CHECK(left_in(folder.path()).empty());
    REQUIRE(::write(go[1], &byte, 1) == 1);
    CHECK(wait_for(child).code == 0);
    CHECK(left_in(folder.path()).size() == 1); // it ended without leaving in order
    for (const int fd : {ready[0], ready[1], go[0], go[1]})
        ::close(fd);
}

TEST_CASE("after a save or a clean end nothing is left to recover") {
    const TemporaryFolder folder;
    {
        RecoverySession session = session_in(folder.path());
        REQUIRE(session.write(landing(), "", 1, "a").ok());
        session.discard();
        session.discard(); // twice is once
        CHECK(!std::filesystem::exists(session.file()));
        REQUIRE(session.write(landing(), "", 2, "b").ok());
        session.leave();
    }
    CHECK(folder.names().empty());
    { const RecoverySession idle = session_in(folder.path()); }
    CHECK(left_in(folder.path()).empty()); // and a lock without a file is swept away
    CHECK(folder.names().empty());
}

TEST_CASE("wherever writing stops, the recovery file is the old one or the new one") {
    const Document before = bare_scene(), after = landing();
    const auto write_new = [&](RecoverySession& session, FaultyDisk& disk) {
        REQUIRE(session.write(before, "/a", 1, "first").ok());
        return session.write(after, "/a", 2, "second", disk).ok();
    };
    std::size_t calls = 0;
    {
        const TemporaryFolder folder;
        RecoverySession session = session_in(folder.path());
        FaultyDisk whole;
        REQUIRE(write_new(session, whole));
        calls = whole.made.size();
    }
    for (std::size_t stop = 0; stop < calls; ++stop) {
        const TemporaryFolder folder;
        RecoverySession session = session_in(folder.path());
        FaultyDisk disk;
        disk.fault = [stop](std::size_t index, const std::string&) {
            return index == stop ? ENOSPC : 0;
        };
        const bool wrote = write_new(session, disk);
        const Result<Recovered> read = recover(session.file());
        REQUIRE(read.ok());
        const bool is_new = same_content(read->document, after);
        CHECK((is_new || same_content(read->document, before)));
        if (wrote) CHECK(is_new);
        CHECK(folder.names().size() == 2); // the lock and the file
    }
    CHECK(calls > 3);
}

TEST_CASE("killed in the middle of writing, the old recovery file is still there") {
    for (const std::string at : {"open", "write", "sync", "rename"}) {
        const TemporaryFolder folder;
        const ChildEnd end = run_child([&] {
            Result<RecoverySession> session = RecoverySession::open(folder.path());
            if (!session.ok() || !session->write(landing(), "/a", 1, "first").ok()) return 1;
            FaultyDisk disk;
            disk.before = [&](std::size_t, const std::string& name) {
                if (name == at) ::kill(::getpid(), SIGKILL);
            };
            (void)session->write(bare_scene(), "/a", 2, "second", disk);
            return 2;
        });
        REQUIRE(end.signal == SIGKILL);
        const std::vector<Recovery> left = left_in(folder.path());
        REQUIRE(left.size() == 1); // half-written temporaries are not listed
        const Result<Recovered> read = recover(left[0].file);
        REQUIRE(read.ok());
        CHECK(same_content(read->document, landing()));
    }
}

TEST_CASE("when taking over fails to write, what the crash left stays") {
    const TemporaryFolder folder;
    crash_in(folder.path(), landing(), "", "a");
    RecoverySession session = session_in(folder.path());
    std::filesystem::create_directory(session.file()); // in the way of writing
    const std::vector<Recovery> all = left_in(folder.path());
    REQUIRE(all.size() == 1);
    CHECK(!session.take_over(all[0]).ok());
    CHECK(recover(all[0].file).ok());
}

TEST_CASE("foreign and broken files are listed as unreadable, and can be removed") {
    const TemporaryFolder folder;
    write_plain(folder.file("notes.txt"), "hello");
    write_plain(folder.file("empty.recovery"), "");
    write_plain(folder.file("random.recovery"), std::string(300, '\xFF'));
    write_plain(folder.file("cut.recovery"),
                recovery_bytes({landing(), "", 1, "a"}).substr(0, 400));
    write_plain(folder.file("deep.recovery"), std::string(100000, '[') + "\n{}");
    write_plain(folder.file("other.recovery"), "{\"standpoint-recovery\": 2}\n{}");
    std::filesystem::create_directory(folder.file("folder.recovery"));
    std::filesystem::create_symlink(folder.file("notes.txt"), folder.file("link.recovery"));
    REQUIRE(::mkfifo(folder.file("pipe.recovery").c_str(), 0600) == 0);
    crash_in(folder.path(), landing(), "", "a");
    const std::vector<Recovery> left = left_in(folder.path());
    REQUIRE(left.size() == 10);
    CHECK(left[0].readable()); // what can be used comes first
    for (std::size_t i = 1; i < left.size(); ++i) {
        CHECK(!left[i].readable());
        CHECK(!recover(left[i].file).ok());
        const bool is_folder = std::filesystem::is_directory(left[i].file);
        CHECK(discard_recovery(left[i]).ok() == !is_folder);
        CHECK(std::filesystem::exists(std::filesystem::symlink_status(left[i].file)) == is_folder);
    }
}

TEST_CASE("the newest is listed first") {
    const TemporaryFolder folder;
    for (const char* at : {"2026-11-25 09:00", "2026-11-25 11:00", "2026-11-25 10:00"})
        crash_in(folder.path(), landing(), "", at);
    const std::vector<Recovery> left = left_in(folder.path());
    REQUIRE(left.size() == 3);
    CHECK(left[0].saved_at == "2026-11-25 11:00");
    CHECK(left[2].saved_at == "2026-11-25 09:00");
}

TEST_CASE("a folder that is missing holds nothing; one that cannot be listed is an error") {
    const TemporaryFolder folder;
    CHECK(left_in(folder.file("none")).empty());
    write_plain(folder.file("file"), "");
    CHECK(!recoveries(folder.file("file")).ok());
    CHECK(!RecoverySession::open(folder.file("file")).ok());
    CHECK(!RecoverySession::open("").ok());
}

TEST_CASE("the folder is for its owner alone") {
    const TemporaryFolder folder;
    const std::string below = folder.file("a/b/recovery");
    { const RecoverySession session = session_in(below); }
    CHECK(mode_of(below) == 0700);
    CHECK(mode_of(folder.file("a")) == 0700);
    REQUIRE(::chmod(below.c_str(), 0755) == 0);
    { const RecoverySession session = session_in(below); }
    CHECK(mode_of(below) == 0700);
}

TEST_CASE("where the folders are, by the environment") {
    const auto with = [](std::map<std::string, std::string> values) -> Environment {
        return [values](const std::string& name) {
            const auto found = values.find(name);
            return found == values.end() ? std::string() : found->second;
        };
    };
    CHECK(state_folder(with({{"XDG_STATE_HOME", "/s"}, {"HOME", "/h"}})) == "/s/standpoint");
    CHECK(state_folder(with({{"HOME", "/h"}})) == "/h/.local/state/standpoint");
    // XDG Base Directory Specification: "All paths set in these environment variables must be
    // absolute. If an implementation encounters a relative path [...] it should [...] ignore it."
    CHECK(state_folder(with({{"XDG_STATE_HOME", "s"}, {"HOME", "/h"}})) ==
          "/h/.local/state/standpoint");
    CHECK(state_folder(with({})).empty());
    CHECK(settings_path(with({{"XDG_CONFIG_HOME", "/c"}})) == "/c/standpoint/settings.json");
    CHECK(settings_path(with({{"HOME", "/h"}})) == "/h/.config/standpoint/settings.json");
    CHECK(settings_path(with({})).empty());
}

TEST_CASE("any path goes into text and back") {
    Random random(3);
    for (int i = 0; i < 500; ++i) {
        std::string path;
        for (std::int64_t n = random.integer(0, 12); n > 0; --n)
            path += static_cast<char>(random.integer(0, 3) == 0 ? '%' : random.integer(1, 255));
        const std::string text = text_of_path(path);
        CHECK(path_of_text(text) == path);
        CHECK(text.find('\n') == std::string::npos);
    }
    CHECK(text_of_path("/scenes/Ebbe – Fähre.json") == "/scenes/Ebbe – Fähre.json");
    CHECK(path_of_text("%4") == "%4");
    CHECK(path_of_text("%zz") == "%zz");
}
