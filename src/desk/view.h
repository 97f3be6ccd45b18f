// A visitor's view: who stands where along the path and what they look at, made a camera.
#pragma once

#include <string>

#include "base/result.h"
#include "picture/picture.h"
#include "shape/staging.h"

namespace standpoint {

struct ViewRequest {
    std::string visitor;    // id; empty: the first of the scene
    double distance_mm = 0; // along the path
    int lane = 1;           // 0 left, 1 middle, 2 right, walking from start to end
    std::string look_at;    // id of a piece, section or target; empty: the middle of the staging
};

// Errors (input): unknown ids (what there is, is named), a distance beyond the path.
Result<Camera> visitor_view(const Staging& staging, const ViewRequest& request);

} // namespace standpoint
