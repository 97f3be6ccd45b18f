// Edits as lines of a log, by the same tables as scene files.
#include "scene/edit_json.h"

#include "scene/json_reader.h"
#include "scene/json_writer.h"

namespace standpoint {

inline constexpr const char* edit_names[] = {
    "put_piece",    "replace_piece", "remove_piece",   "move_piece",           "attach_piece",
    "switch_piece", "put_target",    "replace_target", "remove_target",        "set_settings",
    "set_hall",     "set_sections",  "set_join_lines", "set_reference_points", "set_path",
    "set_visitors", "set_rules"};
static_assert(std::size(edit_names) == std::variant_size_v<EditKind>);

template <> struct Fields<PutPiece> {
    static constexpr auto list =
        std::tuple{need("index", &PutPiece::index), need("piece", &PutPiece::piece)};
};
template <> struct Fields<ReplacePiece> {
    static constexpr auto list =
        std::tuple{need("id", &ReplacePiece::id), need("piece", &ReplacePiece::piece)};
};
template <> struct Fields<RemovePiece> {
    static constexpr auto list = std::tuple{need("id", &RemovePiece::id)};
};
template <> struct Fields<MovePiece> {
    static constexpr auto list = std::tuple{need("id", &MovePiece::id), need("at", &MovePiece::at)};
};
template <> struct Fields<AttachPiece> {
    static constexpr auto list =
        std::tuple{need("id", &AttachPiece::id), SupportField{}, need("at", &AttachPiece::at)};
};
template <> struct Fields<SwitchPiece> {
    static constexpr auto list =
        std::tuple{need("id", &SwitchPiece::id), need("off", &SwitchPiece::off)};
};
template <> struct Fields<PutTarget> {
    static constexpr auto list =
        std::tuple{need("index", &PutTarget::index), need("target", &PutTarget::target)};
};
template <> struct Fields<ReplaceTarget> {
    static constexpr auto list =
        std::tuple{need("id", &ReplaceTarget::id), need("target", &ReplaceTarget::target)};
};
template <> struct Fields<RemoveTarget> {
    static constexpr auto list = std::tuple{need("id", &RemoveTarget::id)};
};
template <> struct Fields<SetSettings> {
    static constexpr auto list = std::tuple{need("settings", &SetSettings::settings)};
};
template <> struct Fields<SetHall> {
    static constexpr auto list = std::tuple{need("hall", &SetHall::hall)};
};
template <> struct Fields<SetSections> {
    static constexpr auto list = std::tuple{need("sections", &SetSections::sections)};
};
template <> struct Fields<SetJoinLines> {
    static constexpr auto list = std::tuple{need("join_lines", &SetJoinLines::join_lines)};
};
template <> struct Fields<SetReferencePoints> {
    static constexpr auto list =
        std::tuple{need("reference_points", &SetReferencePoints::reference_points)};
};
template <> struct Fields<SetPath> {
    static constexpr auto list = std::tuple{need("path", &SetPath::path)};
};
template <> struct Fields<SetVisitors> {
    static constexpr auto list = std::tuple{need("visitors", &SetVisitors::visitors)};
};
template <> struct Fields<SetRules> {
    static constexpr auto list = std::tuple{need("rules", &SetRules::rules)};
};
template <> struct Fields<EditStep> {
    static constexpr auto list = std::tuple{OneOf{&EditStep::what, edit_names, "kind of edit"}};
};
template <> struct Fields<Edit> {
    static constexpr auto list =
        std::tuple{have("label", &Edit::label), need("steps", &Edit::steps)};
};

std::string write_edit(const Edit& edit) {
    return lay_out_line(written(edit));
}

Result<Edit> read_edit(std::string_view line, const std::string& file) {
    STANDPOINT_TRY(root, read_json_tree(line, file));
    FieldReader reader(line, file, root);
    Edit edit;
    if (!reader.read(root, edit)) return reader.error();
    return edit;
}

} // namespace standpoint
