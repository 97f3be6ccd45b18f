// A scene opened from disk: document, solids and index in one place, for commands and window.
#pragma once

#include <memory>
#include <string>

#include "base/files.h"
#include "scene/document.h"
#include "shape/ray_index.h"
#include "shape/staging.h"

namespace standpoint {

struct OpenScene {
    std::string file;
    Document document;
    std::unique_ptr<const Staging> staging; // for checks
    std::unique_ptr<const RayIndex> index;  // over *staging
};

Result<OpenScene> open_scene(const std::string& file, const FileAccess& files);

} // namespace standpoint
