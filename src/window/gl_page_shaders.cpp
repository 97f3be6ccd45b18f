// Shaders that run once a pixel: light and edges, the average of steps, tints.
#include "window/gl_shaders.h"

namespace standpoint {

const char* const page_vertex = R"(
void main() {
    vec2 corner = vec2(gl_VertexID == 1 ? 3.0 : -1.0, gl_VertexID == 2 ? 3.0 : -1.0);
#ifdef NEAREST
    gl_Position = vec4(corner, -1.0, 1.0);
#else
    gl_Position = vec4(corner, 0.0, 1.0);
#endif
}
)";

// Light: a hemisphere and one key light with a shadow; in drawings a quiet tint shaded from one
// side. Edges come from jumps of depth, normal and piece between neighbours and lie on the nearer
// side. Corners are darkened by scalable ambient obscurance (McGuire et al. 2012).
const char* const light_fragment = R"(
uniform sampler2D colours, normals, depths;
uniform sampler2DShadow shadow_map;
uniform ivec2 size;
uniform vec4 lens;      // depth in mm from clip depth: (x + y c) / (z + w c)
uniform vec4 reach;     // half the view's extent: xy at depth 0, zw more for each mm of depth
uniform mat4 to_shadow; // view to the shadow map, 0..1
uniform vec2 soft;      // of a shadow's edge, in the shadow map; 0: no shadow at all
uniform vec3 key_light, key_direction, sky_light, ground_light, up, horizon, zenith, paper, edge;
uniform float drawing;  // 1: plan, front, side
uniform float floor_id;
uniform vec4 floor_fade; // middle in the view, radius where the floor has gone
uniform float turn;      // of this step
uniform float corner_reach; // mm
out vec4 lit;            // premultiplied

float depth_at(ivec2 at) {
    float c = texelFetch(depths, at, 0).r * 2.0 - 1.0;
    return (lens.x + lens.y * c) / (lens.z + lens.w * c);
}
vec3 place_of(vec2 at, float depth) {
    vec2 share = at / vec2(size) * 2.0 - 1.0;
    return vec3(share * (reach.xy + reach.zw * depth), -depth);
}
vec3 unfolded(vec2 f) {
    f = f * 2.0 - 1.0;
    vec3 n = vec3(f, 1.0 - abs(f.x) - abs(f.y));
    float t = max(-n.z, 0.0);
    n.xy += vec2(n.x >= 0.0 ? -t : t, n.y >= 0.0 ? -t : t);
    return normalize(n);
}
ivec2 inside(ivec2 at) { return clamp(at, ivec2(0), size - 1); }

// Interleaved gradient noise (Jimenez 2014).
float noise(vec2 at) { return fract(52.9829189 * fract(dot(at, vec2(0.06711056, 0.00583715)))); }

// How strongly an edge lies here towards one neighbour. `far_side` is the depth opposite.
float edge_towards(vec4 here, vec4 there, float depth, float depth_there, float depth_opposite,
                   float mm) {
    float jump = depth_there - depth;
    if (there.z == 0.0) return 1.0;
    float slope = max(depth - depth_opposite, 0.0);
    bool other = here.z != there.z;
    float least = (other ? 0.7 : 2.5) * mm + (other ? 1.2 : 2.5) * slope;
    if (jump > least) return mix(other ? 0.72 : 0.45, 1.0, smoothstep(10.0, 220.0, jump - slope));
    // Where two pieces touch, a thin line on one side.
    return other && abs(jump) <= least && here.z < there.z ? 0.5 : 0.0;
}

float sky_share(vec3 place, vec3 n, float mm, vec2 at) {
#if FULL
    const int samples = 7;
    float radius = min(corner_reach / mm, 90.0);
    if (radius < 2.0) return 1.0;
    float angle = (noise(at) + turn) * 6.2831853, sum = 0.0;
    for (int i = 0; i < samples; ++i) {
        float r = radius * (float(i) + noise(at.yx + 7.0 + turn * 31.0)) / float(samples);
        vec2 d = vec2(cos(angle), sin(angle)) * max(r, 1.5);
        angle += 2.3999632;
        ivec2 there = ivec2(at + d);
        if (there != inside(there)) continue;
        vec3 v = place_of(vec2(there) + 0.5, depth_at(there)) - place;
        float vv = dot(v, v), vn = dot(v, n) - 0.004 * corner_reach - mm;
        float f = max(1.0 - vv / (corner_reach * corner_reach), 0.0);
        sum += f * f * max(vn, 0.0) / (sqrt(vv) + 0.01 * corner_reach);
    }
    return max(1.0 - 1.9 * sum / float(samples), 0.15);
#else
    return 0.93;
#endif
}

float key_share(vec3 place, vec3 n, float facing, vec2 at) {
    if (soft.x <= 0.0) return 1.0;
    // Lifted off the surface, more where the light grazes it.
    vec3 lifted = place + n * (4.0 + 14.0 * (1.0 - facing));
    vec4 s = to_shadow * vec4(lifted, 1.0);
    if (any(lessThan(s.xy, vec2(0.0))) || any(greaterThan(s.xy, vec2(1.0)))) return 1.0;
#if FULL
    float angle = (noise(at + 3.0) + turn) * 6.2831853, sum = 0.0;
    for (int i = 0; i < 3; ++i) {
        float r = sqrt((float(i) + noise(at + 11.0 + turn * 17.0)) / 3.0);
        vec2 d = vec2(cos(angle), sin(angle)) * r * soft;
        angle += 2.3999632;
        sum += texture(shadow_map, vec3(s.xy + d, s.z));
    }
    return sum / 3.0;
#else
    return texture(shadow_map, s.xyz);
#endif
}

vec3 behind(vec2 at) {
    vec3 ray = normalize(place_of(at, 1.0) - place_of(at, 0.0));
    return mix(horizon, zenith, smoothstep(0.0, 0.7, dot(ray, up)));
}

void main() {
    ivec2 at = ivec2(gl_FragCoord.xy);
    vec4 here = texelFetch(normals, at, 0);
    if (here.z == 0.0) {
        lit = drawing > 0.5 ? vec4(0.0) : vec4(behind(gl_FragCoord.xy), 1.0);
        return;
    }
    vec4 surface = texelFetch(colours, at, 0);
    vec3 colour = surface.rgb * surface.rgb;
    float depth = depth_at(at);
    vec3 place = place_of(gl_FragCoord.xy, depth);
    vec3 n = unfolded(here.xy);
    float mm = 2.0 * (reach.x + reach.z * depth) / float(size.x);
    bool is_floor = here.z == floor_id;

    float heavy = 0.0, thin = 0.0;
    ivec2 left = inside(at - ivec2(1, 0)), right = inside(at + ivec2(1, 0)),
          below = inside(at - ivec2(0, 1)), above = inside(at + ivec2(0, 1));
    vec4 nl = texelFetch(normals, left, 0), nr = texelFetch(normals, right, 0),
         nb = texelFetch(normals, below, 0), na = texelFetch(normals, above, 0);
    float dl = depth_at(left), dr = depth_at(right), db = depth_at(below), da = depth_at(above);
    if (!is_floor) {
        heavy = max(max(edge_towards(here, nl, depth, dl, dr, mm),
                        edge_towards(here, nr, depth, dr, dl, mm)),
                    max(edge_towards(here, nb, depth, db, da, mm),
                        edge_towards(here, na, depth, da, db, mm)));
#if FULL
        if (drawing > 0.5 && heavy < 0.5) { // outlines of a drawing are two pixels wide
            vec4 l2 = texelFetch(normals, inside(at - ivec2(2, 0)), 0),
                 r2 = texelFetch(normals, inside(at + ivec2(2, 0)), 0),
                 b2 = texelFetch(normals, inside(at - ivec2(0, 2)), 0),
                 a2 = texelFetch(normals, inside(at + ivec2(0, 2)), 0);
            if (min(min(l2.z, r2.z), min(b2.z, a2.z)) == 0.0) heavy = 0.55;
        }
#endif
        float bend = 0.0;
        if (nr.z == here.z) bend = max(bend, 1.0 - dot(n, unfolded(nr.xy)));
        if (na.z == here.z) bend = max(bend, 1.0 - dot(n, unfolded(na.xy)));
        thin = smoothstep(0.12, 0.5, bend) * 0.5;
    }

    vec3 shade;
    if (drawing > 0.5) {
        float side = 0.5 + 0.5 * dot(n, key_direction);
        shade = mix(colour, paper, 0.18) * mix(0.72, 1.04, side);
        shade *= mix(1.0, sky_share(place, n, mm, gl_FragCoord.xy), 0.55);
        if (surface.a > 0.9) { // what is cut: dark, with a hatch in the piece's own colour
            float stripe = abs(fract((gl_FragCoord.x + gl_FragCoord.y) / 7.0) - 0.5) * 7.0;
            vec3 fill = mix(edge, colour, 0.25);
            shade = mix(mix(fill, paper, 0.38), fill, smoothstep(0.4, 1.4, stripe));
            thin = 0.0;
        }
    } else {
        float facing = max(dot(n, key_direction), 0.0);
        float share = facing > 0.0 ? key_share(place, n, facing, gl_FragCoord.xy) : 0.0;
        vec3 ambient = mix(ground_light, sky_light, 0.5 + 0.5 * dot(n, up));
        shade = colour * (ambient * sky_share(place, n, mm, gl_FragCoord.xy) +
                          key_light * facing * share);
        float gloss = surface.a / 0.8;
        if (gloss > 0.0) {
            vec3 to_eye = normalize(-place);
            float mirrored = gloss + (1.0 - gloss) * pow(1.0 - max(dot(n, to_eye), 0.0), 5.0);
            vec3 r = reflect(-to_eye, n);
            vec3 sky = mix(horizon, zenith, smoothstep(-0.2, 0.7, dot(r, up)));
            float sheen = pow(max(dot(r, key_direction), 0.0), 60.0) * share;
            shade = mix(shade, sky, mirrored) + key_light * sheen * gloss * 2.0;
        }
        // Inner lines fade with distance, or far things would turn to ink.
        thin *= 0.7 * (1.0 - smoothstep(3.0, 9.0, mm));
        heavy *= 0.72 * (1.0 - 0.6 * smoothstep(4.0, 16.0, mm));
    }
    shade = mix(shade, edge, max(heavy, thin));
    if (is_floor) {
        float away = length(place - floor_fade.xyz) / floor_fade.w;
        shade = mix(shade, behind(gl_FragCoord.xy), smoothstep(0.35, 1.0, away));
    }
    lit = vec4(min(shade, vec3(1.0)), 1.0);
}
)";

const char* const copy_fragment = R"(
uniform sampler2D picture;
out vec4 result;
void main() { result = texelFetch(picture, ivec2(gl_FragCoord.xy), 0); }
)";

// Tints: the share of light that a surface sends back is kept, its colour replaced.
const char* const finish_fragment = R"(
uniform sampler2D picture, colours, normals, tints;
uniform ivec2 size;
uniform float outline; // half its width, pixels
out vec4 result;

vec3 encoded(vec3 c) { // IEC 61966-2-1
    return mix(c * 12.92, 1.055 * pow(max(c, vec3(0.0)), vec3(1.0 / 2.4)) - 0.055,
               step(0.0031308, c));
}
int piece_at(ivec2 at) {
    return int(texelFetch(normals, clamp(at, ivec2(0), size - 1), 0).z * 65535.0 + 0.5);
}
vec4 tint_of(int piece, int which) {
    return texelFetch(tints, ivec2((piece & 255) * 2 + which, piece >> 8), 0);
}
void main() {
    ivec2 at = ivec2(gl_FragCoord.xy);
    vec4 c = texelFetch(picture, at, 0);
    vec3 linear = c.a > 0.0 ? c.rgb / c.a : vec3(0.0);
    float alpha = c.a;
#if TINTS
    int here = piece_at(at);
    vec4 tint = tint_of(here, 0);
    if (tint.a > 0.0) {
        vec3 root = texelFetch(colours, at, 0).rgb;
        vec3 own = max(root * root, vec3(0.03));
        vec3 light = min(linear / own, vec3(1.3));
        float grey = dot(light, vec3(0.2126, 0.7152, 0.0722));
        linear = mix(linear, tint.rgb * tint.rgb * grey, tint.a);
    }
    float hits = 0.0;
    vec3 colour = vec3(0.0);
    for (int i = 0; i < 12; ++i) {
        float angle = float(i) * 0.5235988;
        ivec2 there = ivec2(floor(gl_FragCoord.xy + vec2(cos(angle), sin(angle)) * outline));
        int piece = piece_at(there);
        if (piece == here) continue;
        vec4 line = tint_of(piece, 1);
        if (line.a <= 0.0) line = tint_of(here, 1); // its inner half
        if (line.a > 0.0) { hits += 1.0; colour = line.rgb; }
    }
    float covered = clamp(hits / 3.0, 0.0, 1.0);
    linear = mix(linear, colour * colour, covered);
    alpha = max(alpha, covered);
#endif
    result = vec4(encoded(min(linear, vec3(1.0))), alpha);
}
)";

} // namespace standpoint
