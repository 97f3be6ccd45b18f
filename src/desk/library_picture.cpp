// A depth-buffered fill of triangles, four samples a pixel.
#include "desk/library_picture.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include <glm/geometric.hpp>
#include <glm/trigonometric.hpp>

#include "base/check.h"
#include "picture/tone.h"
#include "shape/staging_mesh.h"

namespace standpoint {

namespace {

constexpr double from_the_left_deg = 32, from_above_deg = 24;
constexpr int samples = 2; // along each side of a pixel

struct Corner {
    glm::dvec3 at{0.0}; // samples to the right and down; towards the eye, mm
    glm::dvec3 normal{0.0};
};

struct Canvas {
    int side = 0; // samples
    std::vector<double> depth;
    std::vector<glm::dvec3> colour; // linear
    std::vector<char> covered;
};

// Where the points of the mesh fall on the canvas.
struct Projection {
    PictureAxes axes = picture_axes();
    glm::dvec2 middle{0.0};
    double scale = 0; // samples a mm; 0: nothing to see
    double half = 0;  // of the canvas, samples

    glm::dvec3 operator()(const glm::dvec3& p) const {
        const glm::dvec2 flat(glm::dot(axes.right, p), glm::dot(axes.up, p));
        const glm::dvec2 from_middle = (flat - middle) * scale;
        return {half + from_middle.x, half - from_middle.y, glm::dot(axes.towards, p)};
    }
};

Projection projection_of(const Mesh& mesh, int side) {
    Projection made;
    glm::dvec2 low(std::numeric_limits<double>::infinity()), high(-low);
    for (const glm::uvec3& triangle : mesh.triangles) {
        for (int i = 0; i < 3; ++i) {
            const glm::dvec3& p = mesh.positions[triangle[i]];
            const glm::dvec2 flat(glm::dot(made.axes.right, p), glm::dot(made.axes.up, p));
            low = glm::min(low, flat);
            high = glm::max(high, flat);
        }
    }
    const double extent = std::max(high.x - low.x, high.y - low.y);
    if (!(extent > 0) || !std::isfinite(extent)) return made;
    made.middle = (low + high) * 0.5;
    made.half = side * 0.5;
    made.scale = side * (1 - 2 * picture_margin) / extent;
    return made;
}

// What lets a share of light through is left out at so many of each four neighbouring samples.
bool left_out(double lets_through, int x, int y) {
    constexpr double at[2][2] = {{0.2, 0.8}, {0.6, 0.4}};
    return lets_through > at[y & 1][x & 1];
}

struct Filler {
    const Mesh& mesh;
    Canvas& canvas;
    std::uint32_t triangle = 0;
    Corner corners[3];
    const Material* material = nullptr;

    void fill() const;
    void put(int x, int y, const glm::dvec3& weights) const;
};

double doubled_area(const glm::dvec3& a, const glm::dvec3& b, const glm::dvec3& c) {
    return (b.x - a.x) * (c.y - a.y) - (c.x - a.x) * (b.y - a.y);
}

void Filler::fill() const {
    const auto& [a, b, c] = corners;
    const double area = doubled_area(a.at, b.at, c.at);
    if (area == 0) return;
    const auto first = [](double v) { return std::max(0, static_cast<int>(std::floor(v - 0.5))); };
    const auto last = [&](double v) {
        return std::min(canvas.side - 1, static_cast<int>(std::ceil(v)));
    };
    const int x0 = first(std::min({a.at.x, b.at.x, c.at.x})),
              x1 = last(std::max({a.at.x, b.at.x, c.at.x}));
    const int y0 = first(std::min({a.at.y, b.at.y, c.at.y})),
              y1 = last(std::max({a.at.y, b.at.y, c.at.y}));
    for (int y = y0; y <= y1; ++y) {
        for (int x = x0; x <= x1; ++x) {
            const glm::dvec3 p(x + 0.5, y + 0.5, 0);
            const glm::dvec3 weights(doubled_area(b.at, c.at, p) / area,
                                     doubled_area(c.at, a.at, p) / area,
                                     doubled_area(a.at, b.at, p) / area);
            if (weights.x >= 0 && weights.y >= 0 && weights.z >= 0) put(x, y, weights);
        }
    }
}

void Filler::put(int x, int y, const glm::dvec3& w) const {
    const auto i = static_cast<std::size_t>(y) * static_cast<std::size_t>(canvas.side) +
                   static_cast<std::size_t>(x);
    const double depth = w.x * corners[0].at.z + w.y * corners[1].at.z + w.z * corners[2].at.z;
    if (canvas.covered[i] && depth <= canvas.depth[i]) return;
    if (left_out(static_cast<double>(material->lets_through), x, y)) return;
    if (cut_out(mesh, triangle, w.y, w.z)) return;
    glm::dvec3 colour(material->colour);
    if (material->image && !mesh.uvs.empty()) {
        const glm::uvec3& t = mesh.triangles[triangle];
        const glm::dvec2 uv = w.x * glm::dvec2(mesh.uvs[t.x]) + w.y * glm::dvec2(mesh.uvs[t.y]) +
                              w.z * glm::dvec2(mesh.uvs[t.z]);
        colour *= glm::dvec3(texel(*material, glm::vec2(uv)));
    }
    glm::dvec3 normal = w.x * corners[0].normal + w.y * corners[1].normal + w.z * corners[2].normal;
    if (glm::length(normal) > 0) normal = glm::normalize(normal);
    canvas.covered[i] = 1;
    canvas.depth[i] = depth;
    canvas.colour[i] = colour * picture_light(normal);
}

void draw_triangle(const Mesh& mesh, std::uint32_t index, const Projection& to, Canvas& canvas) {
    const glm::uvec3& t = mesh.triangles[index];
    Filler filler{mesh, canvas, index, {}, nullptr};
    filler.material = &mesh.materials[mesh.parts[mesh.part_of[index]].material];
    const glm::dvec3 edge_a = mesh.positions[t.y] - mesh.positions[t.x];
    const glm::dvec3 edge_b = mesh.positions[t.z] - mesh.positions[t.x];
    glm::dvec3 flat = glm::cross(edge_a, edge_b);
    if (!(glm::length(flat) > 0)) return;
    flat = glm::normalize(flat);
    const double side = glm::dot(flat, to.axes.towards) < 0 ? -1 : 1; // seen from behind
    for (int i = 0; i < 3; ++i) {
        const glm::dvec3 normal = mesh.normals.empty() ? flat : glm::dvec3(mesh.normals[t[i]]);
        filler.corners[i] = {to(mesh.positions[t[i]]), side * normal};
    }
    filler.fill();
}

std::uint8_t byte_of(double share) {
    return static_cast<std::uint8_t>(std::lround(std::clamp(share, 0.0, 1.0) * 255));
}

Image developed(const Canvas& canvas, int pixels) {
    Image image;
    image.width = image.height = pixels;
    image.rgba.assign(static_cast<std::size_t>(pixels) * static_cast<std::size_t>(pixels) * 4, 0);
    for (int y = 0; y < pixels; ++y) {
        for (int x = 0; x < pixels; ++x) {
            glm::dvec3 sum(0.0);
            int covered = 0;
            for (int s = 0; s < samples * samples; ++s) {
                const auto i = static_cast<std::size_t>((y * samples + s / samples) * canvas.side +
                                                        x * samples + s % samples);
                if (!canvas.covered[i]) continue;
                sum += canvas.colour[i];
                ++covered;
            }
            if (covered == 0) continue;
            std::uint8_t* out = &image.rgba[static_cast<std::size_t>(y * pixels + x) * 4];
            for (int c = 0; c < 3; ++c)
                out[c] = byte_of(srgb_of_linear(std::clamp(sum[c] / covered, 0.0, 1.0)));
            out[3] = byte_of(covered / static_cast<double>(samples * samples));
        }
    }
    return image;
}

} // namespace

PictureAxes picture_axes() {
    const double around = glm::radians(from_the_left_deg), above = glm::radians(from_above_deg);
    PictureAxes axes;
    axes.towards = {-std::sin(around) * std::cos(above), -std::cos(around) * std::cos(above),
                    std::sin(above)};
    axes.right = {std::cos(around), -std::sin(around), 0};
    axes.up = glm::cross(axes.towards, axes.right);
    return axes;
}

double picture_light(const glm::dvec3& normal) {
    const glm::dvec3 lamp = glm::normalize(glm::dvec3(0.35, -0.55, 0.9));
    const double sky = 0.5 + 0.5 * normal.z;
    return 0.18 + 0.27 * sky + 0.55 * std::max(0.0, glm::dot(normal, lamp));
}

Image mesh_picture(const Mesh& mesh, int pixels) {
    STANDPOINT_CHECK(pixels >= 1 && pixels <= 1024);
    Canvas canvas;
    canvas.side = pixels * samples;
    const auto count =
        static_cast<std::size_t>(canvas.side) * static_cast<std::size_t>(canvas.side);
    canvas.depth.resize(count);
    canvas.colour.resize(count);
    canvas.covered.resize(count);
    const Projection to = projection_of(mesh, canvas.side);
    if (to.scale > 0)
        for (std::size_t i = 0; i < mesh.triangles.size(); ++i)
            draw_triangle(mesh, static_cast<std::uint32_t>(i), to, canvas);
    return developed(canvas, pixels);
}

Result<Image> entry_picture(const LibraryEntry& entry, const std::string& scene_file,
                            const FileAccess& files, int pixels) {
    Piece piece;
    piece.id = entry.id;
    piece.kind = entry.piece_kind;
    Part part;
    part.form = entry.form;
    piece.parts = {part};
    MeshStore store(scene_file, files);
    Result<SharedMesh> shared = store.mesh_of_piece(piece, 0);
    if (!shared.ok()) return shared.error();
    return mesh_picture(*shared->mesh, pixels);
}

} // namespace standpoint
