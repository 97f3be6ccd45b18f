// Plan geometry on the integer grid, by the reentrant C interface of GEOS.
#include "check/plan_grid.h"

#include <algorithm>
#include <cmath>

#include <geos_c.h>
#include <glm/geometric.hpp>

#include "base/check.h"
#include "measure/tolerance.h"

namespace standpoint {

namespace {

// One GEOS context; messages go nowhere, failures come back as null and are programmer errors:
// all input is finite and in range.
struct Context {
    GEOSContextHandle_t handle = GEOS_init_r();
    Context() = default;
    Context(const Context&) = delete;
    Context& operator=(const Context&) = delete;
    ~Context() { GEOS_finish_r(handle); }
};

struct Destroy {
    GEOSContextHandle_t geos = nullptr;
    void operator()(GEOSGeometry* geometry) const { GEOSGeom_destroy_r(geos, geometry); }
};
using Shape = std::unique_ptr<GEOSGeometry, Destroy>;

} // namespace

struct PlanArea::State {
    Context context;
    glm::dvec2 origin{0.0};
    GEOSGeometry* geometry = nullptr; // in grid steps about the origin

    ~State() {
        if (geometry != nullptr) GEOSGeom_destroy_r(context.handle, geometry);
    }
};

PlanArea::PlanArea() = default;
PlanArea::~PlanArea() = default;
PlanArea::PlanArea(PlanArea&&) noexcept = default;
PlanArea& PlanArea::operator=(PlanArea&&) noexcept = default;

bool PlanArea::empty() const {
    return state == nullptr || state->geometry == nullptr ||
           GEOSisEmpty_r(state->context.handle, state->geometry) == 1;
}

namespace {

std::array<double, 2> steps(const glm::dvec2& point, const glm::dvec2& origin) {
    return {(point.x - origin.x) / plan_grid_mm, (point.y - origin.y) / plan_grid_mm};
}

std::array<double, 2> whole_steps(const glm::dvec2& point, const glm::dvec2& origin) {
    const std::array<double, 2> at = steps(point, origin);
    return {std::round(at[0]), std::round(at[1])};
}

GEOSCoordSequence* sequence(GEOSContextHandle_t geos, const std::vector<double>& xy) {
    GEOSCoordSequence* made =
        GEOSCoordSeq_copyFromBuffer_r(geos, xy.data(), static_cast<unsigned>(xy.size() / 2), 0, 0);
    STANDPOINT_CHECK(made != nullptr);
    return made;
}

GEOSGeometry* collection(GEOSContextHandle_t geos, int type, std::vector<GEOSGeometry*>& parts) {
    GEOSGeometry* made =
        GEOSGeom_createCollection_r(geos, type, parts.data(), static_cast<unsigned>(parts.size()));
    STANDPOINT_CHECK(made != nullptr);
    return made;
}

GEOSGeometry* polygon(GEOSContextHandle_t geos, std::vector<double> xy) {
    xy.push_back(xy[0]);
    xy.push_back(xy[1]);
    GEOSGeometry* ring = GEOSGeom_createLinearRing_r(geos, sequence(geos, xy));
    STANDPOINT_CHECK(ring != nullptr);
    GEOSGeometry* made = GEOSGeom_createPolygon_r(geos, ring, nullptr, 0);
    STANDPOINT_CHECK(made != nullptr);
    return made;
}

// Hands each run of coordinates (x0, y0, x1, y1, ...) of lines and rings to `take`.
template <class Take>
void each_line(GEOSContextHandle_t geos, const GEOSGeometry* geometry, const Take& take) {
    const int type = GEOSGeomTypeId_r(geos, geometry);
    if (type == GEOS_POLYGON) {
        each_line(geos, GEOSGetExteriorRing_r(geos, geometry), take);
        for (int i = 0; i < GEOSGetNumInteriorRings_r(geos, geometry); ++i)
            each_line(geos, GEOSGetInteriorRingN_r(geos, geometry, i), take);
        return;
    }
    if (type == GEOS_LINESTRING || type == GEOS_LINEARRING || type == GEOS_POINT) {
        if (GEOSisEmpty_r(geos, geometry) == 1) return;
        const GEOSCoordSequence* points = GEOSGeom_getCoordSeq_r(geos, geometry);
        unsigned count = 0;
        GEOSCoordSeq_getSize_r(geos, points, &count);
        std::vector<double> xy(2 * std::size_t{count});
        GEOSCoordSeq_copyToBuffer_r(geos, points, xy.data(), 0, 0);
        take(xy);
        return;
    }
    for (int i = 0; i < GEOSGetNumGeometries_r(geos, geometry); ++i)
        each_line(geos, GEOSGetGeometryN_r(geos, geometry, i), take);
}

Shape owned(GEOSContextHandle_t geos, GEOSGeometry* geometry) {
    STANDPOINT_CHECK(geometry != nullptr);
    return Shape(geometry, Destroy{geos});
}

std::int32_t whole(double value) {
    STANDPOINT_CHECK(std::abs(value) <= plan_reach_mm / plan_grid_mm);
    return static_cast<std::int32_t>(std::llround(value));
}

} // namespace

glm::dvec2 GridLines::scene(double x, double y) const {
    return origin + glm::dvec2(x, y) * plan_grid_mm;
}

GridLines noded(const std::vector<PlanSegment>& segments, const glm::dvec2& origin) {
    const Context context;
    GEOSContextHandle_t geos = context.handle;
    std::vector<GEOSGeometry*> lines;
    for (const PlanSegment& segment : segments) {
        const auto a = whole_steps(segment.a, origin), b = whole_steps(segment.b, origin);
        if (a == b) continue;
        lines.push_back(
            GEOSGeom_createLineString_r(geos, sequence(geos, {a[0], a[1], b[0], b[1]})));
    }
    GridLines out;
    out.origin = origin;
    const Shape all = owned(geos, collection(geos, GEOS_MULTILINESTRING, lines));
    const Shape nodes = owned(geos, GEOSUnaryUnionPrec_r(geos, all.get(), 1.0));
    each_line(geos, nodes.get(), [&](const std::vector<double>& xy) {
        for (std::size_t i = 0; i + 3 < xy.size(); i += 2)
            out.segments.push_back(
                {whole(xy[i]), whole(xy[i + 1]), whole(xy[i + 2]), whole(xy[i + 3])});
    });
    return out;
}

std::vector<PlanSegment> union_outline(const std::vector<std::vector<glm::dvec2>>& polygons,
                                       const glm::dvec2& origin) {
    const Context context;
    GEOSContextHandle_t geos = context.handle;
    std::vector<GEOSGeometry*> parts;
    for (const auto& points : polygons) {
        std::vector<double> xy;
        for (const glm::dvec2& point : points) {
            const auto at = whole_steps(point, origin);
            xy.insert(xy.end(), at.begin(), at.end());
        }
        parts.push_back(polygon(geos, std::move(xy)));
    }
    const Shape all = owned(geos, collection(geos, GEOS_MULTIPOLYGON, parts));
    const Shape joined = owned(geos, GEOSUnaryUnionPrec_r(geos, all.get(), 1.0));
    std::vector<PlanSegment> out;
    const auto scene = [&](double x, double y) { return origin + glm::dvec2(x, y) * plan_grid_mm; };
    each_line(geos, joined.get(), [&](const std::vector<double>& xy) {
        for (std::size_t i = 0; i + 3 < xy.size(); i += 2)
            out.push_back({scene(xy[i], xy[i + 1]), scene(xy[i + 2], xy[i + 3]), edge_owner});
    });
    return out;
}

PlanArea face_around(const GridLines& lines, const glm::dvec2& point) {
    PlanArea area;
    area.state = std::make_unique<PlanArea::State>();
    area.state->origin = lines.origin;
    GEOSContextHandle_t geos = area.state->context.handle;
    std::vector<GEOSGeometry*> parts;
    for (const auto& s : lines.segments)
        parts.push_back(GEOSGeom_createLineString_r(
            geos, sequence(geos, {double(s[0]), double(s[1]), double(s[2]), double(s[3])})));
    const Shape all = owned(geos, collection(geos, GEOS_MULTILINESTRING, parts));
    const GEOSGeometry* one = all.get();
    const Shape faces = owned(geos, GEOSPolygonize_r(geos, &one, 1));
    const auto at = steps(point, lines.origin);
    const Shape place = owned(geos, GEOSGeom_createPoint_r(geos, sequence(geos, {at[0], at[1]})));
    for (int i = 0; i < GEOSGetNumGeometries_r(geos, faces.get()); ++i) {
        const GEOSGeometry* face = GEOSGetGeometryN_r(geos, faces.get(), i);
        if (GEOSContains_r(geos, face, place.get()) != 1) continue;
        area.state->geometry = GEOSGeom_clone_r(geos, face);
        break;
    }
    return area;
}

PlanArea common(const PlanArea& area, const std::vector<std::vector<glm::dvec2>>& polygons) {
    PlanArea out;
    if (area.empty()) return out;
    out.state = std::make_unique<PlanArea::State>();
    out.state->origin = area.state->origin;
    GEOSContextHandle_t geos = out.state->context.handle;
    std::vector<GEOSGeometry*> parts;
    for (const auto& points : polygons) {
        std::vector<double> xy;
        for (const glm::dvec2& point : points) {
            const auto at = whole_steps(point, area.state->origin);
            xy.insert(xy.end(), at.begin(), at.end());
        }
        parts.push_back(polygon(geos, std::move(xy)));
    }
    const Shape all = owned(geos, collection(geos, GEOS_MULTIPOLYGON, parts));
    const Shape joined = owned(geos, GEOSUnaryUnionPrec_r(geos, all.get(), 1.0));
    out.state->geometry = GEOSIntersectionPrec_r(geos, area.state->geometry, joined.get(), 1.0);
    STANDPOINT_CHECK(out.state->geometry != nullptr);
    return out;
}

std::vector<glm::dvec2> corners_within(const PlanArea& area, const std::vector<glm::dvec2>& shape) {
    std::vector<glm::dvec2> out;
    if (area.empty()) return out;
    const Context context;
    GEOSContextHandle_t geos = context.handle;
    std::vector<double> xy;
    for (const glm::dvec2& point : shape) {
        const auto at = steps(point, area.state->origin);
        xy.insert(xy.end(), at.begin(), at.end());
    }
    GEOSGeometry* made = shape.size() > 2 ? polygon(geos, std::move(xy))
                                          : GEOSGeom_createLineString_r(geos, sequence(geos, xy));
    const Shape looked_at = owned(geos, made);
    const Shape shared =
        owned(geos, GEOSIntersection_r(geos, area.state->geometry, looked_at.get()));
    // An area has to share area, a line length: what only touches is not within.
    const int wanted = shape.size() > 2 ? 2 : 1;
    const int count = GEOSGetNumGeometries_r(geos, shared.get());
    for (int i = 0; i < count; ++i) {
        const GEOSGeometry* part = GEOSGetGeometryN_r(geos, shared.get(), i);
        if (GEOSGeom_getDimensions_r(geos, part) != wanted) continue;
        each_line(geos, part, [&](const std::vector<double>& line) {
            for (std::size_t j = 0; j + 1 < line.size(); j += 2)
                out.push_back(area.state->origin + glm::dvec2(line[j], line[j + 1]) * plan_grid_mm);
        });
    }
    return out;
}

} // namespace standpoint
