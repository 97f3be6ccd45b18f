// Making what goes out of the house: sheets and pictures, for the commands and for the window.
#pragma once

#include <string>
#include <vector>

#include "check/run.h"
#include "desk/background.h"
#include "desk/check_outcome.h"
#include "desk/view.h"

namespace standpoint {

// placements.csv and sheets.pdf in `folder`, which is made when only its last part is missing.
// Both are saved or neither. Returns their paths. Errors: io, cancelled.
Result<std::vector<std::string>> make_sheets(const Staging& staging, const CheckResults& results,
                                             const std::string& folder, const Progress& progress);

// A .png of what a visitor sees. Errors: input (unknown ids), io, cancelled.
Result<std::vector<std::string>> make_picture(const Staging& staging, const RayIndex& index,
                                              const ViewRequest& request,
                                              const PictureOptions& options,
                                              const std::string& file, const Progress& progress);

// The same from a document, for BackgroundJob: staged, checked in full and written.
JobWork sheets_job(const Document& document, const std::string& scene_file,
                   const std::string& folder, unsigned threads = 0);
// From a full check that has been run already; `checked` is not null and holds results.
JobWork sheets_job(std::shared_ptr<const CheckOutcome> checked, const std::string& folder);
JobWork picture_job(const Document& document, const std::string& scene_file,
                    const ViewRequest& request, const PictureOptions& options,
                    const std::string& file);

} // namespace standpoint
