// Whether two placed meshes run into each other, how deep, and how far they are apart.
#include "check/mesh_meet.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include <glm/geometric.hpp>
#include <glm/vector_relational.hpp>

namespace standpoint {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

struct Hit {
    bool found = false;
    double t = 0;
    int side = 0; // +1: leaves through the outside of the surface
};

Hit hit_of(const Corners& triangle, const glm::dvec3& from, const glm::dvec3& along) {
    const glm::dvec3 e1 = triangle.at[1] - triangle.at[0], e2 = triangle.at[2] - triangle.at[0];
    const glm::dvec3 p = glm::cross(along, e2);
    const double det = glm::dot(e1, p);
    if (det == 0) return {};
    const glm::dvec3 s = from - triangle.at[0];
    const double u = glm::dot(s, p) / det;
    if (!(u >= 0 && u <= 1)) return {};
    const glm::dvec3 q = glm::cross(s, e1);
    const double v = glm::dot(along, q) / det;
    if (!(v >= 0 && u + v <= 1)) return {};
    return {true, glm::dot(e2, q) / det, det < 0 ? 1 : -1};
}

void add_crossing_points(const Corners& a, const Corners& b, std::vector<glm::dvec3>& points) {
    for (int i = 0; i < 3; ++i) {
        const glm::dvec3 from = a.at[i], along = a.at[(i + 1) % 3] - from;
        const Hit hit = hit_of(b, from, along);
        if (hit.found && hit.t >= 0 && hit.t <= 1) points.push_back(from + hit.t * along);
    }
}

std::vector<const Corners*> near_box(const PlacedMesh& mesh, const Box& box) {
    std::vector<const Corners*> out;
    for (const Corners& triangle : mesh.triangles)
        if (meet(triangle.box, box, contact_slack_mm)) out.push_back(&triangle);
    return out;
}

// Triangles by the cells of a grid over the two longest sides of a box.
class CellGrid {
  public:
    CellGrid(const std::vector<const Corners*>& triangles, const Box& over) : low_(over.low) {
        const glm::dvec3 size = over.size();
        const int least = size.x <= size.y && size.x <= size.z ? 0 : size.y <= size.z ? 1 : 2;
        axes_ = {(least + 1) % 3, (least + 2) % 3};
        const auto wanted = static_cast<int>(std::sqrt(static_cast<double>(triangles.size())));
        count_ = std::clamp(wanted, 1, 256);
        for (const int axis : axes_)
            step_[axis] = std::max(size[axis] / count_, 1e-3);
        cells_.resize(static_cast<std::size_t>(count_) * static_cast<std::size_t>(count_));
        for (const Corners* triangle : triangles)
            each_cell(triangle->box,
                      [&](std::size_t cell, int, int) { cells_[cell].push_back(triangle); });
    }

    // Every triangle whose box meets that of `a`, once: in the first cell that both reach.
    template <class Call> void each_near(const Corners& a, const Call& call) const {
        each_cell(a.box, [&](std::size_t cell, int i, int j) {
            for (const Corners* b : cells_[cell]) {
                if (!meet(a.box, b->box, contact_slack_mm)) continue;
                const bool first =
                    i == std::max(cell_of(a.box.low, axes_[0]), cell_of(b->box.low, axes_[0])) &&
                    j == std::max(cell_of(a.box.low, axes_[1]), cell_of(b->box.low, axes_[1]));
                if (first) call(*b);
            }
        });
    }

  private:
    glm::dvec3 low_, step_{1.0};
    std::array<int, 2> axes_{0, 1};
    int count_ = 1;
    std::vector<std::vector<const Corners*>> cells_;

    int cell_of(const glm::dvec3& p, int axis, double slack = -contact_slack_mm) const {
        const double cell = std::floor((p[axis] + slack - low_[axis]) / step_[axis]);
        return static_cast<int>(std::clamp(cell, 0.0, count_ - 1.0));
    }

    template <class Call> void each_cell(const Box& box, const Call& call) const {
        for (int i = cell_of(box.low, axes_[0]); i <= cell_of(box.high, axes_[0], contact_slack_mm);
             ++i)
            for (int j = cell_of(box.low, axes_[1]);
                 j <= cell_of(box.high, axes_[1], contact_slack_mm); ++j)
                call(static_cast<std::size_t>(i) * static_cast<std::size_t>(count_) +
                         static_cast<std::size_t>(j),
                     i, j);
    }
};

struct Contact { // what the sweep gathers
    std::vector<glm::dvec3> directions;
    std::vector<double> exits; // one a direction: the farthest of all pairs
    std::vector<glm::dvec3> shared;
    bool any = false;

    void take(const Corners& a, const Corners& b, const Axes& axes) {
        any = true;
        add_crossing_points(a, b, shared);
        add_crossing_points(b, a, shared);
        for (std::size_t i = 0; i < directions.size(); ++i)
            exits[i] = std::max(exits[i], exit_along(axes, directions[i]));
    }
};

std::vector<glm::dvec3> directions_of(const PlacedMesh& a, const PlacedMesh& b) {
    std::vector<glm::dvec3> out;
    const auto add = [&](const glm::dvec3& axis) {
        for (const glm::dvec3& known : out)
            if (std::abs(glm::dot(known, axis)) > 1 - 1e-12) return;
        out.push_back(axis);
        out.push_back(-axis);
    };
    for (const glm::dvec3& axis : {glm::dvec3(0, 0, 1), glm::dvec3(1, 0, 0), glm::dvec3(0, 1, 0)})
        add(axis);
    for (const PlacedMesh* mesh : {&a, &b})
        for (const glm::dvec3& axis : mesh->axes)
            add(axis);
    return out;
}

bool within(const Box& box, const glm::dvec3& p) {
    return glm::all(glm::greaterThanEqual(p, box.low)) && glm::all(glm::lessThanEqual(p, box.high));
}

// Askew, so that no ray runs along faces or through edges of anything built square.
struct Ray3 {
    glm::dvec3 along;
    int axis; // that it mostly follows
};
const std::array<Ray3, 3> inside_rays{
    {{{0.0123, 0.0271, 1}, 2}, {{0.0131, 0.0117, -1}, 2}, {{1, 0.0217, 0.0139}, 0}}};

// For many points of one box: only triangles that rays from there can meet are kept.
class InsideTest {
  public:
    InsideTest(const PlacedMesh& mesh, const Box& from) : box_(mesh.box) {
        for (std::size_t i = 0; i < inside_rays.size(); ++i) {
            const Box way = joined(way_of(from.low, inside_rays[i]),
                                   joined(way_of(from.high, inside_rays[i]), from));
            for (const Corners& triangle : mesh.triangles)
                if (meet(triangle.box, way, contact_slack_mm)) ahead_[i].push_back(&triangle);
        }
    }

    bool holds(const glm::dvec3& point) const {
        if (!within(box_, point)) return false;
        for (std::size_t i = 0; i < inside_rays.size(); ++i) {
            const Box way = way_of(point, inside_rays[i]);
            int turns = 0;
            for (const Corners* triangle : ahead_[i]) {
                if (!meet(triangle->box, way, contact_slack_mm)) continue;
                const Hit hit = hit_of(*triangle, point, inside_rays[i].along);
                if (hit.found && hit.t > 0) turns += hit.side;
            }
            if (turns <= 0) return false;
        }
        return true;
    }

  private:
    Box box_;
    std::array<std::vector<const Corners*>, 3> ahead_;

    // From the point to beyond the mesh.
    Box way_of(const glm::dvec3& point, const Ray3& ray) const {
        const double edge = ray.along[ray.axis] > 0 ? box_.high[ray.axis] : box_.low[ray.axis];
        const glm::dvec3 end = point + ray.along * std::abs(edge - point[ray.axis]);
        return grown(grown(Box{}, point), end);
    }
};

void add_corners_inside(const PlacedMesh& of, const PlacedMesh& in, const Box& common,
                        std::vector<glm::dvec3>& out) {
    std::vector<const glm::dvec3*> near;
    for (const glm::dvec3& point : of.points)
        if (within(common, point)) near.push_back(&point);
    const std::size_t step = near.size() / corners_tried + 1;
    if (near.empty()) return;
    const InsideTest inside(in, common);
    for (std::size_t i = 0; i < near.size(); i += step)
        if (inside.holds(*near[i])) out.push_back(*near[i]);
}

// A place just under the surface of the one that lies inside the other: how same-sized boxes, whose
// faces only touch, are known to share room.
bool shares_room(const PlacedMesh& of, const PlacedMesh& in, const Box& common, glm::dvec3& place) {
    constexpr double under_mm = 0.1;
    std::vector<glm::dvec3> near;
    for (const Corners& t : of.triangles) {
        const glm::dvec3 normal = glm::cross(t.at[1] - t.at[0], t.at[2] - t.at[0]);
        const double length = glm::length(normal);
        if (!(length > 0)) continue;
        const glm::dvec3 middle = (t.at[0] + t.at[1] + t.at[2]) / 3.0;
        const glm::dvec3 point = middle - normal * (under_mm / length);
        if (within(common, point)) near.push_back(point);
    }
    const std::size_t step = near.size() / corners_tried + 1;
    if (near.empty()) return false;
    const InsideTest inside(in, common);
    for (std::size_t i = 0; i < near.size(); i += step) {
        // A sheet has no room of its own: it shares the other's where it runs.
        if (!inside.holds(near[i])) continue;
        place = near[i];
        return true;
    }
    return false;
}

double extent_along(const std::vector<glm::dvec3>& points, const glm::dvec3& direction) {
    double low = infinity, high = -infinity;
    for (const glm::dvec3& point : points) {
        low = std::min(low, glm::dot(point, direction));
        high = std::max(high, glm::dot(point, direction));
    }
    return points.empty() ? 0 : high - low;
}

double least_depth(const Contact& contact) {
    double depth = infinity;
    for (std::size_t i = 0; i < contact.directions.size(); ++i)
        depth = std::min(
            depth, std::max(contact.exits[i], extent_along(contact.shared, contact.directions[i])));
    return depth;
}

// Along a direction, b leaves a when it has passed the whole of it.
double depth_of_inside(const PlacedMesh& a, const PlacedMesh& b,
                       const std::vector<glm::dvec3>& directions) {
    double depth = infinity;
    for (const glm::dvec3& d : directions) {
        double a_high = -infinity, b_low = infinity;
        for (const glm::dvec3& p : a.points)
            a_high = std::max(a_high, glm::dot(p, d));
        for (const glm::dvec3& p : b.points)
            b_low = std::min(b_low, glm::dot(p, d));
        depth = std::min(depth, a_high - b_low);
    }
    return depth;
}

double box_distance(const Box& a, const Box& b) {
    return glm::length(glm::max(glm::max(a.low - b.high, b.low - a.high), glm::dvec3(0.0)));
}

} // namespace

PlacedMesh placed_mesh(const StagedPiece& piece) {
    PlacedMesh out;
    const Mesh& mesh = *piece.mesh;
    std::vector<glm::dvec3> at(mesh.positions.size());
    for (std::size_t i = 0; i < at.size(); ++i)
        at[i] = to_scene(piece, mesh.positions[i]);
    std::vector<bool> used(at.size(), false);
    out.triangles.reserve(mesh.triangles.size());
    for (const glm::uvec3& t : mesh.triangles) {
        Corners corners{{at[t.x], at[t.y], at[t.z]}, {}};
        for (const glm::dvec3& p : corners.at)
            corners.box = grown(corners.box, p);
        out.box = joined(out.box, corners.box);
        used[t.x] = used[t.y] = used[t.z] = true;
        out.triangles.push_back(corners);
    }
    for (std::size_t i = 0; i < at.size(); ++i)
        if (used[i]) out.points.push_back(at[i]);
    const glm::dvec3 origin = to_scene(piece, glm::dvec3(0.0));
    for (int i = 0; i < 3; ++i) {
        glm::dvec3 unit(0.0);
        unit[i] = 1;
        out.axes[i] = glm::normalize(to_scene(piece, unit) - origin);
    }
    return out;
}

bool is_inside(const PlacedMesh& mesh, const glm::dvec3& point) {
    return InsideTest(mesh, grown(Box{}, point)).holds(point);
}

Meeting meeting(const PlacedMesh& a, const PlacedMesh& b) {
    Meeting out;
    if (!meet(a.box, b.box, contact_slack_mm)) return out;
    const Box common{glm::max(a.box.low, b.box.low), glm::min(a.box.high, b.box.high)};
    const std::vector<const Corners*> as = near_box(a, common), bs = near_box(b, common);
    Contact crossing, touch;
    crossing.directions = touch.directions = directions_of(a, b);
    crossing.exits.assign(crossing.directions.size(), 0.0);
    touch.exits = crossing.exits;
    const CellGrid grid(bs, common);
    for (const Corners* p : as)
        grid.each_near(*p, [&](const Corners& q) {
            if (apart_by_plane(*p, q) || apart_by_plane(q, *p)) return;
            const Axes axes = axes_of(*p, q);
            if (axes.least > contact_slack_mm)
                crossing.take(*p, q, axes);
            else if (axes.least >= -contact_slack_mm && !crossing.any)
                touch.take(*p, q, axes);
        });
    if (!crossing.any && !shares_room(a, b, common, out.place) &&
        !shares_room(b, a, common, out.place))
        return out;
    out.meets = true;
    out.inside = !crossing.any && !touch.any;
    if (out.inside) {
        out.depth = depth_of_inside(a, b, crossing.directions);
        return out;
    }
    Contact& contact = crossing.any ? crossing : touch;
    add_corners_inside(a, b, common, contact.shared);
    add_corners_inside(b, a, common, contact.shared);
    out.depth = least_depth(contact);
    Box shared;
    for (const glm::dvec3& point : contact.shared)
        shared = grown(shared, point);
    out.place = shared.empty() ? common.centre() : shared.centre();
    return out;
}

double distance_between(const PlacedMesh& a, const PlacedMesh& b, glm::dvec3& place) {
    std::vector<std::pair<double, const Corners*>> order;
    for (const Corners& t : b.triangles)
        order.emplace_back(box_distance(t.box, a.box), &t);
    std::sort(order.begin(), order.end());
    double best = infinity;
    for (const auto& [near, t] : order) {
        if (near >= best || best == 0) break;
        for (const Corners& s : a.triangles) {
            if (box_distance(s.box, t->box) >= best) continue;
            const double distance = triangle_distance(s, *t);
            if (distance >= best) continue;
            best = distance;
            place =
                Box{glm::max(s.box.low, t->box.low), glm::min(s.box.high, t->box.high)}.centre();
        }
    }
    return best;
}

} // namespace standpoint
