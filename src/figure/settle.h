// Figures kept to what they touch and look at: after an edit, what else has to change so that hands
// are where they were put and eyes on what they watch.
#pragma once

#include <string>
#include <vector>

#include "base/files.h"
#include "base/result.h"
#include "scene/edit.h"

namespace standpoint {

// The steps that follow an edit which led from `before` to `after`: new solved turns of figures
// whose touches, looks or pose mean something else now, and a shift of those whose seat or soles
// are to stay on a place. Figures the edit does not bear upon are left as they are, so that a file
// someone wrote by hand is not changed by an edit elsewhere.
//
// Joints are turned from the pose and the turns as little as the touches allow (figure/solve.h),
// those between the body and the contact only; of a look, the neck and head before the chest. What
// cannot be reached is left as near as it comes and is a finding of the checks. Figures that touch
// or watch each other are solved by turns until they agree.
//
// Errors: those of placed_figures.
Result<std::vector<EditStep>> settle(const Document& before, const Document& after,
                                     const std::string& scene_file, const FileAccess& files);

// All figures of the document, whatever their solved turns are now.
Result<std::vector<EditStep>> settle_all(const Document& document, const std::string& scene_file,
                                         const FileAccess& files);

} // namespace standpoint
