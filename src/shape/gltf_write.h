// glTF 2.0 out: the placed scene as one .glb that a strict validator accepts without remark.
#pragma once

#include "base/result.h"
#include "base/sink.h"
#include "shape/staging.h"

namespace standpoint {

// One node a staged piece, named by id, placed by its own transform; meshes shared where forms
// are; metres, Y up. Textures are embedded as PNG. What lets light through is written as BLEND
// with alpha 1 - lets_through, a cut-out as MASK; where both hold, light wins. Same staging, same
// bytes. Errors: those of the sink, and a scene beyond the 4 GiB that a .glb can hold.
Status write_glb(const Staging& staging, Sink& sink);

} // namespace standpoint
