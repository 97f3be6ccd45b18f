// Puts a mesh of one part and one material together, corner by corner.
#pragma once

#include <cstdint>

#include <glm/vec3.hpp>

#include "shape/mesh.h"

namespace standpoint {

class MeshBuilder {
  public:
    std::uint32_t vertex(const glm::dvec3& position, const glm::dvec3& normal);
    void triangle(std::uint32_t a, std::uint32_t b, std::uint32_t c);
    // Corners counter-clockwise seen from outside; each with the face's own normal.
    void flat_triangle(const glm::dvec3& a, const glm::dvec3& b, const glm::dvec3& c);
    // A plane quad; its normal is that of the diagonals.
    void flat_quad(const glm::dvec3& a, const glm::dvec3& b, const glm::dvec3& c,
                   const glm::dvec3& d);
    Mesh finish() &&;

  private:
    Mesh mesh_;
};

// A box from corner to corner.
Mesh box_between(const glm::dvec3& low, const glm::dvec3& high);

} // namespace standpoint
