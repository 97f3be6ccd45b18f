// The files of src/figure/data, put into the program by embed.cmake.
#pragma once

#include <cstddef>
#include <string_view>

namespace standpoint {

struct BuiltInFile {
    std::string_view name; // "adult.json"
    std::string_view text;
};

extern const BuiltInFile built_in_skeleton_files[];
extern const std::size_t built_in_skeleton_count;
extern const BuiltInFile built_in_pose_files[];
extern const std::size_t built_in_pose_count;

} // namespace standpoint
