// Saving through a temporary file, so that a reader finds the old file or the new one, never less.
#include "base/save.h"

#include <algorithm>
#include <cerrno>
#include <cstdint>
#include <cstdio>
#include <optional>
#include <set>
#include <system_error>

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/random.h>
#include <sys/stat.h>
#include <unistd.h>

namespace standpoint {

int DiskCalls::open(const char* path, int flags, mode_t mode) {
    return ::open(path, flags, mode);
}
ssize_t DiskCalls::write(int fd, const void* bytes, std::size_t count) {
    return ::write(fd, bytes, count);
}
int DiskCalls::fchmod(int fd, mode_t mode) {
    return ::fchmod(fd, mode);
}
int DiskCalls::fsync(int fd) {
    return ::fsync(fd);
}
int DiskCalls::close(int fd) {
    return ::close(fd);
}
int DiskCalls::rename(const char* from, const char* to) {
    return std::rename(from, to);
}
int DiskCalls::unlink(const char* path) {
    return ::unlink(path);
}

namespace {

// What one file needs on its way to the disk.
struct Save {
    std::string asked;  // the path as given, for messages
    std::string target; // after symbolic links
    std::string folder; // of the target
    std::optional<struct stat> old;
    std::string temporary; // empty when there is none on the disk
};

Error failed(const std::string& where, const std::string& what, int code) {
    return io_error(where, what + ": " + std::error_code(code, std::generic_category()).message());
}

std::string folder_of(const std::string& path) {
    const std::size_t slash = path.rfind('/');
    if (slash == std::string::npos) return ".";
    return slash == 0 ? "/" : path.substr(0, slash);
}

Result<std::string> read_link(const std::string& path, const std::string& asked) {
    std::string text(4096, '\0');
    const ssize_t length = ::readlink(path.c_str(), text.data(), text.size());
    if (length < 0) return failed(asked, "cannot follow the link", errno);
    text.resize(static_cast<std::size_t>(length));
    return text;
}

// Follows links by hand, because the last one may name a file that is still to be made.
Result<std::string> follow_links(const std::string& asked) {
    constexpr int most_links = 40; // as the kernel's own limit
    std::string path = asked;
    for (int links = 0; links <= most_links; ++links) {
        struct stat status {};
        if (::lstat(path.c_str(), &status) != 0) {
            if (errno == ENOENT) return path;
            return failed(asked, "cannot save", errno);
        }
        if (!S_ISLNK(status.st_mode)) return path;
        STANDPOINT_TRY(link, read_link(path, asked));
        path = link.starts_with('/') ? link : folder_of(path) + "/" + link;
    }
    return failed(asked, "cannot save", ELOOP);
}

Result<Save> plan_save(const std::string& asked) {
    if (asked.empty() || asked.find('\0') != std::string::npos)
        return io_error(asked, "cannot save: found an empty name or a NUL in it");
    if (asked.ends_with('/')) return io_error(asked, "cannot save: found a folder's name");
    Save save;
    save.asked = asked;
    STANDPOINT_TRY(target, follow_links(asked));
    save.target = target;
    save.folder = folder_of(target);
    struct stat status {};
    if (::stat(target.c_str(), &status) != 0) {
        if (errno != ENOENT) return failed(asked, "cannot save", errno);
        return save;
    }
    if (S_ISDIR(status.st_mode)) return io_error(asked, "cannot save: found a folder");
    if (!S_ISREG(status.st_mode))
        return io_error(asked, "cannot save: found a pipe, device or socket");
    // A rename would get round the file's own permissions; its owner meant them.
    if (::faccessat(AT_FDCWD, target.c_str(), W_OK, AT_EACCESS) != 0)
        return failed(asked, "cannot save", errno);
    save.old = status;
    return save;
}

// Makes the temporary file under a name that nobody can guess and nothing else uses.
Result<int> open_temporary(Save& save, DiskCalls& calls) {
    constexpr int tries = 16;
    // An old file's content may be private: nobody else reads the new one before its mode is set.
    const mode_t mode = save.old ? 0600 : 0666;
    for (int i = 0; i < tries; ++i) {
        std::uint64_t word = 0;
        if (::getentropy(&word, sizeof word) != 0)
            return failed(save.asked, "cannot name a temporary file", errno);
        const std::string name = fmt::format("{}/.standpoint-{:016x}.tmp", save.folder, word);
        int fd = -1;
        do {
            fd = calls.open(name.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC | O_NOFOLLOW,
                            mode);
        } while (fd < 0 && errno == EINTR);
        if (fd >= 0) {
            save.temporary = name;
            return fd;
        }
        if (errno != EEXIST)
            return failed(save.asked, "cannot make a temporary file beside it", errno);
    }
    return failed(save.asked, "cannot make a temporary file beside it", EEXIST);
}

Status write_all(int fd, const Save& save, std::string_view bytes, DiskCalls& calls) {
    constexpr std::size_t most = std::size_t{1} << 30; // Linux writes at most 2 GiB at once
    while (!bytes.empty()) {
        const ssize_t wrote = calls.write(fd, bytes.data(), std::min(bytes.size(), most));
        if (wrote < 0 && errno == EINTR) continue;
        if (wrote < 0) return failed(save.asked, "cannot write", errno);
        if (wrote == 0) return failed(save.asked, "cannot write", ENOSPC);
        bytes.remove_prefix(static_cast<std::size_t>(wrote));
    }
    return Done{};
}

int fsync_whole(int fd, DiskCalls& calls) {
    int result = 0;
    do {
        result = calls.fsync(fd);
    } while (result != 0 && errno == EINTR);
    return result;
}

Status fill_temporary(int fd, const Save& save, std::string_view bytes, DiskCalls& calls) {
    STANDPOINT_TRY_STATUS(write_all(fd, save, bytes, calls));
    if (save.old) {
        // Only root may give a file away; for others the new file stays their own.
        const bool given = ::fchown(fd, save.old->st_uid, save.old->st_gid) == 0;
        // Without the owner, bits that act in the owner's name must not survive.
        const mode_t kept = save.old->st_mode & static_cast<mode_t>(given ? 07777 : 0777);
        if (calls.fchmod(fd, kept) != 0)
            return failed(save.asked, "cannot keep the permissions", errno);
    }
    if (fsync_whole(fd, calls) != 0) return failed(save.asked, "cannot sync", errno);
    return Done{};
}

Status write_temporary(Save& save, std::string_view bytes, DiskCalls& calls) {
    STANDPOINT_TRY(fd, open_temporary(save, calls));
    const Status filled = fill_temporary(fd, save, bytes, calls);
    // Linux has closed the descriptor even when close is interrupted.
    const bool closed = calls.close(fd) == 0 || errno == EINTR;
    const int code = errno;
    if (!filled.ok()) return filled;
    if (!closed) return failed(save.asked, "cannot write", code);
    return Done{};
}

void remove_temporaries(std::vector<Save>& saves, DiskCalls& calls) {
    for (Save& save : saves) {
        if (!save.temporary.empty()) calls.unlink(save.temporary.c_str());
        save.temporary.clear();
    }
}

// A folder held open from before the first rename, so that what can fail fails early.
struct OpenFolder {
    std::string path;
    std::string asked;
    int fd = -1;
};

void close_folders(std::vector<OpenFolder>& folders, DiskCalls& calls) {
    for (const OpenFolder& folder : folders)
        calls.close(folder.fd);
    folders.clear();
}

Status open_folders(const std::vector<Save>& saves, std::vector<OpenFolder>& folders,
                    DiskCalls& calls) {
    for (const Save& save : saves) {
        const auto same = [&](const OpenFolder& other) { return other.path == save.folder; };
        if (std::any_of(folders.begin(), folders.end(), same)) continue;
        int fd = -1;
        do {
            fd = calls.open(save.folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC, 0);
        } while (fd < 0 && errno == EINTR);
        if (fd < 0) return failed(save.asked, "cannot open its folder", errno);
        folders.push_back({save.folder, save.asked, fd});
    }
    return Done{};
}

Status sync_folders(const std::vector<OpenFolder>& folders, DiskCalls& calls) {
    for (const OpenFolder& folder : folders) {
        // EINVAL: this file system has no sync of folders, and no promise to break.
        if (fsync_whole(folder.fd, calls) != 0 && errno != EINVAL)
            return failed(folder.asked,
                          "saved, but a power cut may undo it, because its folder cannot be synced",
                          errno);
    }
    return Done{};
}

Status rename_all(std::vector<Save>& saves, DiskCalls& calls) {
    std::size_t renamed = 0;
    for (Save& save : saves) {
        if (calls.rename(save.temporary.c_str(), save.target.c_str()) != 0) {
            const int code = errno;
            std::string what = "cannot put the new file in place";
            if (renamed > 0)
                what += fmt::format(" ({} of {} files of the set are new already)", renamed,
                                    saves.size());
            return failed(save.asked, what, code);
        }
        save.temporary.clear();
        ++renamed;
    }
    return Done{};
}

Status save_planned(std::vector<Save>& saves, const std::vector<std::string_view>& bytes,
                    std::vector<OpenFolder>& folders, DiskCalls& calls) {
    STANDPOINT_TRY_STATUS(open_folders(saves, folders, calls));
    for (std::size_t i = 0; i < saves.size(); ++i)
        STANDPOINT_TRY_STATUS(write_temporary(saves[i], bytes[i], calls));
    STANDPOINT_TRY_STATUS(rename_all(saves, calls));
    return sync_folders(folders, calls);
}

Status save_set(const std::vector<std::string_view>& paths,
                const std::vector<std::string_view>& bytes, DiskCalls& calls) {
    std::vector<Save> saves;
    std::set<std::string> targets;
    for (const std::string_view path : paths) {
        STANDPOINT_TRY(save, plan_save(std::string(path)));
        if (!targets.insert(save.target).second)
            return io_error(save.asked, "cannot save: two files of the set have this name");
        saves.push_back(std::move(save));
    }
    std::vector<OpenFolder> folders;
    const Status saved = save_planned(saves, bytes, folders, calls);
    remove_temporaries(saves, calls);
    close_folders(folders, calls);
    return saved;
}

} // namespace

Status save_file(const std::string& path, std::string_view bytes, DiskCalls& calls) {
    return save_set({path}, {bytes}, calls);
}

Status save_file(const std::string& path, std::string_view bytes) {
    DiskCalls calls;
    return save_file(path, bytes, calls);
}

Status save_files(const std::vector<NamedBytes>& files, DiskCalls& calls) {
    std::vector<std::string_view> paths;
    std::vector<std::string_view> bytes;
    for (const NamedBytes& file : files) {
        paths.push_back(file.path);
        bytes.push_back(file.bytes);
    }
    return save_set(paths, bytes, calls);
}

Status save_files(const std::vector<NamedBytes>& files) {
    DiskCalls calls;
    return save_files(files, calls);
}

} // namespace standpoint
