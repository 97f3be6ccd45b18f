// What a part of a piece is made of: the primitives and the model file. All lengths are those of
// the original (the small thing); placing multiplies them by the piece's ratio.
//
// Each form sits in its own axes: Z up, front -Y, the middle of its foot at the origin (a model
// file keeps its own origin).
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "measure/angle.h"
#include "measure/length.h"
#include "measure/ratio.h"

namespace standpoint {

struct PlanPoint {
    Length x, y;
    friend bool operator==(const PlanPoint&, const PlanPoint&) = default;
};

struct BoxForm { // width along X, depth along Y, height along Z
    Length width, depth, height;
    friend bool operator==(const BoxForm&, const BoxForm&) = default;
};
struct CylinderForm {
    Length diameter, height;
    friend bool operator==(const CylinderForm&, const CylinderForm&) = default;
};
struct ConeForm { // top diameter 0 is a point
    Length diameter, top_diameter, height;
    friend bool operator==(const ConeForm&, const ConeForm&) = default;
};
struct SphereForm { // rests on the origin
    Length diameter;
    friend bool operator==(const SphereForm&, const SphereForm&) = default;
};
struct CapsuleForm { // upright; height over both caps, at least the diameter
    Length diameter, height;
    friend bool operator==(const CapsuleForm&, const CapsuleForm&) = default;
};
struct ExtrusionForm { // a simple outline in plan, either way round, raised by height
    std::vector<PlanPoint> outline;
    Length height;
    friend bool operator==(const ExtrusionForm&, const ExtrusionForm&) = default;
};
struct TurningForm { // profile of (radius, height) pairs from foot to top, turned about Z
    std::vector<PlanPoint> profile; // x = radius >= 0, y = height
    friend bool operator==(const TurningForm&, const TurningForm&) = default;
};
struct StairsForm { // rises away from the front: first riser at the front edge
    Length width, going, rise;
    int steps = 1;
    friend bool operator==(const StairsForm&, const StairsForm&) = default;
};
struct FenceForm {              // posts along a run, joined by rails or ropes
    std::vector<PlanPoint> run; // a post stands at each point and between them at the spacing
    Length height, post_diameter, post_spacing;
    std::vector<Length> rail_heights;
    Length rail_diameter;
    Length sag; // how far a rope hangs through at mid span; 0 is a stiff rail
    friend bool operator==(const FenceForm&, const FenceForm&) = default;
};
struct WallOpening { // along the wall from its left end seen from the front
    Length from_left, sill, width, height;
    friend bool operator==(const WallOpening&, const WallOpening&) = default;
};
struct WallForm { // openings lie inside the wall and do not meet each other
    Length width, thickness, height;
    std::vector<WallOpening> openings;
    friend bool operator==(const WallForm&, const WallForm&) = default;
};
struct TerrainForm { // rows of heights, first row at the front, each row from left to right
    Length width, depth;
    int columns = 2, rows = 2;   // >= 2 each
    std::vector<Length> heights; // columns * rows, each >= 0 above the flat foot
    friend bool operator==(const TerrainForm&, const TerrainForm&) = default;
};
struct ModelForm {
    std::string file;    // .gltf or .glb beside the scene, forward slashes
    Length unit{1000.0}; // length of one unit of the file; glTF says metres
    friend bool operator==(const ModelForm&, const ModelForm&) = default;
};

struct JointTurn { // takes the place of the pose's angle about this axis
    std::string joint, axis;
    Angle angle; // from the skeleton's neutral stance, at most 360 either way
    friend bool operator==(const JointTurn&, const JointTurn&) = default;
};
struct FigureDress { // colours, "#rrggbb"; "": the skeleton's own
    std::string skin, hair, coat, trousers, shoes;
    std::string skirt;         // "": trousers
    std::string hat;           // "": bare-headed
    std::optional<Number> hem; // of coat or skirt: 0 at the waist, 1 at the ankle
    friend bool operator==(const FigureDress&, const FigureDress&) = default;
};
// A figure: a skeleton held in a pose. Its origin is on the ground (the plane of its soles):
// between the soles when it stands, under the pelvis when it sits. See figure/skeleton.h.
struct FigureForm {
    std::string skeleton;          // a built-in name, or a .json file beside the scene
    std::optional<Length> stature; // crown over soles when upright; not set: the skeleton's own
    std::string pose;              // a built-in name or a .json file; "": the skeleton's stance
    std::vector<JointTurn> turns;  // each axis once
    // What contacts and gaze turn (figure/settle.h), each axis once: over the pose and the turns.
    std::vector<JointTurn> solved;
    FigureDress dress;
    friend bool operator==(const FigureForm&, const FigureForm&) = default;
};

using Form =
    std::variant<BoxForm, CylinderForm, ConeForm, SphereForm, CapsuleForm, ExtrusionForm,
                 TurningForm, StairsForm, FenceForm, WallForm, TerrainForm, ModelForm, FigureForm>;

// The key of a form in a scene file, in the order of the variant: "box", "cylinder", ...
inline constexpr const char* form_names[] = {"box",       "cylinder", "cone",   "sphere", "capsule",
                                             "extrusion", "turning",  "stairs", "fence",  "wall",
                                             "terrain",   "model",    "figure"};

} // namespace standpoint
