// The closed list of edits: small values that hold results, never instructions to compute, so that
// a log of them gives the same document whenever it is played again.
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/result.h"
#include "scene/document.h"

namespace standpoint {

struct PutPiece { // before the piece that is at `index` now; at the end when index is the count
    int index = 0;
    std::shared_ptr<const Piece> piece;
};
struct ReplacePiece { // the new one may have another id; what refers to it changes in the same edit
    std::string id;
    std::shared_ptr<const Piece> piece;
};
struct RemovePiece {
    std::string id;
};
struct MovePiece {
    std::string id;
    Pose6 at;
};
struct AttachPiece { // to a section, to a piece, or to nothing
    std::string id;
    Support support = Support::none;
    std::string host;
    Pose6 at; // in the axes of the new host
};
struct SwitchPiece {
    std::string id;
    Off off = Off::no;
};
struct PutTarget {
    int index = 0;
    std::shared_ptr<const Target> target;
};
struct ReplaceTarget {
    std::string id;
    std::shared_ptr<const Target> target;
};
struct RemoveTarget {
    std::string id;
};
struct SetSettings {
    std::shared_ptr<const Settings> settings;
};
struct SetHall {
    std::shared_ptr<const Hall> hall;
};
struct SetSections {
    std::shared_ptr<const std::vector<Section>> sections;
};
struct SetJoinLines {
    std::shared_ptr<const std::vector<JoinLine>> join_lines;
};
struct SetReferencePoints {
    std::shared_ptr<const std::vector<ReferencePoint>> reference_points;
};
struct SetPath {
    std::shared_ptr<const Path> path;
};
struct SetVisitors {
    std::shared_ptr<const std::vector<Visitor>> visitors;
};
struct SetRules {
    std::shared_ptr<const RuleChoice> rules;
};

using EditKind =
    std::variant<PutPiece, ReplacePiece, RemovePiece, MovePiece, AttachPiece, SwitchPiece,
                 PutTarget, ReplaceTarget, RemoveTarget, SetSettings, SetHall, SetSections,
                 SetJoinLines, SetReferencePoints, SetPath, SetVisitors, SetRules>;

struct EditStep {
    EditKind what;
};

// One step of undo. Several steps are a compound: all of them, or none.
struct Edit {
    std::string label; // "move the hut"
    std::vector<EditStep> steps;

    Edit() = default;
    Edit(std::string what_for, std::vector<EditStep> all)
        : label(std::move(what_for)), steps(std::move(all)) {}
    Edit(std::string what_for, EditKind one) : label(std::move(what_for)) {
        steps.push_back({std::move(one)});
    }
};

// The document after the edit, which is valid; what the edit does not touch is shared with the
// one before. Errors (input): an id that is not there, an index out of range, or a result that
// breaks a rule of validate (where: a pointer into the result).
Result<Document> apply(const Document& document, const Edit& edit);

} // namespace standpoint
