// Makes pictures of library entries on a thread.
#include "desk/library_shelf.h"

#include <condition_variable>
#include <deque>
#include <mutex>
#include <set>
#include <thread>
#include <utility>

#include "desk/library_picture.h"

namespace standpoint {

namespace {

struct Wish {
    std::string key;
    LibraryEntry entry;
    std::string scene_file;
};

} // namespace

struct LibraryShelf::Worker {
    std::shared_ptr<const FileAccess> files;

    mutable std::mutex mutex; // guards what follows
    std::condition_variable changed;
    std::deque<Wish> waiting;
    std::set<std::string> made; // or in hand
    std::deque<ShelfPicture> finished;
    bool in_hand = false, ending = false;
    std::thread thread;

    void work();
    ShelfPicture make(const Wish& wish) const;
};

ShelfPicture LibraryShelf::Worker::make(const Wish& wish) const {
    Result<Image> image =
        entry_picture(wish.entry, wish.scene_file, *files, library_picture_pixels);
    if (!image.ok()) return {wish.key, {}, one_line(image.error())};
    return {wish.key, std::move(*image), ""};
}

void LibraryShelf::Worker::work() {
    std::unique_lock<std::mutex> lock(mutex);
    for (;;) {
        changed.wait(lock, [this] { return ending || !waiting.empty(); });
        if (ending) return;
        const Wish wish = std::move(waiting.front());
        waiting.pop_front();
        made.insert(wish.key);
        in_hand = true;
        lock.unlock();
        ShelfPicture picture = make(wish);
        lock.lock();
        finished.push_back(std::move(picture));
        in_hand = false;
        changed.notify_all();
    }
}

std::string picture_key(const LibraryEntry& entry, const std::string& scene_file) {
    const auto* model = std::get_if<ModelForm>(&entry.form);
    if (!model) return entry.id;
    const Result<std::string> path = path_beside(scene_file, model->file);
    return "model " + (path.ok() ? *path : model->file);
}

LibraryShelf::LibraryShelf(std::shared_ptr<const FileAccess> files)
    : worker_(std::make_unique<Worker>()) {
    worker_->files = files ? std::move(files) : std::make_shared<const DiskFiles>();
    worker_->thread = std::thread([worker = worker_.get()] { worker->work(); });
}

LibraryShelf::~LibraryShelf() {
    {
        const std::lock_guard<std::mutex> lock(worker_->mutex);
        worker_->ending = true;
        worker_->changed.notify_all();
    }
    worker_->thread.join();
}

void LibraryShelf::want(const std::vector<LibraryEntry>& entries, const std::string& scene_file) {
    const std::lock_guard<std::mutex> lock(worker_->mutex);
    worker_->waiting.clear();
    std::set<std::string> asked;
    for (const LibraryEntry& entry : entries) {
        std::string key = picture_key(entry, scene_file);
        if (worker_->made.contains(key) || !asked.insert(key).second) continue;
        worker_->waiting.push_back({std::move(key), entry, scene_file});
    }
    worker_->changed.notify_all();
}

std::vector<ShelfPicture> LibraryShelf::take(std::size_t most) {
    const std::lock_guard<std::mutex> lock(worker_->mutex);
    std::vector<ShelfPicture> taken;
    while (!worker_->finished.empty() && taken.size() < most) {
        taken.push_back(std::move(worker_->finished.front()));
        worker_->finished.pop_front();
    }
    return taken;
}

bool LibraryShelf::working() const {
    const std::lock_guard<std::mutex> lock(worker_->mutex);
    return worker_->in_hand || !worker_->waiting.empty() || !worker_->finished.empty();
}

void LibraryShelf::settle() {
    std::unique_lock<std::mutex> lock(worker_->mutex);
    worker_->changed.wait(lock, [this] { return !worker_->in_hand && worker_->waiting.empty(); });
}

} // namespace standpoint
