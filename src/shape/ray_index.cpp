// The fast ray index: Embree behind the header, one geometry a piece.
//
// Embree keeps floats, relative to a local origin, and decides which triangles a ray meets; where
// it meets them is worked out again in double from the mesh itself.
#include <embree3/rtcore.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <string>

#include <glm/geometric.hpp>

#if defined(__SSE__)
#include <xmmintrin.h>
#endif

#include "measure/tolerance.h"
#include "shape/crossings.h"

namespace standpoint {

namespace {

// Embree wants denormals flushed; everything else in the program keeps them.
class FlushDenormals {
  public:
#if defined(__SSE__)
    FlushDenormals() : before_(_mm_getcsr()) {
        _mm_setcsr(before_ | flush_to_zero | are_zero);
    }
    ~FlushDenormals() {
        _mm_setcsr(before_);
    }
#else
    FlushDenormals() = default;
    ~FlushDenormals() = default;
#endif
    FlushDenormals(const FlushDenormals&) = delete;
    FlushDenormals& operator=(const FlushDenormals&) = delete;

#if defined(__SSE__)
  private:
    static constexpr unsigned flush_to_zero = 0x8000, are_zero = 0x0040;
    unsigned before_;
#endif
};

void stop_on_error(void*, RTCError code, const char* text) {
    const std::string message = "Embree error " + std::to_string(code) + ": " + (text ? text : "");
    check_failed(message.c_str(), __FILE__, __LINE__);
}

struct DeviceRelease {
    void operator()(RTCDevice device) const { rtcReleaseDevice(device); }
};
struct SceneRelease {
    void operator()(RTCScene scene) const { rtcReleaseScene(scene); }
};
using DeviceOwner = std::unique_ptr<RTCDeviceTy, DeviceRelease>;
using SceneOwner = std::unique_ptr<RTCSceneTy, SceneRelease>;

DeviceOwner new_device() {
    DeviceOwner device(rtcNewDevice(nullptr));
    if (!device) stop_on_error(nullptr, rtcGetDeviceError(nullptr), "no device");
    rtcSetDeviceErrorFunction(device.get(), stop_on_error, nullptr);
    STANDPOINT_CHECK(
        rtcGetDeviceProperty(device.get(), RTC_DEVICE_PROPERTY_FILTER_FUNCTION_SUPPORTED) != 0);
    STANDPOINT_CHECK(
        rtcGetDeviceProperty(device.get(), RTC_DEVICE_PROPERTY_BACKFACE_CULLING_ENABLED) == 0);
    return device;
}

// The median of the pieces' middles: one piece a kilometre away by a slip of the pen does not cost
// the others their precision.
glm::dvec3 local_origin(const Staging& staging, const std::vector<std::uint32_t>& pieces) {
    glm::dvec3 origin(0.0);
    std::vector<double> values;
    for (int axis = 0; axis < 3; ++axis) {
        values.clear();
        for (const std::uint32_t index : pieces) {
            const StagedPiece& piece = staging.pieces[index];
            const Box box = bounds(*piece.mesh);
            if (!box.empty()) values.push_back(to_scene(piece, box.centre())[axis]);
        }
        if (values.empty()) continue;
        const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
        std::nth_element(values.begin(), middle, values.end());
        origin[axis] = *middle;
    }
    return origin;
}

struct Candidate { // what Embree says of a crossing
    std::uint32_t piece = 0, triangle = 0;
    double u = 0, v = 0;
};

// Works the crossing out in double. Off the triangle by rounding, Embree's own place on it stands:
// it decided that the surface is met, so that no ray slips between two triangles. False when it
// lies beyond the ends or on a cut-out texel.
bool place(const Staging& staging, const Ray& ray, Candidate candidate, Crossing& crossing) {
    const StagedPiece& piece = staging.pieces[candidate.piece];
    const Triangle t = scene_triangle(piece, candidate.triangle);
    const glm::dvec3 ab = t.b - t.a, ac = t.c - t.a, from_a = ray.from - t.a;
    const glm::dvec3 p = glm::cross(ray.direction, ac), q = glm::cross(from_a, ab);
    const double scale = glm::dot(ab, p);
    double u = glm::dot(from_a, p) / scale, v = glm::dot(ray.direction, q) / scale;
    double distance = glm::dot(ac, q) / scale;
    if (!(u >= 0 && v >= 0 && u + v <= 1)) {
        u = std::clamp(candidate.u, 0.0, 1.0);
        v = std::clamp(candidate.v, 0.0, 1.0 - u);
        distance = glm::dot(ab * u + ac * v - from_a, ray.direction);
    }
    if (!(ray.low < distance && distance < ray.high)) return false;
    if (cut_out(*piece.mesh, candidate.triangle, u, v)) return false;
    crossing = {distance,
                candidate.piece,
                candidate.triangle,
                material_of(*piece.mesh, candidate.triangle).lets_through,
                static_cast<float>(u),
                static_cast<float>(v)};
    return true;
}

Candidate candidate_of(const RTCFilterFunctionNArguments& call, unsigned i) {
    return {RTCHitN_geomID(call.hit, call.N, i), RTCHitN_primID(call.hit, call.N, i),
            static_cast<double>(RTCHitN_u(call.hit, call.N, i)),
            static_cast<double>(RTCHitN_v(call.hit, call.N, i))};
}

// One query's own context: Embree hands the pointer to the filter, which reads on behind `base`.
struct Query {
    RTCIntersectContext base;
    const Staging* staging = nullptr;

    Query(const Staging& of, RTCFilterFunctionN filter) : staging(&of) {
        rtcInitIntersectContext(&base);
        base.filter = filter;
    }
};

struct OneRay : Query { // gathers crossings along one ray
    Ray ray;
    std::vector<Crossing>* found;
    double nearest = 0; // so far

    OneRay(const Staging& of, const Ray& along, std::vector<Crossing>& out,
           RTCFilterFunctionN filter)
        : Query(of, filter), ray(along), found(&out), nearest(along.high) {}
};

template <class T> T& query_of(const RTCFilterFunctionNArguments* call) {
    return *static_cast<T*>(reinterpret_cast<Query*>(call->context));
}

void gather_all(const RTCFilterFunctionNArguments* call) {
    OneRay& query = query_of<OneRay>(call);
    Crossing crossing;
    if (place(*query.staging, query.ray, candidate_of(*call, 0), crossing))
        query.found->push_back(crossing);
    call->valid[0] = 0; // go on behind it
}

// Keeps what lies within equal_distance_mm of the nearest, and shortens the ray to that.
void gather_nearest(const RTCFilterFunctionNArguments* call) {
    OneRay& query = query_of<OneRay>(call);
    Crossing crossing;
    const bool counts = place(*query.staging, query.ray, candidate_of(*call, 0), crossing);
    const bool nearer = counts && (query.found->empty() || crossing.distance < query.nearest);
    if (nearer) {
        query.nearest = crossing.distance;
        std::erase_if(*query.found, [&](const Crossing& c) {
            return c.distance > query.nearest + equal_distance_mm;
        });
        RTCRayN_tfar(call->ray, call->N, 0) =
            static_cast<float>(query.nearest + equal_distance_mm + float_reach_mm);
    }
    if (counts && crossing.distance <= query.nearest + equal_distance_mm)
        query.found->push_back(crossing);
    if (!nearer) call->valid[0] = 0;
}

struct ManyRays : Query { // occlusion of a chunk; ids are places in `segments`
    const Segment* segments;

    ManyRays(const Staging& of, const Segment* first) : Query(of, nullptr), segments(first) {}
};

bool stops(const ManyRays& query, const RTCFilterFunctionNArguments& call, unsigned i) {
    const Candidate candidate = candidate_of(call, i);
    const Mesh& mesh = *query.staging->pieces[candidate.piece].mesh;
    const Material& material = material_of(mesh, candidate.triangle);
    if (material.lets_through != 0) return false;
    if (material.alpha_cutoff < 0) return true;
    const Ray ray = ray_along(query.segments[RTCRayN_id(call.ray, call.N, i)]);
    Crossing crossing;
    return place(*query.staging, ray, candidate, crossing);
}

// For the geometries that have cut-outs or let light through; the others stop a ray unasked.
void keep_opaque(const RTCFilterFunctionNArguments* call) {
    const ManyRays& query = query_of<ManyRays>(call);
    for (unsigned i = 0; i < call->N; ++i)
        if (call->valid[i] != 0 && !stops(query, *call, i)) call->valid[i] = 0;
}

bool stops_every_ray(const Mesh& mesh) {
    return std::all_of(mesh.materials.begin(), mesh.materials.end(),
                       [](const Material& m) { return m.lets_through == 0 && m.alpha_cutoff < 0; });
}

constexpr std::size_t chunk = 512; // rays a stream: they stay in the first-level cache

class EmbreeIndex final : public RayIndex {
  public:
    EmbreeIndex(const Staging& staging, const IndexChoice& choice)
        : staging_(staging), device_(new_device()), scene_(rtcNewScene(device_.get())) {
        const auto start = std::chrono::steady_clock::now();
        const std::vector<std::uint32_t> pieces = chosen_pieces(staging, choice);
        origin_ = local_origin(staging, pieces);
        rtcSetSceneFlags(scene_.get(),
                         RTC_SCENE_FLAG_ROBUST | RTC_SCENE_FLAG_CONTEXT_FILTER_FUNCTION);
        quality_ = choice.quick ? RTC_BUILD_QUALITY_LOW : RTC_BUILD_QUALITY_HIGH;
        rtcSetSceneBuildQuality(scene_.get(), quality_);
        for (const std::uint32_t piece : pieces)
            add(piece);
        rtcCommitScene(scene_.get());
        facts_.build_seconds =
            std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    }

    bool nearest(const Segment& segment, Crossing& crossing) const override {
        std::vector<Crossing> found;
        gather(segment, found, gather_nearest);
        if (found.empty()) return false;
        crossing = found.front();
        return true;
    }

    void crossings(const Segment& segment, std::vector<Crossing>& out) const override {
        out.clear();
        gather(segment, out, gather_all);
    }

    void blocked(std::span<const Segment> segments, std::span<std::uint8_t> out) const override {
        STANDPOINT_CHECK(segments.size() == out.size());
        const FlushDenormals flush;
        for (std::size_t first = 0; first < segments.size(); first += chunk) {
            const std::size_t count = std::min(chunk, segments.size() - first);
            block_chunk(segments.subspan(first, count), out.subspan(first, count));
        }
    }

    IndexFacts facts() const override { return facts_; }

  private:
    void add(std::uint32_t index) {
        const Mesh& mesh = *staging_.pieces[index].mesh;
        ++facts_.pieces;
        facts_.triangles += mesh.triangles.size();
        if (mesh.triangles.empty()) return;
        RTCGeometry geometry = rtcNewGeometry(device_.get(), RTC_GEOMETRY_TYPE_TRIANGLE);
        rtcSetGeometryBuildQuality(geometry, quality_);
        fill_corners(geometry, staging_.pieces[index]);
        fill_triangles(geometry, mesh);
        if (!stops_every_ray(mesh)) rtcSetGeometryOccludedFilterFunction(geometry, keep_opaque);
        rtcCommitGeometry(geometry);
        rtcAttachGeometryByID(scene_.get(), geometry, index);
        rtcReleaseGeometry(geometry);
    }

    void fill_corners(RTCGeometry geometry, const StagedPiece& piece) const {
        const std::vector<glm::dvec3>& positions = piece.mesh->positions;
        auto* corners = static_cast<glm::vec3*>(
            rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3,
                                    sizeof(glm::vec3), positions.size()));
        for (std::size_t i = 0; i < positions.size(); ++i)
            corners[i] = glm::vec3(to_scene(piece, positions[i]) - origin_);
    }

    static void fill_triangles(RTCGeometry geometry, const Mesh& mesh) {
        auto* triangles = static_cast<glm::uvec3*>(
            rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3,
                                    sizeof(glm::uvec3), mesh.triangles.size()));
        const std::size_t corners = mesh.positions.size();
        for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
            const glm::uvec3& t = mesh.triangles[i];
            STANDPOINT_CHECK(t.x < corners && t.y < corners && t.z < corners);
            triangles[i] = t;
        }
    }

    RTCRay float_ray(const Ray& ray, double low, double high) const {
        const glm::vec3 from(ray.from - origin_), along(ray.direction);
        RTCRay out = {};
        out.org_x = from.x;
        out.org_y = from.y;
        out.org_z = from.z;
        out.dir_x = along.x;
        out.dir_y = along.y;
        out.dir_z = along.z;
        out.tnear = static_cast<float>(low);
        out.tfar = static_cast<float>(high);
        out.mask = ~0u;
        return out;
    }

    void gather(const Segment& segment, std::vector<Crossing>& found,
                RTCFilterFunctionN filter) const {
        const Ray ray = ray_along(segment);
        if (ray.low >= ray.high) return;
        {
            const FlushDenormals flush;
            OneRay query(staging_, ray, found, filter);
            RTCRayHit hit = {};
            hit.ray = float_ray(ray, 0, ray.high + float_reach_mm);
            hit.hit.geomID = RTC_INVALID_GEOMETRY_ID;
            hit.hit.instID[0] = RTC_INVALID_GEOMETRY_ID;
            rtcIntersect1(scene_.get(), &query.base, &hit);
        }
        settle_crossings(staging_, ray, found);
    }

    void block_chunk(std::span<const Segment> segments, std::span<std::uint8_t> out) const {
        std::array<RTCRay, chunk> rays;
        for (std::size_t i = 0; i < segments.size(); ++i) {
            const Ray ray = ray_along(segments[i]);
            // A ray that ends before it starts is passed over.
            const bool counts = ray.low < ray.high;
            rays[i] = float_ray(ray, counts ? ray.low : 1, counts ? ray.high : 0);
            rays[i].id = static_cast<unsigned>(i);
        }
        ManyRays query(staging_, segments.data());
        rtcOccluded1M(scene_.get(), &query.base, rays.data(),
                      static_cast<unsigned>(segments.size()), sizeof(RTCRay));
        for (std::size_t i = 0; i < segments.size(); ++i)
            out[i] = rays[i].tfar < 0 ? 1 : 0;
    }

    const Staging& staging_;
    DeviceOwner device_;
    SceneOwner scene_;
    RTCBuildQuality quality_ = RTC_BUILD_QUALITY_HIGH;
    glm::dvec3 origin_{0.0};
    IndexFacts facts_;
};

} // namespace

std::unique_ptr<RayIndex> make_ray_index(const Staging& staging, const IndexChoice& choice) {
    return std::make_unique<EmbreeIndex>(staging, choice);
}

} // namespace standpoint
