// How a figure can move and what it looks like: segments, joints, contacts and the solids of its
// body. A skeleton is a value read from a JSON file (skeleton.schema.json).
//
// Stance and axes: in the neutral stance a figure faces -Y, its own left is +X, Z is up, and the
// axes of every segment are those of the figure. A human stands upright with the arms hanging,
// palms to the thighs and thumbs to the front. Lengths are millimetres of a body of the skeleton's
// own stature; another stature scales all of them alike. Angles are degrees from the neutral
// stance; a joint turns by its axes in their order, the first one outermost.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include <glm/vec3.hpp>

#include "base/files.h"
#include "base/result.h"
#include "scene/form.h"

namespace standpoint {

struct JointAxis {
    std::string name;           // "flexion"
    std::string trade;          // what a sculptor calls it: "bend forward"
    glm::dvec3 about{1, 0, 0};  // along an axis of the figure, right-handed, for positive angles
    double least = 0, most = 0; // degrees; least <= 0 <= most is not demanded
};

struct BodySegment {
    std::string name;
    glm::dvec3 tip{0.0};   // from its joint to its far end
    double mass_share = 0; // of the whole
    double centre = 0.5;   // of mass, along the segment from its joint
    double radius = 0;     // mean radius of its cross-section
};

// Joints come parent first; each segment hangs from one joint, and the first joint, which has no
// parent, holds the whole figure against the ground.
struct Joint {
    std::string name; // also its role: poses name joints by it
    std::string trade;
    int parent = -1;    // segment, -1: the ground
    int segment = 0;    // the one it moves
    glm::dvec3 at{0.0}; // in the parent's axes
    std::vector<JointAxis> axes;
};

enum class ContactKind { palm, grip, sole, seat, back, eyes };
inline constexpr const char* contact_kind_names[] = {"palm", "grip", "sole",
                                                     "seat", "back", "eyes"};

struct BodyContact {
    std::string name;
    ContactKind kind = ContactKind::sole;
    int segment = 0;
    std::vector<glm::dvec3> points; // at least one, in the segment's axes
    glm::dvec3 normal{0, 0, -1};    // outward; of the eyes: where they look
};

enum class Ends { round, flat_far, flat };
inline constexpr const char* ends_names[] = {"round", "flat far end", "flat"};
enum class Worn { always, hat, bare_head, skirt, trousers };
inline constexpr const char* worn_names[] = {"always", "hat", "bare head", "skirt", "trousers"};

// A region is one closed skin about its solids; each is a part of the mesh.
struct BodyRegion {
    std::string name;
    std::string colour; // a key of the dress, or #rrggbb
    double cell = 10;   // mm between the points of the net over it
    Worn worn = Worn::always;
    double front_below = 0; // where not 0: what lies in front of this y (in the axes of the
    std::string front;      // segment of its first solid) and above the foot of that solid's
                            // far end is a part of its own, of this name
};

// A cone with round ends about a line, or a ball where both ends are one point.
struct BodySolid {
    int region = 0, segment = 0;
    glm::dvec3 from{0.0}, to{0.0};
    double radius = 1, end_radius = 1;
    glm::dvec3 stretch{1.0}; // of the whole solid about `from`, by the segment's axes
    double blend = 0;        // mm over which it flows into the ones before it
    bool carve = false;      // takes away instead
    Ends ends = Ends::round;
    double hem_from = 0, hem_to = 0; // share of the hem it covers; equal: not a hem
};

struct Skeleton {
    std::string name, description, source;
    std::string measured;  // what stature is: "crown over soles"
    double stature = 1700; // mm
    std::vector<BodySegment> segments;
    std::vector<Joint> joints;
    std::vector<BodyContact> contacts;
    std::vector<BodyRegion> regions;
    std::vector<BodySolid> solids;
    FigureDress dress; // what the form leaves out
};

// Errors (input), with line, column and pointer: anything the schema refuses, names that are not
// there or come twice, a joint before its parent, shares of mass that do not sum to 1 within 0.001.
Result<Skeleton> read_skeleton(std::string_view json, const std::string& file);

// -1: none.
int joint_index(const Skeleton& skeleton, std::string_view name);
int axis_index(const Joint& joint, std::string_view name);
int segment_index(const Skeleton& skeleton, std::string_view name);

} // namespace standpoint
