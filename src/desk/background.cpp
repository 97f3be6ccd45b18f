// One thread for the checks and one for each job; all they share lies behind one mutex each.
#include "desk/background.h"

#include <algorithm>
#include <atomic>
#include <condition_variable>
#include <mutex>
#include <thread>
#include <utility>

namespace standpoint {

unsigned background_threads(unsigned asked) {
    return asked > 0 ? asked : std::max(1u, thread_count(0) - 1);
}

// -- checks --

struct BackgroundCheck::Worker {
    std::shared_ptr<const FileAccess> files;
    BackgroundCheckOptions options;

    // Grows with every start, cancel and the end; a run goes on while it is the one it began with.
    std::atomic<std::uint64_t> wish{0};

    mutable std::mutex mutex; // guards what follows
    std::condition_variable changed;
    std::optional<CheckRun> waiting;
    bool running = false, ending = false;
    std::shared_ptr<const CheckOutcome> latest;
    BackgroundProgress progress;

    // The worker's own.
    std::shared_ptr<const Staging> earlier;
    std::string earlier_file;
    std::thread thread;

    void work();
    void run(CheckRun request, std::uint64_t wished);
    void report(double share, std::string_view what);
};

void BackgroundCheck::Worker::report(double share, std::string_view what) {
    const std::lock_guard<std::mutex> lock(mutex);
    if (share < progress.share) return; // threads overtake each other
    progress.share = share;
    progress.what = what;
}

void BackgroundCheck::Worker::run(CheckRun request, std::uint64_t wished) {
    if (earlier_file == request.scene_file) request.earlier = earlier;
    const Progress steps{[this](double share, std::string_view what) { report(share, what); },
                         [this, wished] { return wish.load() != wished; }};
    auto staging = run_check_steps(request, *files, steps, [this](CheckOutcome outcome) {
        auto shared = std::make_shared<const CheckOutcome>(std::move(outcome));
        const std::lock_guard<std::mutex> lock(mutex);
        latest.swap(shared);
    });
    if (staging == nullptr) return;
    earlier = std::move(staging);
    earlier_file = request.scene_file;
}

void BackgroundCheck::Worker::work() {
    std::unique_lock<std::mutex> lock(mutex);
    for (;;) {
        changed.wait(lock, [this] { return ending || waiting.has_value(); });
        if (ending) return;
        CheckRun request = std::move(*waiting);
        waiting.reset();
        running = true;
        const std::uint64_t wished = wish.load();
        progress = {true, request.revision, 0, ""};
        lock.unlock();
        run(std::move(request), wished);
        lock.lock();
        running = false;
        progress.running = waiting.has_value();
        changed.notify_all();
    }
}

BackgroundCheck::BackgroundCheck(std::shared_ptr<const FileAccess> files,
                                 BackgroundCheckOptions options)
    : worker_(std::make_unique<Worker>()) {
    worker_->files = files ? std::move(files) : std::make_shared<const DiskFiles>();
    worker_->options = options;
    worker_->options.threads = background_threads(options.threads);
    worker_->thread = std::thread([worker = worker_.get()] { worker->work(); });
}

BackgroundCheck::~BackgroundCheck() {
    {
        const std::lock_guard<std::mutex> lock(worker_->mutex);
        worker_->ending = true;
        ++worker_->wish;
        worker_->changed.notify_all();
    }
    worker_->thread.join();
}

void BackgroundCheck::start(const Document& document, const std::string& scene_file,
                            std::uint64_t revision) {
    CheckRun run;
    run.document = document;
    run.scene_file = scene_file;
    run.revision = revision;
    run.threads = worker_->options.threads;
    run.rough = worker_->options.rough;
    run.full = worker_->options.full;
    const std::lock_guard<std::mutex> lock(worker_->mutex);
    worker_->waiting = std::move(run);
    ++worker_->wish;
    worker_->progress = {true, revision, 0, ""};
    worker_->changed.notify_all();
}

void BackgroundCheck::cancel() {
    const std::lock_guard<std::mutex> lock(worker_->mutex);
    worker_->waiting.reset();
    ++worker_->wish;
    worker_->progress.running = worker_->running;
    worker_->changed.notify_all();
}

std::shared_ptr<const CheckOutcome> BackgroundCheck::poll() const {
    const std::lock_guard<std::mutex> lock(worker_->mutex);
    return worker_->latest;
}

BackgroundProgress BackgroundCheck::progress() const {
    const std::lock_guard<std::mutex> lock(worker_->mutex);
    return worker_->progress;
}

void BackgroundCheck::settle() {
    std::unique_lock<std::mutex> lock(worker_->mutex);
    worker_->changed.wait(lock,
                          [this] { return !worker_->running && !worker_->waiting.has_value(); });
}

// -- jobs --

struct BackgroundJob::Worker {
    JobWork work;
    std::atomic<bool> stopped{false};
    mutable std::mutex mutex; // guards the state
    std::condition_variable finished;
    JobState state;
    std::thread thread;

    void run();
};

void BackgroundJob::Worker::run() {
    const Progress progress{[this](double share, std::string_view what) {
                                const std::lock_guard<std::mutex> lock(mutex);
                                if (share < state.share) return;
                                state.share = std::min(share, 1.0);
                                state.what = what;
                            },
                            [this] { return stopped.load(); }};
    Result<std::vector<std::string>> made = work(progress);
    const std::lock_guard<std::mutex> lock(mutex);
    state.finished = true;
    if (made.ok()) {
        state.files = std::move(*made);
        state.share = 1;
    } else {
        state.error = made.error();
    }
    finished.notify_all();
}

BackgroundJob::BackgroundJob(std::string name, JobWork work) : worker_(std::make_unique<Worker>()) {
    worker_->work = std::move(work);
    worker_->state.name = std::move(name);
    worker_->thread = std::thread([worker = worker_.get()] { worker->run(); });
}

BackgroundJob::~BackgroundJob() {
    worker_->stopped = true;
    worker_->thread.join();
}

JobState BackgroundJob::state() const {
    const std::lock_guard<std::mutex> lock(worker_->mutex);
    return worker_->state;
}

void BackgroundJob::cancel() {
    worker_->stopped = true;
}

JobState BackgroundJob::settle() {
    std::unique_lock<std::mutex> lock(worker_->mutex);
    worker_->finished.wait(lock, [this] { return worker_->state.finished; });
    return worker_->state;
}

} // namespace standpoint
