// Long work beside the window: the checks of the document in force, and jobs that make files.
//
// Each class has one thread of its own (which shares its work among others) and shows what it
// shares through one mutex. Every function may be called from the window's thread and returns at
// once, but for settle() and the destructors, which wait.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "base/files.h"
#include "base/parallel.h"
#include "base/result.h"
#include "desk/check_steps.h"

namespace standpoint {

struct BackgroundCheckOptions {
    unsigned threads = 0; // 0: one less than the machine has, at least 1
    SightOptions rough = rough_sight_options();
    SightOptions full;
};

// One less than the machine has, at least 1: the window keeps one for itself.
unsigned background_threads(unsigned asked);

struct BackgroundProgress {
    bool running = false;
    std::uint64_t revision = 0; // of what runs, or ran last
    double share = 0;           // 0..1 of the whole run, never falling within it
    std::string what;           // "sightlines"; empty before anything was said
};

class BackgroundCheck {
  public:
    // `files` reads the models, from the worker's thread.
    explicit BackgroundCheck(std::shared_ptr<const FileAccess> files = nullptr, // null: the disk
                             BackgroundCheckOptions options = {});
    ~BackgroundCheck(); // cancels and waits
    BackgroundCheck(const BackgroundCheck&) = delete;
    BackgroundCheck& operator=(const BackgroundCheck&) = delete;

    // Cancels what runs and begins with this. Requires validate(document).
    void start(const Document& document, const std::string& scene_file, std::uint64_t revision);
    void cancel(); // what was found stays

    // The newest finished outcome: the same pointer until a newer one is there, null before the
    // first. Its revision is older than the one asked for until the new run has found something.
    // A run delivers up to three: walkway, rough, full; one that is overtaken is not seen.
    std::shared_ptr<const CheckOutcome> poll() const;
    BackgroundProgress progress() const;

    void settle(); // until nothing runs or waits

  private:
    struct Worker;
    std::unique_ptr<Worker> worker_;
};

// Makes files and gives their paths (none for work that writes nothing).
using JobWork = std::function<Result<std::vector<std::string>>(const Progress& progress)>;

struct JobState {
    std::string name;
    bool finished = false;
    double share = 0; // 0..1
    std::string what;
    std::vector<std::string> files; // once finished without an error
    std::optional<Error> error;     // code `cancelled` when it was stopped
};

// One piece of work, begun at once.
class BackgroundJob {
  public:
    BackgroundJob(std::string name, JobWork work);
    ~BackgroundJob(); // cancels and waits
    BackgroundJob(const BackgroundJob&) = delete;
    BackgroundJob& operator=(const BackgroundJob&) = delete;

    JobState state() const;
    void cancel();
    JobState settle(); // until it is finished

  private:
    struct Worker;
    std::unique_ptr<Worker> worker_;
};

} // namespace standpoint
