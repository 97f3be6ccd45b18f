// Draws a picture tile by tile: eye rays first, then the light of all places they met at once.
#include "picture/render.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <numbers>

#include <glm/geometric.hpp>

#include "base/hash.h"
#include "measure/angle.h"
#include "picture/camera.h"
#include "picture/look.h"
#include "picture/sampling.h"

namespace standpoint {
namespace {

constexpr int tile_size = 16;
constexpr double far_mm = 60000;      // further than any hall is long
constexpr double sky_reach_mm = 9000; // what is further off darkens no corner
constexpr double off_surface_mm = 0.5;
constexpr int most_layers = 8;         // of glass across one ray
constexpr double least_weight = 0.004; // a mirrored ray that carries less is let go
constexpr double gloss_blur = 0.03;    // roughness of the floor's sheen

struct EyeRay {
    std::uint32_t pixel = 0; // in the tile
    std::uint32_t sample = 0;
    double weight = 1;
    glm::dvec3 origin{0.0}, direction{0.0};
    int layer = 0;
    bool mirrored = false;
};

struct Spot { // a place that sends light to the eye
    std::uint32_t pixel = 0, sample = 0;
    double weight = 0;
    Look look;
};

struct Tile {
    int x0 = 0, y0 = 0, width = 0, height = 0;
    std::vector<EyeRay> rays;
    std::vector<Spot> spots;
    std::vector<glm::dvec3> sums;
};

struct Scene {
    const Staging& staging;
    const RayIndex& index;
    const RayIndex& casters;
    const Light& light;
    const PictureOptions& options;
    Pinhole pinhole;
};

std::uint64_t scramble_of(int x, int y, std::uint64_t purpose) {
    return mix(mix(static_cast<std::uint64_t>(x) << 32 | static_cast<std::uint32_t>(y)) + purpose);
}

std::uint64_t scramble_in(const Tile& tile, std::uint32_t pixel, std::uint64_t purpose) {
    return scramble_of(tile.x0 + static_cast<int>(pixel) % tile.width,
                       tile.y0 + static_cast<int>(pixel) / tile.width, purpose);
}

void aim(const Scene& scene, Tile& tile) {
    for (int y = 0; y < tile.height; ++y)
        for (int x = 0; x < tile.width; ++x)
            for (int s = 0; s < scene.options.samples; ++s) {
                const glm::dvec2 offset = even_point(static_cast<std::uint32_t>(s),
                                                     scramble_of(tile.x0 + x, tile.y0 + y, 1));
                EyeRay ray;
                ray.pixel = static_cast<std::uint32_t>(y * tile.width + x);
                ray.sample = static_cast<std::uint32_t>(s);
                ray.origin = scene.pinhole.eye;
                ray.direction =
                    direction_through(scene.pinhole, scene.options.width, scene.options.height,
                                      glm::dvec2(tile.x0 + x, tile.y0 + y) + offset);
                tile.rays.push_back(ray);
            }
}

bool met(const Scene& scene, const EyeRay& ray, Look& look) {
    Crossing crossing;
    const bool hit =
        scene.index.nearest({ray.origin, ray.origin + ray.direction * far_mm}, crossing);
    if (scene.light.floor && ray.direction.z < 0 && ray.origin.z > 0) {
        const double distance = -ray.origin.z / ray.direction.z;
        if (distance < far_mm && (!hit || distance < crossing.distance)) {
            look = look_at_floor(ray.origin + ray.direction * distance);
            return true;
        }
    }
    if (hit) look = look_at_crossing(scene.staging, crossing, ray.origin, ray.direction);
    return hit;
}

// Schlick's approximation of how much a smooth skin mirrors.
double mirrored_share(double gloss, double cosine) {
    return gloss <= 0 ? 0 : gloss + (1 - gloss) * std::pow(1 - std::clamp(cosine, 0.0, 1.0), 5);
}

void send_mirrored(const Tile& tile, const EyeRay& ray, const Look& look, double weight,
                   std::vector<EyeRay>& more) {
    if (weight < least_weight) return;
    EyeRay next = ray;
    next.weight = weight;
    next.mirrored = true;
    glm::dvec3 normal = look.normal;
    if (look.lets_through <= 0) { // a rough sheen
        const glm::dvec2 jitter = even_point(ray.sample, scramble_in(tile, ray.pixel, 4)) - 0.5;
        normal = glm::normalize(normal + glm::dvec3(jitter * gloss_blur, 0.0));
    }
    next.direction = glm::reflect(ray.direction, normal);
    if (glm::dot(next.direction, look.flat_normal) <= 0) return;
    next.origin = look.place + look.flat_normal * off_surface_mm;
    more.push_back(next);
}

void follow(const Scene& scene, Tile& tile, const EyeRay& ray, std::vector<EyeRay>& more) {
    Look look;
    if (!met(scene, ray, look)) {
        const glm::dvec3 from = ray.origin + ray.direction * (far_mm / 4);
        tile.sums[ray.pixel] +=
            scene.light.sky(ray.direction) * (ray.weight * light_share(scene.light, from));
        return;
    }
    const double mirror =
        ray.mirrored ? 0 : mirrored_share(look.gloss, -glm::dot(ray.direction, look.normal));
    send_mirrored(tile, ray, look, ray.weight * mirror, more);
    const double rest = ray.weight * (1 - mirror);
    const double through = ray.layer < most_layers ? look.lets_through : 0;
    if (through > 0) {
        EyeRay next = ray;
        next.weight = rest * through;
        next.origin = look.place + ray.direction * off_surface_mm;
        ++next.layer;
        more.push_back(next);
    }
    if (through < 1) tile.spots.push_back({ray.pixel, ray.sample, rest * (1 - through), look});
}

void look_around(const Scene& scene, Tile& tile) {
    std::vector<EyeRay> more;
    while (!tile.rays.empty()) {
        more.clear();
        for (const EyeRay& ray : tile.rays)
            follow(scene, tile, ray, more);
        std::swap(tile.rays, more);
    }
}

struct Ask { // one ray of light towards a spot
    std::uint32_t spot = 0;
    glm::dvec3 open{0.0};   // radiance times pi when nothing is in the way
    glm::dvec3 closed{0.0}; // when something is
};

void ask_sky(const Scene& scene, const Tile& tile, std::uint32_t s, std::vector<Ask>& asks,
             std::vector<Segment>& segments) {
    const Spot& spot = tile.spots[s];
    const int count = scene.options.light_samples;
    const std::uint64_t scramble = scramble_in(tile, spot.pixel, 2);
    const glm::dvec3 from = spot.look.place + spot.look.flat_normal * off_surface_mm;
    for (int i = 0; i < count; ++i) {
        const auto order = static_cast<std::uint32_t>(spot.sample * count + i);
        const glm::dvec3 d = cosine_direction(spot.look.normal, even_point(order, scramble));
        const double each = std::numbers::pi / count;
        Ask ask;
        ask.spot = s;
        ask.closed = scene.light.bounce * spot.look.colour * each;
        // Below the triangle's own plane the smoothed normal looks into the surface.
        const bool out = glm::dot(d, spot.look.flat_normal) > 0;
        ask.open = out ? scene.light.sky(d) * each : ask.closed;
        asks.push_back(ask);
        segments.push_back({from, from + d * sky_reach_mm});
    }
}

void ask_sun(const Scene& scene, const Tile& tile, std::uint32_t s, std::vector<Ask>& asks,
             std::vector<Segment>& segments) {
    const Light& light = scene.light;
    if (light.sun == glm::dvec3(0.0)) return;
    const Spot& spot = tile.spots[s];
    const glm::dvec3 d =
        cone_direction(light.sun_direction, sin_cos_deg(light.sun_half_angle_deg).cos,
                       even_point(spot.sample, scramble_in(tile, spot.pixel, 3)));
    const double cosine = glm::dot(d, spot.look.normal);
    if (cosine <= 0 || glm::dot(d, spot.look.flat_normal) <= 0) return;
    const glm::dvec3 from = spot.look.place + spot.look.flat_normal * off_surface_mm;
    asks.push_back({s, light.sun * cosine, glm::dvec3(0.0)});
    segments.push_back({from, from + d * far_mm});
}

void light_up(const Scene& scene, Tile& tile) {
    std::vector<Ask> asks;
    std::vector<Segment> segments;
    for (std::uint32_t s = 0; s < tile.spots.size(); ++s) {
        ask_sky(scene, tile, s, asks, segments);
        ask_sun(scene, tile, s, asks, segments);
    }
    std::vector<std::uint8_t> blocked(segments.size());
    scene.casters.blocked(segments, blocked);
    for (std::size_t i = 0; i < asks.size(); ++i) {
        const Spot& spot = tile.spots[asks[i].spot];
        const glm::dvec3 falls = blocked[i] ? asks[i].closed : asks[i].open;
        tile.sums[spot.pixel] +=
            spot.look.colour * falls *
            (spot.weight * light_share(scene.light, spot.look.place) / std::numbers::pi);
    }
}

void draw_tile(const Scene& scene, Tile& tile, Radiance& out) {
    tile.sums.assign(static_cast<std::size_t>(tile.width) * tile.height, glm::dvec3(0.0));
    aim(scene, tile);
    look_around(scene, tile);
    light_up(scene, tile);
    for (int y = 0; y < tile.height; ++y)
        for (int x = 0; x < tile.width; ++x)
            out.pixels[static_cast<std::size_t>(tile.y0 + y) * out.width + tile.x0 + x] =
                tile.sums[static_cast<std::size_t>(y) * tile.width + x] *
                (1.0 / scene.options.samples);
}

void check_options(const PictureOptions& options) {
    STANDPOINT_CHECK(options.width >= 16 && options.width <= 8192);
    STANDPOINT_CHECK(options.height >= 16 && options.height <= 8192);
    STANDPOINT_CHECK(options.samples >= 1 && options.samples <= 64);
    STANDPOINT_CHECK(options.light_samples >= 1 && options.light_samples <= 64);
}

} // namespace

Result<Radiance> render(const Staging& staging, const RayIndex& index, const RayIndex& casters,
                        const Camera& camera, const Light& light, const PictureOptions& options,
                        const Progress& progress) {
    check_options(options);
    const Scene scene{staging, index, casters, light, options, pinhole_of(camera)};
    Radiance out;
    out.width = options.width;
    out.height = options.height;
    out.pixels.resize(static_cast<std::size_t>(out.width) * out.height);
    const int across = (out.width + tile_size - 1) / tile_size;
    const int down = (out.height + tile_size - 1) / tile_size;
    const auto count = static_cast<std::size_t>(across) * down;
    std::atomic<bool> stopped = false;
    std::atomic<std::size_t> finished = 0;
    parallel_for(count, options.threads, [&](std::size_t i) {
        if (stopped || progress.stop()) {
            stopped = true;
            return;
        }
        Tile tile;
        tile.x0 = static_cast<int>(i % across) * tile_size;
        tile.y0 = static_cast<int>(i / across) * tile_size;
        tile.width = std::min(tile_size, out.width - tile.x0);
        tile.height = std::min(tile_size, out.height - tile.y0);
        draw_tile(scene, tile, out);
        const std::size_t done = ++finished;
        if (progress.report)
            progress.report(static_cast<double>(done) / static_cast<double>(count), "drawing");
    });
    if (stopped) return Error{ErrorCode::cancelled, "drawing was cancelled", ""};
    return out;
}

} // namespace standpoint
