// Makes sheets and pictures and saves them, whole sets or nothing.
#include "desk/make_files.h"

#include <filesystem>
#include <utility>

#include <fmt/format.h>

#include "base/save.h"
#include "sheet/sheets.h"

namespace standpoint {

namespace {

constexpr double checked_share = 0.8; // of making sheets, the checks take most

// Creates the last folder of the path; a missing one above it is more likely a slip.
Status make_folder(const std::string& folder) {
    std::error_code error;
    if (std::filesystem::is_directory(folder, error)) return Done{};
    if (std::filesystem::create_directory(folder, error)) return Done{};
    return io_error(folder, fmt::format("the folder could not be made: {}",
                                        error ? error.message() : std::string("it is a file")));
}

Error with_file(Error error, const std::string& scene_file) {
    error.where =
        error.where.empty() ? scene_file : scene_file + " (" + std::move(error.where) + ")";
    return error;
}

} // namespace

Result<std::vector<std::string>> make_sheets(const Staging& staging, const CheckResults& results,
                                             const std::string& folder, const Progress& progress) {
    const std::vector<PlacementRow> rows = placement_rows(staging);
    StringSink csv, pdf;
    STANDPOINT_TRY_STATUS(write_placements_csv(staging, rows, csv));
    STANDPOINT_TRY_STATUS(write_sheets_pdf(staging, rows, results, pdf, progress));
    if (progress.stop()) return Error{ErrorCode::cancelled, "stopped", ""};
    STANDPOINT_TRY_STATUS(make_folder(folder));
    std::vector<std::string> files{folder + "/placements.csv", folder + "/sheets.pdf"};
    STANDPOINT_TRY_STATUS(save_files({{files[0], csv.bytes}, {files[1], pdf.bytes}}));
    return files;
}

Result<std::vector<std::string>> make_picture(const Staging& staging, const RayIndex& index,
                                              const ViewRequest& request,
                                              const PictureOptions& options,
                                              const std::string& file, const Progress& progress) {
    STANDPOINT_TRY(camera, visitor_view(staging, request));
    STANDPOINT_TRY(image, draw_picture(staging, index, camera, options, progress));
    StringSink png;
    STANDPOINT_TRY_STATUS(write_png(image, png));
    STANDPOINT_TRY_STATUS(save_file(file, png.bytes));
    return std::vector<std::string>{file};
}

JobWork sheets_job(const Document& document, const std::string& scene_file,
                   const std::string& folder, unsigned threads) {
    return [=](const Progress& progress) -> Result<std::vector<std::string>> {
        STANDPOINT_TRY(staging, stage(document, scene_file, DiskFiles(), StagedFor::checks));
        CheckOptions options;
        options.threads = background_threads(threads);
        Result<CheckResults> results =
            run_checks(staging, options, part_of(progress, 0, checked_share));
        if (!results.ok()) return with_file(results.error(), scene_file);
        return make_sheets(staging, *results, folder, part_of(progress, checked_share, 1));
    };
}

JobWork sheets_job(std::shared_ptr<const CheckOutcome> checked, const std::string& folder) {
    STANDPOINT_CHECK(checked && checked->staging && checked->results && !checked->rough());
    return [=](const Progress& progress) {
        return make_sheets(*checked->staging, *checked->results, folder, progress);
    };
}

JobWork picture_job(const Document& document, const std::string& scene_file,
                    const ViewRequest& request, const PictureOptions& options,
                    const std::string& file) {
    return [=](const Progress& progress) -> Result<std::vector<std::string>> {
        STANDPOINT_TRY(staging, stage(document, scene_file, DiskFiles(), StagedFor::checks));
        const std::unique_ptr<RayIndex> index = make_ray_index(staging);
        PictureOptions drawn = options;
        drawn.threads = background_threads(options.threads);
        return make_picture(staging, *index, request, drawn, file, progress);
    };
}

} // namespace standpoint
