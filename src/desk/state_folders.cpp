// Finds and makes the folders of the program's own files.
#include "desk/state_folders.h"

#include <cerrno>
#include <cstdlib>
#include <system_error>

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include "scene/text.h"

namespace standpoint {

namespace {

constexpr const char* program_folder = "/standpoint";

std::string folder_for(const Environment& environment, const char* variable,
                       const char* below_home) {
    const std::string named = environment(variable);
    if (named.starts_with('/')) return named + program_folder;
    const std::string home = environment("HOME");
    return home.starts_with('/') ? home + below_home + program_folder : "";
}

Error refused(const std::string& folder, const std::string& what, int code) {
    return io_error(folder, what + ": " + std::generic_category().message(code));
}

// Makes every folder of the path that is not there.
Status make_folders(const std::string& folder) {
    for (std::size_t slash = folder.find('/', 1);; slash = folder.find('/', slash + 1)) {
        const std::string part = folder.substr(0, slash);
        if (::mkdir(part.c_str(), 0700) != 0 && errno != EEXIST)
            return refused(part, "cannot make the folder", errno);
        if (slash == std::string::npos) return Done{};
    }
}

int hex_digit(char c) {
    if (c >= '0' && c <= '9') return c - '0';
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    if (c >= 'A' && c <= 'F') return c - 'A' + 10;
    return -1;
}

} // namespace

Environment process_environment() {
    return [](const std::string& name) {
        const char* value = std::getenv(name.c_str());
        return std::string(value == nullptr ? "" : value);
    };
}

std::string state_folder(const Environment& environment) {
    return folder_for(environment, "XDG_STATE_HOME", "/.local/state");
}

std::string settings_path(const Environment& environment) {
    const std::string folder = folder_for(environment, "XDG_CONFIG_HOME", "/.config");
    return folder.empty() ? "" : folder + "/settings.json";
}

Status make_private_folder(const std::string& folder) {
    if (folder.empty()) return io_error("", "there is no home folder to keep files in");
    STANDPOINT_TRY_STATUS(make_folders(folder));
    // Looked at and changed through one descriptor, so that it cannot be exchanged in between.
    const int fd = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (fd < 0) return refused(folder, "cannot open the folder", errno);
    struct stat status {};
    Status done = Done{};
    if (::fstat(fd, &status) != 0)
        done = refused(folder, "cannot look at the folder", errno);
    else if (status.st_uid != ::geteuid())
        done = io_error(folder, "found a folder of somebody else, expected one of your own");
    else if ((status.st_mode & 077) != 0 && ::fchmod(fd, 0700) != 0)
        done = refused(folder, "cannot make the folder private", errno);
    ::close(fd);
    return done;
}

std::string text_of_path(const std::string& path) {
    const bool broken = find_bad_utf8(path).has_value();
    std::string text;
    for (const char c : path) {
        const auto byte = static_cast<unsigned char>(c);
        if (byte < 0x20 || byte == 0x7F || byte == '%' || (broken && byte >= 0x80))
            text += fmt::format("%{:02X}", static_cast<unsigned>(byte));
        else
            text += c;
    }
    return text;
}

std::string path_of_text(const std::string& text) {
    std::string path;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const int high = i + 2 < text.size() ? hex_digit(text[i + 1]) : -1;
        const int low = i + 2 < text.size() ? hex_digit(text[i + 2]) : -1;
        if (text[i] == '%' && high >= 0 && low >= 0) {
            path += static_cast<char>(high * 16 + low);
            i += 2;
        } else {
            path += text[i];
        }
    }
    return path;
}

} // namespace standpoint
