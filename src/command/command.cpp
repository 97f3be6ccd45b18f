// Describes the commands to CLI11 and maps what happens to the three exit codes.
#include "command/command.h"

#include <algorithm>

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include "check/run.h"
#include "command/actions.h"

namespace standpoint {
namespace {

struct Arguments {
    CheckArguments check;
    SheetsArguments sheets;
    PictureArguments picture;
    ExportArguments export_;
    SettleArguments settle;
    NewArguments new_;
    WindowCommandArguments window;
};

std::string footer() {
    std::string text = "Lengths are read in either system: 1600, 1.6 m, 5' 3\", 63 1/2 in.\n"
                       "Exit codes: 0 done; 1 check found a failure; 2 input or usage wrong.\n";
    for (const std::string& caution : cautions())
        text += "\n" + caution;
    return text;
}

void add_threads(CLI::App& command, unsigned& threads) {
    command.add_option("--threads", threads, "Threads to use, 0 for all; never changes the result")
        ->check(CLI::Range(0u, 1024u));
}

void add_check(CLI::App& app, CheckArguments& check) {
    CLI::App* command = app.add_subcommand(
        "check", "Check what visitors see, whether they can walk, and how pieces stand");
    command->add_option("SCENE", check.scene, "Scene file")->required();
    command->add_option("--json", check.json, "Write all results as JSON to this file, - for here");
    add_threads(*command, check.threads);
}

void add_sheets(CLI::App& app, SheetsArguments& sheets) {
    CLI::App* command =
        app.add_subcommand("sheets", "Write placements.csv and sheets.pdf for the installers");
    command->add_option("SCENE", sheets.scene, "Scene file")->required();
    command->add_option("-o,--output", sheets.folder, "Folder to write into")->required();
    add_threads(*command, sheets.threads);
}

void add_picture(CLI::App& app, PictureArguments& picture) {
    CLI::App* command = app.add_subcommand("picture", "Draw what a visitor sees from the path");
    command->add_option("SCENE", picture.scene, "Scene file")->required();
    command->add_option("-o,--output", picture.file, "PNG file to write")->required();
    command->add_option("--visitor", picture.visitor, "Id of the visitor; else the scene's first");
    command->add_option("--at", picture.at,
                        "Distance along the path, such as 4.5 m; else its start");
    command->add_option("--lane", picture.lane, "left, middle or right, walking from the start");
    command->add_option("--look", picture.look, "Id of a piece, section or target to look at");
    command->add_option("--width", picture.width, "Pixels across")->check(CLI::Range(16, 8192));
    command->add_option("--height", picture.height, "Pixels down")->check(CLI::Range(16, 8192));
    command->add_option("--samples", picture.samples, "Samples a pixel")->check(CLI::Range(1, 64));
    add_threads(*command, picture.threads);
}

void add_window(CLI::App& app, WindowCommandArguments& window) {
    CLI::App* command = app.add_subcommand("window", "Stage the scene by hand; needs a display");
    command->add_option("SCENE", window.scene, "Scene file; else a page to begin from");
    command->add_option("--picture", window.picture,
                        "Write the window as PNG once everything is checked, and leave");
    command->add_option("--width", window.width, "Pixels across")->check(CLI::Range(320, 8192));
    command->add_option("--height", window.height, "Pixels down")->check(CLI::Range(240, 8192));
}

void add_rest(CLI::App& app, Arguments& arguments) {
    CLI::App* glb = app.add_subcommand("export", "Write the placed scene as one .glb");
    glb->add_option("SCENE", arguments.export_.scene, "Scene file")->required();
    glb->add_option("-o,--output", arguments.export_.file, ".glb file to write")->required();
    CLI::App* settle = app.add_subcommand(
        "settle", "Bring hands, seats and eyes of figures to what they touch and look at");
    settle->add_option("SCENE", arguments.settle.scene, "Scene file")->required();
    settle
        ->add_option("-o,--output", arguments.settle.file,
                     "Scene file to write, beside SCENE for its models to be found")
        ->required();
    CLI::App* fresh = app.add_subcommand("new", "Write an empty scene to start from");
    fresh->add_option("FILE", arguments.new_.file, "Scene file to write; must not exist")
        ->required();
}

Result<int> act(const CLI::App& app, const Arguments& arguments, const Streams& streams) {
    if (app.got_subcommand("check")) return run_check(arguments.check, streams);
    if (app.got_subcommand("sheets")) return run_sheets(arguments.sheets, streams);
    if (app.got_subcommand("picture")) return run_picture(arguments.picture, streams);
    if (app.got_subcommand("export")) return run_export(arguments.export_, streams);
    if (app.got_subcommand("settle")) return run_settle(arguments.settle, streams);
    if (app.got_subcommand("window")) return run_window_command(arguments.window);
    return run_new(arguments.new_, streams);
}

std::string first_line(std::string text) {
    std::replace(text.begin(), text.end(), '\n', ' ');
    return text;
}

int finish(const Result<int>& result, const Streams& streams) {
    if (result.ok()) return result.value();
    streams.err("standpoint: " + first_line(one_line(result.error())) + "\n");
    return exit_wrong;
}

} // namespace

int run_command(const std::vector<std::string>& arguments, const Streams& streams) {
    CLI::App app("Standpoint plans the staging of an enlarged scene: what visitors see from their "
                 "path, whether they get through, and where each piece goes.",
                 "standpoint");
    app.require_subcommand(1);
    app.footer(footer());
    app.set_version_flag("--version", std::string("standpoint ") + STANDPOINT_VERSION);
    Arguments parsed;
    add_check(app, parsed.check);
    add_sheets(app, parsed.sheets);
    add_picture(app, parsed.picture);
    add_window(app, parsed.window);
    add_rest(app, parsed);
    std::vector<std::string> reversed(arguments.rbegin(), arguments.rend());
    try {
        app.parse(reversed);
    } catch (const CLI::CallForVersion&) {
        return streams.out(app.version() + "\n") ? exit_done : exit_wrong;
    } catch (const CLI::Success&) {
        return streams.out(app.help()) ? exit_done : exit_wrong;
    } catch (const CLI::ParseError& error) {
        streams.err(
            fmt::format("standpoint: {}; see standpoint --help\n", first_line(error.what())));
        return exit_wrong;
    }
    return finish(act(app, parsed, streams), streams);
}

} // namespace standpoint
