// Reading files through an interface, so that readers can be tested and fuzzed without a disk.
#pragma once

#include <map>
#include <string>

#include "base/result.h"

namespace standpoint {

class FileAccess {
  public:
    virtual ~FileAccess() = default;
    // The whole file as bytes. Errors: io, where = path.
    virtual Result<std::string> read(const std::string& path) const = 0;
};

// Files of the machine. A folder, a file over `limit_bytes` or a special file is refused.
class DiskFiles : public FileAccess {
  public:
    explicit DiskFiles(std::size_t limit_bytes = std::size_t{2} << 30) : limit_(limit_bytes) {}
    Result<std::string> read(const std::string& path) const override;

  private:
    std::size_t limit_;
};

// Files kept in memory, by path.
class MemoryFiles : public FileAccess {
  public:
    std::map<std::string, std::string> files;
    Result<std::string> read(const std::string& path) const override;
};

// `name` resolved against the folder of `beside` ("scenes/a.json", "m/x.glb" -> "scenes/m/x.glb").
// Errors (input): empty, absolute, or leading out of that folder by "..", "%2e" and the like,
// a backslash, a scheme ("http:") or a NUL. Percent escapes are decoded first.
Result<std::string> path_beside(const std::string& beside, const std::string& name);

} // namespace standpoint
