// Cameras, light and floor for the passes.
#include "window/scene_drawing_camera.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <glm/geometric.hpp>
#include <glm/gtc/matrix_transform.hpp>

namespace standpoint {

namespace {

// Towards the lamp: over the left shoulder of who stands in front; and in drawings from the upper
// left, as shading is drawn by hand.
const glm::dvec3 to_lamp = glm::normalize(glm::dvec3(-0.46, -0.58, 0.80));
const glm::vec3 drawing_light = glm::normalize(glm::vec3(-0.5f, 0.6f, 0.75f));
constexpr double soft_edge_mm = 26; // half the width of a shadow's edge
constexpr double floor_drop_mm = 1; // below what stands on it, so that the two never fight

std::array<glm::dvec3, 8> corners_of(const Box& box) {
    std::array<glm::dvec3, 8> out;
    for (std::size_t i = 0; i < 8; ++i)
        out[i] = {(i & 1) != 0 ? box.high.x : box.low.x, (i & 2) != 0 ? box.high.y : box.low.y,
                  (i & 4) != 0 ? box.high.z : box.low.z};
    return out;
}

Box floor_under(const Box& scene) {
    if (scene.empty()) return {};
    const double reach = 0.75 * glm::length(scene.size()) + 4000;
    const glm::dvec3 middle = scene.centre();
    return {{middle.x - reach, middle.y - reach, -floor_drop_mm},
            {middle.x + reach, middle.y + reach, -floor_drop_mm}};
}

void set_lens(Scenery& s, const ViewMatrices& m) {
    const glm::dmat4& p = m.projection;
    // Clip depth c and depth d: perspective c = (-p22 d + p32) / -d..., flat c = -p22 d + p32.
    s.lens = m.perspective ? glm::vec4(p[3][2], 0, p[2][2], 1)
                           : glm::vec4(p[3][2] / p[2][2], -1 / p[2][2], 1, 0);
    const glm::vec2 half(1 / p[0][0], 1 / p[1][1]);
    s.reach = m.perspective ? glm::vec4(0, 0, half) : glm::vec4(half, 0, 0);
}

// Halton's sequence, 0..1.
float halton(int index, int base) {
    float share = 1, out = 0;
    for (int i = index; i > 0; i /= base) {
        share /= static_cast<float>(base);
        out += share * static_cast<float>(i % base);
    }
    return out;
}

} // namespace

bool has_perspective(ViewKind kind) {
    return kind == ViewKind::round || kind == ViewKind::eye;
}

Box shown_box(const Staging& staging, bool perspective) {
    Box box;
    for (const StagedPiece& piece : staging.pieces)
        if ((perspective || piece.staged != StagedKind::hall) && !piece.box.empty())
            box = joined(box, piece.box);
    return box;
}

ViewSetting setting_of(const DrawRequest& request, const Box& scene) {
    const bool perspective = has_perspective(request.camera.kind);
    ViewSetting out;
    if (perspective) out.floor = floor_under(scene);
    Box enclosed = scene;
    if (!out.floor.empty()) enclosed = joined(enclosed, out.floor);
    const ViewMatrices m = matrices_of(request.camera, request.size, enclosed, request.cut_height);
    const glm::dmat3 turned(m.view);
    Scenery& s = out.scenery;
    s.projection = glm::mat4(m.projection);
    set_lens(s, m);
    s.drawing = !perspective;
    s.up = glm::vec3(turned * glm::dvec3(0, 0, 1));
    s.key_direction = perspective ? glm::vec3(turned * to_lamp) : drawing_light;
    s.paper = linear_of_screen(request.colours.background);
    s.edge = linear_of_screen(request.colours.edge);
    s.horizon = linear_of_screen(request.colours.horizon);
    s.zenith = linear_of_screen(request.colours.zenith);
    const glm::dvec3 middle = out.floor.empty() ? scene.centre() : out.floor.centre();
    s.floor_fade = glm::vec4(glm::vec3(m.view * glm::dvec4(middle, 1)),
                             static_cast<float>(out.floor.size().x / 2 + 1));
    out.wish.staging = request.staging.get();
    out.wish.view = m.view;
    out.wish.projection = m.projection;
    const double wide = 2 / m.projection[0][0] / request.size.x;
    out.wish.mm_per_pixel = perspective ? glm::dvec2(0, wide) : glm::dvec2(wide, 0);
    out.wish.walls = perspective && request.hall_walls;
    // An upright in front of the set would hide it in an elevation.
    out.wish.columns = perspective || request.camera.kind == ViewKind::plan;
    if (request.camera.kind == ViewKind::plan) out.wish.cut_height = request.cut_height;
    return out;
}

Scenery of_step(const Scenery& scenery, const glm::ivec2& size, int step) {
    Scenery out = scenery;
    const glm::vec2 pixel = 2.0f / glm::vec2(size);
    const glm::vec2 shift =
        step == 0 ? glm::vec2(0.0f) : glm::vec2(halton(step, 2) - 0.5f, halton(step, 3) - 0.5f);
    glm::mat4 moved(1.0f);
    moved[3] = glm::vec4(shift * pixel, 0, 1);
    out.projection = moved * scenery.projection;
    out.turn = halton(step, 5);
    return out;
}

StagedPiece floor_piece(const Box& floor, const glm::vec3& srgb) {
    Mesh mesh;
    mesh.positions = {{-1, -1, 0}, {1, -1, 0}, {1, 1, 0}, {-1, 1, 0}};
    mesh.normals.assign(4, {0, 0, 1});
    mesh.triangles = {{0, 1, 2}, {0, 2, 3}};
    mesh.part_of = {0, 0};
    mesh.parts = {{"floor", 0, "floor"}};
    mesh.materials.resize(1);
    mesh.materials[0].colour = glm::vec4(linear_of_screen(srgb), 1);
    StagedPiece piece;
    piece.staged = StagedKind::hall;
    piece.placement.frame.origin = floor.centre();
    piece.placement.scale = floor.size().x / 2;
    piece.mesh = std::make_shared<const Mesh>(std::move(mesh));
    piece.box = floor;
    return piece;
}

ListWish shadow_wish(const Staging& staging, ShadowMap& map) {
    const Box box = shown_box(staging, false);
    const glm::dmat4 view = glm::lookAt(box.centre(), box.centre() - to_lamp, glm::dvec3(0, 0, 1));
    Box seen;
    for (const glm::dvec3& corner : corners_of(box))
        seen = grown(seen, glm::dvec3(view * glm::dvec4(corner, 1)));
    seen.low -= 60.0;
    seen.high += 60.0;
    const glm::dmat4 projection =
        glm::ortho(seen.low.x, seen.high.x, seen.low.y, seen.high.y, -seen.high.z, -seen.low.z);
    map.to_clip = projection * view;
    map.mm_wide = glm::dvec2(seen.size());
    ListWish wish;
    wish.staging = &staging;
    wish.view = view;
    wish.projection = projection;
    wish.mm_per_pixel = {std::max(seen.size().x, seen.size().y) / map.size, 0};
    return wish;
}

void set_shadow(Scenery& scenery, const ShadowMap& map, const glm::dmat4& view) {
    glm::dmat4 to_share(0.5); // -1..1 to 0..1
    to_share[3] = glm::dvec4(0.5, 0.5, 0.5, 1);
    scenery.to_shadow = glm::mat4(to_share * map.to_clip * glm::inverse(view));
    scenery.soft = glm::vec2(soft_edge_mm / map.mm_wide);
}

glm::ivec4 touched_area(const DrawRequest& request, const glm::ivec2& size,
                        std::span<const Box> boxes) {
    glm::dvec2 low(1e9), high(-1e9);
    const glm::dvec2 shrunk = glm::dvec2(size) / glm::dvec2(request.size);
    for (const Box& box : boxes) {
        for (const glm::dvec3& corner : corners_of(box)) {
            const auto pixel = pixel_of(request.camera, request.size, corner);
            if (!pixel) return {0, 0, size.x, size.y}; // partly behind the eye
            const glm::dvec2 at(pixel->x, request.size.y - pixel->y);
            low = glm::min(low, at * shrunk);
            high = glm::max(high, at * shrunk);
        }
    }
    low = glm::clamp(glm::floor(low) - 4.0, glm::dvec2(0), glm::dvec2(size));
    high = glm::clamp(glm::ceil(high) + 4.0, glm::dvec2(0), glm::dvec2(size));
    const glm::ivec2 from(low), to(glm::max(low, high));
    return {from.x, from.y, to.x - from.x, to.y - from.y};
}

glm::ivec4 tinted_area(const DrawRequest& request, const glm::ivec2& size) {
    std::vector<Box> boxes;
    for (const PieceTint& tint : request.tints)
        if (tint.piece < request.staging->pieces.size())
            boxes.push_back(request.staging->pieces[tint.piece].box);
    return touched_area(request, size, boxes);
}

} // namespace standpoint
