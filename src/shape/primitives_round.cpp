// Round bodies: an outline in the half plane (radius, height) turned about Z, and tubes.
#include "shape/primitives_round.h"

#include <array>
#include <cstdint>

#include <glm/geometric.hpp>

#include "base/check.h"
#include "measure/angle.h"
#include "shape/primitives.h"

namespace standpoint {

namespace {

using Ring = std::vector<std::uint32_t>; // one vertex a facet's edge, or one for all at a pole

// cos of 40 degrees: outlines drawn with nine corners or more to the circle look round.
constexpr double smooth_from_cos = 0.76604444311897804;

SinCos round_angle(double step, int count) {
    return sin_cos_deg(360.0 * step / count);
}

class Revolver {
  public:
    Revolver(MeshBuilder& build, const std::vector<glm::dvec2>& outline, const glm::dvec3& foot)
        : build_(build), outline_(outline), foot_(foot) {}

    void run() {
        const std::size_t count = outline_.size();
        std::vector<Ring> starts(count), ends(count); // of each side
        for (std::size_t i = 0; i < count; ++i)
            make_rings(i, ends[before(i)], starts[i]);
        for (std::size_t i = 0; i < count; ++i) {
            if (!on_axis(i)) side_surface(i, starts[i], ends[i]);
        }
    }

  private:
    std::size_t before(std::size_t i) const { return (i + outline_.size() - 1) % outline_.size(); }
    std::size_t after(std::size_t i) const { return (i + 1) % outline_.size(); }
    bool on_axis(std::size_t side) const {
        return outline_[side].x == 0 && outline_[after(side)].x == 0;
    }

    glm::dvec2 side_normal(std::size_t side) const { // (radial, up)
        const glm::dvec2 d = outline_[after(side)] - outline_[side];
        return glm::normalize(glm::dvec2(d.y, -d.x));
    }

    // The rings of vertices at corner i: where the side before ends and the next one starts.
    void make_rings(std::size_t i, Ring& end, Ring& start) {
        const bool last_shows = !on_axis(before(i)), next_shows = !on_axis(i);
        if (outline_[i].x == 0) {
            if (last_shows) end = pole(i, side_normal(before(i)));
            if (next_shows) start = pole(i, side_normal(i));
            return;
        }
        const glm::dvec2 last = side_normal(before(i)), next = side_normal(i);
        if (glm::dot(last, next) >= smooth_from_cos) {
            end = start = ring(i, glm::normalize(last + next));
            return;
        }
        end = ring(i, last);
        start = ring(i, next);
    }

    glm::dvec3 place(const SinCos& angle, double radius, double height) const {
        return foot_ + glm::dvec3(radius * angle.cos, radius * angle.sin, height);
    }

    Ring ring(std::size_t corner, const glm::dvec2& normal) {
        Ring made;
        for (int k = 0; k < round_facets; ++k) {
            const SinCos angle = round_angle(k, round_facets);
            made.push_back(build_.vertex(place(angle, outline_[corner].x, outline_[corner].y),
                                         {normal.x * angle.cos, normal.x * angle.sin, normal.y}));
        }
        return made;
    }

    // At the axis the surface meets its own mirror image: smooth, or a point with one normal a
    // facet.
    Ring pole(std::size_t corner, const glm::dvec2& normal) {
        const glm::dvec3 top = place({}, 0, outline_[corner].y);
        if (normal.y * normal.y - normal.x * normal.x >= smooth_from_cos) {
            return {build_.vertex(top, {0, 0, normal.y > 0 ? 1 : -1})};
        }
        Ring made;
        for (int k = 0; k < round_facets; ++k) {
            const SinCos angle = round_angle(k + 0.5, round_facets);
            made.push_back(
                build_.vertex(top, {normal.x * angle.cos, normal.x * angle.sin, normal.y}));
        }
        return made;
    }

    void side_surface(std::size_t side, const Ring& from, const Ring& to) {
        const bool from_axis = outline_[side].x == 0, to_axis = outline_[after(side)].x == 0;
        for (std::size_t k = 0; k < round_facets; ++k) {
            const std::size_t next = (k + 1) % round_facets;
            const auto at = [](const Ring& r, std::size_t i) { return r[r.size() == 1 ? 0 : i]; };
            if (!from_axis) build_.triangle(from[k], from[next], at(to, to_axis ? k : next));
            if (!to_axis) build_.triangle(at(from, k), to[next], to[k]);
        }
    }

    MeshBuilder& build_;
    const std::vector<glm::dvec2>& outline_;
    glm::dvec3 foot_;
};

void tube_cap(MeshBuilder& build, const std::array<glm::dvec3, rail_facets>& rim,
              const glm::dvec3& middle, const glm::dvec3& normal, bool at_end) {
    const std::uint32_t centre = build.vertex(middle, normal);
    for (const glm::dvec3& p : rim)
        build.vertex(p, normal);
    for (std::uint32_t k = 0; k < rail_facets; ++k) {
        const std::uint32_t here = centre + 1 + k, next = centre + 1 + (k + 1) % rail_facets;
        build.triangle(centre, at_end ? here : next, at_end ? next : here);
    }
}

} // namespace

void revolve(MeshBuilder& build, const std::vector<glm::dvec2>& outline, const glm::dvec3& foot) {
    Revolver(build, outline, foot).run();
}

void tube(MeshBuilder& build, const std::vector<glm::dvec3>& line,
          const std::vector<glm::dvec3>& along, double radius) {
    STANDPOINT_CHECK(line.size() >= 2 && line.size() == along.size());
    std::uint32_t last = 0;
    for (std::size_t i = 0; i < line.size(); ++i) {
        const glm::dvec3 side = glm::normalize(glm::dvec3(-along[i].y, along[i].x, 0));
        const glm::dvec3 up = glm::cross(along[i], side);
        std::array<glm::dvec3, rail_facets> rim;
        std::uint32_t first = 0;
        for (int k = 0; k < rail_facets; ++k) {
            const SinCos angle = round_angle(k, rail_facets);
            const glm::dvec3 out = angle.cos * side + angle.sin * up;
            rim[static_cast<std::size_t>(k)] = line[i] + radius * out;
            const std::uint32_t made = build.vertex(line[i] + radius * out, out);
            if (k == 0) first = made;
        }
        for (std::uint32_t k = 0; i > 0 && k < rail_facets; ++k) {
            const std::uint32_t next = (k + 1) % rail_facets;
            build.triangle(last + k, last + next, first + next);
            build.triangle(last + k, first + next, first + k);
        }
        last = first;
        if (i == 0) {
            tube_cap(build, rim, line[i], -along[i], false);
        } else if (i + 1 == line.size()) {
            tube_cap(build, rim, line[i], along[i], true);
        }
    }
}

std::vector<glm::dvec2> cone_outline(double radius, double top_radius, double height) {
    std::vector<glm::dvec2> outline{{0, 0}};
    if (radius > 0) outline.emplace_back(radius, 0);
    if (top_radius > 0) outline.emplace_back(top_radius, height);
    outline.emplace_back(0, height);
    return outline;
}

std::vector<glm::dvec2> capsule_outline(double radius, double height) {
    constexpr int steps = round_facets / 4; // of a quarter circle
    std::vector<glm::dvec2> outline;
    for (int k = 0; k <= steps; ++k) {
        const SinCos angle = round_angle(k, round_facets);
        outline.emplace_back(radius * angle.sin, radius - radius * angle.cos);
    }
    if (height <= 2 * radius) outline.pop_back(); // the upper cap starts at the same place
    for (int k = steps; k >= 0; --k) {
        const SinCos angle = round_angle(k, round_facets);
        outline.emplace_back(radius * angle.sin, height - radius + radius * angle.cos);
    }
    return outline;
}

} // namespace standpoint
