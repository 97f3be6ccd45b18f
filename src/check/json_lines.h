// Building JSON text by hand: numbers that read back exactly, one row of numbers or one small
// object a line.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

namespace standpoint {

std::string json_text(std::string_view text); // quoted and escaped
std::string json_number(double number);       // finite
std::string json_flag(bool flag);
std::string json_point(const glm::dvec2& point);
std::string json_point(const glm::dvec3& point);

using JsonFields = std::vector<std::pair<const char*, std::string>>; // values are JSON already

std::string json_object(const JsonFields& fields);            // on one line
std::string json_row(const std::vector<std::string>& values); // an array on one line

// The same over several lines, each field or value on its own, at this indent.
std::string json_block(const JsonFields& fields, int indent);
std::string json_list(const std::vector<std::string>& values, int indent);

} // namespace standpoint
