// Rules that one value must keep by itself.
#include "scene/meaning.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include <fmt/format.h>

#include "base/files.h"
#include "scene/json_tree.h"
#include "scene/outline.h"
#include "scene/text.h"

namespace standpoint {

namespace {

constexpr int most_steps = 1000;
constexpr double most_posts = 10000;
constexpr std::size_t most_openings = 500;
constexpr int most_terrain_side = 2000;
constexpr double largest_turn_deg = 360;
constexpr std::size_t most_turns = 500;
// Sums of decimals such as 0.1 + 0.2 miss their mark by far less.
constexpr double sum_slack_mm = 1e-6;

std::string mm(const Length& length) {
    return print_exact(length.mm) + " mm";
}

std::string step(const char* list, std::size_t index) {
    return fmt::format("/{}/{}", list, index);
}

Trouble outline_trouble(const char* key, const std::vector<PlanPoint>& outline) {
    if (auto fault = outline_fault(outline)) return trouble(pointer_step(key), *fault);
    return std::nullopt;
}

Trouble run_trouble(const char* key, const std::vector<PlanPoint>& points) {
    if (points.size() < 2)
        return trouble(pointer_step(key),
                       fmt::format("found {} points, expected at least 2", points.size()));
    if (const auto again = repeated_point(points))
        return trouble(step(key, *again), "found the same point twice in a row, expected the "
                                          "points apart");
    return std::nullopt;
}

bool meet(const WallOpening& a, const WallOpening& b) {
    return a.from_left.mm <= b.from_left.mm + b.width.mm &&
           b.from_left.mm <= a.from_left.mm + a.width.mm && a.sill.mm <= b.sill.mm + b.height.mm &&
           b.sill.mm <= a.sill.mm + a.height.mm;
}

template <class Items>
Trouble distinct_names(const char* key, const Items& items, bool empty_allowed) {
    std::set<std::string_view> seen;
    for (std::size_t i = 0; i < items.size(); ++i) {
        const std::string& name = items[i].name;
        if (name.empty() && !empty_allowed)
            return trouble(step(key, i), "found no name, expected one");
        if (!seen.insert(name).second)
            return trouble(step(key, i) + "/name", "found the name " + in_quotes(name) +
                                                       " a second time, expected names to differ");
    }
    return std::nullopt;
}

// The names of built-in skeletons and poses are known further up; here only their form is.
Trouble built_in_or_file(const char* pointer, const std::string& name) {
    if (name.ends_with(".json")) {
        if (auto path = path_beside("", name); !path.ok())
            return trouble(pointer, path.error().message);
        return std::nullopt;
    }
    if (is_id(name)) return std::nullopt;
    return trouble(pointer, "found " + in_quotes(name) +
                                ", expected a built-in name or a .json file beside the scene");
}

Trouble turns_once(const char* key, const std::vector<JointTurn>& turns) {
    if (turns.size() > most_turns)
        return trouble(pointer_step(key), fmt::format("found {}, expected at most {} turns",
                                                      turns.size(), most_turns));
    std::set<std::pair<std::string_view, std::string_view>> seen;
    for (std::size_t i = 0; i < turns.size(); ++i)
        if (!seen.emplace(turns[i].joint, turns[i].axis).second)
            return trouble(step(key, i), "found " + in_quotes(turns[i].axis) + " of " +
                                             in_quotes(turns[i].joint) +
                                             " a second time, expected each axis once");
    return std::nullopt;
}

Trouble contacts_once(const Piece& piece) {
    std::set<std::string_view> seen;
    for (std::size_t i = 0; i < piece.touches.size(); ++i)
        if (!seen.insert(piece.touches[i].contact).second)
            return trouble(step("touches", i) + "/contact",
                           "found " + in_quotes(piece.touches[i].contact) +
                               " a second time, expected each contact once");
    return std::nullopt;
}

Trouble others_only(const Piece& piece) {
    const char* const expected = ", its own piece, expected the id of another";
    for (std::size_t i = 0; i < piece.touches.size(); ++i)
        if (piece.touches[i].piece == piece.id)
            return trouble(step("touches", i) + "/piece",
                           "found " + in_quotes(piece.id) + expected);
    if (piece.looks_at && piece.looks_at->piece == piece.id)
        return trouble("/looks_at/piece", "found " + in_quotes(piece.id) + expected);
    if (piece.touches.empty() && !piece.looks_at) return std::nullopt;
    for (const Part& part : piece.parts)
        if (std::holds_alternative<FigureForm>(part.form)) return std::nullopt;
    return trouble(piece.touches.empty() ? "/looks_at" : "/touches",
                   "found them on a piece without a figure, expected a figure among its parts");
}

} // namespace

Trouble meaning(const CapsuleForm& form) {
    if (form.height.mm >= form.diameter.mm) return std::nullopt;
    return trouble("/height", "found " + mm(form.height) + ", expected at least the diameter, " +
                                  mm(form.diameter));
}

Trouble meaning(const ExtrusionForm& form) {
    return outline_trouble("outline", form.outline);
}

Trouble meaning(const TurningForm& form) {
    if (auto fault = run_trouble("profile", form.profile)) return fault;
    if (form.profile.size() > most_outline_points)
        return trouble("/profile", fmt::format("found {} points, expected at most {}",
                                               form.profile.size(), most_outline_points));
    for (std::size_t i = 0; i < form.profile.size(); ++i)
        if (form.profile[i].x.mm < 0)
            return trouble(step("profile", i) + "/0",
                           "found a radius of " + mm(form.profile[i].x) + ", expected 0 or more");
    return std::nullopt;
}

Trouble meaning(const StairsForm& form) {
    if (form.steps <= most_steps) return std::nullopt;
    return trouble("/steps",
                   fmt::format("found {}, expected at most {} steps", form.steps, most_steps));
}

Trouble meaning(const FenceForm& form) {
    if (auto fault = run_trouble("run", form.run)) return fault;
    double length = 0;
    for (std::size_t i = 1; i < form.run.size(); ++i)
        length += std::hypot(form.run[i].x.mm - form.run[i - 1].x.mm,
                             form.run[i].y.mm - form.run[i - 1].y.mm);
    const double posts = length / form.post_spacing.mm + static_cast<double>(form.run.size());
    if (posts > most_posts)
        return trouble("/post_spacing",
                       fmt::format("found {}, which makes {:.0f} posts, expected at most {:.0f}",
                                   mm(form.post_spacing), posts, most_posts));
    for (std::size_t i = 0; i < form.rail_heights.size(); ++i)
        if (form.rail_heights[i].mm > form.height.mm)
            return trouble(step("rail_heights", i), "found " + mm(form.rail_heights[i]) +
                                                        ", expected at most the height, " +
                                                        mm(form.height));
    if (!form.rail_heights.empty() && form.rail_diameter.mm <= 0)
        return trouble("/rail_diameter", "found no rail diameter, expected one for the rails");
    return std::nullopt;
}

Trouble meaning(const WallForm& form) {
    if (form.openings.size() > most_openings)
        return trouble("/openings", fmt::format("found {}, expected at most {} openings",
                                                form.openings.size(), most_openings));
    for (std::size_t i = 0; i < form.openings.size(); ++i) {
        const WallOpening& opening = form.openings[i];
        if (opening.from_left.mm + opening.width.mm > form.width.mm + sum_slack_mm)
            return trouble(step("openings", i), "found an opening that passes the right end, "
                                                "expected it inside the wall");
        if (opening.sill.mm + opening.height.mm > form.height.mm + sum_slack_mm)
            return trouble(step("openings", i), "found an opening that passes the top, expected it "
                                                "inside the wall");
        for (std::size_t j = 0; j < i; ++j)
            if (meet(opening, form.openings[j]))
                return trouble(
                    step("openings", i),
                    fmt::format("found that it meets opening {}, expected them apart", j));
    }
    return std::nullopt;
}

Trouble meaning(const TerrainForm& form) {
    const auto side = [](const char* key, int count) -> Trouble {
        if (count >= 2 && count <= most_terrain_side) return std::nullopt;
        return trouble(pointer_step(key),
                       fmt::format("found {}, expected 2 to {}", count, most_terrain_side));
    };
    if (auto fault = side("columns", form.columns)) return fault;
    if (auto fault = side("rows", form.rows)) return fault;
    const std::size_t wanted = static_cast<std::size_t>(form.columns) * form.rows;
    if (form.heights.size() == wanted) return std::nullopt;
    return trouble("/heights", fmt::format("found {} heights, expected columns x rows = {}",
                                           form.heights.size(), wanted));
}

Trouble meaning(const ModelForm& form) {
    if (auto path = path_beside("", form.file); !path.ok())
        return trouble("/file", path.error().message);
    if (form.file.ends_with(".glb") || form.file.ends_with(".gltf")) return std::nullopt;
    return trouble("/file", "found " + in_quotes(form.file) + ", expected a .gltf or .glb file");
}

Trouble meaning(const JointTurn& turn) {
    if (turn.joint.empty()) return trouble("/joint", "found no name, expected that of a joint");
    if (turn.axis.empty()) return trouble("/axis", "found no name, expected that of an axis");
    if (std::abs(turn.angle.deg) <= largest_turn_deg) return std::nullopt;
    return trouble("/angle", "found " + print_exact(turn.angle.deg) +
                                 " degrees, expected at most 360 either way");
}

Trouble meaning(const FigureDress& dress) {
    const std::pair<const char*, const std::string*> colours[] = {
        {"/skin", &dress.skin},   {"/hair", &dress.hair},
        {"/coat", &dress.coat},   {"/trousers", &dress.trousers},
        {"/shoes", &dress.shoes}, {"/skirt", &dress.skirt},
        {"/hat", &dress.hat}};
    for (const auto& [pointer, colour] : colours)
        if (!colour->empty() && !is_colour(*colour))
            return trouble(pointer, "found " + in_quotes(*colour) + ", expected #rrggbb");
    return std::nullopt;
}

Trouble meaning(const FigureForm& form) {
    if (auto fault = built_in_or_file("/skeleton", form.skeleton)) return fault;
    if (!form.pose.empty())
        if (auto fault = built_in_or_file("/pose", form.pose)) return fault;
    if (auto fault = turns_once("turns", form.turns)) return fault;
    return turns_once("solved", form.solved);
}

Trouble meaning(const Part& part) {
    if (part.colour.empty() || is_colour(part.colour)) return std::nullopt;
    return trouble("/colour", "found " + in_quotes(part.colour) + ", expected #rrggbb");
}

Trouble meaning(const Touch& touch) {
    if (touch.contact.empty())
        return trouble("/contact", "found no name, expected that of a contact of the figure");
    if (touch.meets.empty() || (touch.at == Point3{} && !touch.side)) return std::nullopt;
    return trouble("/meets", "found a contact to meet beside a place, expected one of the two");
}

Trouble meaning(const Gaze& look) {
    if (!look.piece.empty()) {
        if (!look.way && look.visitor.empty()) return std::nullopt;
        return trouble("/piece", "found a piece beside a visitor, expected one of the two");
    }
    if (look.at) return trouble("/at", "found a place without a piece, expected its id");
    if (look.way && !look.visitor.empty()) return std::nullopt;
    return trouble("", "found nothing to look at, expected a piece, or a visitor and how far along "
                       "the path");
}

Trouble meaning(const Piece& piece) {
    if (piece.parts.empty()) return trouble("/parts", "found no part, expected at least one");
    if (auto fault = distinct_names("parts", piece.parts, true)) return fault;
    if (auto fault = distinct_names("marks", piece.marks, false)) return fault;
    if (auto fault = contacts_once(piece)) return fault;
    return others_only(piece);
}

Trouble meaning(const JoinLine& line) {
    if (line.between_a == line.between_b)
        return trouble("/between", "found the same section twice, expected two sections");
    if (line.from == line.to)
        return trouble("/to", "found the point it comes from, expected another");
    return std::nullopt;
}

Trouble meaning(const Column& column) {
    const bool round = column.diameter.mm > 0;
    const bool square = column.width.mm > 0 && column.depth.mm > 0;
    const bool any_side = column.width.mm > 0 || column.depth.mm > 0;
    if (round ? !any_side : square) return std::nullopt;
    return trouble("", std::string("found ") + (round ? "a diameter and sides" : "a missing side") +
                           ", expected either a diameter or a width and a depth");
}

Trouble meaning(const Hall& hall) {
    return outline_trouble("outline", hall.outline);
}

Trouble meaning(const Path& path) {
    return run_trouble("points", path.points);
}

Trouble meaning(const Visitor& visitor) {
    if (visitor.crown.mm >= visitor.eye_height.mm) return std::nullopt;
    return trouble("/crown", "found " + mm(visitor.crown) + ", expected at least the eye height, " +
                                 mm(visitor.eye_height));
}

Trouble meaning(const Patch& patch) {
    if (patch.low.has_value() != patch.high.has_value())
        return trouble("", "found one corner of a box, expected both low and high, or neither");
    if (!patch.low) return std::nullopt;
    if (patch.low->x.mm < patch.high->x.mm && patch.low->y.mm < patch.high->y.mm &&
        patch.low->z.mm < patch.high->z.mm)
        return std::nullopt;
    return trouble("/high", "found a corner that is not beyond low, expected every coordinate of "
                            "high above that of low");
}

Trouble meaning(const Target& target) {
    if (!target.facing_limit || target.facing_limit->deg <= 180) return std::nullopt;
    return trouble("/facing_limit",
                   "found " + print_exact(target.facing_limit->deg) + ", expected at most 180");
}

Trouble meaning(const RuleChoice& rules) {
    std::set<std::string_view> seen;
    for (std::size_t i = 0; i < rules.use.size(); ++i)
        if (!seen.insert(rules.use[i]).second)
            return trouble(step("use", i),
                           "found " + in_quotes(rules.use[i]) + " a second time, expected it once");
    for (std::size_t i = 0; i < rules.own.size(); ++i)
        if (rules.own[i].value.empty())
            return trouble(step("own", i) + "/value", "found no value, expected one with its unit");
    return std::nullopt;
}

Trouble meaning(const Settings& settings) {
    if (!settings.date.empty() && !is_date(settings.date))
        return trouble("/date", "found " + in_quotes(settings.date) +
                                    ", expected a day such as \"2026-11-25\"");
    constexpr int allowed[] = {1, 2, 4, 8, 16, 32, 64};
    if (std::find(std::begin(allowed), std::end(allowed), settings.inch_denominator) ==
        std::end(allowed))
        return trouble("/inch_fraction", fmt::format("found {}, expected 1, 2, 4, 8, 16, 32 or 64",
                                                     settings.inch_denominator));
    if (settings.turning_tolerance && settings.turning_tolerance->deg > 180)
        return trouble("/turning_tolerance", "found " +
                                                 print_exact(settings.turning_tolerance->deg) +
                                                 ", expected at most 180");
    return std::nullopt;
}

} // namespace standpoint
