// Scenes for the tests of the ray index: plain meshes placed by hand, and random lots of them.
#pragma once

#include <string>
#include <vector>

#include "shape/ray_index.h"
#include "shape/staging.h"
#include "support/random.h"

namespace standpoint::ray_scenes {

Material opaque();
Material glass(float lets_through);
Material leaves(int texels, std::uint64_t seed); // half of the texels cut out, at random

Mesh empty_mesh(const Material& material);
void add_triangle(Mesh& mesh, const glm::dvec3& a, const glm::dvec3& b, const glm::dvec3& c);

Mesh box(const glm::dvec3& low, const glm::dvec3& high, const Material& material = opaque());
// Corners on a sphere about the origin, shared by their triangles.
Mesh ball(double radius, int around, int rings, const Material& material = opaque());
// Counter-clockwise seen from the side it faces; texture from (0, 0) at a to (1, 1) at c.
Mesh quad(const glm::dvec3& a, const glm::dvec3& b, const glm::dvec3& c, const glm::dvec3& d,
          const Material& material = opaque());
Mesh terrain(double width, double depth, int fields, double height, std::uint64_t seed);
Mesh fence(double length, double height, int posts); // thin posts and rails, boxes

StagedPiece staged(const std::string& id, Mesh mesh, const Placement& placement = {});
Placement placed(const glm::dvec3& origin, double facing = 0, double tilt = 0, double roll = 0,
                 double scale = 1);
// Standing on terrain: boxes, balls, fences, panes of glass and leaves, within 8 x 8 x 3 m.
Staging landing(std::uint64_t seed, const glm::dvec3& offset = glm::dvec3(0.0));

glm::dvec3 point_in(support::Random& random, const glm::dvec3& low, const glm::dvec3& high);

} // namespace standpoint::ray_scenes
