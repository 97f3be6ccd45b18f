// A target made ready for looking at: its samples, its outline and the limits it must meet.
#include "check/sight_target.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <glm/geometric.hpp>

#include <fmt/format.h>

#include "base/hash.h"
#include "measure/angle.h"

namespace standpoint {

namespace {

// Directions in which the outermost points of a patch are looked for; the angle across a ball is
// then short by less than 1 %.
constexpr int outline_directions = 96;
// A crossing this near outside the patch's box still lies on the cut edge of the patch.
constexpr double patch_edge_mm = 1e-6;

// Points on a sphere in a spiral of equal areas (the golden angle between neighbours).
glm::dvec3 spread_direction(int i, int count) {
    const double z = 1 - (2 * i + 1.0) / count;
    const double turn = i * std::numbers::pi * (3 - std::sqrt(5.0));
    const double r = std::sqrt(1 - z * z);
    return {r * std::cos(turn), r * std::sin(turn), z};
}

std::vector<glm::dvec3> outline_of(const std::vector<SurfaceTriangle>& surface) {
    std::vector<glm::dvec3> outline;
    for (int i = 0; i < outline_directions; ++i) {
        const glm::dvec3 towards = spread_direction(i, outline_directions);
        const glm::dvec3* best = nullptr;
        for (const SurfaceTriangle& t : surface)
            for (const glm::dvec3* corner : {&t.corners.a, &t.corners.b, &t.corners.c})
                if (best == nullptr || glm::dot(*corner - *best, towards) > 0) best = corner;
        if (best != nullptr && std::find(outline.begin(), outline.end(), *best) == outline.end())
            outline.push_back(*best);
    }
    return outline;
}

glm::dvec3 centre_of(const std::vector<SurfaceTriangle>& surface) {
    glm::dvec3 sum(0.0);
    double area = 0;
    for (const SurfaceTriangle& t : surface) {
        sum += (t.corners.a + t.corners.b + t.corners.c) / 3.0 * t.area;
        area += t.area;
    }
    return sum / area;
}

// The direction a patch looks in: the piece's own front turned clockwise by `facing`.
glm::dvec3 facing_of(const Placement& placement, double facing_deg) {
    return front_of(placement.frame.rotation * rotation_of(facing_deg, 0, 0));
}

Rule own_or(const Rule& rule, const char* quantity, const std::optional<double>& own) {
    if (!own) return rule;
    Rule out = rule;
    out.id = std::string(quantity) + ".target";
    out.limit = *own;
    out.document = "set for this target";
    out.year = 0;
    out.clause.clear();
    out.caution.clear();
    out.evidence = Evidence::read;
    return out;
}

void set_limits(SightTarget& out, const StagedPiece& staged, const std::vector<Rule>& rules) {
    const Target& target = *out.target;
    const bool figure = staged.piece != nullptr && staged.piece->kind == PieceKind::figure;
    const char* facing = figure ? "facing-limit-face" : "facing-limit-page";
    const auto limit =
        target.facing_limit ? std::optional<double>(target.facing_limit->deg) : std::nullopt;
    const bool hide = target.aim == Aim::hide;
    // Any share that shows is too much of what must stay hidden; no target asks for less.
    const auto share =
        target.seen_share && !hide ? std::optional<double>(target.seen_share->value) : std::nullopt;
    out.facing_rule = own_or(strictest(rules, facing), facing, limit);
    const char* seen = hide ? "hide-share" : "seen-share";
    out.seen_rule = own_or(strictest(rules, seen), seen, share);
    out.detail_rule = strictest(rules, "smallest-detail");
    out.size_rule = strictest(rules, "apparent-size");
    out.facing_limit = out.facing_rule.limit;
    out.has_facing = target.facing.has_value();
    if (target.facing) out.facing = facing_of(staged.placement, target.facing->deg);
    if (target.smallest_detail) out.detail_mm = target.smallest_detail->mm * staged.placement.scale;
}

} // namespace

Result<SightTarget> prepare_target(const Staging& staging, const Target& target,
                                   std::uint32_t piece, const std::vector<Rule>& rules,
                                   const SightOptions& options) {
    const StagedPiece& staged = staging.pieces[piece];
    Result<std::vector<SurfaceTriangle>> surface = patch_surface(staged, target.patch);
    if (!surface)
        return input_error(surface.error().where,
                           fmt::format("target \"{}\": {}", target.id, surface.error().message));
    SightTarget out;
    out.target = &target;
    out.piece = piece;
    out.options = options;
    out.options.most_per_replicate = std::max(options.per_replicate, options.most_per_replicate);
    out.samples = sample_surface(*surface, options.replicates, out.options.most_per_replicate,
                                 hash_bytes(target.id));
    out.outline = outline_of(*surface);
    out.centre = centre_of(*surface);
    out.in_patch.assign(staged.mesh->triangles.size(), 0);
    for (const SurfaceTriangle& t : *surface)
        out.in_patch[t.triangle] = 1;
    if (target.patch.low && target.patch.high) {
        const Point3 &low = *target.patch.low, &high = *target.patch.high;
        out.patch_box.low = glm::dvec3(low.x.mm, low.y.mm, low.z.mm) - patch_edge_mm;
        out.patch_box.high = glm::dvec3(high.x.mm, high.y.mm, high.z.mm) + patch_edge_mm;
    }
    set_limits(out, staged, rules);
    return out;
}

bool of_patch(const Staging& staging, const SightTarget& target, std::uint32_t triangle,
              const glm::dvec3& place) {
    if (target.in_patch[triangle] == 0) return false;
    if (target.patch_box.empty()) return true;
    const Placement& placement = staging.pieces[target.piece].placement;
    const glm::dvec3 original = to_inner(placement.frame, place) / placement.scale;
    Box at;
    return meet(target.patch_box, grown(at, original));
}

double angle_across(const SightTarget& target, const glm::dvec3& eye) {
    std::vector<glm::dvec3> towards;
    towards.reserve(target.outline.size());
    for (const glm::dvec3& point : target.outline) {
        const glm::dvec3 to = point - eye;
        const double r = glm::length(to);
        if (r > 0) towards.push_back(to / r);
    }
    double least = 1;
    for (std::size_t i = 0; i < towards.size(); ++i)
        for (std::size_t j = 0; j < i; ++j)
            least = std::min(least, glm::dot(towards[i], towards[j]));
    return to_degrees(std::acos(std::clamp(least, -1.0, 1.0)));
}

double detail_arcmin(const SightTarget& target, const glm::dvec3& eye) {
    if (target.detail_mm <= 0) return 0;
    const double distance = glm::length(target.centre - eye);
    return to_degrees(2 * std::atan2(target.detail_mm / 2, distance)) * 60;
}

double angle_off_cone(const SightTarget& target, const Visitor& visitor, const glm::dvec3& eye,
                      const std::vector<Rule>& rules) {
    const char* quantity = visitor.seated ? "line-of-sight-seated" : "line-of-sight-standing";
    const double below_level = strictest(rules, quantity).limit;
    const glm::dvec3 to = target.centre - eye;
    const double up = to_degrees(std::atan2(to.z, std::hypot(to.x, to.y)));
    return up + below_level;
}

bool within_facing(const SightTarget& target, const glm::dvec3& eye) {
    if (!target.has_facing) return true;
    const glm::dvec3 to = eye - target.centre;
    const double r = glm::length(to);
    if (r <= 0) return true;
    const double cosine = std::clamp(glm::dot(target.facing, to / r), -1.0, 1.0);
    return to_degrees(std::acos(cosine)) <= target.facing_limit;
}

} // namespace standpoint
