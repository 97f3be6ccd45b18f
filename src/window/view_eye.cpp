// Keeps the eye views where the scrubbed visitor stands.
#include <algorithm>

#include "desk/view.h"
#include "window/overlay.h"
#include "window/view_input.h"

namespace standpoint {

void follow_visitor(Shell& shell) {
    const auto eye = scrubbed_eye(shell);
    if (!eye) return;
    ViewRequest request;
    request.visitor = shell.scrub.visitor;
    request.distance_mm =
        std::clamp(shell.scrub.distance_mm, 0.0, path_length(*shell.desk->history.now().path));
    request.lane = shell.scrub.lane;
    request.look_at = shell.scrub.look_at;
    Result<Camera> camera = visitor_view(*shell.desk->shown, request);
    if (!camera.ok()) return;
    for (View& view : shell.views) {
        if (view.camera.kind != ViewKind::eye) continue;
        view.camera.eye = camera->eye;
        view.camera.middle = camera->look_at;
        view.camera.field_of_view_deg = camera->field_of_view_deg;
    }
}

} // namespace standpoint
