// Setting what a scene is beside its pieces: title block, ratios, base, hall, path, reference
// points, visitors, rules. One undo step each.
// Errors everywhere (input): an index out of range, or a value that validate refuses.
#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "scene/edit.h"

namespace standpoint {

// -- title block and settings --

enum class TitleLine { title, number, revision, date, drawn_by, legal_owner, note };
inline constexpr const char* title_line_names[] = {"Title",    "Number", "Revision", "Date",
                                                   "Drawn by", "Owner",  "Note"};
const std::string& title_line(const Settings& settings, TitleLine line);
Result<Edit> set_title_line(const Document& document, TitleLine line, const std::string& text);

enum class SceneRatio { setting, figures };
Result<Edit> set_scene_ratio(const Document& document, SceneRatio which, const Ratio& ratio);
Result<Edit> set_units(const Document& document, UnitSystem units);
// Nothing: measure/tolerance.h.
Result<Edit> set_placing_tolerance(const Document& document,
                                   const std::optional<Length>& tolerance);

// -- hall and path --

enum class PointList { hall, path };
const std::vector<PlanPoint>& points_of(const Document& document, PointList list);
Result<Edit> set_point(const Document& document, PointList list, std::size_t index,
                       const PlanPoint& point);
// After the point of that index, half-way to the next; after the last of the path, straight on by
// a metre.
Result<Edit> add_point(const Document& document, PointList list, std::size_t index);
Result<Edit> remove_point(const Document& document, PointList list, std::size_t index);
Result<Edit> set_ceiling(const Document& document, const Length& height);
Result<Edit> set_path_width(const Document& document, const Length& width);

// -- the base --

// Where two sections' sides touch, over at least a millimetre: as the join lines of a base that is
// built of plain rectangles.
std::vector<JoinLine> joins_of(const std::vector<Section>& sections);
// Join lines that were those of joins_of stay so; others are left as they are, but for those of a
// section that goes.
Result<Edit> set_section(const Document& document, std::size_t index, const Section& section);
// Of the size of the last, at its right; named by the next letter.
Result<Edit> add_section(const Document& document);
// Errors: something stands on it, or it is the last.
Result<Edit> remove_section(const Document& document, std::size_t index);

// -- reference points --

Result<Edit> set_reference_point(const Document& document, std::size_t index,
                                 const ReferencePoint& point);
Result<Edit> add_reference_point(const Document& document, const ReferencePoint& point);
Result<Edit> remove_reference_point(const Document& document, std::size_t index);
// "R1", "R2", ...: the first that is free.
std::string free_reference_id(const Document& document);
// One at each corner of the base that has none yet: left front, right front, right back, left back.
Result<Edit> reference_points_at_corners(const Document& document);

// -- visitors and rules --

// A change of the eyes, the crown or the setback is the shop's own: the source says so.
Result<Edit> set_visitor(const Document& document, std::size_t index, Visitor visitor);
Result<Edit> add_visitor(const Document& document, Visitor visitor); // under a free id
Result<Edit> remove_visitor(const Document& document, std::size_t index);
inline constexpr const char* own_source = "the shop's own";

Result<Edit> use_rules(const Document& document, const std::string& preset, bool use);

} // namespace standpoint
