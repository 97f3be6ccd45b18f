// Opening, saving, dropping files, and the work that goes on behind the window.
#include "window/answers.h"

#include <algorithm>
#include <filesystem>

#include <fmt/format.h>

#include "desk/state_folders.h"
#include "window/library_images.h"
#include "window/overlay.h"
#include "window/view_adding.h"

namespace standpoint {

namespace {

std::string whole_path(const std::string& file) {
    std::error_code error;
    const std::filesystem::path path = std::filesystem::absolute(file, error);
    return error ? file : path.lexically_normal().string();
}

// A desk just opened: nothing of the last scene stays.
void sit_down(Shell& shell, Desk desk) {
    shell.desk = std::move(desk);
    shell.answers = {};
    shell.scrub = {};
    shell.pointer = {};
    shell.measuring = {};
    shell.checked_revision = ~std::uint64_t{0};
    shell.autosave = {};
    shell.finding = -1;
    shell.unfolded.clear();
    shell.panels.wrong = {};
    shell.panels.facts = {};
    shell.library_of = "?";
    shell.sheets_folder.clear(); // those of another scene are not written over
    shell.made_files.clear();
    for (std::size_t i = 0; i < shell.views.size(); ++i) {
        shell.views[i] = View{};
        shell.views[i].camera.kind = shell.settings.view_kinds[i];
    }
    if (!shell.desk->history.now().visitors->empty())
        shell.scrub.visitor = shell.desk->history.now().visitors->front().id;
    shell.scrub.distance_mm = path_length(*shell.desk->history.now().path) / 2;
    list_library(shell);
}

bool ends_with(const std::string& text, const std::string& end) {
    return text.size() >= end.size() &&
           text.compare(text.size() - end.size(), end.size(), end) == 0;
}

void keep_settings(Shell& shell) {
    if (shell.settings_file.empty()) return;
    const Status status = write_settings(shell.settings_file, shell.settings);
    if (!status.ok()) say_error(shell, status.error());
}

// Where the finding of that index is in the next outcome; -1: it is gone.
int same_finding(const CheckOutcome* before, const CheckOutcome& after, int index) {
    if (!before || !before->results || !after.results || index < 0) return -1;
    const Finding& held = before->results->findings[static_cast<std::size_t>(index)];
    const auto& all = after.results->findings;
    const auto found = std::find_if(all.begin(), all.end(), [&](const Finding& f) {
        return f.rule == held.rule && f.subject == held.subject && f.pieces == held.pieces;
    });
    return found == all.end() ? -1 : static_cast<int>(found - all.begin());
}

void take_outcome(Shell& shell) {
    const auto outcome = shell.check->poll();
    if (!outcome || outcome == shell.answers.outcome) return;
    Answers& answers = shell.answers;
    shell.finding = same_finding(answers.outcome.get(), *outcome, shell.finding);
    answers.outcome = outcome;
    if (!outcome->rough() && outcome->results) {
        if (answers.full && answers.full->revision != outcome->revision)
            answers.full_before = answers.full;
        answers.full = outcome;
        if (answers.full_before) answers.changes = compare_checks(*answers.full_before, *outcome);
    }
    if (outcome->has_sights()) answers.rows = strip_rows(*outcome, shell.unfolded);
    if (outcome->results) answers.widths = width_strip(*outcome);
}

void save_aside(Shell& shell) {
    if (!shell.recovery) return;
    if (const auto problem = shell.recovery->take_problem()) say_error(shell, *problem);
    if (autosave_due(shell.autosave, {}, shell.desk->revision, is_unsaved(*shell.desk),
                     shell.desk->history.dragging(), shell.clock) &&
        shell.recovery->write_behind(shell.desk->history.now(), shell.desk->file,
                                     shell.desk->revision, shell.now_text))
        autosave_done(shell.autosave, shell.desk->revision);
}

void take_job(Shell& shell) {
    if (!shell.job) return;
    const JobState state = shell.job->state();
    if (!state.finished) return;
    if (state.error) {
        if (state.error->code == ErrorCode::cancelled)
            say_done(shell, "Stopped; nothing was written");
        else
            say_error(shell, *state.error);
    } else {
        shell.made_files = state.files;
        if (shell.dialog == Dialog::none && shell.pointer.drag == Drag::none) {
            shell.dialog = Dialog::sheets; // they can be opened from there
            shell.dialog_opens = true;
        }
        say_done(shell,
                 fmt::format("Written: {} files in {}", state.files.size(), shell.sheets_folder));
    }
    shell.job.reset();
}

} // namespace

Box everything(const Shell& shell) {
    Box box, hall;
    if (!shell.desk) return box;
    for (const StagedPiece& piece : shell.desk->shown->pieces) {
        if (piece.staged == StagedKind::hall || piece.staged == StagedKind::column)
            hall = joined(hall, piece.box);
        else
            box = joined(box, piece.box);
    }
    const Document& document = shell.desk->history.now();
    for (const PlanPoint& p : document.path->points) {
        const double half = document.path->width.mm / 2;
        box =
            grown(grown(box, {p.x.mm - half, p.y.mm - half, 0}), {p.x.mm + half, p.y.mm + half, 0});
    }
    return box.empty() ? hall : box;
}

void say_done(Shell& shell, const std::string& text) {
    shell.message = text;
    shell.message_is_error = false;
}

void say_error(Shell& shell, const Error& error) {
    shell.message = one_line(error);
    shell.message_is_error = true;
}

bool do_edit(Shell& shell, const Result<Edit>& edit) {
    if (!edit.ok()) {
        say_error(shell, edit.error());
        return false;
    }
    if (shell.desk->history.dragging()) {
        say_error(shell, input_error("", "found something being moved, expected it let go first"));
        return false;
    }
    const Status status = perform(*shell.desk, *edit, shell.files);
    if (!status.ok()) {
        say_error(shell, status.error());
        return false;
    }
    refresh_index(*shell.desk);
    say_done(shell, edit->label);
    return true;
}

void start_drag(Shell& shell, const std::string& label) {
    begin_drag(*shell.desk, label);
    say_done(shell, "");
}

void follow_drag(Shell& shell, const Result<Edit>& edit) {
    if (!edit.ok()) return say_error(shell, edit.error());
    const Status status = update_drag(*shell.desk, *edit, shell.files);
    if (!status.ok()) return say_error(shell, status.error());
    say_done(shell, "");
}

void keep_drag(Shell& shell) {
    const bool kept = commit_drag(*shell.desk, shell.files);
    if (kept && !shell.message_is_error) say_done(shell, shell.desk->history.undo_label());
    refresh_index(*shell.desk);
}

void put_entry(Shell& shell, const LibraryEntry& entry, const glm::dvec3& onto) {
    refresh_index(*shell.desk);
    const Piece piece = new_piece(entry, shell.desk->history.now());
    if (do_edit(shell, add_piece(shell.desk->history.now(), *shell.desk->indexed,
                                 *shell.desk->index, piece, onto))) {
        select_only(*shell.desk, piece.id);
        follow_visitor(shell); // who looks at the middle of it all
    }
}

void open_file(Shell& shell, const std::string& file) {
    const std::string path = whole_path(file);
    Result<Desk> desk = open_desk(path, shell.files);
    if (!desk.ok()) return say_error(shell, desk.error());
    sit_down(shell, std::move(*desk));
    remember_scene(shell.settings, path);
    shell.settings.first_run_done = true;
    keep_settings(shell);
    say_done(shell, "Opened " + path);
}

void open_new(Shell& shell) {
    Result<Desk> desk = new_desk(shell.files);
    if (!desk.ok()) return say_error(shell, desk.error());
    sit_down(shell, std::move(*desk));
    say_done(shell, "A new scene: drag things in from the left");
}

void take_over(Shell& shell, const Recovery& left) {
    if (!shell.recovery) return;
    Result<Recovered> found = shell.recovery->take_over(left);
    if (!found.ok()) return say_error(shell, found.error());
    Result<Desk> desk =
        found->original.empty() ? new_desk(shell.files) : open_desk(found->original, shell.files);
    // The scene's file is gone or broken: what was saved aside stands in for it.
    if (!desk.ok()) desk = new_desk(shell.files);
    if (!desk.ok()) return say_error(shell, desk.error());
    const Document opened = desk->history.now();
    desk->history = History(found->document);
    Result<Staging> staging = stage(found->document, desk->file, shell.files, StagedFor::views);
    if (!staging.ok()) return say_error(shell, staging.error());
    desk->shown = std::make_shared<const Staging>(std::move(*staging));
    desk->on_disk = opened;
    refresh_index(*desk);
    sit_down(shell, std::move(*desk));
    say_done(shell, "Taken over what was not saved; save it to keep it");
}

void ask_then(Shell& shell, After after, const std::string& file) {
    shell.after = after;
    shell.after_file = file;
    if (!shell.desk || !is_unsaved(*shell.desk)) return do_after(shell);
    shell.dialog = Dialog::ask_unsaved;
    shell.dialog_opens = true;
}

void do_after(Shell& shell) {
    const After after = shell.after;
    shell.after = After::nothing;
    shell.dialog = Dialog::none;
    if (after != After::nothing && after != After::open_dialog && shell.recovery)
        shell.recovery->discard();
    switch (after) {
    case After::quit:
        shell.quit = true;
        break;
    case After::new_scene:
        open_new(shell);
        break;
    case After::open_file:
        open_file(shell, shell.after_file);
        break;
    case After::open_dialog:
        shell.dialog = Dialog::open;
        shell.dialog_opens = true;
        break;
    case After::nothing:
        break;
    }
}

bool save_to(Shell& shell, const std::string& file) {
    const std::string path = whole_path(file);
    const Status status = save_desk(*shell.desk, path, shell.files);
    if (!status.ok()) {
        say_error(shell, status.error());
        return false;
    }
    if (shell.recovery) shell.recovery->discard();
    remember_scene(shell.settings, path);
    keep_settings(shell);
    list_library(shell);
    say_done(shell, "Saved " + path);
    return true;
}

bool save_now(Shell& shell) {
    if (!shell.desk->file.empty()) return save_to(shell, shell.desk->file);
    shell.dialog = Dialog::save_as;
    shell.dialog_opens = true;
    return false;
}

void drop_file(Shell& shell, const std::string& file, const std::optional<glm::dvec2>& at) {
    if (ends_with(file, ".glb") || ends_with(file, ".gltf")) {
        if (!shell.desk) open_new(shell);
        Result<LibraryEntry> entry = bring_in(whole_path(file), shell.desk->file, shell.files);
        if (!entry.ok()) return say_error(shell, entry.error());
        const glm::dvec3 middle(glm::dvec2(everything(shell).centre()), 10000);
        if (!at || !put_entry_at(shell, *entry, *at)) put_entry(shell, *entry, middle);
        shell.library_of = "?";
        list_library(shell);
        return;
    }
    ask_then(shell, After::open_file, file);
}

void list_library(Shell& shell) {
    // Primitives and figures are sized to come out right under the ratios in force.
    const Settings& settings = *shell.desk->history.now().settings;
    const std::string wanted = fmt::format("{} {} {}", settings.setting_ratio.value,
                                           settings.figure_ratio.value, shell.desk->file);
    if (shell.library_of == wanted && !shell.library.empty()) return;
    Result<std::vector<LibraryEntry>> entries =
        library_of(shell.desk->history.now(), shell.desk->file, DiskFolders());
    if (!entries.ok()) return say_error(shell, entries.error());
    shell.library = std::move(*entries);
    shell.library_of = wanted;
}

void go_to(Shell& shell, const Finding& finding) {
    if (!finding.pieces.empty() && find_piece(shell.desk->history.now(), finding.pieces.front()))
        select_only(*shell.desk, finding.pieces.front());
    if (finding.distance) {
        shell.scrub.distance_mm = *finding.distance;
        if (find_target(shell.desk->history.now(), finding.subject))
            shell.scrub.look_at = finding.subject;
        follow_visitor(shell);
    }
    std::optional<glm::dvec3> place = finding.place;
    const Box box = selection_box(shell);
    if (!place && !box.empty()) place = box.centre();
    if (!place) return;
    for (View& view : shell.views)
        if (view.camera.kind != ViewKind::eye) view.camera.middle = *place;
    say_done(shell, finding.message);
}

namespace {

// Frames without a move after which a hand counts as resting.
constexpr int frames_at_rest = 6;

void let_figures_follow(Shell& shell) {
    if (!shell.desk->history.dragging()) return;
    if (shell.rested_at != shell.desk->revision) {
        shell.rested_at = shell.desk->revision;
        shell.frames_rested = 0;
        return;
    }
    if (++shell.frames_rested != frames_at_rest) return;
    const Status status = rest_drag(*shell.desk, shell.files);
    if (!status.ok()) say_error(shell, status.error());
}

} // namespace

void work_behind(Shell& shell) {
    take_job(shell);
    if (!shell.desk) return;
    let_figures_follow(shell);
    save_aside(shell);
    take_library_images(shell);
    if (!shell.check) return;
    if (!shell.desk->history.dragging() && shell.checked_revision != shell.desk->revision) {
        shell.checked_revision = shell.desk->revision;
        shell.check->start(shell.desk->history.now(), shell.desk->file, shell.desk->revision);
    }
    take_outcome(shell);
}

} // namespace standpoint
