// Unites the projected triangles with GEOS.
#include "sheet/footprint.h"

#include <cmath>
#include <memory>

#include <geos_c.h>

#include "base/check.h"
#include "shape/mass_properties.h"

namespace standpoint {
namespace {

// Finer than a line on the sheet: 0.1 mm is a hundredth of a hair's width at 1:50.
constexpr double grid_mm = 0.1;
// Points of the outline that move it less than this are dropped.
constexpr double simplify_mm = 1.0;

constexpr double smallest_ring_mm2 = 1.0;

double twice_area(const std::vector<glm::dvec2>& ring) {
    double area = 0;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const glm::dvec2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
        area += a.x * b.y - b.x * a.y;
    }
    return area;
}

struct Context {
    GEOSContextHandle_t handle = GEOS_init_r();
    Context() = default;
    Context(const Context&) = delete;
    Context& operator=(const Context&) = delete;
    ~Context() { GEOS_finish_r(handle); }
};

struct GeometryDelete {
    GEOSContextHandle_t handle;
    void operator()(GEOSGeometry* geometry) const { GEOSGeom_destroy_r(handle, geometry); }
};
using Geometry = std::unique_ptr<GEOSGeometry, GeometryDelete>;

Geometry owned(GEOSContextHandle_t handle, GEOSGeometry* geometry) {
    STANDPOINT_CHECK(geometry != nullptr);
    return Geometry(geometry, GeometryDelete{handle});
}

double twice_area(const Triangle& t) {
    return (t.b.x - t.a.x) * (t.c.y - t.a.y) - (t.c.x - t.a.x) * (t.b.y - t.a.y);
}

GEOSGeometry* triangle_polygon(GEOSContextHandle_t handle, const Triangle& t) {
    GEOSCoordSequence* points = GEOSCoordSeq_create_r(handle, 4, 2);
    const glm::dvec3 corners[] = {t.a, t.b, t.c, t.a};
    for (unsigned i = 0; i < 4; ++i)
        GEOSCoordSeq_setXY_r(handle, points, i, corners[i].x, corners[i].y);
    return GEOSGeom_createPolygon_r(handle, GEOSGeom_createLinearRing_r(handle, points), nullptr,
                                    0);
}

double snapped(double mm) {
    return std::round(mm / grid_mm) * grid_mm;
}

Triangle on_grid(Triangle t) {
    for (glm::dvec3* corner : {&t.a, &t.b, &t.c})
        *corner = {snapped(corner->x), snapped(corner->y), corner->z};
    return t;
}

// A closed solid covers the same floor with its upper side as with its lower: one is enough.
bool upper_side_only(const Mesh& mesh) {
    return mass_properties(mesh).closed;
}

Geometry united(GEOSContextHandle_t handle, const StagedPiece& piece) {
    std::vector<GEOSGeometry*> polygons;
    const bool upper = upper_side_only(*piece.mesh);
    for (std::uint32_t i = 0; i < piece.mesh->triangles.size(); ++i) {
        const Triangle triangle = on_grid(scene_triangle(piece, i));
        const double area = twice_area(triangle);
        // What is seen on edge covers nothing; its neighbours carry the outline.
        if (std::abs(area) < grid_mm * grid_mm || (upper && area < 0)) continue;
        polygons.push_back(triangle_polygon(handle, triangle));
    }
    const Geometry all =
        owned(handle, GEOSGeom_createCollection_r(handle, GEOS_MULTIPOLYGON, polygons.data(),
                                                  static_cast<unsigned>(polygons.size())));
    const Geometry whole = owned(handle, GEOSUnaryUnion_r(handle, all.get()));
    return owned(handle, GEOSTopologyPreserveSimplify_r(handle, whole.get(), simplify_mm));
}

void add_ring(GEOSContextHandle_t handle, const GEOSGeometry* ring, PlanShape& shape) {
    const GEOSCoordSequence* points = GEOSGeom_getCoordSeq_r(handle, ring);
    unsigned count = 0;
    GEOSCoordSeq_getSize_r(handle, points, &count);
    std::vector<glm::dvec2> out;
    for (unsigned i = 0; i + 1 < count; ++i) {
        glm::dvec2 point;
        GEOSCoordSeq_getXY_r(handle, points, i, &point.x, &point.y);
        out.push_back(point);
    }
    // Cracks between neighbouring triangles close on the grid to rings without area.
    if (std::abs(twice_area(out)) > 2 * smallest_ring_mm2) shape.rings.push_back(std::move(out));
}

void add_polygon(GEOSContextHandle_t handle, const GEOSGeometry* polygon, PlanShape& shape) {
    if (GEOSisEmpty_r(handle, polygon) != 0) return;
    add_ring(handle, GEOSGetExteriorRing_r(handle, polygon), shape);
    const int holes = GEOSGetNumInteriorRings_r(handle, polygon);
    for (int i = 0; i < holes; ++i)
        add_ring(handle, GEOSGetInteriorRingN_r(handle, polygon, i), shape);
}

} // namespace

PlanShape plan_shape(const StagedPiece& piece) {
    const Context context;
    const Geometry whole = united(context.handle, piece);
    PlanShape shape;
    const int count = GEOSGetNumGeometries_r(context.handle, whole.get());
    for (int i = 0; i < count; ++i) {
        const GEOSGeometry* part = GEOSGetGeometryN_r(context.handle, whole.get(), i);
        if (GEOSGeomTypeId_r(context.handle, part) == GEOS_POLYGON)
            add_polygon(context.handle, part, shape);
    }
    GEOSArea_r(context.handle, whole.get(), &shape.area);
    return shape;
}

} // namespace standpoint
