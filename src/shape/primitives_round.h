// Round bodies: an outline in the half plane (radius, height) turned about Z, and tubes.
#pragma once

#include <vector>

#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

#include "shape/mesh_builder.h"

namespace standpoint {

// Turns a simple, counter-clockwise outline (x = radius >= 0, y = height) about the upright line
// through `foot`, round_facets facets round. Sides that lie on the axis make no surface. Normals
// are smooth round the axis and over corners of the outline up to 40 degrees.
void revolve(MeshBuilder& build, const std::vector<glm::dvec2>& outline, const glm::dvec3& foot);

// A solid rope or rail along a line that keeps to one upright plane; `along` are unit tangents.
void tube(MeshBuilder& build, const std::vector<glm::dvec3>& line,
          const std::vector<glm::dvec3>& along, double radius);

// Outlines of the round forms.
std::vector<glm::dvec2> cone_outline(double radius, double top_radius, double height);
std::vector<glm::dvec2> capsule_outline(double radius, double height); // a sphere at 2 * radius

} // namespace standpoint
