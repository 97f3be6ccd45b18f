// Setting what must be seen or hidden.
#include "desk/target_fields.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <set>

#include "desk/figure_fields.h"
#include "measure/angle.h"
#include "measure/frame.h"

namespace standpoint {

namespace {

constexpr const char* face_name = "face"; // of every human skeleton: shape/figure_mesh.h

Result<Edit> changed(const Document& document, const std::string& id, const std::string& label,
                     const std::function<void(Target&)>& change) {
    const Target* target = find_target(document, id);
    if (!target)
        return input_error("", "found no target " + in_quotes(id) + ", expected one of the scene");
    Target made = *target;
    change(made);
    if (made == *target) return Edit(label, std::vector<EditStep>{});
    return Edit(label, ReplaceTarget{id, std::make_shared<const Target>(std::move(made))});
}

std::string called(const Document& document, const std::string& id) {
    const Target* target = find_target(document, id);
    return target && !target->name.empty() ? target->name : id;
}

} // namespace

std::vector<std::shared_ptr<const Target>> targets_of(const Document& document,
                                                      const std::string& piece) {
    std::vector<std::shared_ptr<const Target>> found;
    for (const auto& target : *document.targets)
        if (target->piece == piece) found.push_back(target);
    return found;
}

std::vector<std::string> patch_names(const StagedPiece& piece) {
    std::vector<std::string> names;
    const auto add = [&](const std::string& name) {
        if (!name.empty() && std::find(names.begin(), names.end(), name) == names.end())
            names.push_back(name);
    };
    for (const MeshPart& part : piece.mesh->parts) {
        add(part.belongs_to);
        add(part.name);
    }
    return names;
}

Result<std::optional<double>> gaze_facing(const Piece& piece, const std::string& scene_file,
                                          const FileAccess& files) {
    STANDPOINT_TRY(held, held_figure(piece, scene_file, files));
    if (!held) return std::optional<double>();
    const auto part = std::find_if(piece.parts.begin(), piece.parts.end(), [](const Part& p) {
        return std::holds_alternative<FigureForm>(p.form);
    });
    const glm::dvec3 gaze = rotation_of(part->at.facing.deg, part->at.tilt.deg, part->at.roll.deg) *
                            posed(held->figure).gaze;
    // Straight up or down it faces nowhere; the front is as good as any side.
    if (std::hypot(gaze.x, gaze.y) < 1e-6) return std::optional<double>(0);
    const double facing = normalise_facing(atan2_deg(-gaze.x, -gaze.y));
    return std::optional<double>(std::fmod(std::round(facing), 360.0));
}

Result<Edit> add_target(const Document& document, const Staging& staging, const std::string& piece,
                        Aim aim, const std::string& scene_file, const FileAccess& files) {
    STANDPOINT_TRY_STATUS(check_there(document, {piece}));
    const Piece& held = *find_piece(document, piece);
    const StagedPiece* staged = find_staged(staging, piece);
    const std::vector<std::string> names =
        staged ? patch_names(*staged) : std::vector<std::string>{};
    const bool face =
        aim == Aim::see && std::find(names.begin(), names.end(), face_name) != names.end();
    std::set<std::string> taken;
    for (const auto& other : *document.targets)
        taken.insert(other->id);
    Target target;
    target.piece = piece;
    target.aim = aim;
    target.id = unique_id(taken, face ? piece + "-face" : piece);
    target.name = face ? "the face of " + spoken(held) : spoken(held);
    if (face) {
        target.patch.parts = {face_name};
        STANDPOINT_TRY(facing, gaze_facing(held, scene_file, files));
        if (facing) target.facing = Angle(*facing);
    }
    const std::string label = (aim == Aim::see ? "To be seen: " : "To be hidden: ") + target.name;
    return Edit(label, PutTarget{static_cast<int>(document.targets->size()),
                                 std::make_shared<const Target>(std::move(target))});
}

Result<Edit> remove_target(const Document& document, const std::string& id) {
    if (!find_target(document, id))
        return input_error("", "found no target " + in_quotes(id) + ", expected one of the scene");
    return Edit("No longer asked of: " + called(document, id), RemoveTarget{id});
}

namespace {

bool is_face_looking(const Target& target, const std::string& piece, double facing) {
    constexpr double as_good_as_deg = 1;
    if (target.piece != piece || !target.facing) return false;
    if (target.patch.parts != std::vector<std::string>{face_name}) return false;
    const double apart = normalise_facing(target.facing->deg - facing);
    return std::min(apart, 360 - apart) <= as_good_as_deg;
}

bool replaced_again(const Edit& edit, std::size_t step) {
    const std::string& id = std::get<ReplacePiece>(edit.steps[step].what).piece->id;
    for (std::size_t i = step + 1; i < edit.steps.size(); ++i) {
        const auto* later = std::get_if<ReplacePiece>(&edit.steps[i].what);
        if (later && later->id == id) return true;
    }
    return false;
}

} // namespace

Edit with_faces(const Document& document, const Edit& edit, const std::string& scene_file,
                const FileAccess& files) {
    Edit out = edit;
    for (std::size_t i = 0; i < edit.steps.size(); ++i) {
        const auto* replaced = std::get_if<ReplacePiece>(&edit.steps[i].what);
        if (replaced && replaced_again(edit, i)) continue;
        const Piece* before = replaced ? find_piece(document, replaced->id) : nullptr;
        // Under another id its targets are replaced already, and it looks where it did.
        if (!before || replaced->piece->id != before->id) continue;
        if (targets_of(document, before->id).empty()) continue;
        const auto was = gaze_facing(*before, scene_file, files);
        const auto is = gaze_facing(*replaced->piece, scene_file, files);
        if (!was.ok() || !is.ok() || !*was || !*is || **was == **is) continue;
        for (const auto& target : targets_of(document, before->id)) {
            if (!is_face_looking(*target, before->id, **was)) continue;
            Target made = *target;
            made.facing = Angle(**is);
            out.steps.push_back(
                {ReplaceTarget{made.id, std::make_shared<const Target>(std::move(made))}});
        }
    }
    return out;
}

Result<Edit> set_target_name(const Document& document, const std::string& id,
                             const std::string& name) {
    return changed(document, id, "Name " + (name.empty() ? id : name),
                   [&](Target& target) { target.name = name; });
}

Result<Edit> set_target_aim(const Document& document, const std::string& id, Aim aim) {
    const std::string to = aim == Aim::see ? "To be seen: " : "To be hidden: ";
    return changed(document, id, to + called(document, id),
                   [&](Target& target) { target.aim = aim; });
}

Result<Edit> set_target_part(const Document& document, const std::string& id,
                             const std::string& part) {
    return changed(document, id, "Change what is looked at of " + called(document, id),
                   [&](Target& target) {
                       target.patch = Patch{};
                       if (!part.empty()) target.patch.parts = {part};
                   });
}

Result<Edit> set_target_facing(const Document& document, const std::string& id,
                               const std::optional<Angle>& facing) {
    return changed(document, id, "Change which way it faces: " + called(document, id),
                   [&](Target& target) { target.facing = facing; });
}

Result<Edit> set_target_share(const Document& document, const std::string& id,
                              const std::optional<Number>& seen_share) {
    return changed(document, id, "Change how much must be seen of " + called(document, id),
                   [&](Target& target) { target.seen_share = seen_share; });
}

Result<Edit> set_target_detail(const Document& document, const std::string& id,
                               const std::optional<Length>& smallest_detail) {
    return changed(document, id, "Change the smallest detail of " + called(document, id),
                   [&](Target& target) { target.smallest_detail = smallest_detail; });
}

} // namespace standpoint
