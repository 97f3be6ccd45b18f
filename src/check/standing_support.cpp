// What carries each piece, and the gap between the two.
#include "check/standing_support.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace standpoint {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double foot_mm = 1; // corners this close to the lowest are the foot as well

struct Level { // where an upright line meets a surface
    double z = 0;
    bool up = false; // the surface faces up
};

// Edges and corners count, so that flush pieces find each other.
std::optional<Level> level_at(const Corners& t, const glm::dvec3& p) {
    if (p.x < t.box.low.x - contact_slack_mm || p.x > t.box.high.x + contact_slack_mm ||
        p.y < t.box.low.y - contact_slack_mm || p.y > t.box.high.y + contact_slack_mm)
        return std::nullopt;
    const glm::dvec3 a = t.at[1] - t.at[0], b = t.at[2] - t.at[0], s = p - t.at[0];
    const double det = a.x * b.y - a.y * b.x;
    const double size = std::max({std::abs(a.x), std::abs(a.y), std::abs(b.x), std::abs(b.y)});
    if (std::abs(det) <= 1e-9 * size * size) return std::nullopt; // upright, or no triangle
    const double slack = contact_slack_mm * size / std::abs(det);
    const double u = (s.x * b.y - s.y * b.x) / det, v = (a.x * s.y - a.y * s.x) / det;
    if (u < -slack || v < -slack || u + v > 1 + slack) return std::nullopt;
    return Level{t.at[0].z + u * a.z + v * b.z, det > 0};
}

struct Least {
    double gap = infinity;
    glm::dvec3 place{0.0};
    std::string carrier;

    void take(double found, const glm::dvec3& at, const std::string& by) {
        if (found >= gap) return;
        gap = found;
        place = at;
        carrier = by;
    }
};

// From a point to the surfaces of `mesh` that way (1: up, -1: down); negative when it lies behind
// a surface that faces it; infinite when there is none.
double gap_along(const PlacedMesh& mesh, const glm::dvec3& point, int way) {
    double ahead = infinity, behind = infinity;
    bool behind_faces = false;
    for (const Corners& triangle : mesh.triangles) {
        const std::optional<Level> level = level_at(triangle, point);
        if (!level) continue;
        const double distance = way * (level->z - point.z);
        const bool faces = level->up == (way < 0); // faces the one that comes from there
        if (distance >= -contact_slack_mm) ahead = std::min(ahead, std::max(distance, 0.0));
        if (distance >= -contact_slack_mm) continue;
        if (-distance < behind) behind_faces = faces;
        behind = std::min(behind, -distance);
    }
    return behind_faces && ahead > contact_slack_mm ? -behind : ahead;
}

std::vector<glm::dvec3> foot_of(const PlacedMesh& mesh) {
    std::vector<glm::dvec3> out;
    for (const glm::dvec3& point : mesh.points)
        if (point.z <= mesh.box.low.z + foot_mm) out.push_back(point);
    return out;
}

bool over(const Box& box, const glm::dvec3& p) {
    return p.x >= box.low.x && p.x <= box.high.x && p.y >= box.low.y && p.y <= box.high.y;
}

void take_mesh(const PlacedMesh& piece, const std::vector<glm::dvec3>& foot,
               const PlacedMesh& carrier, const std::string& id, bool may_sink, Least& least) {
    const auto take = [&](double gap, const glm::dvec3& at) {
        least.take(may_sink ? std::max(gap, 0.0) : gap, at, id);
    };
    for (const glm::dvec3& point : foot)
        take(gap_along(carrier, point, -1), point);
    if (may_sink && least.gap <= 0) return; // no less can come of it
    for (const glm::dvec3& point : carrier.points)
        if (over(piece.box, point)) take(gap_along(piece, point, 1), point);
}

bool over_base(const StandingScene& scene, const glm::dvec3& p) {
    const auto& sections = *scene.staging.document.sections;
    return std::any_of(sections.begin(), sections.end(), [&](const Section& s) {
        return p.x >= s.corner.x.mm && p.x <= s.corner.x.mm + s.width.mm && p.y >= s.corner.y.mm &&
               p.y <= s.corner.y.mm + s.depth.mm;
    });
}

// The deck is level and reaches to the edges of the base. A piece whose foot lies wholly beyond
// them may still bear on it with what is above its foot; else the floor is beneath it.
Least on_deck(const StandingScene& scene, const PlacedMesh& mesh,
              const std::vector<glm::dvec3>& foot, const Section& section, double contact_mm) {
    Least least;
    for (const glm::dvec3& point : foot)
        if (over_base(scene, point)) least.take(point.z - section.height.mm, point, section.id);
    if (least.gap < infinity) return least;
    for (const glm::dvec3& point : mesh.points)
        if (over_base(scene, point))
            least.take(std::abs(point.z - section.height.mm), point, section.id);
    if (least.gap <= contact_mm + contact_slack_mm) return least;
    least = {};
    for (const glm::dvec3& point : foot)
        least.take(point.z, point, "floor");
    return least;
}

Least on_floor(const std::vector<glm::dvec3>& foot) {
    Least least;
    for (const glm::dvec3& point : foot)
        least.take(point.z, point, "floor");
    return least;
}

void take_grounds(const StandingScene& scene, std::size_t piece,
                  const std::vector<glm::dvec3>& foot, Least& least) {
    for (std::size_t i = 0; i < scene.meshes.size(); ++i) {
        const StagedPiece& ground = scene.staging.pieces[i];
        if (i == piece || !is_kind(ground, PieceKind::ground)) continue;
        if (scene.sections[i] != scene.sections[piece]) continue;
        const Box &a = scene.meshes[piece].box, &b = scene.meshes[i].box;
        if (a.low.x > b.high.x || b.low.x > a.high.x || a.low.y > b.high.y || b.low.y > a.high.y)
            continue;
        take_mesh(scene.meshes[piece], foot, scene.meshes[i], ground.id, true, least);
    }
}

Least on_host(const StandingScene& scene, std::size_t piece, std::size_t host, double contact_mm) {
    const PlacedMesh &mesh = scene.meshes[piece], &carrier = scene.meshes[host];
    const std::string& id = scene.staging.pieces[host].id;
    const bool hangs = scene.staging.pieces[piece].piece->support == Support::hangs_from;
    Least least;
    if (!hangs) {
        const std::vector<glm::dvec3> foot = foot_of(mesh);
        take_mesh(mesh, foot, carrier, id, is_kind(scene.staging.pieces[host], PieceKind::ground),
                  least);
        if (least.gap > contact_mm) take_grounds(scene, piece, foot, least);
        if (least.gap <= contact_mm) return least;
    }
    glm::dvec3 place(0.0);
    const double distance = distance_between(mesh, carrier, place);
    if (hangs || distance <= contact_mm || least.gap == infinity) return {distance, place, id};
    return least;
}

} // namespace

bool is_kind(const StagedPiece& piece, PieceKind kind) {
    return piece.piece != nullptr && piece.piece->kind == kind;
}

std::optional<Gap> gap_under(const StandingScene& scene, std::size_t piece, double contact_mm) {
    const StagedPiece& staged = scene.staging.pieces[piece];
    const PlacedMesh& mesh = scene.meshes[piece];
    if (staged.piece == nullptr || staged.piece->kind == PieceKind::effect || mesh.points.empty())
        return std::nullopt;
    Least least;
    const Support support = staged.piece->support;
    if (support == Support::none || support == Support::section) {
        const Section* section = support == Support::section
                                     ? find_section(scene.staging.document, staged.piece->host)
                                     : nullptr;
        const std::vector<glm::dvec3> foot = foot_of(mesh);
        least = section ? on_deck(scene, mesh, foot, *section, contact_mm) : on_floor(foot);
        if (least.gap > contact_mm) take_grounds(scene, piece, foot, least);
    } else {
        const StagedPiece* host = find_staged(scene.staging, staged.piece->host);
        if (host == nullptr) return std::nullopt;
        const auto at = static_cast<std::size_t>(host - scene.staging.pieces.data());
        if (scene.meshes[at].points.empty()) return std::nullopt;
        least = on_host(scene, piece, at, contact_mm);
    }
    return Gap{staged.id, least.carrier, least.gap, least.place};
}

} // namespace standpoint
