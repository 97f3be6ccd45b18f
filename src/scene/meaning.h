// Rules that one value must keep by itself, beyond the limits of its fields.
#pragma once

#include "scene/document.h"
#include "scene/problem.h"

namespace standpoint {

template <class T> Trouble meaning(const T&) {
    return std::nullopt;
}

Trouble meaning(const CapsuleForm& form);
Trouble meaning(const ExtrusionForm& form);
Trouble meaning(const TurningForm& form);
Trouble meaning(const StairsForm& form);
Trouble meaning(const FenceForm& form);
Trouble meaning(const WallForm& form);
Trouble meaning(const TerrainForm& form);
Trouble meaning(const ModelForm& form);
Trouble meaning(const JointTurn& turn);
Trouble meaning(const FigureDress& dress);
Trouble meaning(const FigureForm& form);
Trouble meaning(const Part& part);
Trouble meaning(const Touch& touch);
Trouble meaning(const Gaze& look);
Trouble meaning(const Piece& piece);
Trouble meaning(const JoinLine& line);
Trouble meaning(const Column& column);
Trouble meaning(const Hall& hall);
Trouble meaning(const Path& path);
Trouble meaning(const Visitor& visitor);
Trouble meaning(const Patch& patch);
Trouble meaning(const Target& target);
Trouble meaning(const RuleChoice& rules);
Trouble meaning(const Settings& settings);

} // namespace standpoint
