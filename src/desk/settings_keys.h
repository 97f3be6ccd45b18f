// The keys of the settings file: which there are, what each may hold, and how each is written.
#pragma once

#include <string>
#include <vector>

#include "desk/settings_file.h"

namespace standpoint {

bool is_known_key(const std::string& key);

// Adds every known key to an object.
void write_known(const WindowSettings& settings, JsonNode& root);

// Takes what is there and can be used; keys whose values cannot be used go to `spoiled`.
void read_known(const JsonNode& root, WindowSettings& settings, std::vector<std::string>& spoiled);

} // namespace standpoint
