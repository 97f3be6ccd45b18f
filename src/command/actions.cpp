// The commands: open the scene, do the one thing asked, save what it makes.
#include "command/actions.h"

#include <cerrno>
#include <cstring>
#include <filesystem>

#include <fmt/format.h>

#include "base/save.h"
#include "check/run.h"
#include "command/progress.h"
#include "desk/make_files.h"
#include "desk/open.h"
#include "desk/target_fields.h"
#include "figure/anthropometry.h"
#include "figure/settle.h"
#include "measure/length.h"
#include "scene/json.h"
#include "shape/gltf_write.h"
#include "window/window.h"

namespace standpoint {
namespace {

Status print(const Streams& streams, std::string_view text) {
    if (!streams.out(text)) return io_error("standard output", "could not be written");
    return Done{};
}

// Errors of a check name a place in the document; the file goes in front.
Result<CheckResults> checked(const OpenScene& scene, unsigned threads, const Progress& progress) {
    CheckOptions options;
    options.threads = threads;
    options.sight.threads = threads;
    Result<CheckResults> results = run_checks(*scene.staging, *scene.index, options, progress);
    if (results.ok()) return results;
    Error error = results.error();
    error.where = error.where.empty() ? scene.file : scene.file + " (" + error.where + ")";
    return error;
}

Result<int> lane_of(const std::string& name) {
    if (name == "left") return 0;
    if (name == "middle") return 1;
    if (name == "right") return 2;
    return input_error("--lane", fmt::format("found \"{}\", expected left, middle or right", name));
}

} // namespace

Result<int> run_check(const CheckArguments& arguments, const Streams& streams) {
    STANDPOINT_TRY(scene, open_scene(arguments.scene, DiskFiles()));
    const ProgressLine line(streams, "checking");
    STANDPOINT_TRY(results, checked(scene, arguments.threads, line.progress()));
    line.clear();
    const std::string json = arguments.json.empty() ? "" : results_json(*scene.staging, results);
    if (arguments.json == "-") {
        STANDPOINT_TRY_STATUS(print(streams, json));
    } else {
        if (!arguments.json.empty()) STANDPOINT_TRY_STATUS(save_file(arguments.json, json));
        STANDPOINT_TRY_STATUS(print(streams, results_text(*scene.staging, results)));
    }
    for (const Finding& finding : results.findings)
        if (finding.grade == Grade::fail) return exit_found;
    return exit_done;
}

Result<int> run_sheets(const SheetsArguments& arguments, const Streams& streams) {
    STANDPOINT_TRY(scene, open_scene(arguments.scene, DiskFiles()));
    const ProgressLine line(streams, "making sheets");
    STANDPOINT_TRY(results, checked(scene, arguments.threads, line.progress()));
    STANDPOINT_TRY(files, make_sheets(*scene.staging, results, arguments.folder, line.progress()));
    line.clear();
    STANDPOINT_TRY_STATUS(print(streams, files[0] + "\n" + files[1] + "\n"));
    return exit_done;
}

Result<int> run_picture(const PictureArguments& arguments, const Streams& streams) {
    STANDPOINT_TRY(scene, open_scene(arguments.scene, DiskFiles()));
    ViewRequest request;
    request.visitor = arguments.visitor;
    request.look_at = arguments.look;
    STANDPOINT_TRY(lane, lane_of(arguments.lane));
    request.lane = lane;
    if (!arguments.at.empty()) {
        Result<double> at = parse_length_mm(arguments.at);
        if (!at) return input_error("--at", at.error().message);
        request.distance_mm = *at;
    }
    PictureOptions options;
    options.width = arguments.width;
    options.height = arguments.height;
    options.threads = arguments.threads;
    if (arguments.samples > 0) options.samples = arguments.samples;
    const ProgressLine line(streams, "drawing");
    STANDPOINT_TRY(files, make_picture(*scene.staging, *scene.index, request, options,
                                       arguments.file, line.progress()));
    line.clear();
    STANDPOINT_TRY_STATUS(print(streams, files[0] + "\n"));
    return exit_done;
}

Result<int> run_export(const ExportArguments& arguments, const Streams& streams) {
    STANDPOINT_TRY(scene, open_scene(arguments.scene, DiskFiles()));
    StringSink glb;
    STANDPOINT_TRY_STATUS(write_glb(*scene.staging, glb));
    STANDPOINT_TRY_STATUS(save_file(arguments.file, glb.bytes));
    STANDPOINT_TRY_STATUS(print(streams, arguments.file + "\n"));
    return exit_done;
}

// Prints which figures were turned; the checks say which still do not reach.
Result<int> run_settle(const SettleArguments& arguments, const Streams& streams) {
    STANDPOINT_TRY(scene, open_scene(arguments.scene, DiskFiles()));
    const Document& document = scene.staging->document;
    STANDPOINT_TRY(steps, settle_all(document, arguments.scene, DiskFiles()));
    const Edit edit = with_faces(document, Edit("settle", steps), arguments.scene, DiskFiles());
    STANDPOINT_TRY(settled, apply(document, edit));
    STANDPOINT_TRY_STATUS(save_file(arguments.file, write_document(settled)));
    std::string said;
    for (const EditStep& step : steps)
        said += std::get<ReplacePiece>(step.what).id + "\n";
    STANDPOINT_TRY_STATUS(print(streams, said + arguments.file + "\n"));
    return exit_done;
}

Result<int> run_window_command(const WindowCommandArguments& arguments) {
    STANDPOINT_TRY_STATUS(
        run_window({arguments.scene, arguments.width, arguments.height, arguments.picture}));
    return exit_done;
}

Result<int> run_new(const NewArguments& arguments, const Streams& streams) {
    std::error_code error;
    if (std::filesystem::exists(std::filesystem::symlink_status(arguments.file, error)))
        return input_error(arguments.file, "found a file there already, expected a new name");
    STANDPOINT_TRY_STATUS(save_file(arguments.file, write_document(starting_document())));
    STANDPOINT_TRY_STATUS(print(streams, arguments.file + "\n"));
    return exit_done;
}

} // namespace standpoint
