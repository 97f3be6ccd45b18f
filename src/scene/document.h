// The document: everything staged, as a value. Copies are cheap (shared pointers to const), so a
// snapshot is a copy and pointer identity tells which pieces an edit changed.
//
// Lengths are double millimetres and angles degrees, each with the text it was read from. The
// datum is the origin; Z = 0 is the hall floor at the datum. Frame: measure/frame.h.
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "scene/form.h"

namespace standpoint {

inline constexpr int document_version = 1;

struct Pose6 { // position and turns; JSON "at"
    Length x, y, z;
    Angle facing, tilt, roll;
    friend bool operator==(const Pose6&, const Pose6&) = default;
};

struct Point3 {
    Length x, y, z;
    friend bool operator==(const Point3&, const Point3&) = default;
};

struct Part {         // original's lengths, in the piece's axes
    std::string name; // unique in the piece; one part may have none
    Form form;
    Pose6 at;
    std::string colour;                 // "#rrggbb", empty: by kind; a model keeps its own
    std::optional<Number> lets_through; // share of light 0..1 that passes, absent: 0
    std::optional<Number> gloss;        // share mirrored seen straight on, 0..1, absent: 0
    friend bool operator==(const Part&, const Part&) = default;
};

struct Mark { // a named point that goes on the floor, in the piece's axes, original's lengths
    std::string name; // "left heel"; left and right are a figure's own, of anything else as seen
                      // from its front
    Point3 at;
    friend bool operator==(const Mark&, const Mark&) = default;
};

enum class PieceKind { figure, prop, setting, ground, barrier, lamp, effect };
inline constexpr const char* piece_kind_names[] = {"figure",  "prop", "setting", "ground",
                                                   "barrier", "lamp", "effect"};

// What a figure does to another piece. It is kept to when either is moved (figure/settle.h).
enum class TouchHow { stands_on, sits_on, leans_on, holds, hands_over };
inline constexpr const char* touch_how_names[] = {"stands on", "sits on", "leans on", "holds",
                                                  "hands over"};
enum class PieceSide { left, right, front, back, top, bottom };
inline constexpr const char* piece_side_names[] = {"left", "right", "front",
                                                   "back", "top",   "bottom"};
struct Touch {
    TouchHow how = TouchHow::holds;
    std::string contact;           // of the figure's skeleton: "right palm"
    std::string piece;             // another than its own
    Point3 at;                     // the place touched, in that piece's axes, original's lengths
    std::optional<PieceSide> side; // the contact lies flat against this side; absent: as it comes
    std::string meets; // a contact of the figure touched, in place of `at`: two shake hands
    friend bool operator==(const Touch&, const Touch&) = default;
};
// At a piece, or at the eyes of a visitor on the path.
struct Gaze {
    std::string piece;         // another than its own; empty: at a visitor
    std::optional<Point3> at;  // as in Touch; absent: the eyes of a figure, the origin of the rest
    std::string visitor;       // id, where there is no piece
    std::optional<Length> way; // how far along the path the visitor stands, likewise
    friend bool operator==(const Gaze&, const Gaze&) = default;
};

enum class Support { none, section, stands_on, hangs_from };

enum class Off { no, views, views_and_checks };
inline constexpr const char* off_names[] = {"no", "views", "views and checks"};

struct Piece {
    std::string id; // [a-z0-9][a-z0-9-]*, at most 64; unique among pieces, sections, columns, doors
    std::string name;
    PieceKind kind = PieceKind::prop;
    // What it stands on or hangs from: nothing (the hall floor), the deck of a section, or another
    // piece. `host` is that section's or piece's id. On a section, `at` is in scene axes with z
    // above the deck; on a piece, in the host's axes in built millimetres from the host's origin.
    Support support = Support::none;
    std::string host;
    Pose6 at;
    std::optional<Ratio> ratio; // absent: the scene's ratio for its kind (ratio_of)
    std::vector<Part> parts;    // at least one
    std::vector<Mark> marks;
    std::vector<Touch> touches;   // of its first figure, each contact once
    std::optional<Gaze> looks_at; // likewise
    Off off = Off::no;
    std::string group;   // pieces of one group are picked together; empty: none
    bool locked = false; // stays where it is until unlocked; speaks to the window only
    std::string note;
    friend bool operator==(const Piece&, const Piece&) = default;
};

struct Section { // a part of the base that travels by itself: a box on the floor
    std::string id;
    std::string name;
    PlanPoint corner; // left front corner
    Length width, depth;
    Length height; // of the deck above the floor
    friend bool operator==(const Section&, const Section&) = default;
};

struct JoinLine {                     // where two sections meet
    std::string between_a, between_b; // section ids
    PlanPoint from, to;
    friend bool operator==(const JoinLine&, const JoinLine&) = default;
};

struct ReferencePoint {
    std::string id;          // "R1"; its own id space
    std::string description; // where it is, in words
    Point3 at;
    friend bool operator==(const ReferencePoint&, const ReferencePoint&) = default;
};

struct Column { // of the hall, floor to ceiling; round when diameter is set, else width x depth
    std::string id;
    PlanPoint centre;
    Length width, depth, diameter;
    friend bool operator==(const Column&, const Column&) = default;
};

struct Door { // in the hall's outline
    std::string id;
    PlanPoint centre;
    Length width, height; // clear opening
    friend bool operator==(const Door&, const Door&) = default;
};

struct Hall {
    std::string name;
    std::vector<PlanPoint> outline; // simple, at least 3 points, either way round
    Length ceiling;                 // height above the floor
    std::vector<Column> columns;
    std::vector<Door> doors;
    friend bool operator==(const Hall&, const Hall&) = default;
};

struct Path { // where visitors walk: a band of `width` about the points, from start to end
    std::vector<PlanPoint> points; // at least 2
    Length width;
    friend bool operator==(const Path&, const Path&) = default;
};

struct Visitor { // who looks; see figure/anthropometry.h for the built-in ones
    std::string id;
    std::string name;
    Length eye_height; // above the floor they stand on
    Length crown;      // top of the head (or of the person seated) above the floor
    Length setback;    // how far the eye stays inside the edge of the path
    bool seated = false;
    Number share; // of the audience, 0..1
    std::string source;
    friend bool operator==(const Visitor&, const Visitor&) = default;
};

enum class Aim { see, hide };

struct Patch {                      // the surface a target speaks of
    std::vector<std::string> parts; // part or model node names; empty: the whole piece
    // Only what lies inside this box (piece's axes, original's lengths), cut exactly.
    std::optional<Point3> low, high; // both or neither
    friend bool operator==(const Patch&, const Patch&) = default;
};

struct Target {
    std::string id; // own id space
    std::string name;
    std::string piece;
    Aim aim = Aim::see;
    Patch patch;
    // Which way the patch looks, degrees clockwise from the piece's own front; absent: no facing.
    std::optional<Angle> facing;
    // Absent: the rule of a face on a figure (100), of a page on anything else (60).
    std::optional<Angle> facing_limit;
    std::optional<Number> seen_share;      // V at or above which it is seen; absent: the rule (0.7)
    std::optional<Length> smallest_detail; // original's length
    friend bool operator==(const Target&, const Target&) = default;
};

struct OwnRule {       // the shop's own limit, beside the presets
    std::string id;    // of the quantity: see check/rules.h
    std::string value; // "1200 mm", "0.7", "3 arcmin" with the unit of the quantity
    std::string source;
    friend bool operator==(const OwnRule&, const OwnRule&) = default;
};

struct RuleChoice {
    std::vector<std::string> use; // preset ids; empty list: none
    std::vector<OwnRule> own;
    friend bool operator==(const RuleChoice&, const RuleChoice&) = default;
};

struct Settings {
    std::string title;
    std::string drawn_by, legal_owner, number, revision, date; // title block; date "2026-11-25"
    UnitSystem units = UnitSystem::metric;
    int inch_denominator = 16;
    Ratio setting_ratio, figure_ratio;
    std::optional<Length> course;            // height of one built layer
    std::optional<Length> placing_tolerance; // absent: measure/tolerance.h
    std::optional<Angle> turning_tolerance;
    std::string note;
    friend bool operator==(const Settings&, const Settings&) = default;
};

struct Document {
    std::shared_ptr<const Settings> settings; // none of the pointers is null
    std::shared_ptr<const Hall> hall;
    std::shared_ptr<const std::vector<Section>> sections;
    std::shared_ptr<const std::vector<JoinLine>> join_lines;
    std::shared_ptr<const std::vector<ReferencePoint>> reference_points;
    std::shared_ptr<const Path> path;
    std::shared_ptr<const std::vector<Visitor>> visitors;
    std::shared_ptr<const RuleChoice> rules;
    std::shared_ptr<const std::vector<std::shared_ptr<const Piece>>> pieces;
    std::shared_ptr<const std::vector<std::shared_ptr<const Target>>> targets;
};

Document empty_document(); // what `new` writes: a hall, a base of one section, a path, visitors
bool same_content(const Document& a, const Document& b);

// The ratio in force: the piece's own, else figures' for figures, 1 for barriers, lamps and
// effects, the setting's for the rest.
double ratio_of(const Document& document, const Piece& piece);

const Piece* find_piece(const Document& document, std::string_view id);     // null: none
const Section* find_section(const Document& document, std::string_view id); // null: none
const Visitor* find_visitor(const Document& document, std::string_view id); // null: none
const Target* find_target(const Document& document, std::string_view id);   // null: none

// The section a piece travels with: its own, or that of what it stands on; empty: none.
std::string section_of(const Document& document, const Piece& piece);
std::vector<std::string> sections_of(const Document& document); // one a piece, document order

// For each piece the index of the piece it stands on or hangs from; -1: a section or the floor.
std::vector<std::ptrdiff_t> host_indices(const Document& document);

// Everything that must hold of a document whether it was read or edited: ids well formed and
// unique, references resolve, no cycle of supports, numbers finite and in range. The error's
// `where` is a JSON pointer ("/pieces/3/host").
Status validate(const Document& document);

} // namespace standpoint
