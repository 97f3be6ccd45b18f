// Scenes of a few shapes for tests of pictures.
#pragma once

#include <memory>
#include <string>
#include <utility>

#include "base/check.h"
#include "picture/light.h"
#include "picture/render.h"
#include "scene/document.h"
#include "shape/primitives.h"
#include "shape/ray_index.h"
#include "shape/staging.h"

namespace standpoint::test {

inline void add_mesh(Staging& staging, Mesh mesh, const glm::dvec3& origin) {
    StagedPiece piece;
    piece.id = "p" + std::to_string(staging.pieces.size());
    piece.placement.frame.origin = origin;
    for (const glm::dvec3& position : mesh.positions)
        piece.box = grown(piece.box, position + origin);
    piece.mesh = std::make_shared<const Mesh>(std::move(mesh));
    staging.pieces.push_back(std::move(piece));
}

inline void add_form(Staging& staging, const Form& form, const glm::dvec3& origin,
                     const glm::vec3& colour) {
    Result<Mesh> mesh = mesh_of(form);
    STANDPOINT_CHECK(mesh.ok());
    mesh->materials.at(0).colour = glm::vec4(colour, 1.0f);
    add_mesh(staging, std::move(*mesh), origin);
}

inline Staging no_pieces() {
    Staging staging;
    staging.document = empty_document();
    return staging;
}

// An upright sheet that faces the front, texture upright on it.
inline Mesh upright_sheet(double width, double height, const Material& material) {
    Mesh mesh;
    mesh.positions = {
        {-width / 2, 0, 0}, {width / 2, 0, 0}, {width / 2, 0, height}, {-width / 2, 0, height}};
    mesh.uvs = {{0, 1}, {1, 1}, {1, 0}, {0, 0}};
    mesh.triangles = {{0, 1, 2}, {0, 2, 3}};
    mesh.part_of = {0, 0};
    mesh.parts = {{"", 0}};
    mesh.materials = {material};
    return mesh;
}

// The same radiance from everywhere, no lamp, nothing sent back by what stands in the way.
inline Light even_light(double radiance) {
    Light light;
    light.sky = [radiance](const glm::dvec3&) { return glm::dvec3(radiance); };
    light.floor = false;
    return light;
}

inline PictureOptions small_options(int samples, int light_samples) {
    PictureOptions options;
    options.width = 64;
    options.height = 36;
    options.samples = samples;
    options.light_samples = light_samples;
    options.threads = 2;
    return options;
}

inline glm::dvec3 pixel_at(const Radiance& picture, int x, int y) {
    return picture.pixels.at(static_cast<std::size_t>(y) * picture.width + x);
}

inline Radiance drawn(const Staging& staging, const Camera& camera, const Light& light,
                      const PictureOptions& options) {
    const auto index = make_ray_index(staging);
    Result<Radiance> out = render(staging, *index, *index, camera, light, options, {});
    STANDPOINT_CHECK(out.ok());
    return *out;
}

} // namespace standpoint::test
