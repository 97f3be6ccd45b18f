// Opens a scene: reads the document, makes it solid, builds the ray index.
#include "desk/open.h"

#include "scene/json.h"

namespace standpoint {

Result<OpenScene> open_scene(const std::string& file, const FileAccess& files) {
    STANDPOINT_TRY(json, files.read(file));
    STANDPOINT_TRY(document, read_document(json, file));
    STANDPOINT_TRY(staging, stage(document, file, files, StagedFor::checks));
    OpenScene scene;
    scene.file = file;
    scene.document = document;
    scene.staging = std::make_unique<const Staging>(std::move(staging));
    scene.index = make_ray_index(*scene.staging);
    return scene;
}

} // namespace standpoint
