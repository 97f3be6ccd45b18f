// Opens, edits, undoes and saves the scene on the desk, and keeps its solids in step.
#include "desk/desk.h"

#include <algorithm>
#include <filesystem>
#include <utility>

#include <fmt/format.h>

#include "base/save.h"
#include "desk/target_fields.h"
#include "figure/anthropometry.h"
#include "figure/contact.h"
#include "figure/settle.h"
#include "scene/json.h"

namespace standpoint {

namespace {

using Shown = std::shared_ptr<const Staging>;

Result<Shown> shown_of(const Staging* earlier, const Document& document, const std::string& file,
                       const FileAccess& files) {
    STANDPOINT_TRY(staging, earlier ? restage(*earlier, document, file, files, StagedFor::views,
                                              ModelFiles::as_before)
                                    : stage(document, file, files, StagedFor::views));
    return Shown(std::make_shared<const Staging>(std::move(staging)));
}

// Contacts that no skeleton has would make every edit fail: they are said when the scene is opened.
Status check_figures(const Document& document, const std::string& file, const FileAccess& files) {
    STANDPOINT_TRY(figures, placed_figures(document, file, files));
    static_cast<void>(figures);
    return Done{};
}

Result<Desk> desk_with(const Document& document, const std::string& file, const FileAccess& files) {
    STANDPOINT_TRY(shown, shown_of(nullptr, document, file, files));
    Desk desk{file, History(document), document, {}, std::move(shown), {}, 0, nullptr, nullptr};
    refresh_index(desk);
    return desk;
}

void now_shows(Desk& desk, Shown shown) {
    desk.shown = std::move(shown);
    ++desk.revision;
    const Document& document = desk.history.now();
    std::erase_if(desk.selected,
                  [&](const std::string& id) { return find_piece(document, id) == nullptr; });
}

// Undo or redo, and the way back when the document cannot be shown.
Result<bool> step(Desk& desk, const FileAccess& files, bool (History::*there)(),
                  bool (History::*back)()) {
    if (!(desk.history.*there)()) return false;
    Result<Shown> shown = shown_of(desk.shown.get(), desk.history.now(), desk.file, files);
    if (!shown.ok()) {
        (desk.history.*back)();
        return shown.error();
    }
    now_shows(desk, std::move(*shown));
    return true;
}

std::filesystem::path folder_of(const std::string& file) {
    std::error_code error;
    const std::filesystem::path whole = std::filesystem::absolute(file, error);
    return error ? std::filesystem::path(file).parent_path()
                 : whole.lexically_normal().parent_path();
}

// What was asked for with all that follows from it: hands and eyes stay with what they touch and
// watch, and faces to be seen turn with the figures.
Result<Edit> with_what_follows(const Document& document, const Edit& asked, const std::string& file,
                               const FileAccess& files) {
    STANDPOINT_TRY(after, apply(document, asked));
    STANDPOINT_TRY(steps, settle(document, after, file, files));
    Edit edit = asked;
    edit.steps.insert(edit.steps.end(), steps.begin(), steps.end());
    return with_faces(document, edit, file, files);
}

} // namespace

Result<Desk> open_desk(const std::string& file, const FileAccess& files) {
    STANDPOINT_TRY(json, files.read(file));
    STANDPOINT_TRY(document, read_document(json, file));
    STANDPOINT_TRY_STATUS(check_figures(document, file, files));
    return desk_with(document, file, files);
}

Result<Desk> new_desk(const FileAccess& files) {
    return desk_with(starting_document(), "", files);
}

bool is_unsaved(const Desk& desk) {
    return !same_content(desk.history.now(), desk.on_disk);
}

Status perform(Desk& desk, const Edit& asked, const FileAccess& files) {
    STANDPOINT_TRY(edit, with_what_follows(desk.history.now(), asked, desk.file, files));
    STANDPOINT_TRY(document, apply(desk.history.now(), edit));
    STANDPOINT_TRY(shown, shown_of(desk.shown.get(), document, desk.file, files));
    STANDPOINT_TRY_STATUS(desk.history.perform(edit));
    now_shows(desk, std::move(shown));
    return Done{};
}

Result<bool> undo(Desk& desk, const FileAccess& files) {
    return step(desk, files, &History::undo, &History::redo);
}

Result<bool> redo(Desk& desk, const FileAccess& files) {
    return step(desk, files, &History::redo, &History::undo);
}

void begin_drag(Desk& desk, const std::string& label) {
    desk.history.begin_drag(label);
}

namespace {

Status drag_to(Desk& desk, const Edit& edit, const FileAccess& files) {
    STANDPOINT_TRY_STATUS(desk.history.update_drag(edit));
    STANDPOINT_TRY(shown, shown_of(desk.shown.get(), desk.history.now(), desk.file, files));
    now_shows(desk, std::move(shown));
    return Done{};
}

} // namespace

Status update_drag(Desk& desk, const Edit& asked, const FileAccess& files) {
    STANDPOINT_TRY_STATUS(
        drag_to(desk, with_faces(desk.history.before_drag(), asked, desk.file, files), files));
    desk.dragged = asked;
    return Done{};
}

Status rest_drag(Desk& desk, const FileAccess& files) {
    if (!desk.dragged) return Done{};
    const Edit asked = *std::exchange(desk.dragged, std::nullopt);
    const Document& before = desk.history.before_drag();
    STANDPOINT_TRY(edit, with_what_follows(before, asked, desk.file, files));
    if (edit.steps.size() == with_faces(before, asked, desk.file, files).steps.size())
        return Done{}; // nobody turns
    return drag_to(desk, edit, files);
}

bool commit_drag(Desk& desk, const FileAccess& files) {
    // An error leaves the drag as it was last: what was moved has been moved.
    static_cast<void>(rest_drag(desk, files).ok());
    return desk.history.commit_drag();
}

void cancel_drag(Desk& desk, const FileAccess& files) {
    desk.dragged.reset();
    desk.history.cancel_drag();
    Result<Shown> shown = shown_of(desk.shown.get(), desk.history.now(), desk.file, files);
    // Moving back needs no file: every mesh is that of what was shown a moment ago.
    if (shown.ok()) now_shows(desk, std::move(*shown));
}

Status save_desk(Desk& desk, const std::string& file, const FileAccess& files) {
    const Document& document = desk.history.now();
    if (!desk.file.empty() && folder_of(file) != folder_of(desk.file)) {
        const auto staged = stage(document, file, files, StagedFor::views);
        if (!staged.ok())
            return input_error(file, fmt::format("the models lie beside {} and would not be found "
                                                 "from there: {}",
                                                 desk.file, one_line(staged.error())));
    }
    STANDPOINT_TRY_STATUS(save_file(file, write_document(document)));
    desk.file = file;
    desk.on_disk = document;
    return Done{};
}

bool refresh_index(Desk& desk) {
    if (desk.index && desk.indexed == desk.shown) return false;
    desk.index = make_ray_index(*desk.shown, {.quick = true}); // a few rays, but often anew
    desk.indexed = desk.shown;
    return true;
}

std::vector<std::string> group_of(const Document& document, const std::string& id) {
    const Piece* piece = find_piece(document, id);
    if (!piece) return {};
    if (piece->group.empty()) return {id};
    std::vector<std::string> ids;
    for (const auto& other : *document.pieces)
        if (other->group == piece->group) ids.push_back(other->id);
    return ids;
}

bool is_selected(const Desk& desk, const std::string& id) {
    return std::find(desk.selected.begin(), desk.selected.end(), id) != desk.selected.end();
}

namespace {

// Appends a piece with its group; the piece itself comes last, so that it leads.
void add_to_selection(Desk& desk, const std::string& id) {
    for (const std::string& other : group_of(desk.history.now(), id))
        if (other != id && !is_selected(desk, other)) desk.selected.push_back(other);
    if (find_piece(desk.history.now(), id)) desk.selected.push_back(id);
}

} // namespace

void select_only(Desk& desk, const std::string& id) {
    desk.selected.clear();
    add_to_selection(desk, id);
}

void select_toggle(Desk& desk, const std::string& id) {
    if (!is_selected(desk, id)) return add_to_selection(desk, id);
    for (const std::string& other : group_of(desk.history.now(), id))
        std::erase(desk.selected, other);
}

void select_all(Desk& desk) {
    desk.selected.clear();
    for (const auto& piece : *desk.history.now().pieces)
        if (!piece->locked && piece->off == Off::no) desk.selected.push_back(piece->id);
}

} // namespace standpoint
