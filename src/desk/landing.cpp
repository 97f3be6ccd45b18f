// Where something that is let go over a view comes to stand.
#include "desk/landing.h"

#include <algorithm>
#include <cmath>

#include <glm/geometric.hpp>

#include "desk/look_down.h"

namespace standpoint {

namespace {

constexpr double level_sine = 1e-6; // a line less steep than this goes level
constexpr double column_mm = 25;    // between the places looked down at along a level line
constexpr int most_columns = 1000;
constexpr double same_height_mm = 1; // surfaces no further apart are one level

struct Range { // along a line, mm from its start
    double from = 0, to = 0;
    bool empty() const { return !(from <= to); }
};

Box box_of(const Staging& staging, bool sections_only) {
    Box box;
    for (const StagedPiece& piece : staging.pieces)
        if (piece.staged == StagedKind::section ||
            (!sections_only && piece.staged == StagedKind::piece))
            box = joined(box, piece.box);
    return box;
}

// Where a level line passes over a box, whichever side it goes by.
Range over(const Box& box, const Segment& line, const glm::dvec3& direction) {
    double from = 1e300, to = -1e300;
    for (const double x : {box.low.x, box.high.x})
        for (const double y : {box.low.y, box.high.y}) {
            const double along = glm::dot(glm::dvec3(x, y, line.from.z) - line.from, direction);
            from = std::min(from, along);
            to = std::max(to, along);
        }
    return {std::max(from, 0.0), std::min(to, glm::length(line.to - line.from))};
}

std::optional<double> first_met(LookDown& looker, const Segment& line) {
    for (const Crossing& crossing : looker.along(line))
        if (!looker.skips(crossing.piece)) return crossing.distance;
    return std::nullopt;
}

glm::dvec3 stands_at(LookDown& looker, const glm::dvec3& from) {
    return {from.x, from.y, looker.down(from).height};
}

std::optional<glm::dvec3> level_landing(const Staging& staging, LookDown& looker, Segment line,
                                        const LetGo& how) {
    const glm::dvec3 direction = glm::normalize(line.to - line.from);
    if (line.from.z + how.slack < 0) return std::nullopt; // below the floor
    line.from.z += how.slack;
    line.to.z += how.slack;
    const Box all = box_of(staging, false), base = box_of(staging, true);
    if (all.empty()) return stands_at(looker, (line.from + line.to) / 2.0);
    const Range within = over(base.empty() ? all : base, line, direction);
    const double middle = (within.from + within.to) / 2;
    Range range = over(all, line, direction);
    if (const auto met = first_met(looker, line)) {
        range.to = std::min(range.to, *met - how.half_width);
        if (range.empty()) return stands_at(looker, line.from + direction * range.to);
    }
    const int columns =
        std::clamp(static_cast<int>((range.to - range.from) / column_mm), 1, most_columns);
    std::optional<glm::dvec3> best;
    double best_off = 0;
    const auto consider = [&](double along) {
        const glm::dvec3 at = stands_at(looker, line.from + direction * along);
        const double off = std::abs(along - middle);
        const bool higher = best && at.z > best->z + same_height_mm;
        const bool level = best && std::abs(at.z - best->z) <= same_height_mm;
        if (best && !higher && !(level && off < best_off)) return;
        best = at;
        best_off = off;
    };
    consider(std::clamp(middle, range.from, range.to));
    for (int i = 0; i <= columns; ++i)
        consider(range.from + (range.to - range.from) * i / columns);
    return best;
}

std::optional<glm::dvec3> steep_landing(LookDown& looker, const Segment& line, const LetGo& how) {
    const glm::dvec3 direction = glm::normalize(line.to - line.from);
    for (const Crossing& crossing : looker.along(line)) {
        if (looker.skips(crossing.piece)) continue;
        const glm::dvec3 at = line.from + direction * crossing.distance;
        if (at.z < 0) break;
        const glm::dvec3 normal = looker.upward_normal(crossing);
        if (normal.z >= carries_from_cos && glm::dot(normal, direction) < 0) return at;
        // Before the wall, on the side it is seen from.
        const glm::dvec2 out(normal);
        const double flat = glm::length(out);
        const glm::dvec2 towards = glm::dot(normal, direction) < 0 ? out : -out;
        const glm::dvec2 off = flat > 1e-3 ? towards / flat * how.half_width : glm::dvec2(0.0);
        return stands_at(looker, at + glm::dvec3(off, 0));
    }
    if (!(direction.z < 0)) return std::nullopt;
    return on_plane(line, {0, 0, 0}, {0, 0, 1});
}

} // namespace

std::optional<glm::dvec3> landing(const Document& document, const Staging& staging,
                                  const RayIndex& index, const Segment& line, const LetGo& how) {
    LookDown looker(document, staging, index, how.moving);
    const glm::dvec3 along = line.to - line.from;
    const bool level = std::abs(along.z) <= level_sine * glm::length(along);
    return level ? level_landing(staging, looker, line, how) : steep_landing(looker, line, how);
}

glm::dvec3 kept_above_floor(const Box& moved, glm::dvec3 by) {
    if (!moved.empty()) by.z = std::max(by.z, std::min(-moved.low.z, 0.0));
    return by;
}

} // namespace standpoint
