// Autosave and recovery: unsaved work is written aside now and then, and found after a crash.
//
// Each session (one open window) has a lock file in the folder, which the machine unlocks when the
// process ends however it ends, and at most one recovery file of the same stem. So a recovery file
// whose lock can be taken was left by a crash, and nobody takes over one that is in use.
//
// A recovery file is one line of JSON ({"standpoint-recovery": 1, "original": ..., "revision": ...,
// "saved-at": ..., "bytes": ..., "hash": ...}) and then the document as it would be saved.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/save.h"
#include "desk/background.h"
#include "scene/document.h"

namespace standpoint {

// -- when --

struct AutosavePace {
    double idle = 1.25; // seconds after the last edit, or
    double most = 5;    // after the first since the last writing, when edits go on
};

struct AutosaveWatch { // what has happened since the last writing; clock values as the caller's
    std::uint64_t seen = 0;     // revision looked at last
    int edits = 0;              // not written yet
    double since = 0, last = 0; // clock at the first and the last of them
};

// To be called often (each frame). True when it is time to write. During a drag it is not; a drag
// counts as one edit. When nothing is unsaved the count begins again.
bool autosave_due(AutosaveWatch& watch, const AutosavePace& pace, std::uint64_t revision,
                  bool unsaved, bool dragging, double clock);
// It is being written; should that fail, it is tried again after the next edit.
void autosave_done(AutosaveWatch& watch, std::uint64_t revision);

// -- where --

struct Recovered {
    Document document;
    std::string original; // path of the scene it was opened from; empty: never saved
    std::uint64_t revision = 0;
    std::string saved_at; // as the session wrote it
};

struct Recovery {     // what a crash left
    std::string file; // path of the recovery file
    std::string original, saved_at, title;
    std::uint64_t revision = 0;
    std::string problem; // why it cannot be read; empty: it can
    bool readable() const { return problem.empty(); }
};

class RecoverySession {
  public:
    // Takes a stem of its own in the folder, which is made private to its owner when missing.
    // Errors (io).
    static Result<RecoverySession> open(const std::string& folder);
    RecoverySession(RecoverySession&&) noexcept;
    RecoverySession& operator=(RecoverySession&&) noexcept;
    // Unlocks; a recovery file that was not discarded stays and will be found.
    ~RecoverySession();

    // Whole or not at all; what was written before stays when it fails. `original` may be empty.
    Status write(const Document& document, const std::string& original, std::uint64_t revision,
                 const std::string& saved_at);
    Status write(const Document& document, const std::string& original, std::uint64_t revision,
                 const std::string& saved_at, DiskCalls& calls);

    // The same on a thread of its own; returns at once. False while the one before is still being
    // written: nothing was begun. Every other function here waits for it first.
    bool write_behind(const Document& document, const std::string& original, std::uint64_t revision,
                      const std::string& saved_at);
    // Why the last writing behind failed; told once. Nothing: it is going on, or all is well.
    std::optional<Error> take_problem();
    void settle(); // until nothing is being written

    // After a save, and on a clean exit (`leave` removes the lock as well).
    void discard();
    void leave();

    // Reads what a crash left, keeps it as this session's own recovery file, and removes the old
    // one. Errors: input (unreadable), io; another session has it by now. Nothing is lost then.
    Result<Recovered> take_over(const Recovery& recovery);

    const std::string& file() const { return file_; } // where write() writes

  private:
    struct Lock;
    RecoverySession(std::string folder, std::string file, std::unique_ptr<Lock> lock);
    std::string folder_, file_;
    std::unique_ptr<Lock> lock_;
    std::unique_ptr<BackgroundJob> writing_; // null: none since the problem was taken
};

// What crashed sessions left, newest first; those of sessions that run are left out. What is no
// recovery file, or broken, is listed with its problem. A folder that is not there is empty.
// Errors (io): a folder that cannot be read.
Result<std::vector<Recovery>> recoveries(const std::string& folder);
// Reads only. Errors: input, io.
Result<Recovered> recover(const std::string& file);
// Removes the file. Errors (io): in use by another session, or the machine refuses.
Status discard_recovery(const Recovery& recovery);

// As bytes, and back; for tests and for looking at one.
std::string recovery_bytes(const Recovered& recovered);
Result<Recovered> read_recovery(std::string_view bytes, const std::string& file);

} // namespace standpoint
