// The passes a picture is made of. Each leaves blending, tests and masks as it found them: off.
#pragma once

#include <memory>

#include "desk/view_camera.h"
#include "window/gl_targets.h"
#include "window/scene_drawing.h"
#include "window/scene_drawing_list.h"

namespace standpoint {

// What a picture's passes share, in the view's axes; colours linear.
struct Scenery {
    glm::mat4 projection{1.0f};        // with this step's shift
    glm::vec4 lens{0.0f}, reach{0.0f}; // see the light shader
    bool drawing = false;              // plan, front, side
    glm::vec3 up{0, 0, 1}, key_direction{0, 0, 1};
    glm::vec3 paper{1.0f}, edge{0.0f}, horizon{1.0f}, zenith{1.0f};
    glm::vec4 floor_fade{0, 0, 0, 1};
    glm::mat4 to_shadow{1.0f};
    glm::vec2 soft{0.0f}; // 0: no shadow
    float turn = 0;       // of this step's patterns, 0..1
    bool full = true;     // all of light and edges, or what a moving picture needs
};

struct ShadowMap {
    GlTexture depths;
    GlFramebuffer frame;
    int size = 0;
    glm::dmat4 to_clip{1.0}; // scene to the map, -1..1
    glm::dvec2 mm_wide{1, 1};
};

ShadowMap make_shadow_map(int size);

struct Passes {
    static Result<Passes> build();

    void upload(const DrawList& list);
    // Those over pieces draw items `from` to `until` of the list, and begin afresh at 0. All return
    // the triangles drawn.
    std::size_t surfaces(const Targets& to, const DrawList& list, const Scenery& scenery,
                         std::size_t from, std::size_t until) const;
    std::size_t shadow(const ShadowMap& to, const DrawList& list, const glm::mat4& projection,
                       std::size_t from, std::size_t until) const;
    // Within an area: low corner and size, pixels from below.
    void light(const Targets& to, const Scenery& scenery, const ShadowMap& map,
               const glm::ivec4& area) const;
    // Leaves sRGB writing off as well.
    std::size_t glass(const Targets& to, const DrawList& list, const Scenery& scenery) const;
    void average(const Targets& to, int steps_before) const;
    // Copies what was drawn into what is shown.
    void show_surfaces(const Targets& to, const glm::ivec4& area) const;
    // `summed`: of the average, else of the one step. Tints only within an area: low corner and
    // size, pixels from below.
    void finish(const Targets& to, bool summed) const;
    void finish_tinted(const Targets& to, bool summed, std::span<const PieceTint> tints,
                       std::size_t pieces, const glm::ivec4& area);

  private:
    GlProgram surface_, surface_textured_, cap_, nearest_, shadow_, shadow_textured_, glass_,
        light_fast_, light_full_, copy_, finish_, finish_tints_;
    GlVertexArray page_;
    GlBuffer instances_;
    GlTexture white_, tints_;
};

void draw_page(unsigned array); // one triangle over the whole picture
void begin(const GlFramebuffer& frame, const glm::ivec2& size);
void set_light(const GlProgram& program, const Scenery& scenery);
glm::vec3 linear_of_screen(const glm::vec3& srgb);

} // namespace standpoint
