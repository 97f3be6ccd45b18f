// Draws stagings with OpenGL: shaded surfaces, edges, what light passes through, and tints.
#include "window/scene_drawing.h"

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <unordered_map>

#include <epoxy/gl.h>
#include <glm/gtc/type_ptr.hpp>
#include <glm/mat4x4.hpp>

#include "window/gl_mesh.h"
#include "window/gl_parts.h"

namespace standpoint {

namespace {

constexpr const char* surface_vertex = R"(#version 330 core
layout(location = 0) in vec3 place;
layout(location = 1) in vec3 normal;
layout(location = 2) in vec2 uv;
uniform mat4 to_clip;
uniform mat4 to_eye;   // scene turned about the eye: distances stay small
uniform mat3 turn;
out vec3 at_eye;
out vec3 n;
out vec2 t;
void main() {
    gl_Position = to_clip * vec4(place, 1.0);
    at_eye = (to_eye * vec4(place, 1.0)).xyz;
    n = turn * normal;
    t = uv;
})";

constexpr const char* surface_fragment = R"(#version 330 core
in vec3 at_eye;
in vec3 n;
in vec2 t;
uniform vec4 colour;
uniform sampler2D picture;
uniform bool has_picture;
uniform float cutoff, lets_through, gloss, flatness, tint_strength;
uniform vec3 tint;      // linear
uniform vec3 view_from; // unit, towards the viewer; zero: from the eye
out vec4 result;
vec3 encoded(vec3 c) {
    return mix(c * 12.92, 1.055 * pow(max(c, vec3(0.0)), vec3(1.0 / 2.4)) - 0.055, step(0.0031308, c));
}
void main() {
    vec4 c = colour;
    if (has_picture) {
        vec4 texel = texture(picture, t);
        if (cutoff >= 0.0 && texel.a * colour.a < cutoff) discard;
        c.rgb *= texel.rgb;
    }
    vec3 look = view_from == vec3(0.0) ? normalize(-at_eye) : view_from;
    vec3 m = normalize(n);
    if (dot(m, look) < 0.0) m = -m;
    float sky = 0.5 + 0.5 * m.z;
    float key = max(0.0, dot(m, normalize(vec3(-0.45, -0.6, 0.75))));
    vec3 light = mix(vec3(0.36, 0.35, 0.34), vec3(0.62, 0.65, 0.70), sky) + vec3(0.52, 0.50, 0.46) * key;
    light = mix(light, vec3(0.55 + 0.5 * key + 0.1 * sky), flatness);
    vec3 shade = c.rgb * light;
    float rim = pow(1.0 - max(0.0, dot(m, look)), 5.0);
    shade += (gloss + (1.0 - gloss) * rim) * gloss * 6.0 * vec3(0.7, 0.76, 0.82);
    shade = mix(shade, tint * (0.45 + 0.55 * key), tint_strength);
    result = vec4(encoded(shade), 1.0 - lets_through);
})";

constexpr const char* line_vertex = R"(#version 330 core
layout(location = 0) in vec3 place;
uniform mat4 to_clip;
uniform float nearer;
void main() {
    gl_Position = to_clip * vec4(place, 1.0);
    gl_Position.z -= nearer * gl_Position.w;
})";

constexpr const char* line_fragment = R"(#version 330 core
uniform vec4 colour;
out vec4 result;
void main() { result = colour; })";

constexpr const char* sky_vertex = R"(#version 330 core
out float height;
void main() {
    vec2 corner = vec2(gl_VertexID & 1, gl_VertexID >> 1) * 2.0 - 1.0;
    gl_Position = vec4(corner, 0.9999, 1.0);
    height = corner.y;
})";

constexpr const char* sky_fragment = R"(#version 330 core
in float height;
uniform vec3 low, high;
uniform float horizon;
out vec4 result;
void main() { result = vec4(mix(low, high, smoothstep(horizon, horizon + 1.2, height)), 1.0); })";

float linear_of(float s) {
    return s <= 0.04045f ? s / 12.92f : std::pow((s + 0.055f) / 1.055f, 2.4f);
}
glm::vec3 linear_of(const glm::vec3& c) {
    return {linear_of(c.r), linear_of(c.g), linear_of(c.b)};
}

bool same_request(const DrawRequest& a, const DrawRequest& b) {
    return a.staging == b.staging && a.camera == b.camera && a.size == b.size &&
           a.cut_height == b.cut_height && a.tints == b.tints && a.colours == b.colours &&
           a.shadows == b.shadows && a.moving == b.moving && a.hall_walls == b.hall_walls;
}

glm::dmat4 placing(const StagedPiece& piece) {
    const glm::dmat3 turned = piece.placement.frame.rotation * piece.placement.scale;
    glm::dmat4 m(turned);
    m[3] = glm::dvec4(piece.placement.frame.origin, 1);
    return m;
}

struct Slot {
    Canvas canvas;
    std::optional<DrawRequest> shown;
};

// A piece's matrices for one picture.
struct Placed {
    std::uint32_t index = 0;
    glm::mat4 to_clip{1.0f}, to_eye{1.0f};
    glm::mat3 turn{1.0f};
    double depth = 0; // of its middle, along the view
    const PieceTint* tint = nullptr;
};

class GlDrawing : public SceneDrawing {
  public:
    ~GlDrawing() override {
        for (auto& [hash, held] : meshes_)
            release(held.mesh);
        for (Slot& slot : slots_)
            release(slot.canvas);
        for (const unsigned program : {surface_, line_, sky_})
            glDeleteProgram(program);
        glDeleteVertexArrays(1, &nothing_);
    }

    Status prepare() {
        STANDPOINT_TRY(surface, link_program(surface_vertex, surface_fragment));
        surface_ = surface;
        STANDPOINT_TRY(line, link_program(line_vertex, line_fragment));
        line_ = line;
        STANDPOINT_TRY(sky, link_program(sky_vertex, sky_fragment));
        sky_ = sky;
        glGenVertexArrays(1, &nothing_);
        return Done{};
    }

    unsigned picture(int number, const DrawRequest& request) override {
        STANDPOINT_CHECK(number >= 0 && number < static_cast<int>(slots_.size()));
        STANDPOINT_CHECK(request.staging != nullptr);
        Slot& slot = slots_[static_cast<std::size_t>(number)];
        facts_ = {};
        if (slot.shown && same_request(*slot.shown, request)) return slot.canvas.texture;
        const auto start = std::chrono::steady_clock::now();
        forget_unused(*request.staging);
        draw(slot, request);
        glFinish();
        facts_.redrawn = true;
        facts_.seconds =
            std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
        slot.shown = request;
        return slot.canvas.texture;
    }

    Facts facts() const override { return facts_; }

  private:
    struct Held {
        GlMesh mesh;
        std::shared_ptr<const Mesh> source;
    };

    const GlMesh& mesh_of(const StagedPiece& piece) {
        const auto found = meshes_.find(piece.mesh.get());
        if (found != meshes_.end()) return found->second.mesh;
        return meshes_.emplace(piece.mesh.get(), Held{upload(*piece.mesh), piece.mesh})
            .first->second.mesh;
    }

    // Meshes that only this drawing still holds are let go when there are many of them.
    void forget_unused(const Staging&) {
        if (meshes_.size() < kept_meshes_) return;
        for (auto it = meshes_.begin(); it != meshes_.end();) {
            if (it->second.source.use_count() > 1) {
                ++it;
                continue;
            }
            release(it->second.mesh);
            it = meshes_.erase(it);
        }
        kept_meshes_ = std::max<std::size_t>(4096, meshes_.size() * 2);
    }

    std::vector<Placed> place_all(const DrawRequest& request, const ViewMatrices& m) {
        std::vector<Placed> placed;
        // The eye is taken off in double, so that floats hold what is left.
        glm::dmat4 to_eye(1.0);
        to_eye[3] = glm::dvec4(-m.eye, 1);
        const glm::dmat4 clip = m.projection * m.view;
        const bool flat = !m.perspective;
        for (std::uint32_t i = 0; i < request.staging->pieces.size(); ++i) {
            const StagedPiece& piece = request.staging->pieces[i];
            if (piece.staged == StagedKind::hall && (flat || !request.hall_walls)) continue;
            if (piece.staged == StagedKind::column && flat) continue;
            if (is_outside(piece.box, clip)) continue;
            const glm::dmat4 at = placing(piece);
            Placed p;
            p.index = i;
            p.to_clip = glm::mat4(clip * at);
            p.to_eye = glm::mat4(to_eye * at);
            p.turn = glm::mat3(piece.placement.frame.rotation);
            p.depth = glm::dot(piece.box.centre() - m.eye, m.forward);
            for (const PieceTint& tint : request.tints)
                if (tint.piece == i) p.tint = &tint;
            placed.push_back(p);
        }
        return placed;
    }

    static bool is_outside(const Box& box, const glm::dmat4& clip) {
        glm::ivec3 below(0), above(0);
        for (int i = 0; i < 8; ++i) {
            const glm::dvec4 c =
                clip * glm::dvec4(i & 1 ? box.high.x : box.low.x, i & 2 ? box.high.y : box.low.y,
                                  i & 4 ? box.high.z : box.low.z, 1);
            for (int axis = 0; axis < 3; ++axis) {
                below[axis] += c[axis] < -c.w;
                above[axis] += c[axis] > c.w;
            }
        }
        return below.x == 8 || above.x == 8 || below.y == 8 || above.y == 8 || below.z == 8 ||
               above.z == 8;
    }

    void draw(Slot& slot, const DrawRequest& request) {
        const glm::ivec2 size =
            request.moving ? glm::max(request.size / 2, glm::ivec2(1)) : request.size;
        int limit = 0;
        glGetIntegerv(GL_MAX_SAMPLES, &limit);
        fit_canvas(slot.canvas, size, std::min(limit, 4));
        Box scene;
        for (const StagedPiece& piece : request.staging->pieces)
            if (piece.staged != StagedKind::hall || is_round(request))
                scene = joined(scene, piece.box);
        const ViewMatrices m = matrices_of(request.camera, request.size, scene, request.cut_height);
        glBindFramebuffer(GL_FRAMEBUFFER, slot.canvas.frame);
        glViewport(0, 0, size.x, size.y);
        const glm::vec3 b = request.colours.background;
        // Flat views: nothing where nothing stands, so that a grid can lie beneath.
        glClearColor(b.r, b.g, b.b, 0);
        glDepthMask(GL_TRUE);
        glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);
        glDisable(GL_BLEND);
        glDisable(GL_SCISSOR_TEST);
        glDisable(GL_CULL_FACE);
        if (is_round(request)) draw_sky(request, m);
        glEnable(GL_DEPTH_TEST);
        glDepthFunc(GL_LEQUAL);
        const std::vector<Placed> placed = place_all(request, m);
        draw_surfaces(request, m, placed, false);
        draw_edges(request, placed);
        draw_surfaces(request, m, sorted_by_depth(placed), true);
        glDepthMask(GL_TRUE);
        glDisable(GL_DEPTH_TEST);
        resolve(slot.canvas);
        glBindVertexArray(0);
        glUseProgram(0);
        glBindFramebuffer(GL_FRAMEBUFFER, 0);
    }

    static bool is_round(const DrawRequest& request) {
        return request.camera.kind == ViewKind::round || request.camera.kind == ViewKind::eye;
    }

    static std::vector<Placed> sorted_by_depth(std::vector<Placed> placed) {
        std::stable_sort(placed.begin(), placed.end(),
                         [](const Placed& a, const Placed& b) { return a.depth > b.depth; });
        return placed;
    }

    void draw_sky(const DrawRequest& request, const ViewMatrices& m) {
        glUseProgram(sky_);
        glDisable(GL_DEPTH_TEST);
        glBindVertexArray(nothing_);
        glUniform3fv(glGetUniformLocation(sky_, "low"), 1, glm::value_ptr(request.colours.horizon));
        glUniform3fv(glGetUniformLocation(sky_, "high"), 1, glm::value_ptr(request.colours.zenith));
        glUniform1f(glGetUniformLocation(sky_, "horizon"), static_cast<float>(-m.forward.z * 2));
        glDrawArrays(GL_TRIANGLE_STRIP, 0, 4);
    }

    void draw_surfaces(const DrawRequest& request, const ViewMatrices& m,
                       const std::vector<Placed>& placed, bool see_through) {
        glUseProgram(surface_);
        const auto at = [&](const char* name) { return glGetUniformLocation(surface_, name); };
        const glm::vec3 from = m.perspective ? glm::vec3(0.0f) : glm::vec3(-m.forward);
        glUniform3fv(at("view_from"), 1, glm::value_ptr(from));
        glUniform1f(at("flatness"), m.perspective ? 0.0f : 0.6f);
        glUniform1i(at("picture"), 0);
        glActiveTexture(GL_TEXTURE0);
        const int to_clip = at("to_clip"), to_eye = at("to_eye"), turn = at("turn"),
                  colour = at("colour"), has_picture = at("has_picture"), cutoff = at("cutoff"),
                  lets = at("lets_through"), gloss = at("gloss"), tint = at("tint"),
                  strength = at("tint_strength");
        if (see_through) {
            glEnable(GL_BLEND);
            glBlendFuncSeparate(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ONE,
                                GL_ONE_MINUS_SRC_ALPHA);
            glDepthMask(GL_FALSE);
        }
        // Surfaces lie a little deeper than the lines on them.
        glEnable(GL_POLYGON_OFFSET_FILL);
        glPolygonOffset(1.0f, 1.0f);
        for (const Placed& p : placed) {
            const StagedPiece& piece = request.staging->pieces[p.index];
            const GlMesh& mesh = mesh_of(piece);
            bool bound = false;
            for (const GlBatch& batch : mesh.batches) {
                if ((batch.lets_through > 0) != see_through) continue;
                if (!bound) {
                    glBindVertexArray(mesh.array);
                    glUniformMatrix4fv(to_clip, 1, GL_FALSE, glm::value_ptr(p.to_clip));
                    glUniformMatrix4fv(to_eye, 1, GL_FALSE, glm::value_ptr(p.to_eye));
                    glUniformMatrix3fv(turn, 1, GL_FALSE, glm::value_ptr(p.turn));
                    const glm::vec3 t = p.tint ? linear_of(p.tint->colour) : glm::vec3(0.0f);
                    glUniform3fv(tint, 1, glm::value_ptr(t));
                    glUniform1f(strength, p.tint ? p.tint->strength : 0);
                    bound = true;
                }
                // Hall walls are seen from inside only.
                if (piece.staged == StagedKind::hall) {
                    glEnable(GL_CULL_FACE);
                    glCullFace(GL_BACK);
                }
                glUniform4fv(colour, 1, glm::value_ptr(batch.colour));
                glUniform1i(has_picture, batch.texture != 0);
                glUniform1f(cutoff, batch.alpha_cutoff);
                glUniform1f(lets, batch.lets_through);
                glUniform1f(gloss, batch.gloss);
                if (batch.texture) glBindTexture(GL_TEXTURE_2D, batch.texture);
                glDrawArrays(GL_TRIANGLES, batch.first, batch.count);
                facts_.triangles += static_cast<std::size_t>(batch.count) / 3;
                if (piece.staged == StagedKind::hall) glDisable(GL_CULL_FACE);
            }
        }
        glDisable(GL_POLYGON_OFFSET_FILL);
        glDisable(GL_BLEND);
    }

    void draw_edges(const DrawRequest& request, const std::vector<Placed>& placed) {
        glUseProgram(line_);
        const int to_clip = glGetUniformLocation(line_, "to_clip"),
                  colour = glGetUniformLocation(line_, "colour");
        glUniform1f(glGetUniformLocation(line_, "nearer"), 0.00005f);
        glEnable(GL_BLEND);
        glBlendFuncSeparate(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
        glDepthMask(GL_FALSE);
        for (const Placed& p : placed) {
            const GlMesh& mesh = mesh_of(request.staging->pieces[p.index]);
            const bool outlined = p.tint && p.tint->outline;
            if (mesh.edge_vertices == 0) continue;
            const glm::vec4 c =
                outlined ? glm::vec4(p.tint->colour, 1)
                         : glm::vec4(request.colours.edge, is_round(request) ? 0.35f : 0.6f);
            glUniform4fv(colour, 1, glm::value_ptr(c));
            glUniformMatrix4fv(to_clip, 1, GL_FALSE, glm::value_ptr(p.to_clip));
            glBindVertexArray(mesh.edge_array);
            glDrawArrays(GL_LINES, 0, mesh.edge_vertices);
        }
        glDepthMask(GL_TRUE);
        glDisable(GL_BLEND);
    }

    unsigned surface_ = 0, line_ = 0, sky_ = 0, nothing_ = 0;
    std::unordered_map<const Mesh*, Held> meshes_;
    std::size_t kept_meshes_ = 4096;
    std::array<Slot, 16> slots_;
    Facts facts_;
};

} // namespace

Result<std::unique_ptr<SceneDrawing>> SceneDrawing::create() {
    if (epoxy_gl_version() < 33)
        return io_error("OpenGL", "found a version below 3.3, expected 3.3 or later");
    auto drawing = std::make_unique<GlDrawing>();
    STANDPOINT_TRY_STATUS(drawing->prepare());
    return std::unique_ptr<SceneDrawing>(std::move(drawing));
}

} // namespace standpoint
