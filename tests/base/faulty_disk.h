// Calls to the disk that count themselves and go wrong on order.
#pragma once

#include <algorithm>
#include <cerrno>
#include <csignal>
#include <functional>
#include <string>
#include <vector>

#include <fcntl.h>
#include <unistd.h>

#include "base/save.h"

namespace standpoint::support {

class FaultyDisk : public DiskCalls {
  public:
    // Names of the calls made, in order; "sync folder" is told apart from "sync".
    std::vector<std::string> made;
    // Flags of the last open that makes a file.
    int making_flags = 0;

    // errno that the call of this index fails with, 0 to let it through.
    std::function<int(std::size_t index, const std::string& name)> fault;
    // Called just before the call of this index reaches the machine.
    std::function<void(std::size_t index, const std::string& name)> before;
    // At most this many bytes are taken at once.
    std::size_t largest_write = std::size_t{1} << 30;

    int open(const char* path, int flags, mode_t mode) override {
        const bool folder = (flags & O_CREAT) == 0;
        if (!folder) making_flags = flags;
        if (fails(folder ? "open folder" : "open")) return -1;
        const int fd = DiskCalls::open(path, flags, mode);
        if (folder) folder_ = fd;
        return fd;
    }
    ssize_t write(int fd, const void* bytes, std::size_t count) override {
        if (fails("write")) return -1;
        return DiskCalls::write(fd, bytes, std::min(count, largest_write));
    }
    int fchmod(int fd, mode_t mode) override {
        return fails("chmod") ? -1 : DiskCalls::fchmod(fd, mode);
    }
    int fsync(int fd) override {
        return fails(fd == folder_ ? "sync folder" : "sync") ? -1 : DiskCalls::fsync(fd);
    }
    int close(int fd) override {
        const bool fault_here = fails(fd == folder_ ? "close folder" : "close");
        const int code = errno;
        DiskCalls::close(fd); // a close that fails has closed all the same
        errno = code;
        return fault_here ? -1 : 0;
    }
    int rename(const char* from, const char* to) override {
        return fails("rename") ? -1 : DiskCalls::rename(from, to);
    }
    int unlink(const char* path) override { return fails("unlink") ? -1 : DiskCalls::unlink(path); }

  private:
    bool fails(const std::string& name) {
        const std::size_t index = made.size();
        made.push_back(name);
        if (before) before(index, name);
        const int code = fault ? fault(index, name) : 0;
        if (code != 0) errno = code;
        return code != 0;
    }

    int folder_ = -1;
};

} // namespace standpoint::support
