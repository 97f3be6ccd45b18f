// glTF 2.0 out: the placed scene as one .glb that a strict validator accepts without remark.
#pragma once

#include "base/result.h"
#include "base/sink.h"
#include "shape/staging.h"

namespace standpoint {

// One node a staged piece, named by id, placed by its own transform; meshes shared where forms
// are; metres, Y up. Same staging, same bytes.
Status write_glb(const Staging& staging, Sink& sink);

} // namespace standpoint
