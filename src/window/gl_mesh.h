// A mesh on the GPU: triangles in batches of one material, and the edges worth a line.
#pragma once

#include <memory>
#include <vector>

#include <glm/vec4.hpp>

#include "shape/mesh.h"

namespace standpoint {

struct GlBatch {              // triangles of one material
    int first = 0, count = 0; // vertices
    glm::vec4 colour{1.0f};   // linear
    float lets_through = 0, gloss = 0, alpha_cutoff = -1;
    unsigned texture = 0; // 0: none
};

struct GlMesh {
    unsigned array = 0, buffer = 0;           // vertices: place, normal, texture place
    unsigned edge_array = 0, edge_buffer = 0; // ends of edges
    int edge_vertices = 0;
    std::vector<GlBatch> batches;
    std::size_t triangles = 0;
};

// Places in float: millimetres of the original about its own origin.
GlMesh upload(const Mesh& mesh);
void release(GlMesh& mesh);

// Ends of the edges where a surface ends or two triangles meet at more than an angle; pairs.
std::vector<glm::vec3> sharp_edges(const Mesh& mesh, double angle_deg);

} // namespace standpoint
