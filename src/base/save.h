// Saving a file whole or not at all: a temporary file in the same folder, fsync, rename, fsync of
// the folder. A failure leaves the old file as it was and no temporary file behind.
#pragma once

#include <string>
#include <string_view>
#include <sys/types.h>
#include <vector>

#include "base/result.h"

namespace standpoint {

// The calls of the machine that saving makes; tests replace them to fail or to stop in the middle.
// Each returns what the POSIX call of its name returns and sets errno.
class DiskCalls {
  public:
    virtual ~DiskCalls() = default;
    virtual int open(const char* path, int flags, mode_t mode);
    virtual ssize_t write(int fd, const void* bytes, std::size_t count);
    virtual int fchmod(int fd, mode_t mode);
    virtual int fsync(int fd);
    virtual int close(int fd);
    virtual int rename(const char* from, const char* to);
    virtual int unlink(const char* path);
};

// Keeps the permissions (and, where the machine allows it, the owner) of a file that is there. A
// symbolic link is followed, not replaced. A file that may not be written, a folder or a special
// file is refused. Errors (io): where = path, message = what failed and why. When only the last
// step fails, the sync of the folder, the new file is in place and the message says so.
Status save_file(const std::string& path, std::string_view bytes);
Status save_file(const std::string& path, std::string_view bytes, DiskCalls& calls);

// Several files as one set: all temporaries are written and synced before the first rename, so
// that a full disk leaves the old set whole. Should a rename fail in spite of that, each file is
// wholly old or wholly new and the message says how many are new already.
struct NamedBytes {
    std::string path;
    std::string bytes;
};
Status save_files(const std::vector<NamedBytes>& files);
Status save_files(const std::vector<NamedBytes>& files, DiskCalls& calls);

} // namespace standpoint
