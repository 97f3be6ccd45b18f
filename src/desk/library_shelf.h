// Pictures of library entries, made one after the other beside the window, each once.
#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <vector>

#include "base/files.h"
#include "desk/library.h"
#include "shape/mesh.h"

namespace standpoint {

inline constexpr int library_picture_pixels = 96;

// Tells entries with different pictures apart, also those of different scenes.
std::string picture_key(const LibraryEntry& entry, const std::string& scene_file);

struct ShelfPicture {
    std::string key;
    Image image;         // without pixels when it could not be made
    std::string problem; // then: why, in one line
};

// One thread of its own. Every function may be called from the window's thread and returns at
// once, but for settle() and the destructor, which wait for the picture in hand.
class LibraryShelf {
  public:
    explicit LibraryShelf(std::shared_ptr<const FileAccess> files = nullptr); // null: the disk
    ~LibraryShelf();
    LibraryShelf(const LibraryShelf&) = delete;
    LibraryShelf& operator=(const LibraryShelf&) = delete;

    // Makes those of them that were not made yet, in their order; what still waits from earlier
    // and is not among them is no longer wanted.
    void want(const std::vector<LibraryEntry>& entries, const std::string& scene_file);
    // At most so many that have been made and not yet been taken.
    std::vector<ShelfPicture> take(std::size_t most);
    bool working() const; // something is made, waits, or has not been taken
    void settle();        // until nothing is made or waits

  private:
    struct Worker;
    std::unique_ptr<Worker> worker_;
};

} // namespace standpoint
