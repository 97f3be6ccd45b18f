// The hand-over set: placements.csv and sheets.pdf, as bytes or saved together.
#pragma once

#include <string>

#include "base/parallel.h"
#include "base/sink.h"
#include "check/run.h"
#include "sheet/rows.h"

namespace standpoint {

// RFC 4180, UTF-8, CRLF. A cell that a spreadsheet would run is made harmless.
Status write_placements_csv(const Staging& staging, const std::vector<PlacementRow>& rows,
                            Sink& sink);

// Plan at a standard scale on a standard sheet, then the table, paged with repeated heads. Text is
// text. Same input, same bytes. `findings` are summed up beside the cautions.
Status write_sheets_pdf(const Staging& staging, const std::vector<PlacementRow>& rows,
                        const CheckResults& results, Sink& sink, const Progress& progress);

} // namespace standpoint
