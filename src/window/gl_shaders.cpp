// Shaders of surfaces, shadow and see-through things. Colours travel as square roots of linear
// light, which eight bits hold well and costs less than sRGB.
#include "window/gl_shaders.h"

namespace standpoint {

// A piece's place in the view's axes comes as three rows, worked out in double.
const char* const surface_vertex = R"(
layout(location = 0) in vec3 place;
layout(location = 1) in vec4 normal;
layout(location = 2) in vec4 colour;
layout(location = 3) in vec2 uv;
layout(location = 4) in vec4 row_x;
layout(location = 5) in vec4 row_y;
layout(location = 6) in vec4 row_z;
layout(location = 7) in float id;
uniform mat4 projection;
out vec3 surface_normal;
out vec4 surface_colour;
flat out float surface_id;
#ifdef TEXTURED
out vec2 surface_uv;
#endif
#ifdef GLASS
out vec3 surface_place;
#endif
void main() {
    vec4 p = vec4(place, 1.0);
    vec3 q = vec3(dot(row_x, p), dot(row_y, p), dot(row_z, p));
    surface_normal = vec3(dot(row_x.xyz, normal.xyz), dot(row_y.xyz, normal.xyz),
                          dot(row_z.xyz, normal.xyz));
    surface_colour = colour;
    surface_id = id;
#ifdef TEXTURED
    surface_uv = uv;
#endif
#ifdef GLASS
    surface_place = q;
#endif
    gl_Position = projection * vec4(q, 1.0);
}
)";

const char* const surface_fragment = R"(
in vec3 surface_normal;
in vec4 surface_colour;
flat in float surface_id;
#ifdef TEXTURED
in vec2 surface_uv;
uniform sampler2D image;
uniform float cutoff;
#endif
layout(location = 0) out vec4 out_colour; // square root of linear; alpha: gloss, 1 a cut
layout(location = 1) out vec4 out_normal; // octahedral normal of the view, id, unused

// Octahedral unit vectors (Cigolle et al. 2014, "A survey of efficient representations").
vec2 folded(vec3 n) {
    n /= abs(n.x) + abs(n.y) + abs(n.z);
    vec2 f = n.z >= 0.0 ? n.xy : (1.0 - abs(n.yx)) * vec2(n.x >= 0.0 ? 1.0 : -1.0,
                                                          n.y >= 0.0 ? 1.0 : -1.0);
    return f * 0.5 + 0.5;
}

void main() {
    vec4 c = surface_colour;
#ifdef TEXTURED
    vec4 t = texture(image, surface_uv);
    if (t.a < cutoff) discard;
    c.rgb *= sqrt(t.rgb);
#endif
#ifdef CAP
    out_colour = vec4(c.rgb, 1.0);
    out_normal = vec4(folded(vec3(0.0, 0.0, 1.0)), surface_id, 0.0);
#else
    vec3 n = surface_normal;
    if (!gl_FrontFacing) n = -n;
    out_colour = vec4(c.rgb, c.a * 0.8);
    out_normal = vec4(folded(n), surface_id, 0.0);
#endif
}
)";

const char* const shadow_vertex = R"(
layout(location = 0) in vec3 place;
layout(location = 3) in vec2 uv;
layout(location = 4) in vec4 row_x;
layout(location = 5) in vec4 row_y;
layout(location = 6) in vec4 row_z;
uniform mat4 projection;
#ifdef TEXTURED
out vec2 surface_uv;
#endif
void main() {
    vec4 p = vec4(place, 1.0);
#ifdef TEXTURED
    surface_uv = uv;
#endif
    gl_Position = projection * vec4(dot(row_x, p), dot(row_y, p), dot(row_z, p), 1.0);
}
)";

const char* const shadow_fragment = R"(
#ifdef TEXTURED
in vec2 surface_uv;
uniform sampler2D image;
uniform float cutoff;
#endif
void main() {
#ifdef TEXTURED
    if (texture(image, surface_uv).a < cutoff) discard;
#endif
}
)";

// Blended over what lies behind: the share `lets_through` of that stays.
const char* const glass_fragment = R"(
in vec3 surface_normal;
in vec4 surface_colour;
flat in float surface_id;
in vec2 surface_uv;
in vec3 surface_place;
uniform sampler2D image;
uniform float cutoff, lets_through, flatness;
uniform vec3 paper, key_light, key_direction, sky_light, ground_light, up, horizon, zenith;
layout(location = 0) out vec4 out_lit; // linear
layout(location = 1) out vec4 out_colour;
layout(location = 2) out vec4 out_normal;
void main() {
    vec4 t = texture(image, surface_uv);
    if (t.a < cutoff) discard;
    vec3 n = normalize(surface_normal);
    vec3 to_eye = flatness > 0.0 ? vec3(0.0, 0.0, 1.0) : normalize(-surface_place);
    if (dot(n, to_eye) < 0.0) n = -n;
    vec3 colour = surface_colour.rgb * surface_colour.rgb * t.rgb;
    vec3 light = mix(ground_light, sky_light, 0.5 + 0.5 * dot(n, up)) +
                 key_light * max(dot(n, key_direction), 0.0) * 0.8;
    vec3 lit = mix(colour * light, mix(colour, paper, 0.35), flatness);
    // Seen along the surface a smooth pane mirrors more and shows less of what is behind.
    float gloss = surface_colour.a;
    float grazing = 1.0 - max(dot(n, to_eye), 0.0);
    float mirrored = gloss > 0.0 ? gloss + (1.0 - gloss) * pow(grazing, 5.0) : 0.0;
    mirrored *= 1.0 - flatness;
    vec3 sky = mix(horizon, zenith, clamp(dot(reflect(-to_eye, n), up), 0.0, 1.0));
    float share = 1.0 - lets_through;
    float alpha = 1.0 - (1.0 - share) * (1.0 - mirrored);
    lit = mix(lit * share * (1.0 - mirrored) + sky * mirrored, vec3(0.0), 0.0) / max(alpha, 0.001);
    out_lit = vec4(min(lit, vec3(1.0)), alpha);
    out_colour = vec4(sqrt(colour), 0.0);
    out_normal = vec4(0.5, 0.5, surface_id, 0.0);
}
)";

} // namespace standpoint
