// When unsaved work is written aside, and the sessions that write it.
#include "desk/autosave.h"

#include <algorithm>
#include <cerrno>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <system_error>
#include <utility>

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/random.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/files.h"
#include "desk/state_folders.h"

namespace standpoint {

bool autosave_due(AutosaveWatch& watch, const AutosavePace& pace, std::uint64_t revision,
                  bool unsaved, bool dragging, double clock) {
    if (dragging) return false;
    if (!unsaved) {
        watch.seen = revision;
        watch.edits = 0;
        return false;
    }
    if (revision != watch.seen) {
        if (watch.edits == 0) watch.since = clock;
        ++watch.edits;
        watch.last = clock;
        watch.seen = revision;
    }
    return watch.edits > 0 && (clock - watch.last >= pace.idle || clock - watch.since >= pace.most);
}

void autosave_done(AutosaveWatch& watch, std::uint64_t revision) {
    watch.seen = revision;
    watch.edits = 0;
}

namespace {

constexpr const char* recovery_ending = ".recovery";
constexpr const char* lock_ending = ".lock";

Error refused(const std::string& where, const std::string& what, int code) {
    return io_error(where, what + ": " + std::generic_category().message(code));
}

std::string lock_of(const std::string& recovery_file) {
    std::string_view stem = recovery_file;
    if (stem.ends_with(recovery_ending))
        stem.remove_suffix(std::string_view(recovery_ending).size());
    return std::string(stem) + lock_ending;
}

enum class Taking { taken, busy, missing, failed };

// Opens and locks a lock file. `making`: it must not be there yet.
Taking take_lock(const std::string& path, bool making, int& fd) {
    const int flags = O_RDWR | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK;
    fd = ::open(path.c_str(), flags | (making ? O_CREAT | O_EXCL : 0), 0600);
    if (fd < 0)
        return errno == ENOENT ? Taking::missing : errno == EEXIST ? Taking::busy : Taking::failed;
    const bool locked = ::flock(fd, LOCK_EX | LOCK_NB) == 0;
    const int code = errno;
    struct stat held {
    }, there{};
    // Between opening and locking another session may have found it dead and removed it.
    const bool same = locked && ::fstat(fd, &held) == 0 && ::lstat(path.c_str(), &there) == 0 &&
                      held.st_ino == there.st_ino && held.st_dev == there.st_dev;
    if (same) return Taking::taken;
    ::close(fd);
    fd = -1;
    errno = code;
    return locked || code == EWOULDBLOCK ? Taking::busy : Taking::failed;
}

// A recovery file that nobody uses, kept from everybody else for as long as this lives.
struct Claim {
    int fd = -1;
    std::string lock;
    ~Claim() {
        if (fd >= 0) ::close(fd);
    }
    Claim() = default;
    Claim(Claim&& other) noexcept : fd(std::exchange(other.fd, -1)), lock(std::move(other.lock)) {}
    Claim& operator=(Claim&&) = delete;
};

// A recovery file whose lock is gone gets a new one, so that only one session can have it.
Result<Claim> claim(const std::string& file) {
    Claim claim;
    claim.lock = lock_of(file);
    Taking taking = take_lock(claim.lock, false, claim.fd);
    if (taking == Taking::missing) taking = take_lock(claim.lock, true, claim.fd);
    if (taking == Taking::taken) return claim;
    if (taking == Taking::busy) return io_error(file, "another window has it open");
    return refused(file, "cannot lock it", errno);
}

bool is_plain_file(const std::string& path) {
    struct stat status {};
    return ::lstat(path.c_str(), &status) == 0 && S_ISREG(status.st_mode);
}

constexpr std::size_t largest_recovery = std::size_t{512} << 20;

Result<Recovered> read_checked(const std::string& file) {
    // A link or a pipe was not put there by a session.
    if (!is_plain_file(file)) return input_error(file, "expected a plain file");
    STANDPOINT_TRY(bytes, DiskFiles(largest_recovery).read(file));
    return read_recovery(bytes, file);
}

} // namespace

// -- a session --

struct RecoverySession::Lock {
    int fd = -1;
    std::string path;
    ~Lock() {
        if (fd >= 0) ::close(fd);
    }
};

RecoverySession::RecoverySession(std::string folder, std::string file, std::unique_ptr<Lock> lock)
    : folder_(std::move(folder)), file_(std::move(file)), lock_(std::move(lock)) {}
RecoverySession::RecoverySession(RecoverySession&&) noexcept = default;
RecoverySession& RecoverySession::operator=(RecoverySession&&) noexcept = default;
RecoverySession::~RecoverySession() = default;

Result<RecoverySession> RecoverySession::open(const std::string& folder) {
    STANDPOINT_TRY_STATUS(make_private_folder(folder));
    constexpr int tries = 16;
    for (int i = 0; i < tries; ++i) {
        std::uint64_t word = 0;
        if (::getentropy(&word, sizeof word) != 0)
            return refused(folder, "cannot name a recovery file", errno);
        const std::string stem = fmt::format("{}/session-{:016x}", folder, word);
        auto lock = std::make_unique<Lock>();
        lock->path = stem + lock_ending;
        const Taking taking = take_lock(lock->path, true, lock->fd);
        if (taking == Taking::failed || taking == Taking::missing)
            return refused(lock->path, "cannot make a lock file", errno);
        if (taking == Taking::taken)
            return RecoverySession(folder, stem + recovery_ending, std::move(lock));
    }
    return io_error(folder, "cannot make a lock file: all names are taken");
}

Status RecoverySession::write(const Document& document, const std::string& original,
                              std::uint64_t revision, const std::string& saved_at,
                              DiskCalls& calls) {
    settle();
    return save_file(file_, recovery_bytes({document, original, revision, saved_at}), calls);
}

Status RecoverySession::write(const Document& document, const std::string& original,
                              std::uint64_t revision, const std::string& saved_at) {
    DiskCalls calls;
    return write(document, original, revision, saved_at, calls);
}

bool RecoverySession::write_behind(const Document& document, const std::string& original,
                                   std::uint64_t revision, const std::string& saved_at) {
    if (writing_ && !writing_->state().finished) return false;
    // The document is a value: what is edited from now on is another one.
    writing_ = std::make_unique<BackgroundJob>(
        "save aside",
        [file = file_, document, original, revision,
         saved_at](const Progress&) -> Result<std::vector<std::string>> {
            STANDPOINT_TRY_STATUS(
                save_file(file, recovery_bytes({document, original, revision, saved_at})));
            return std::vector<std::string>{file};
        });
    return true;
}

std::optional<Error> RecoverySession::take_problem() {
    if (!writing_) return std::nullopt;
    const JobState state = writing_->state();
    if (!state.finished) return std::nullopt;
    writing_.reset();
    return state.error;
}

void RecoverySession::settle() {
    if (writing_) writing_->settle();
}

void RecoverySession::discard() {
    settle();
    ::unlink(file_.c_str());
}

void RecoverySession::leave() {
    if (!lock_) return;
    discard();
    ::unlink(lock_->path.c_str()); // while it is held, so that nobody can have taken it
    lock_.reset();
}

Result<Recovered> RecoverySession::take_over(const Recovery& recovery) {
    if (recovery.file == file_) return input_error(file_, "found this session's own file");
    settle();
    STANDPOINT_TRY(claimed, claim(recovery.file));
    STANDPOINT_TRY(recovered, read_checked(recovery.file));
    STANDPOINT_TRY_STATUS(
        write(recovered.document, recovered.original, recovered.revision, recovered.saved_at));
    ::unlink(recovery.file.c_str());
    ::unlink(claimed.lock.c_str());
    return recovered;
}

// -- after a crash --

namespace {

Recovery looked_at(const std::string& file) {
    Recovery recovery;
    recovery.file = file;
    Result<Recovered> read = read_checked(file);
    if (!read.ok()) {
        recovery.problem = read.error().message;
        return recovery;
    }
    recovery.original = read->original;
    recovery.saved_at = read->saved_at;
    recovery.revision = read->revision;
    recovery.title = read->document.settings->title;
    return recovery;
}

// True when the session that made it still runs. A lock that a crash left without a recovery file
// is removed on the way.
bool in_use(const std::string& lock, bool has_recovery) {
    int fd = -1;
    const Taking taking = take_lock(lock, false, fd);
    if (taking == Taking::taken && !has_recovery) ::unlink(lock.c_str());
    if (fd >= 0) ::close(fd);
    return taking == Taking::busy;
}

// Temporary files of saves that were cut off; only this program makes files in this folder.
bool is_left_over(const std::string& name) {
    return name.starts_with(".standpoint-") && name.ends_with(".tmp");
}

} // namespace

Result<std::vector<Recovery>> recoveries(const std::string& folder) {
    std::vector<Recovery> out;
    std::error_code error;
    const std::filesystem::directory_iterator end;
    std::filesystem::directory_iterator entry(folder, error);
    if (error == std::errc::no_such_file_or_directory) return out;
    std::vector<std::string> names;
    for (; !error && entry != end; entry.increment(error))
        names.push_back(entry->path().filename().string());
    if (error) return io_error(folder, "cannot list the folder: " + error.message());
    std::sort(names.begin(), names.end());
    for (const std::string& name : names) {
        const std::string path = folder + "/" + name;
        if (name.ends_with(lock_ending)) {
            const std::string file =
                path.substr(0, path.size() - std::string(lock_ending).size()) + recovery_ending;
            struct stat status {};
            in_use(path, ::lstat(file.c_str(), &status) == 0);
        } else if (!is_left_over(name) &&
                   !(name.ends_with(recovery_ending) && in_use(lock_of(path), true))) {
            out.push_back(looked_at(path));
        }
    }
    // The texts sort as the times they tell.
    std::stable_sort(out.begin(), out.end(), [](const Recovery& a, const Recovery& b) {
        return a.readable() != b.readable() ? a.readable() : a.saved_at > b.saved_at;
    });
    return out;
}

Result<Recovered> recover(const std::string& file) {
    return read_checked(file);
}

Status discard_recovery(const Recovery& recovery) {
    STANDPOINT_TRY(claimed, claim(recovery.file));
    const int failed = ::unlink(recovery.file.c_str()) != 0 ? errno : 0;
    ::unlink(claimed.lock.c_str());
    if (failed != 0 && failed != ENOENT) return refused(recovery.file, "cannot remove it", failed);
    return Done{};
}

} // namespace standpoint
