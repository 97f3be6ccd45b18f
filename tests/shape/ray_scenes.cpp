// Scenes for the tests of the ray index.
#include "ray_scenes.h"

#include <cmath>
#include <utility>

#include "measure/angle.h"

namespace standpoint::ray_scenes {

Material opaque() {
    return {};
}

Material glass(float lets_through) {
    Material material;
    material.lets_through = lets_through;
    return material;
}

Material leaves(int texels, std::uint64_t seed) {
    support::Random random(seed);
    auto image = std::make_shared<Image>();
    image->width = image->height = texels;
    for (int i = 0; i < texels * texels; ++i) {
        const std::uint8_t alpha = random.integer(0, 1) == 0 ? 0 : 255;
        image->rgba.insert(image->rgba.end(), {90, 140, 60, alpha});
    }
    Material material;
    material.image = std::move(image);
    material.alpha_cutoff = 0.5f;
    return material;
}

Mesh empty_mesh(const Material& material) {
    Mesh mesh;
    mesh.parts.push_back({"", 0});
    mesh.materials.push_back(material);
    return mesh;
}

namespace {

void add_indexed(Mesh& mesh, std::uint32_t a, std::uint32_t b, std::uint32_t c) {
    mesh.triangles.emplace_back(a, b, c);
    mesh.part_of.push_back(0);
}

} // namespace

void add_triangle(Mesh& mesh, const glm::dvec3& a, const glm::dvec3& b, const glm::dvec3& c) {
    const auto first = static_cast<std::uint32_t>(mesh.positions.size());
    mesh.positions.insert(mesh.positions.end(), {a, b, c});
    add_indexed(mesh, first, first + 1, first + 2);
}

Mesh box(const glm::dvec3& low, const glm::dvec3& high, const Material& material) {
    Mesh mesh = empty_mesh(material);
    const auto corner = [&](int i) {
        return glm::dvec3(i & 1 ? high.x : low.x, i & 2 ? high.y : low.y, i & 4 ? high.z : low.z);
    };
    const int faces[6][4] = {{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4},
                             {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}};
    for (const auto& face : faces) {
        add_triangle(mesh, corner(face[0]), corner(face[1]), corner(face[2]));
        add_triangle(mesh, corner(face[0]), corner(face[2]), corner(face[3]));
    }
    return mesh;
}

Mesh ball(double radius, int around, int rings, const Material& material) {
    Mesh mesh = empty_mesh(material);
    mesh.positions.emplace_back(0, 0, -radius);
    for (int ring = 1; ring < rings; ++ring)
        for (int i = 0; i < around; ++i) {
            const SinCos up = sin_cos_deg(-90.0 + 180.0 * ring / rings);
            const SinCos turn = sin_cos_deg(360.0 * i / around);
            mesh.positions.push_back(radius *
                                     glm::dvec3(up.cos * turn.cos, up.cos * turn.sin, up.sin));
        }
    mesh.positions.emplace_back(0, 0, radius);
    const auto top = static_cast<std::uint32_t>(mesh.positions.size() - 1);
    const auto at = [&](int ring, int i) {
        return static_cast<std::uint32_t>(1 + (ring - 1) * around + i % around);
    };
    for (int i = 0; i < around; ++i) {
        add_indexed(mesh, 0, at(1, i + 1), at(1, i));
        for (int ring = 1; ring + 1 < rings; ++ring) {
            add_indexed(mesh, at(ring, i), at(ring, i + 1), at(ring + 1, i + 1));
            add_indexed(mesh, at(ring, i), at(ring + 1, i + 1), at(ring + 1, i));
        }
        add_indexed(mesh, at(rings - 1, i), at(rings - 1, i + 1), top);
    }
    return mesh;
}

Mesh quad(const glm::dvec3& a, const glm::dvec3& b, const glm::dvec3& c, const glm::dvec3& d,
          const Material& material) {
    Mesh mesh = empty_mesh(material);
    mesh.positions = {a, b, c, d};
    mesh.uvs = {{0, 0}, {1, 0}, {1, 1}, {0, 1}};
    add_indexed(mesh, 0, 1, 2);
    add_indexed(mesh, 0, 2, 3);
    return mesh;
}

Mesh terrain(double width, double depth, int fields, double height, std::uint64_t seed) {
    support::Random random(seed);
    Mesh mesh = empty_mesh(opaque());
    for (int row = 0; row <= fields; ++row)
        for (int column = 0; column <= fields; ++column)
            mesh.positions.emplace_back(width * column / fields, depth * row / fields,
                                        random.uniform(0, height));
    const auto at = [&](int row, int column) {
        return static_cast<std::uint32_t>(row * (fields + 1) + column);
    };
    for (int row = 0; row < fields; ++row)
        for (int column = 0; column < fields; ++column) {
            add_indexed(mesh, at(row, column), at(row, column + 1), at(row + 1, column + 1));
            add_indexed(mesh, at(row, column), at(row + 1, column + 1), at(row + 1, column));
        }
    return mesh;
}

Mesh fence(double length, double height, int posts) {
    Mesh mesh;
    for (int i = 0; i < posts; ++i) {
        const double x = length * i / (posts - 1);
        append(mesh, box({x - 20, -20, 0}, {x + 20, 20, height}));
    }
    for (const double z : {0.4, 0.9})
        append(mesh, box({0, -8, z * height - 8}, {length, 8, z * height + 8}));
    return mesh;
}

StagedPiece staged(const std::string& id, Mesh mesh, const Placement& placement) {
    StagedPiece piece;
    piece.id = id;
    piece.placement = placement;
    piece.mesh = std::make_shared<const Mesh>(std::move(mesh));
    for (const glm::dvec3& position : piece.mesh->positions)
        piece.box = grown(piece.box, to_scene(piece, position));
    return piece;
}

Placement placed(const glm::dvec3& origin, double facing, double tilt, double roll, double scale) {
    Placement placement;
    placement.frame = {rotation_of(facing, tilt, roll), origin};
    placement.scale = scale;
    return placement;
}

glm::dvec3 point_in(support::Random& random, const glm::dvec3& low, const glm::dvec3& high) {
    const double x = random.uniform(low.x, high.x);
    const double y = random.uniform(low.y, high.y);
    return {x, y, random.uniform(low.z, high.z)};
}

Staging landing(std::uint64_t seed, const glm::dvec3& offset) {
    support::Random random(seed);
    Staging staging;
    const auto somewhere = [&](double scale) {
        const glm::dvec3 origin = point_in(random, {0, 0, 0}, {8000, 8000, 1500}) + offset;
        const double facing = random.uniform(0, 360), tilt = random.uniform(-30, 30);
        return placed(origin, facing, tilt, random.uniform(-30, 30), scale);
    };
    const auto add = [&](const char* kind, Mesh mesh, double scale) {
        const std::string id = kind + std::to_string(staging.pieces.size());
        staging.pieces.push_back(staged(id, std::move(mesh), somewhere(scale)));
    };
    staging.pieces.push_back(
        staged("shore", terrain(8000, 8000, 16, 400, seed), placed(offset, 0, 0, 0, 1)));
    for (int i = 0; i < 20; ++i) {
        const glm::dvec3 high = point_in(random, {5, 5, 5}, {60, 60, 120});
        add("box", box(-high * 0.3, high), 12);
    }
    for (int i = 0; i < 6; ++i)
        add("ball", ball(random.uniform(10, 40), 12, 8), 14);
    for (int i = 0; i < 5; ++i)
        add("fence", fence(random.uniform(1000, 3000), 900, 8), 1);
    for (int i = 0; i < 6; ++i) {
        const double size = random.uniform(20, 80);
        add("pane", box({0, 0, 0}, {size, 0.5, size}, glass(0.6f)), 12);
        add("leaf", quad({0, 0, 0}, {size, 0, 0}, {size, 0, size}, {0, 0, size}, leaves(16, seed)),
            12);
    }
    return staging;
}

} // namespace standpoint::ray_scenes
