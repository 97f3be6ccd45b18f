// Reading whole files from the disk or from memory, and resolving a name beside a file.
#include "base/files.h"

#include <algorithm>
#include <cerrno>
#include <optional>
#include <system_error>
#include <vector>

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

namespace standpoint {

namespace {

std::string reason(int code) {
    return std::error_code(code, std::generic_category()).message();
}

class Descriptor {
  public:
    explicit Descriptor(int fd) : fd_(fd) {}
    ~Descriptor() {
        if (fd_ >= 0) ::close(fd_);
    }
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    int get() const { return fd_; }

  private:
    int fd_;
};

int open_to_read(const std::string& path) {
    int fd = -1;
    do { // O_NONBLOCK: opening a fifo must not wait for its writer
        fd = ::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY);
    } while (fd < 0 && errno == EINTR);
    return fd;
}

Result<std::string> read_all(int fd, const std::string& path, std::size_t expected,
                             std::size_t limit) {
    constexpr std::size_t chunk = std::size_t{1} << 20;
    std::string bytes;
    // One byte more than expected, so that a file of the expected size ends in one round.
    bytes.resize(std::min(expected, limit) + 1);
    std::size_t used = 0;
    while (true) {
        if (used == bytes.size()) bytes.resize(used + chunk);
        const ssize_t got = ::read(fd, bytes.data() + used, bytes.size() - used);
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) return io_error(path, "cannot read: " + reason(errno));
        if (got == 0) break;
        used += static_cast<std::size_t>(got);
        if (used > limit)
            return io_error(path, fmt::format("found a file of more than {0} bytes, expected at "
                                              "most {0}",
                                              limit));
    }
    bytes.resize(used);
    return bytes;
}

int hex_digit(char c) {
    if (c >= '0' && c <= '9') return c - '0';
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    if (c >= 'A' && c <= 'F') return c - 'A' + 10;
    return -1;
}

std::optional<std::string> percent_decoded(const std::string& name) {
    std::string out;
    for (std::size_t i = 0; i < name.size(); ++i) {
        if (name[i] != '%') {
            out += name[i];
            continue;
        }
        if (i + 2 >= name.size()) return std::nullopt;
        const int high = hex_digit(name[i + 1]);
        const int low = hex_digit(name[i + 2]);
        if (high < 0 || low < 0) return std::nullopt;
        out += static_cast<char>(high * 16 + low);
        i += 2;
    }
    return out;
}

// RFC 3986 3.1: a letter, then letters, digits, "+", "-" and ".", up to a colon.
bool has_scheme(const std::string& name) {
    const auto letter = [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); };
    if (name.empty() || !letter(name[0])) return false;
    const std::size_t end = std::find_if(name.begin(), name.end(),
                                         [&](char c) {
                                             return !letter(c) && !(c >= '0' && c <= '9') &&
                                                    c != '+' && c != '-' && c != '.';
                                         }) -
                            name.begin();
    return end < name.size() && name[end] == ':';
}

// The segments of a relative path with "." and ".." worked out; nothing when it leads out.
std::optional<std::vector<std::string>> segments_of(const std::string& name) {
    std::vector<std::string> segments;
    std::size_t begin = 0;
    while (begin <= name.size()) {
        const std::size_t end = std::min(name.find('/', begin), name.size());
        const std::string segment = name.substr(begin, end - begin);
        if (segment == "..") {
            if (segments.empty()) return std::nullopt;
            segments.pop_back();
        } else if (!segment.empty() && segment != ".") {
            segments.push_back(segment);
        }
        begin = end + 1;
    }
    return segments;
}

// Whether the name ends in a file's name, not in a slash or a dot segment.
bool ends_in_a_file(const std::string& name) {
    const std::string last = name.substr(name.rfind('/') + 1); // npos + 1 is 0
    return !last.empty() && last != "." && last != "..";
}

} // namespace

Result<std::string> DiskFiles::read(const std::string& path) const {
    if (path.empty() || path.find('\0') != std::string::npos)
        return io_error(path, "found an empty name or a NUL in it, expected the name of a file");
    const Descriptor file(open_to_read(path));
    if (file.get() < 0) return io_error(path, "cannot open: " + reason(errno));
    struct stat status {};
    if (::fstat(file.get(), &status) != 0) return io_error(path, "cannot read: " + reason(errno));
    if (S_ISDIR(status.st_mode)) return io_error(path, "found a folder, expected a file");
    if (!S_ISREG(status.st_mode))
        return io_error(path, "found a pipe, device or socket, expected a plain file");
    const auto size = static_cast<std::uintmax_t>(status.st_size);
    if (size > limit_)
        return io_error(path, fmt::format("found {} bytes, expected at most {}", size, limit_));
    return read_all(file.get(), path, static_cast<std::size_t>(size), limit_);
}

Result<std::string> MemoryFiles::read(const std::string& path) const {
    const auto found = files.find(path);
    if (found == files.end()) return io_error(path, "cannot open: " + reason(ENOENT));
    return found->second;
}

Result<std::string> path_beside(const std::string& beside, const std::string& name) {
    const auto refuse = [&](const std::string& expected) {
        return input_error(beside, "found " + in_quotes(name) + ", expected " + expected);
    };
    const std::optional<std::string> decoded = percent_decoded(name);
    if (!decoded) return refuse("two hexadecimal digits after every %");
    if (decoded->find_first_of(std::string("\\\0", 2)) != std::string::npos)
        return refuse("a name without a backslash or a NUL");
    if (has_scheme(*decoded)) return refuse("the name of a file, not an address");
    if (decoded->starts_with('/')) return refuse("a name relative to this file's folder");
    if (!ends_in_a_file(*decoded)) return refuse("the name of a file");
    const auto segments = segments_of(*decoded);
    if (!segments) return refuse("a file in or below this file's folder");

    std::string path = beside.substr(0, beside.rfind('/') + 1); // npos + 1 is 0
    for (const std::string& segment : *segments)
        path += segment + (&segment == &segments->back() ? "" : "/");
    return path;
}

} // namespace standpoint
