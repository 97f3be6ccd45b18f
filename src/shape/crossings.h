// What counts as a crossing and in which order: the rules that the index and its twin share.
#pragma once

#include <cstdint>
#include <vector>

#include <glm/vec3.hpp>

#include "shape/ray_index.h"
#include "shape/staging.h"

namespace standpoint {

// A segment as a ray: crossings at `low` < distance < `high` count.
struct Ray {
    glm::dvec3 from{0.0}, direction{0.0}; // unit
    double low = 0, high = 0;             // low >= high: nothing can count
};
Ray ray_along(const Segment& segment); // ends drawn in by ray_end_mm

const Material& material_of(const Mesh& mesh, std::uint32_t triangle);

// Brings crossings of one segment, found in any order and any number of times, into the form that
// RayIndex::crossings promises: each surface once, in the order of distance, piece and triangle.
void settle_crossings(const Staging& staging, const Ray& ray, std::vector<Crossing>& crossings);

// Pieces an index holds, in rising order, each once. A piece that does not exist is a programmer
// error.
std::vector<std::uint32_t> chosen_pieces(const Staging& staging, const IndexChoice& choice);

} // namespace standpoint
